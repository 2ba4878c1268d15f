package forecast

import (
	"math"

	"example.com/vanlog/internal/units"
	"gonum.org/v1/gonum/stat/distuv"
)

// newDelivery gives when a part that has not come by today will come. One that is later
// than its range allows is taken to come within as many days again as its range is
// wide, sooner rather than later (a choice, no source).
func newDelivery(p *Part, today units.Date, cs curves) delivery {
	low, likely, high := float64(p.Ordered)+p.Lead.Low, float64(p.Ordered)+p.Lead.Likely, float64(p.Ordered)+p.Lead.High
	if p.Lead.Low == p.Lead.High {
		likely = math.Floor(likely) // as a plan reckons with it: nothing is left to luck
		low, high = likely, likely
	}
	if p.Due != nil {
		likely = float64(*p.Due)
		low, high = min(low, likely), max(high, likely)
	}
	d := delivery{first: float64(today) - 0.5} // days are rounded
	if high < float64(today) {
		low, likely, high = float64(today), float64(today), float64(today)+high-low
	}
	d.days = cs.spread(units.Estimate{Low: low, Likely: likely, High: high})
	d.likely = max(units.Date(math.Round(likely)), today)
	if d.days.curve != nil {
		score := d.days.curve.score((d.first - low) / (high - low))
		d.from = distuv.UnitNormal.CDF(score)
		if d.first <= low {
			d.from = 0
		}
	}
	return d
}

// sure reports whether it comes on one day.
func (d *delivery) sure() bool { return d.days.curve == nil }

// comes gives the first minute at which the part can be used, at a uniform draw from 0 to
// 1: of the days that are left, as it has not come yet.
func (d *delivery) comes(uniform float64) units.Instant {
	if d.sure() {
		return usable(d.likely)
	}
	day := d.days.at(distuv.UnitNormal.Quantile(d.from + (1-d.from)*uniform))
	return usable(units.Date(math.Round(max(day, d.first+0.5))))
}

// usable gives the first minute after the day on which a part comes.
func usable(day units.Date) units.Instant { return (day + 1).Start() }
