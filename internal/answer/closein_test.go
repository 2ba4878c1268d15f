package answer

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/id"
)

func ptr(f float64) *float64 { return &f }

func TestCloseIn(t *testing.T) {
	v := viewOf(t, monday, bench)
	want := CloseIn{Item: "kickboard",
		Closes: []Closed{
			{Task: "plumb", BeforeMin: 0, AfterMin: ptr(5), Visits: 3, ExtraMin: ptr(5)}, // 3.5 + 3 trips of 0.5
			{Task: "fill", BeforeMin: 0, AfterMin: ptr(4), Visits: 1, ExtraMin: ptr(4)},
			{Service: "clean the strainer", Of: "pump", BeforeMin: 0, AfterMin: ptr(4), Visits: 4, ExtraMin: ptr(16)}},
		NotProved: []Owed{{Task: "straps", Check: "torque", What: "straps torqued"}},
		ExtraMin:  ptr(25)}
	got, err := v.CloseIn("kickboard")
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("fitting the kickboard (-want +got), %v:\n%s", err, diff)
	}
	want.Item = "close"
	got, err = v.CloseIn("close")
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("the task that fits it (-want +got), %v:\n%s", err, diff)
	}
}

func TestCloseInOfNothing(t *testing.T) {
	v := viewOf(t, monday, bench)
	got, err := v.CloseIn("lift")
	if want := (CloseIn{Item: "lift", Closes: []Closed{}, NotProved: []Owed{}, ExtraMin: ptr(0)}); !cmp.Equal(got, want) || err != nil {
		t.Errorf("a task that fits nothing: %+v, %v", got, err)
	}
	var name *NameError
	if _, err = v.CloseIn("kikboard"); !errors.As(err, &name) || !cmp.Equal(name.Near, []string{"kickboard"}) {
		t.Errorf("CloseIn(kikboard): %v, want kickboard to be near", err)
	}
}

func TestCloseInForGood(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "wall"}, {"id": "tank", "covers": ["wall"]}],
		"tasks": [{"id": "glue", "hours": 1, "fits": ["wall"]}, {"id": "look", "hours": 1, "reaches": ["tank"]}]`)
	got, err := v.CloseIn("wall")
	want := CloseIn{Item: "wall", Closes: []Closed{{Task: "look", Visits: 1}}, NotProved: []Owed{}}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("a wall that never opens (-want +got), %v:\n%s", err, diff)
	}
}

// Two tasks fit the same lid: a trial and the last time. The rail, which only the last of them
// fits, closes the trial in all the same; the lid, which the trial fits itself, does not.
func TestCloseInOfSharedFits(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "lid", "opening": {"open_min": 8}}, {"id": "rail", "opening": {"open_min": 2}},
			{"id": "tap", "covers": ["rail", "lid"]}],
		"tasks": [{"id": "trial", "hours": 1, "fits": ["lid"], "reaches": ["tap"],
				"checks": [{"id": "gap", "kind": "measure", "what": "gap all round", "before_cover": true}]},
			{"id": "close", "hours": 1, "fits": ["lid", "rail"]}]`)
	got, err := v.CloseIn("close")
	want := CloseIn{Item: "close", Closes: []Closed{{Task: "trial", AfterMin: ptr(2), Visits: 1, ExtraMin: ptr(2)}},
		NotProved: []Owed{{Task: "trial", Check: "gap", What: "gap all round"}}, ExtraMin: ptr(2)}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("the last time (-want +got), %v:\n%s", err, diff)
	}
}

// What one item closes in is what the table of the whole build says of it, whatever is in the way.
func TestLawCloseInIsTheTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		f := rapid.SampledFrom([]Fitted{FittedNow, FittedAll, FittedNone}).Draw(t, "fitted")
		table := map[id.Item][]Closed{}
		for _, d := range v.DerivedEdges(f) {
			table[d.Item] = append(table[d.Item], d.Closed)
		}
		for _, x := range v.Live.Items {
			got, err := v.CloseInWith(string(x.ID), f)
			if diff := cmp.Diff(table[x.ID], got.Closes, cmpopts.EquateEmpty()); diff != "" || err != nil {
				t.Fatalf("%s with %s fitted (-table +one), %v:\n%s", x.ID, f, err, diff)
			}
		}
	})
}
