package answer

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/id"
)

func TestDerivedEdges(t *testing.T) {
	v := viewOf(t, monday, bench)
	// 3.5 minutes to lift the kickboard out and back, 0.5 a trip into the bay.
	want := []Derived{
		{Item: "kickboard", FitBy: "close", Closed: Closed{Task: "plumb", AfterMin: ptr(5), Visits: 3, ExtraMin: ptr(5)}, Owed: []Owed{}},
		{Item: "kickboard", FitBy: "close", Closed: Closed{Task: "fill", AfterMin: ptr(4), Visits: 1, ExtraMin: ptr(4)}, Owed: []Owed{}},
		{Item: "kickboard", FitBy: "close", Closed: Closed{Service: "clean the strainer", Of: "pump", AfterMin: ptr(4), Visits: 4, ExtraMin: ptr(16)}, Owed: []Owed{}}}
	for _, f := range []Fitted{FittedNow, FittedAll, FittedNone, ""} {
		if diff := cmp.Diff(want, v.DerivedEdges(f)); diff != "" {
			t.Errorf("with %q fitted (-want +got):\n%s", f, diff)
		}
	}
}

func TestDerivedEdgesOwe(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "wall"}, {"id": "tap", "covers": ["wall"]}, {"id": "lid", "opening": {"open_min": 1}}],
		"tasks": [{"id": "tap-in", "hours": 1, "reaches": ["tap"],
			"checks": [{"id": "leak", "kind": "test", "before_cover": true}, {"id": "bill", "kind": "receipt"}]},
			{"id": "wall-up", "hours": 1, "fits": ["wall"], "state": "finished"}, {"id": "done", "hours": 1, "reaches": ["tap"], "state": "finished"}]`)
	// The wall is up already: nobody fits it any more, and what is done is not closed in.
	want := []Derived{{Item: "wall", Closed: Closed{Task: "tap-in", Visits: 1}, Owed: []Owed{{Task: "tap-in", Check: "leak"}}}}
	if diff := cmp.Diff(want, v.DerivedEdges(FittedNow)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if got := viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1}]`).DerivedEdges(FittedNow); got == nil || len(got) > 0 {
		t.Errorf("of a build without items: %#v, want an empty list", got)
	}
}

// Services are those of what is fitted; asked with everything, or nothing, fitted, those of all.
func TestDerivedEdgesOfServices(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "lid", "opening": {"open_min": 1}}, {"id": "pump", "covers": ["lid"], "service": [{"what": "look", "per_year": 2}]}]`)
	for f, want := range map[Fitted]int{FittedNow: 0, FittedAll: 1, FittedNone: 1} {
		if got := v.DerivedEdges(f); len(got) != want {
			t.Errorf("with %s fitted: %v, want %d rows", f, got, want)
		}
	}
}

// The table is what CloseIn says of one item after the other.
func TestDerivedEdgesAgreeWithCloseIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		rows := map[id.Item][]Closed{}
		for _, d := range v.DerivedEdges(FittedNow) {
			rows[d.Item] = append(rows[d.Item], d.Closed)
			if task, ok := v.task(d.Task); ok && !cmp.Equal(d.Owed, append([]Owed{}, v.owedBeforeCover(task)...)) {
				t.Fatalf("%s closes in %s, which is said to owe %v", d.Item, d.Task, d.Owed)
			}
		}
		for _, x := range v.Live.Items {
			in, err := v.CloseIn(string(x.ID))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(in.Closes, append([]Closed{}, rows[x.ID]...)); diff != "" {
				t.Fatalf("%s (-CloseIn +DerivedEdges):\n%s", x.ID, diff)
			}
		}
	})
}
