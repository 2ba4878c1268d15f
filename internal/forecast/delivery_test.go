package forecast

import (
	"math"
	"testing"

	"example.com/vanlog/internal/units"
	"gonum.org/v1/gonum/stat/distuv"
)

// days gives how often a part comes on each day from today, of n even draws.
func daysOf(p Part, today units.Date, n int) map[units.Date]int {
	d := newDelivery(&p, today, curves{})
	out := map[units.Date]int{}
	for i := range n {
		out[d.comes((float64(i)+.5)/float64(n)).Date()-1-today]++
	}
	return out
}

// TestPartComesAsItsRangeSays compares the days with the beta of gonum, as it is or, where part of the range lies
// before today, under the condition that it has not come yet.
func TestPartComesAsItsRangeSays(t *testing.T) {
	today := monday.Date()
	due := func(days units.Date) *units.Date { d := today + days; return &d }
	const n = 20_000
	for _, tt := range []struct {
		name              string
		part              Part
		low, likely, high float64 // from today
	}{
		{"ordered today", Part{Ordered: today, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}}, 3, 10, 30},
		{"ordered, on its way", Part{Ordered: today - 2, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}}, 1, 8, 28},
		{"likely day gone by", Part{Ordered: today - 15, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}}, -12, -5, 15},
		{"promised", Part{Ordered: today, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}, Due: due(20)}, 3, 20, 30},
		{"promised beyond its range", Part{Ordered: today, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}, Due: due(40)}, 3, 40, 40},
		{"promise broken", Part{Ordered: today - 20, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}, Due: due(-9)}, -17, -9, 10},
		{"later than its range allows", Part{Ordered: today - 50, Lead: units.Estimate{Low: 3, Likely: 10, High: 30}}, 0, 0, 27},
	} {
		mode := (tt.likely - tt.low) / (tt.high - tt.low)
		beta := distuv.Beta{Alpha: 1 + 4*mode, Beta: 5 - 4*mode}
		cdf := func(day float64) float64 { return beta.CDF(min(max((day-tt.low)/(tt.high-tt.low), 0), 1)) }
		before := cdf(-.5)
		got, cumulated := daysOf(tt.part, today, n), 0
		for day := units.Date(-5); day <= units.Date(tt.high)+2; day++ {
			cumulated += got[day]
			want := max(0, (cdf(float64(day)+.5)-before)/(1-before))
			if share := float64(cumulated) / n; math.Abs(share-want) > .003 {
				t.Errorf("%s: by day %d it has come in %.4f, want %.4f", tt.name, day, share, want)
			}
		}
	}
}

// TestSurePart: a part without a range comes on its day; one that is overdue today at the soonest, and is there
// from 00:00 of the day after.
func TestSurePart(t *testing.T) {
	today := monday.Date()
	for ordered, want := range map[units.Date]units.Date{today: 4, today - 3: 1, today - 9: 0} {
		got := daysOf(Part{Ordered: ordered, Lead: units.Sure(4)}, today, 10)
		if got[want] != 10 {
			t.Errorf("ordered on %v, four days: comes %v days from today, want %v", ordered, got, want)
		}
	}
	d := newDelivery(&Part{Ordered: today, Lead: units.Sure(2)}, today, curves{})
	if got := d.comes(.3).String(); got != "2026-03-05T00:00" {
		t.Errorf("comes on Wednesday, there from %s, want 2026-03-05T00:00", got)
	}
}
