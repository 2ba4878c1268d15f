package forecast

import (
	"fmt"
	"math"

	"example.com/vanlog/internal/units"
	"gonum.org/v1/gonum/stat/distuv"
)

// Activity is a piece of work of the textbook: no hours, no resources.
type Activity struct {
	Name  string
	Range units.Estimate // in any unit of time
	After []int          // activities that must have finished; they come before it in the list
}

// PERT is the textbook's forecast of a network (Malcolm, Roseboom, Clark & Fazar, 1959):
// mean times (low + 4 likely + high) / 6, variances ((high - low) / 6)², and the finish
// as if the path that is longest by mean times always were. Where paths join it promises
// too much, because any of them can come out longest.
type PERT struct {
	Mean     []float64 // by activity
	Variance []float64
	Start    []float64 // earliest
	Float    []float64 // how far it may slip without moving the finish
	Critical []int     // the longest path in order; of several the most uncertain one
	Finish   float64   // its length
	Spread   float64   // its standard deviation
}

// near is the difference that rounding may make between lengths that are the same.
const near = 1e-9

// Classic gives the textbook's forecast. The error is a *ProblemError.
func Classic(network []Activity) (PERT, error) {
	n := len(network)
	p := PERT{Mean: make([]float64, n), Variance: make([]float64, n), Start: make([]float64, n), Float: make([]float64, n)}
	for i, a := range network {
		if !a.Range.Valid() {
			return PERT{}, &ProblemError{a.Name, units.ErrEstimate.Error()}
		}
		for _, b := range a.After {
			if b < 0 || b >= i {
				return PERT{}, &ProblemError{a.Name, fmt.Sprintf("activity %d, which it follows, does not come before it", b)}
			}
		}
		p.Mean[i] = (a.Range.Low + 4*a.Range.Likely + a.Range.High) / 6
		p.Variance[i] = (a.Range.High - a.Range.Low) * (a.Range.High - a.Range.Low) / 36
	}
	p.forward(network)
	p.backward(network)
	return p, nil
}

// forward finds the early starts and the longest path.
func (p *PERT) forward(network []Activity) {
	before := make([]int, len(network))
	variance := make([]float64, len(network)) // of the longest path up to the end of each
	last, most := -1, 0.0
	for i, a := range network {
		before[i] = -1
		for _, b := range a.After {
			end := p.Start[b] + p.Mean[b]
			longer, same := end > p.Start[i]+near, end > p.Start[i]-near
			if before[i] < 0 || longer || same && variance[b] > variance[before[i]] {
				before[i], p.Start[i] = b, max(end, p.Start[i])
			}
		}
		if before[i] >= 0 {
			variance[i] = variance[before[i]]
		}
		variance[i] += p.Variance[i]
		end := p.Start[i] + p.Mean[i]
		if last < 0 || end > p.Finish+near || end > p.Finish-near && variance[i] > most {
			last, most, p.Finish = i, variance[i], max(end, p.Finish)
		}
	}
	p.Spread = math.Sqrt(most)
	for i := last; i >= 0; i = before[i] {
		p.Critical = append([]int{i}, p.Critical...)
	}
}

// backward finds the floats.
func (p *PERT) backward(network []Activity) {
	late := make([]float64, len(network)) // finishes
	for i := range late {
		late[i] = p.Finish
	}
	for i := len(network) - 1; i >= 0; i-- {
		start := late[i] - p.Mean[i]
		p.Float[i] = start - p.Start[i]
		for _, b := range network[i].After {
			late[b] = min(late[b], start)
		}
	}
}

// Chance gives the probability to finish by t, by the normal approximation.
func (p PERT) Chance(t float64) float64 {
	if p.Spread == 0 {
		if t < p.Finish-near {
			return 0
		}
		return 1
	}
	return distuv.Normal{Mu: p.Finish, Sigma: p.Spread}.CDF(t)
}
