package forecast

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// posterior finds mean and deviation of a trade's bias by adding up prior times likelihood on a fine
// grid: slow, and with nothing of Learn's algebra in it.
func posterior(logs []float64, noise float64) (mean, deviation float64) {
	var mass, first, second float64
	for bias := -3.0; bias <= 3; bias += .0005 {
		p := distuv.Normal{Mu: 0, Sigma: biasSpread}.LogProb(bias)
		for _, x := range logs {
			p += distuv.Normal{Mu: bias, Sigma: noise}.LogProb(x)
		}
		w := math.Exp(p)
		mass, first, second = mass+w, first+w*bias, second+w*bias*bias
	}
	mean = first / mass
	return mean, math.Sqrt(second/mass - mean*mean)
}

func TestLearnIsBayes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var done []Done
	logs := map[string][]float64{}
	for i, n := range []int{1, 3, 8} {
		trade := []string{"water", "walls", "wiring"}[i]
		for range n {
			likely, log := 1+8*r.Float64(), .3+.3*r.NormFloat64()
			done = append(done, Done{trade, likely, likely * math.Exp(log)})
			logs[trade] = append(logs[trade], log)
		}
	}
	noise := math.Sqrt(noiseOf(logs))
	for trade, got := range Learn(done) {
		mean, deviation := posterior(logs[trade], noise)
		if math.Abs(math.Log(got.Ratio)-mean) > 1e-4 || math.Abs(got.Spread-deviation) > 1e-4 || got.Count != len(logs[trade]) {
			t.Errorf("%s: %+v, want log ratio %v, spread %v, count %d", trade, got, mean, deviation, len(logs[trade]))
		}
	}
}

// TestNoiseIsPooled: the squares of the differences from each trade's mean, over the tasks less one a trade, as in
// the analysis of variance; what is believed before counts as noiseCount tasks.
func TestNoiseIsPooled(t *testing.T) {
	got := noiseOf(map[string][]float64{"a": {1, 3}, "b": {0, 0, 3}, "c": {7}})
	want := (2 + 6 + noiseSpread*noiseSpread*noiseCount) / (1 + 2 + noiseCount)
	if math.Abs(got-want) > 1e-12 {
		t.Errorf("noiseOf = %v, want %v", got, want)
	}
}

func TestLearnLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "tasks")
		ratio := rapid.Float64Range(.3, 3).Draw(t, "ratio")
		var done []Done
		before := Ratio{Ratio: 1, Spread: biasSpread}
		for range n {
			done = append(done, Done{"water", 4, 4 * ratio})
			got := Learn(done)["water"]
			if math.Abs(got.Raw-ratio) > 1e-9 {
				t.Fatalf("raw %v, want %v", got.Raw, ratio)
			}
			// Between 1 and what was seen, and with every task that agrees nearer to it and surer.
			nearer := math.Abs(math.Log(got.Ratio)-math.Log(ratio)) <= math.Abs(math.Log(before.Ratio)-math.Log(ratio))
			beyond := (got.Ratio-1)*(got.Ratio-ratio) > 1e-12
			if !nearer || beyond || got.Spread >= before.Spread || got.Weight <= before.Weight {
				t.Fatalf("after %d tasks of ratio %v: %+v, before %+v", len(done), ratio, got, before)
			}
			before = got
		}
	})
}

func TestLearnLeavesOutWhatSaysNothing(t *testing.T) {
	got := Learn([]Done{{"", 1, 2}, {"water", 0, 2}, {"water", 2, 0}, {"walls", 2, 2}})
	if len(got) != 1 || got["walls"].Count != 1 || got["walls"].Ratio != 1 {
		t.Errorf("Learn = %+v, want walls alone, ratio 1", got)
	}
	if len(Learn(nil)) != 0 {
		t.Error("Learn(nil) knows a trade")
	}
}

func TestLearnDoesNotDependOnTheOrder(t *testing.T) {
	done := []Done{{"a", 1, 2}, {"b", 3, 2}, {"a", 2, 2.2}, {"c", 1, 1.7}, {"b", 5, 9}, {"c", 4, 4}}
	want := Learn(done)
	for range 50 {
		if got := Learn(done); !reflect.DeepEqual(got, want) {
			t.Fatalf("Learn = %+v, then %+v", want, got)
		}
	}
}
