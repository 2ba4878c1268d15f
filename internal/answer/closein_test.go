package answer

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
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
