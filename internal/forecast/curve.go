package forecast

import (
	"math"
	"sort"

	"example.com/vanlog/internal/units"
	"gonum.org/v1/gonum/stat/distuv"
)

// A curve is the PERT-beta of a range from 0 to 1 (Vose, Risk Analysis: lambda 4, so the
// mean is (low + 4 likely + high) / 6): its quantiles at normal scores in even steps.
// Drawing is looking up a normal score; so scores that go together give draws that do.
type curve [2*curveEnd*curveSteps + 1]float64

// Scores beyond curveEnd, one in two million, count as curveEnd.
const (
	curveEnd   = 5
	curveSteps = 8 // a unit of score
)

// newCurve gives the curve whose likeliest value is mode, from 0 to 1.
func newCurve(mode float64) *curve {
	beta := distuv.Beta{Alpha: 1 + 4*mode, Beta: 1 + 4*(1-mode)}
	c := new(curve)
	for i := range c {
		c[i] = beta.Quantile(distuv.UnitNormal.CDF(float64(i)/curveSteps - curveEnd))
	}
	return c
}

// at gives the value at a normal score.
func (c *curve) at(score float64) float64 {
	x := (score + curveEnd) * curveSteps
	switch {
	case x <= 0:
		return c[0]
	case x >= float64(len(c)-1):
		return c[len(c)-1]
	}
	i := int(x)
	return c[i] + (c[i+1]-c[i])*(x-float64(i))
}

// score undoes at.
func (c *curve) score(value float64) float64 {
	i := sort.SearchFloat64s(c[:], value)
	switch {
	case i == 0:
		return -curveEnd
	case i == len(c):
		return curveEnd
	}
	part := (value - c[i-1]) / (c[i] - c[i-1])
	return (float64(i-1)+part)/curveSteps - curveEnd
}

// spread is a range that values are drawn from. The zero spread is always 0.
type spread struct {
	low, width float64
	curve      *curve // nil: always low
}

// curves makes spreads; those of the same shape share a curve.
type curves map[float64]*curve

func (cs curves) spread(e units.Estimate) spread {
	s := spread{low: e.Low, width: e.High - e.Low}
	if s.width <= 0 {
		return s
	}
	mode := (e.Likely - e.Low) / s.width
	if cs[mode] == nil {
		cs[mode] = newCurve(mode)
	}
	s.curve = cs[mode]
	return s
}

// at gives the value at a normal score.
func (s spread) at(score float64) float64 {
	if s.curve == nil {
		return s.low
	}
	return s.low + s.width*s.curve.at(score)
}

// logMean gives the mean of the logarithm of value / unit, where scores have this deviation.
func (s spread) logMean(unit, deviation float64) float64 {
	const n = 400
	sum := 0.0
	for i := range n {
		sum += math.Log(max(s.at(deviation*distuv.UnitNormal.Quantile((float64(i)+0.5)/n)), 1e-9*unit) / unit)
	}
	return sum / n
}
