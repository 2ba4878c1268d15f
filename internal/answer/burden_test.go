package answer

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/id"
)

// The cellar with everything fitted: 6 minutes to the pump, 8 to the fuse and the filter's 6.
func TestBurden(t *testing.T) {
	v := viewOf(t, monday, cellar)
	hatch := &Dearest{Item: "hatch", Min: 5}
	want := Burden{MinutesPerYear: 24 + 8 + 6 + 24, ServiceMin: 38, Unreachable: []id.Item{"void"}, Options: []Design{},
		MeanMin: (24 + 8 + 6 + 24 + 38) / 30.0,
		Items: []Burdened{
			{ID: "void", PerYear: 1},
			{ID: "pump", PerYear: 4, ReachMin: ptr(6), MinutesPerYear: ptr(24), ServiceMin: 38, Dearest: hatch},
			{ID: "lamp", PerYear: 12, ReachMin: ptr(2), MinutesPerYear: ptr(24)},
			{ID: "fuse", PerYear: 1, ReachMin: ptr(8), MinutesPerYear: ptr(8), Dearest: hatch},
			{ID: "filter", PerYear: 1, ReachMin: ptr(6), MinutesPerYear: ptr(6), Dearest: hatch},
			{ID: "mat", PerYear: 12, ReachMin: ptr(0), MinutesPerYear: ptr(0)}}}
	want.MeanMin = 100.0 / 30 // 12 + 12 + 4 + 1 + 1 services; the void cannot be had
	got, err := v.Burden(t.Context())
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("burden (-want +got), %v:\n%s", err, diff)
	}
}

// The mean corrective maintenance time of MIL-HDBK-472 and MIL-HDBK-338B is
// Mct = Σ λi·Mcti / Σ λi (the formula from memory; the numbers are invented): rates of 6, 3 and
// 1 a year, times of 10, 20 and 50 minutes give (60 + 60 + 50) / 10 = 17.
func TestMeanOfServices(t *testing.T) {
	v := viewOf(t, monday, `"places": [{"id": "loft", "ways": [{"enter_min": 4}]}],
		"items": [{"id": "a", "place": "loft", "service": [{"what": "x", "per_year": 6, "minutes": 6}, {"what": "y", "per_year": 3, "minutes": 16}]},
			{"id": "b", "service": [{"what": "z", "per_year": 1, "minutes": 50}]}]`)
	got, err := v.Burden(t.Context())
	if err != nil || got.MeanMin != 17 {
		t.Errorf("the mean is %v (%v), want 17", got.MeanMin, err)
	}
	never := viewOf(t, monday, `"items": [{"id": "a", "service": [{"what": "x", "per_year": 0}]}]`)
	if got, err := never.Burden(t.Context()); err != nil || got.MeanMin != 0 || len(got.Items) != 1 {
		t.Errorf("of what is never serviced: %+v, %v", got, err)
	}
}

// The worked data of MIL-HDBK-338B, 5.3.2.1 (times to repair of a ground electronic system; the
// same 46 times as in Von Alven, Reliability Engineering, 1964, and in Chhikara & Folks, The
// Inverse Gaussian Distribution as a Lifetime Model, Technometrics 19, 1977, who give their mean as
// 3.607 h; all from memory): how often each time was seen is its rate. They add up to 165.9 h.
func TestMeanOfPublishedRepairs(t *testing.T) {
	seen := []struct{ hours, times float64 }{{0.2, 1}, {0.3, 1}, {0.5, 4}, {0.6, 2}, {0.7, 3}, {0.8, 2}, {1.0, 4}, {1.1, 1}, {1.3, 1}, {1.5, 4},
		{2.0, 2}, {2.2, 1}, {2.5, 1}, {2.7, 1}, {3.0, 2}, {3.3, 2}, {4.0, 2}, {4.5, 1}, {4.7, 1}, {5.0, 1}, {5.4, 2}, {7.0, 1}, {7.5, 1},
		{8.8, 1}, {9.0, 1}, {10.3, 1}, {22.0, 1}, {24.5, 1}}
	for _, reach := range []float64{0, 3} { // minutes of each time that are the way in
		items := []string{}
		for i, x := range seen {
			items = append(items, fmt.Sprintf(`{"id": "unit-%d", "place": "rack", "service": [{"what": "repair", "per_year": %v, "minutes": %v}]}`,
				i, x.times, math.Round(x.hours*60)-reach))
		}
		v := viewOf(t, monday, fmt.Sprintf(`"places": [{"id": "rack", "ways": [{"enter_min": %v}]}], "items": [%s]`, reach, strings.Join(items, ",")))
		got, err := v.Burden(t.Context())
		if err != nil || math.Abs(got.MeanMin/60-3.607) > 0.0005 || math.Abs(got.MeanMin-165.9*60/46) > 1e-9 {
			t.Errorf("with %v minutes of way in the mean is %v h (%v), published: 3.607", reach, got.MeanMin/60, err)
		}
	}
}

// Of openings that cost the same the first on the way is the dearest.
func TestDearestOfEquals(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "outer", "opening": {"open_min": 1, "refit_min": 2}}, {"id": "inner", "covers": ["outer"], "opening": {"open_min": 3}},
		{"id": "pump", "covers": ["inner"], "service": [{"what": "look", "per_year": 1}]}]`)
	got, err := v.Burden(t.Context())
	if want := (&Dearest{Item: "outer", Min: 3}); err != nil || !cmp.Equal(got.Items[0].Dearest, want) {
		t.Errorf("%+v (%v), want %+v", got.Items[0].Dearest, err, want)
	}
}

// Decimals that no binary number has exactly: 12 × 0.7 + 3 × 0.1 is 8.7.
func TestBurdenIsTidy(t *testing.T) {
	v := viewOf(t, monday, `"places": [{"id": "p", "ways": [{"enter_min": 0.7}]}, {"id": "q", "ways": [{"enter_min": 0.1}]}],
		"items": [{"id": "a", "place": "p", "service": [{"what": "x", "per_year": 12}]}, {"id": "b", "place": "q", "service": [{"what": "x", "per_year": 3}]}]`)
	got, err := v.Burden(t.Context())
	if err != nil || got.MinutesPerYear != 8.7 || *got.Items[0].MinutesPerYear != 8.4 {
		t.Errorf("%v a year, of it %v (%v)", got.MinutesPerYear, *got.Items[0].MinutesPerYear, err)
	}
}

// Each way is the one that is asked for by hand with everything fitted, and no opening on it
// is dearer than the dearest.
func TestBurdenAgreesWithReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		b, err := v.Burden(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range b.Items {
			way, err := v.Reach(t.Context(), []string{string(x.ID)}, 1, FittedAll)
			if (err == nil) != (x.ReachMin != nil) || err == nil && way.CostMin != *x.ReachMin {
				t.Fatalf("%+v, but the way is %v (%v)", x, way.CostMin, err)
			}
			dearest := -1.0
			for _, s := range way.Refit {
				o := v.Live.Items[v.Live.ItemAt[id.Item(s.Item)]].Opening
				dearest = max(dearest, o.OpenMin+o.RefitMin)
			}
			if (x.Dearest == nil) != (dearest < 0) || x.Dearest != nil && x.Dearest.Min != dearest {
				t.Fatalf("the dearest opening to %s is %+v, want %v", x.ID, x.Dearest, dearest)
			}
		}
	})
}
