package answer

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestReach(t *testing.T) {
	v := viewOf(t, monday, bench)
	got, err := v.Reach(t.Context(), []string{"pump"}, 2, FittedAll)
	if err != nil {
		t.Fatal(err)
	}
	// 1.5 + 2 for the kickboard once, 2 trips of 0.5 into the bay.
	want := Reach{Targets: []string{"pump"}, Visits: 2, CostMin: 4.5, BoundMin: 4.5, Proven: true, Persons: 2, Tools: []string{"T25 driver"},
		Steps: []Step{
			{Do: "open", Item: "kickboard", How: "lift out", Min: 1.5, Times: 1, Fasteners: []string{"4 × M6 screw"}, NoWayRound: true},
			{Do: "enter", Place: "bay", Min: 0.5, Times: 2, Fasteners: []string{}, NoWayRound: true},
			{Do: "at", Item: "pump", Times: 2, Fasteners: []string{}}},
		Refit: []Refit{{Item: "kickboard", Min: 2, Torque: []string{"9 N·m"}}}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("way to the pump with all fitted (-want +got):\n%s", diff)
	}
}

func TestReachWithWhatIsFitted(t *testing.T) {
	v := viewOf(t, monday, bench)
	for _, tt := range []struct {
		fitted Fitted
		target string
		cost   float64
	}{
		{FittedNow, "pump", 0}, // no kickboard: the bay is open floor
		{FittedNone, "bay", 0},
		{FittedAll, "bay", 4},
		{FittedAll, "kickboard", 0}, // what is asked for is not in the way
	} {
		got, err := v.Reach(t.Context(), []string{tt.target}, 1, tt.fitted)
		if err != nil || got.CostMin != tt.cost {
			t.Errorf("way to %s with %s fitted costs %v (%v), want %v", tt.target, tt.fitted, got.CostMin, err, tt.cost)
		}
	}
}

func TestReachErrors(t *testing.T) {
	v := viewOf(t, monday, `"options": [{"id": "a", "choice": "c", "chosen": true}, {"id": "b", "choice": "c"}],
		"items": [{"id": "wall"}, {"id": "tank", "covers": ["wall"]}, {"id": "shelf", "option": "b"}]`)
	_, err := v.Reach(t.Context(), []string{"tank"}, 1, FittedAll)
	var none *NoWayError
	if !errors.As(err, &none) || len(none.StuckAt) != 1 || none.StuckAt[0].Item != "wall" || none.Reachable {
		t.Errorf("way to what a wall covers for good: %v, %+v", err, none)
	}
	_, err = v.Reach(t.Context(), []string{"tnak"}, 1, FittedAll)
	var name *NameError
	if !errors.As(err, &name) || !cmp.Equal(name.Near, []string{"tank"}) {
		t.Errorf("way to tnak: %v, %+v, want tank to be near", err, name)
	}
	if _, err = v.Reach(t.Context(), []string{"shelf"}, 1, FittedAll); err == nil || errors.As(err, &none) || errors.As(err, &name) {
		t.Errorf("way to an item of a design that is not chosen: %v", err)
	}
}

func TestNear(t *testing.T) {
	have := []string{"water-pump", "pump-board", "heater", "pump"}
	for name, want := range map[string][]string{
		"pmup":  {"pump"},
		"pump":  {"pump", "pump-board", "water-pump"},
		"hetar": {},
		"x":     {},
		"hater": {"heater"},
	} {
		if got := Near(name, have); !cmp.Equal(got, want) {
			t.Errorf("Near(%q) = %v, want %v", name, got, want)
		}
	}
}
