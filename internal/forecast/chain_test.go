package forecast

import (
	"context"
	"math"
	"testing"

	"example.com/vanlog/internal/units"
)

func run(t testing.TB, p Problem, o Options) Result {
	t.Helper()
	r, err := Run(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// moments gives mean and deviation of the minutes from now to the finish.
func moments(p Problem, r Result) (mean, deviation float64) {
	var sum, squares float64
	for _, f := range r.Finishes {
		x := float64(f - p.Now)
		sum, squares = sum+x, squares+x*x
	}
	n := float64(len(r.Finishes))
	return sum / n, math.Sqrt(squares/n - sum/n*sum/n)
}

var chain = []units.Estimate{{Low: 300, Likely: 480, High: 840}, {Low: 120, Likely: 240, High: 480}, {Low: 240, Likely: 600, High: 1440},
	units.Sure(90), {Low: 0, Likely: 60, High: 60}, {Low: 1000, Likely: 1000, High: 2000}}

// TestChainHasTheClosedForm: on a chain means add up as the textbook has it (Classic), and variances of
// independent jobs are those of the PERT-beta, (mean-low)(high-mean)/7 (Vose; from memory).
func TestChainHasTheClosedForm(t *testing.T) {
	p := chainOf(chain...)
	r := run(t, p, Options{Samples: 20_000, Seed: 3})
	network := make([]Activity, len(chain))
	variance := 0.0
	for i, e := range chain {
		network[i] = Activity{Range: e}
		if i > 0 {
			network[i].After = []int{i - 1}
		}
		mean := (e.Low + 4*e.Likely + e.High) / 6
		variance += (mean - e.Low) * (e.High - mean) / 7
	}
	classic, err := Classic(network)
	if err != nil {
		t.Fatal(err)
	}
	mean, deviation := moments(p, r)
	// Five standard errors.
	if math.Abs(mean-classic.Finish) > 5*deviation/math.Sqrt(20_000) {
		t.Errorf("mean %v, want %v", mean, classic.Finish)
	}
	if want := math.Sqrt(variance); math.Abs(deviation/want-1) > 5/math.Sqrt(2*20_000) {
		t.Errorf("deviation %v, want %v", deviation, want)
	}
	// The textbook's own variances come close: both are rules of thumb for the same thing.
	if math.Abs(deviation/classic.Spread-1) > .15 {
		t.Errorf("deviation %v, by the textbook %v", deviation, classic.Spread)
	}
}

// TestTradesGoWrongTogether: what is common to a trade leaves the mean of a chain and widens it: with all luck
// in common the deviations of jobs as alike in shape add up, instead of their squares.
func TestTradesGoWrongTogether(t *testing.T) {
	e := units.Estimate{Low: 600, Likely: 1000, High: 2000}
	p := chainOf(e, e, e, e)
	for j := range p.Jobs {
		p.Jobs[j].Trade = "water"
	}
	mean := (e.Low + 4*e.Likely + e.High) / 6
	one := math.Sqrt((mean - e.Low) * (e.High - mean) / 7)
	for _, tt := range []struct{ alike, low, high float64 }{
		{0, 2 * one, 2 * one}, {1, 4 * one, 4 * one},
		// Correlations of the values lie near those of the scores: sqrt(4 + 12 · 0.5) = 3.16.
		{UsualAlike, 3.05 * one, 3.2 * one},
	} {
		m, d := moments(p, run(t, p, Options{Samples: 20_000, Seed: 4, Alike: tt.alike}))
		if math.Abs(m-4*mean) > 5*d/math.Sqrt(20_000) || d < tt.low*.975 || d > tt.high*1.025 {
			t.Errorf("alike %v: mean %v, deviation %v, want %v, %v to %v", tt.alike, m, d, 4*mean, tt.low, tt.high)
		}
	}
}

// clocked makes a network of the textbook a Problem, a unit of time being so many minutes.
func clocked(network []Activity, unit float64) Problem {
	ranges := make([]units.Estimate, len(network))
	for i, a := range network {
		ranges[i] = units.Estimate{Low: a.Range.Low * unit, Likely: a.Range.Likely * unit, High: a.Range.High * unit}
	}
	p := chainOf(ranges...)
	for i, a := range network {
		p.Jobs[i].After = nil
		for _, b := range a.After {
			p.Jobs[i].After = append(p.Jobs[i].After, Link{Job: b})
		}
	}
	return p
}

// within gives the chance that PERT-betas in a row take no longer than a time, by adding up the densities on a grid.
func within(ranges []units.Estimate, time float64) float64 {
	const grid = .01
	sum := []float64{1}
	start := 0.0
	for _, e := range ranges {
		a, b := 1+4*(e.Likely-e.Low)/(e.High-e.Low), 1+4*(e.High-e.Likely)/(e.High-e.Low)
		n := int(math.Round((e.High - e.Low) / grid))
		density, mass := make([]float64, n), 0.0
		for i := range density {
			x := (float64(i) + .5) / float64(n)
			density[i] = math.Pow(x, a-1) * math.Pow(1-x, b-1)
			mass += density[i]
		}
		next := make([]float64, len(sum)+n)
		for i, p := range sum {
			for k, q := range density {
				next[i+k] += p * q / mass
			}
		}
		sum, start = next, start+e.Low+grid/2
	}
	chance := 0.0
	for i, p := range sum {
		if start+float64(i)*grid <= time {
			chance += p
		}
	}
	return chance
}

// TestAdvertisingFirm: three independent paths (see advertising): by the critical path alone the chance to be done
// in 24 is .9686, by all three .9678. Those take sums as normal, with the textbook's variances, of which that of
// activity D, 9/12/15, is 1.00, while its PERT-beta has 1.29; so the figure to agree with in full is the product of
// the three chances found by adding up densities.
func TestAdvertisingFirm(t *testing.T) {
	network := networkOf(advertising)
	const unit = 1000
	p := clocked(network, unit)
	r := run(t, p, Options{Samples: 40_000, Seed: 5})
	exact := 1.0
	for _, path := range [][]int{{0, 2, 4}, {3, 5, 6}, {1, 7, 8}} {
		exact *= within([]units.Estimate{network[path[0]].Range, network[path[1]].Range, network[path[2]].Range}, 24)
	}
	got := r.Chance(p.Now + 24*unit)
	if math.Abs(got-exact) > 5*math.Sqrt(exact*(1-exact)/40_000) {
		t.Errorf("chance to be done in 24: %.4f, by densities %.4f", got, exact)
	}
	if math.Abs(got-.9678) > .02 {
		t.Errorf("chance to be done in 24: %.4f, by normal sums .9678", got)
	}
	// Where paths join, the single path promises too much (worked by hand above: mean 21.50).
	if mean, _ := moments(p, r); mean <= 21.5*unit {
		t.Errorf("mean %v, want above that of the longest path, 21500", mean)
	}
	t.Logf("P(<=24): simulated %.4f, by densities %.4f, by the critical path .9686, by three normal paths .9678", got, exact)
}

// TestPublishedNetworksSimulated: the mean of the longest of several paths is never below the longest mean, and in
// these networks not far above.
func TestPublishedNetworksSimulated(t *testing.T) {
	for _, tt := range worked {
		p := clocked(networkOf(tt.table), 1000)
		r := run(t, p, Options{Samples: 4000, Seed: 6})
		mean, deviation := moments(p, r)
		if mean < tt.finish*1000-5*deviation/math.Sqrt(4000) || mean > tt.finish*1000+deviation {
			t.Errorf("%s: mean %v, deviation %v, longest path %v", tt.source, mean, deviation, tt.finish*1000)
		}
		for _, i := range []byte(tt.critical) {
			if i != ' ' && r.Jobs[i-'A'].Criticality < .3 {
				t.Errorf("%s: %c is critical by the textbook, and in %v of the lives", tt.source, i, r.Jobs[i-'A'].Criticality)
			}
		}
	}
}
