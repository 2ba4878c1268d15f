package reckon

import (
	"math"
	"testing"

	"example.com/vanlog/internal/units"
)

// Moisture cure goes with the square root of time: 3 mm in 24 h make 6 mm in 96 h and
// 10 mm in about 267 h, not 48 and 80.
func TestBeadCure(t *testing.T) {
	for depth, want := range map[string]float64{"3 mm": 24, "6 mm": 96, "10 mm": 267} {
		near(t, depth, got(t)(BeadCure(q(t, depth), q(t, "3 mm"), q(t, "24 h"))).Number, want, 0.5)
	}
	near(t, "in minutes", got(t)(BeadCure(q(t, "1 in"), q(t, "25.4 mm"), q(t, "90 min"))).Number, 1.5, 1e-9)
	refuses(t, failed(BeadCure(q(t, "6 mm"), q(t, "0 mm"), q(t, "24 h"))), "depth on the sheet")
	refuses(t, failed(BeadCure(q(t, "6 mm"), q(t, "3 mm"), q(t, "24 V"))), "time on the sheet")
}

// Products of (O + 4M + P) / 6 and (P − O) / 6.
func TestPERT(t *testing.T) {
	a, b, c := units.Estimate{Low: 5, Likely: 8, High: 14}, units.Estimate{Low: 2, Likely: 4, High: 8}, units.Estimate{Low: 4, Likely: 10, High: 24}
	for _, tt := range []struct {
		path        []units.Estimate
		mean, sigma float64
	}{
		{[]units.Estimate{a}, 8.5, 1.5},
		{[]units.Estimate{b}, 4.33, 1.0},
		{[]units.Estimate{c}, 11.33, 3.33},
		{[]units.Estimate{a, b, c}, 8.5 + 13./3 + 34./3, math.Sqrt(1.5*1.5 + 1 + 100./9)},
		{[]units.Estimate{units.Sure(4)}, 4, 0},
	} {
		s, err := PERT(tt.path...)
		if err != nil {
			t.Error(err)
		}
		noted(t, s.Note)
		near(t, "mean", s.Mean, tt.mean, 0.005)
		near(t, "sigma", s.Sigma, tt.sigma, 0.005)
	}
	// Hillier & Lieberman, Introduction to OR, "Reliable Construction Co.": the estimates of
	// the critical path A-B-C-E-F-J-L-N, from memory; mean 44, variance 9.
	path := []units.Estimate{{Low: 1, Likely: 2, High: 3}, {Low: 2, Likely: 3.5, High: 8}, {Low: 6, Likely: 9, High: 18}, {Low: 1, Likely: 4.5, High: 5},
		{Low: 4, Likely: 4, High: 10}, {Low: 3, Likely: 9, High: 9}, {Low: 1, Likely: 5.5, High: 7}, {Low: 5, Likely: 5.5, High: 9}}
	s, err := PERT(path...)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean of the path", s.Mean, 44, 1e-9)
	near(t, "variance of the path", s.Sigma*s.Sigma, 9, 1e-9)
	refuses(t, failed(PERT()), "want one or more")
	refuses(t, failed(PERT(units.Estimate{Low: 1, Likely: 2, High: 1e300})), "want one number")
	refuses(t, failed(PERT(units.Estimate{Low: 1, Likely: 2, High: math.Inf(1)})), "want one number")
	refuses(t, failed(PERT(a, units.Estimate{Low: 5, Likely: 4, High: 8})), "in rising order")
}

// T. P. Wright, 1936: with 80 % the averages over 1, 2, 4 and 8 units are 100, 80, 64 and
// 51.2, and the second unit alone takes 60 %.
func TestWright(t *testing.T) {
	for n, want := range map[int]float64{1: 100, 2: 80, 4: 64, 8: 51.2} {
		l, err := Wright(100, 0.80, n)
		if err != nil {
			t.Fatal(err)
		}
		noted(t, l.Note)
		near(t, "average", l.Average, want, 1e-9)
		near(t, "total", l.Total, want*float64(n), 1e-9)
		if n == 2 {
			near(t, "the second alone", l.Last, 60, 1e-9) // 80 in the unit-time model
		}
	}
	// Five frames, the first 3.0 h, 85 %: total 10.29 h, the fifth 1.62 h.
	five, err := Wright(3.0, 0.85, 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "five frames", five.Total, 10.29, 0.005)
	near(t, "the fifth", five.Last, 1.62, 0.005)
	// b(80 %) = −0.321 93: the average over 10 units is 10^b.
	ten, _ := Wright(1, 0.80, 10)
	near(t, "b of 80 %", math.Log10(ten.Average), -0.32193, 5e-6)
	if first, err := Wright(7, 1, 1); err != nil || first.Last != 7 || first.Total != 7 {
		t.Errorf("one unit of 7: %+v, %v", first, err)
	}
	refuses(t, failed(Wright(3, 85, 5)), "learning rate of 85 is not between 0.51 and 1")
	refuses(t, failed(Wright(3, 0.5, 5)), "learning rate")
	refuses(t, failed(Wright(0, 0.85, 5)), "time of the first of 0 is none")
	refuses(t, failed(Wright(math.NaN(), 0.85, 5)), "time of the first")
	refuses(t, failed(Wright(3, 0.85, 0)), "number of units of 0")
}

// The units of a run add up to its total.
func TestWrightAddsUp(t *testing.T) {
	sum := 0.0
	for n := 1; n <= 40; n++ {
		l, err := Wright(3, 0.85, n)
		if err != nil {
			t.Fatal(err)
		}
		sum += l.Last
		near(t, "sum", sum, l.Total, 1e-9)
	}
}
