package reckon

import (
	"math"

	"example.com/vanlog/internal/units"
)

// BeadCure gives the hours that a deep bead of a moisture-cured sealant takes, from what
// its sheet says of a thin one: t = t₁ × (depth / depth₁)². The skin slows what comes
// behind it, so that depth goes with the square root of time.
func BeadCure(depth, knownDepth, knownTime units.Quantity) (Value, error) {
	var in input
	d := in.some("depth of the bead", depth, "mm")
	d1 := in.some("depth on the sheet", knownDepth, "mm")
	t1 := in.some("time on the sheet", knownTime, "h")
	return in.value(t1*(d/d1)*(d/d1), "h", Note{
		Formula: "t = t₁ × (depth / depth₁)²",
		Source:  "moisture cure goes with the square root of time; about 3 mm in 24 h at 20 °C and 50 % humidity for 1-part polyurethane",
		Caution: "The tube's own sheet prevails. Cold and dry air slow it. Do not trust a deep bead: screw the panel.",
	})
}

// Spread is a mean and its standard deviation, in the unit of the estimate.
type Spread struct {
	Mean, Sigma float64
	Note        Note
}

// PERT gives the mean and the deviation of a sequence of tasks, one or more, each with a
// low, likely and high value: mean (O + 4M + P) / 6 and σ (P − O) / 6, and on a path
// means and variances add. Where paths merge, a single path's σ promises too much.
func PERT(path ...units.Estimate) (Spread, error) {
	var in input
	if len(path) == 0 {
		in.refuse("path", "has no estimate, want one or more")
	}
	var mean, variance float64
	for _, e := range path {
		if !e.Valid() || e.High > most {
			in.refuse("estimate", "of %v, %v, %v is none: %v", e.Low, e.Likely, e.High, units.ErrEstimate)
		}
		mean += (e.Low + 4*e.Likely + e.High) / 6
		variance += (e.High - e.Low) * (e.High - e.Low) / 36
	}
	if in.err != nil {
		return Spread{}, in.err
	}
	return Spread{mean, math.Sqrt(variance), pertNote()}, nil
}

func pertNote() Note {
	return Note{
		Formula: "mean (O + 4M + P) / 6, σ (P − O) / 6; on a path means and variances add",
		Source:  "PERT, as in project handbooks",
		Caution: "For one path of tasks that do not hang together. Your own ratio of actual to likely beats it after five of a kind.",
	}
}

// Learning is the hours of like units made one after the other, in the unit of the first.
type Learning struct {
	Average float64 // over all n
	Total   float64 // all n
	Last    float64 // the n-th alone
	Note    Note
}

const mostUnits = 100_000

// Wright gives the hours of n like units by Wright's learning curve (1936), the model of
// the cumulative average: the average over n units is a × n^b, b = log₂ rate. Rate 0.80
// means that the average falls to 80 % with each doubling. In the unit-time model, which
// is another one, it is the time of the single unit that falls so: a rate from one model
// is wrong in the other.
func Wright(first, rate float64, n int) (Learning, error) {
	var in input
	if !(first >= least && first <= most) { // not a number fails too
		in.refuse("time of the first", "of %v is none, want hours or minutes above 0", first)
	}
	in.between("learning rate", rate, 0.51, 1, "0.80 to 0.95 is usual, 1 learns nothing")
	in.between("number of units", float64(n), 1, mostUnits, "a whole number")
	if in.err != nil {
		return Learning{}, in.err
	}
	b := math.Log2(rate)
	average := func(k int) float64 { return first * math.Pow(float64(k), b) }
	total := average(n) * float64(n)
	last := total
	if n > 1 {
		last -= average(n-1) * float64(n-1)
	}
	return Learning{average(n), total, last, wrightNote()}, nil
}

func wrightNote() Note {
	return Note{
		Formula: "average over n = a × n^b, b = log₂ rate",
		Source:  "T. P. Wright, 1936: cumulative average model",
		Caution: "Not the unit-time model: there the second unit takes the rate, here the second alone takes less.",
	}
}
