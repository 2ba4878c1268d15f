package answer

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/id"
)

// A tank with two ways to it: through a hatch (5 minutes) or behind the seat (3 to go in); and
// one lid on the tank that nothing goes round.
const twoWays = `
"places": [{"id": "bay", "ways": [{"through": ["hatch"], "enter_min": 1}, {"enter_min": 7}]}, {"id": "loft", "ways": [{"enter_min": 2}]}],
"items": [{"id": "hatch", "fitted": true, "opening": {"open_min": 2, "refit_min": 2}},
	{"id": "lid", "fitted": true, "place": "bay", "opening": {"open_min": 1}},
	{"id": "tank", "place": "bay", "covers": ["lid"]}]`

func TestAnother(t *testing.T) {
	v := viewOf(t, monday, twoWays)
	got, found, err := v.Another(t.Context(), []string{"tank"}, 1, FittedNow)
	if err != nil || !found {
		t.Fatalf("another way to the tank: %v, %v", found, err)
	}
	// The best: hatch 4, in 1, lid 1. The other: in 7, lid 1. It enters the bay by another way.
	want := Another{CostMin: 8, MoreMin: 2, Proven: true, Without: []string{"hatch", "bay"}, Steps: []Step{
		{Do: "enter", Place: "bay", Min: 7, Times: 1, Fasteners: []string{}},
		{Do: "open", Item: "lid", Min: 1, Times: 1, Fasteners: []string{}, NoWayRound: true},
		{Do: "at", Item: "tank", Times: 1, Fasteners: []string{}}}}
	got.Steps[0].NoWayRound = false // the bay has to be entered, by whatever way
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("another way to the tank (-want +got):\n%s", diff)
	}
}

func TestAnotherWhereThereIsNone(t *testing.T) {
	v := viewOf(t, monday, twoWays)
	if _, found, err := v.Another(t.Context(), []string{"loft"}, 1, FittedNow); found || err != nil {
		t.Errorf("another way to what has one: %v, %v", found, err)
	}
	var name *NameError
	if _, _, err := v.Another(t.Context(), []string{"tnak"}, 1, FittedNow); !errors.As(err, &name) {
		t.Errorf("another way to nothing known: %v", err)
	}
	wall := viewOf(t, monday, `"items": [{"id": "wall", "fitted": true}, {"id": "void", "covers": ["wall"]}]`)
	var none *NoWayError
	if _, _, err := wall.Another(t.Context(), []string{"void"}, 1, FittedNow); !errors.As(err, &none) {
		t.Errorf("another way where there is none: %v", err)
	}
}

// The second-best way is never cheaper than the best, and does without what it says.
func TestLawAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		target := []string{string(v.Live.Items[len(v.Live.Items)-1].ID), string(v.Live.Places[len(v.Live.Places)-1].ID)}
		visits := rapid.IntRange(1, 3).Draw(t, "visits")
		best, err := v.Reach(t.Context(), target, visits, FittedAll)
		if err != nil {
			return
		}
		got, found, err := v.Another(t.Context(), target, visits, FittedAll)
		if err != nil || !found {
			return
		}
		if got.CostMin < best.CostMin || got.MoreMin != got.CostMin-best.CostMin || len(got.Without) == 0 {
			t.Fatalf("%+v is to be second to %+v", got, best)
		}
		total := 0.0
		for _, s := range got.Steps {
			total += s.Min * float64(s.Times)
			if x, item := v.Live.ItemAt[id.Item(s.Item)]; item && s.Do == "open" {
				total += v.Live.Items[x].Opening.RefitMin
				if slices.Contains(got.Without, s.Item) {
					t.Fatalf("%+v opens what it is to do without", got)
				}
			}
		}
		if total != got.CostMin {
			t.Fatalf("the steps of %+v cost %v", got, total)
		}
	})
}
