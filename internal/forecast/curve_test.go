package forecast

import (
	"math"
	"testing"

	"example.com/vanlog/internal/units"
	"gonum.org/v1/gonum/stat/distuv"
)

// TestCurveIsTheBeta compares quantiles with the beta of gonum, and moments with the closed form of
// the PERT-beta: mean (a+4m+b)/6, variance (mean-a)(b-mean)/7 (D. Vose, Risk Analysis; from memory).
func TestCurveIsTheBeta(t *testing.T) {
	for _, mode := range []float64{0, .1, .25, .5, .8, 1} {
		c := newCurve(mode)
		beta := distuv.Beta{Alpha: 1 + 4*mode, Beta: 5 - 4*mode}
		const n = 20_000
		var sum, squares float64
		for i := range n {
			p := (float64(i) + .5) / n
			x := c.at(distuv.UnitNormal.Quantile(p))
			if i%200 == 0 && math.Abs(x-beta.Quantile(p)) > 3e-4 {
				t.Errorf("mode %v: quantile %v is %v, want %v", mode, p, x, beta.Quantile(p))
			}
			sum, squares = sum+x, squares+x*x
		}
		mean := sum / n
		want := (4*mode + 1) / 6
		if variance := squares/n - mean*mean; math.Abs(mean-want) > 2e-4 || math.Abs(variance-want*(1-want)/7) > 1e-4 {
			t.Errorf("mode %v: mean %v and variance %v, want %v and %v", mode, mean, variance, want, want*(1-want)/7)
		}
	}
}

func TestScoreUndoesAt(t *testing.T) {
	c := newCurve(.3)
	for score := -4.0; score <= 4; score += .17 {
		if got := c.score(c.at(score)); math.Abs(got-score) > 1e-6 {
			t.Errorf("score(at(%v)) = %v", score, got)
		}
	}
	for value, want := range map[float64]float64{-1: -curveEnd, 2: curveEnd} {
		if got := c.score(value); got != want {
			t.Errorf("score(%v) = %v, want %v", value, got, want)
		}
	}
	for score, want := range map[float64]float64{math.Inf(-1): c[0], math.Inf(1): c[len(c)-1]} {
		if got := c.at(score); got != want {
			t.Errorf("at(%v) = %v, want %v", score, got, want)
		}
	}
}

func TestSpreadsOfOneShapeShareACurve(t *testing.T) {
	cs := curves{}
	a := cs.spread(units.Estimate{Low: 2, Likely: 4, High: 10})
	b := cs.spread(units.Estimate{Low: 20, Likely: 40, High: 100})
	sure := cs.spread(units.Sure(7))
	if a.curve != b.curve || len(cs) != 1 {
		t.Errorf("%d curves for one shape", len(cs))
	}
	for _, score := range []float64{-9, 0, 9} {
		if sure.at(score) != 7 {
			t.Errorf("a sure 7 is %v at score %v", sure.at(score), score)
		}
		if math.Abs(10*a.at(score)-b.at(score)) > 1e-9 || a.at(score) < 2 || a.at(score) > 10 {
			t.Errorf("score %v: %v and %v, want ten times as much, within the range", score, a.at(score), b.at(score))
		}
	}
}

// TestLogMeanByItsIntegral: E[log x] of a beta is digamma(a) - digamma(a+b); for whole numbers that is
// minus the sum of 1/k for k from a to a+b-1. Mode 1/4 makes a = 2 and b = 4.
func TestLogMeanByItsIntegral(t *testing.T) {
	s := curves{}.spread(units.Estimate{Low: 0, Likely: 1, High: 4})
	want := math.Log(4) - (1.0/2 + 1.0/3 + 1.0/4 + 1.0/5)
	if got := s.logMean(1, 1); math.Abs(got-want) > .003 {
		t.Errorf("logMean = %v, want %v", got, want)
	}
}
