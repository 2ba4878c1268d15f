package forecast

import (
	"cmp"
	"math"
	"slices"
)

// Done is a finished task: what was thought and what it took, in hours, without access.
type Done struct {
	Trade          string
	Likely, Actual float64
}

// Ratio is what finished tasks say of a trade: actual over likely hours.
type Ratio struct {
	Count int     // tasks it comes from
	Raw   float64 // geometric mean of actual / likely
	Ratio float64 // Raw shrunk toward 1: the fewer tasks and the less they agree, the more
	// Weight is how far Ratio follows Raw, from 0 to 1: in logarithms, Ratio is Weight times Raw.
	Weight float64
	// Spread is how unsure Ratio still is: the standard deviation of its logarithm.
	Spread float64
}

// What is believed of a builder before anything is known: two in three trades take
// between 1/1.4 and 1.4 times what was thought, and single tasks are apart by a quarter;
// noiseCount is how many tasks that counts for. Choices, no measurement: the test with
// simulated builders shows what they are worth.
const (
	biasSpread  = 0.35
	noiseSpread = 0.25
	noiseCount  = 5
)

// Learn gives the ratio of each trade that has finished tasks; those without a trade and
// those whose hours are not above 0 say nothing. Logarithms of ratios are taken as
// normal, with the same noise in all trades, about a trade's own bias, which is normal
// about 0: the textbook's shrinkage of a mean (Gelman et al., Bayesian Data Analysis,
// 2.5; from memory).
func Learn(done []Done) map[string]Ratio {
	logs := map[string][]float64{}
	for _, d := range done {
		if d.Trade != "" && d.Likely > 0 && d.Actual > 0 {
			logs[d.Trade] = append(logs[d.Trade], math.Log(d.Actual/d.Likely))
		}
	}
	noise := noiseOf(logs)
	learned := make(map[string]Ratio, len(logs))
	for trade, l := range logs {
		n, bias := float64(len(l)), biasSpread*biasSpread
		weight := n * bias / (n*bias + noise)
		learned[trade] = Ratio{
			Count: len(l), Raw: math.Exp(mean(l)), Ratio: math.Exp(weight * mean(l)),
			Weight: weight, Spread: math.Sqrt(bias * (1 - weight)),
		}
	}
	return learned
}

// noiseOf gives the variance of tasks about the mean of their trade.
func noiseOf(logs map[string][]float64) float64 {
	sum, count := noiseSpread*noiseSpread*noiseCount, float64(noiseCount)
	for _, trade := range sortedKeys(logs) { // a sum in any order would be another
		l := logs[trade]
		for _, x := range l {
			sum += (x - mean(l)) * (x - mean(l))
		}
		count += float64(len(l) - 1)
	}
	return sum / count
}

func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K {
	keys := make([]K, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
