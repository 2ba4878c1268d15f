package answer

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
)

// In the bay of TestLate, all there: filling it after it is closed costs two trips past the
// kickboard, 4.5 minutes, rounded up.
func TestMovePrice(t *testing.T) {
	v := viewOf(t, monday, hose)
	got, err := v.Move(t.Context(), "fill", Place{After: "close"}, plan.Options{})
	if err != nil || got.Was.Finish != at(t, "2026-03-02T10:30") || got.Is.Finish != at(t, "2026-03-02T10:35") ||
		got.LaterMin != 5 || got.LaterDays != 5.0/1440 || got.MoreWorkMin != 5 || got.MoreAccessMin != 5 || got.Was.AccessMin != 0 {
		t.Errorf("%+v, %v", got, err)
	}
	want := []Closed{{Task: "fill", Visits: 2, BeforeMin: 0, AfterMin: ptr(5.0), ExtraMin: ptr(5.0)}}
	if diff := cmp.Diff(want, got.Dearer); diff != "" {
		t.Errorf("dearer (-want +got):\n%s", diff)
	}
	free, err := v.Move(t.Context(), "fill", Place{Before: "close"}, plan.Options{})
	if err != nil || free.LaterMin != 0 || free.MoreWorkMin != 0 || len(free.Dearer)+len(free.Replaces)+len(free.ShouldBroken) != 0 {
		t.Errorf("a move to where it stands best: %+v, %v", free, err)
	}
	if len(v.Build.Edges.Rows) != 0 {
		t.Error("the build itself has been changed")
	}
}

// The price names the should edges that only the move breaks, and the pins that it replaces.
func TestMoveBreaksAndReplaces(t *testing.T) {
	v := viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1}, {"id": "c", "hours": 1}],
"edges": [{"before": "a", "after": "b", "kind": "should", "rework_h": 0.5}, {"before": "c", "after": "a", "lag_h": 0, "why": "by hand: paint first"}]`)
	got, err := v.Move(t.Context(), "b", Place{Before: "a"}, plan.Options{})
	if err != nil || got.MoreWorkMin != 30 || !slices.Equal(got.ShouldBroken, []Broken{{"a", "b", 30}}) {
		t.Errorf("%+v, %v", got, err)
	}
	got, err = v.Move(t.Context(), "a", Place{Before: "c"}, plan.Options{})
	if err != nil || len(got.Replaces) != 1 || got.Replaces[0].Before != "c" || got.LaterMin != 0 {
		t.Errorf("over the opposite pin: %+v, %v", got, err)
	}
	_, replaces, err := v.PinFor("c", Place{After: "a"})
	if err != nil || !slices.Equal(replaces, []build.Key{2}) {
		t.Errorf("PinFor replaces %v, %v", replaces, err)
	}
}

func TestMoveRefused(t *testing.T) {
	v := viewOf(t, monday, bench)
	_, err := v.Move(t.Context(), "fill", Place{Before: "plumb"}, plan.Options{})
	var refused *MoveError
	if !errors.As(err, &refused) || refused.Task != "fill" || len(refused.Path) != 1 || err.Error() != "fill cannot come before plumb: plumb must come before fill: joints set" {
		t.Errorf("against an edge: %v", err)
	}
	_, err = v.Move(t.Context(), "seal", Place{After: "lay"}, plan.Options{})
	if !errors.As(err, &refused) || !strings.Contains(err.Error(), "seal cannot come after lay: seal must come before lay: wet sealant") {
		t.Errorf("against an edge: %v", err)
	}
	var name *NameError
	for _, to := range []Place{{After: "plum"}, {Before: "plum"}} {
		if _, err := v.Move(t.Context(), "fill", to, plan.Options{}); !errors.As(err, &name) || !slices.Equal(name.Near, []string{"plumb"}) {
			t.Errorf("%v: %v", to, err)
		}
	}
	for _, to := range []Place{{After: "fill"}, {After: "straps"}} {
		if _, err := v.Move(t.Context(), "fill", to, plan.Options{}); err == nil || errors.As(err, &refused) && refused.Task != "seal" {
			t.Errorf("%v: %v", to, err)
		}
	}
}

func TestPins(t *testing.T) {
	v := viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1}],
"edges": [{"before": "a", "after": "b", "lag_h": 0, "why": "by hand"}, {"before": "a", "after": "b", "why": "by hand"},
          {"before": "a", "after": "b", "lag_h": 0, "why": "not by hand"}, {"before": "a", "after": "b", "lag_h": 1, "why": "by hand"},
          {"before": "a", "after": "b", "lag_h": 0, "kind": "should", "why": "by hand"}]`)
	if got := v.Pins(); len(got) != 1 || got[0].LagH == nil || got[0].Why != "by hand" {
		t.Errorf("pins are %+v", got)
	}
	pin, _, err := v.PinFor("a", Place{Before: "b"})
	if err != nil || !IsPin(pin) {
		t.Errorf("%+v is no pin, %v", pin, err)
	}
}

// A task is held by what uses what it uses: the helper's task, not the sealing between them.
func TestNeighbours(t *testing.T) {
	v := viewOf(t, monday, `"resources": [{"id": "builder"}, {"id": "helper"}],
"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1, "uses": {"helper": 1}}, {"id": "c", "hours": 1, "uses": {"helper": 1, "builder": 1}},
          {"id": "d", "hours": 1, "uses": {"helper": 1}}, {"id": "e", "hours": 2}, {"id": "f", "hours": 1, "uses": {}}],
"edges": [{"before": "c", "after": "d"}]`)
	row := func(name id.Task, from, to string) Row {
		return Row{ID: name, Start: at(t, "2026-03-02T"+from), Finish: at(t, "2026-03-02T"+to)}
	}
	seq := Sequence{Tasks: []Row{row("a", "08:00", "09:00"), row("b", "08:00", "09:00"), row("f", "08:30", "09:30"), row("c", "09:00", "10:00"),
		row("d", "10:00", "11:00"), row("e", "10:00", "12:00")}}
	for _, tt := range []struct {
		task id.Task
		want []Place
	}{
		{"c", []Place{{After: "a"}, {Before: "e"}, {After: "b"}}}, // before d it must come anyway
		{"a", []Place{{Before: "c"}}},
		{"d", nil},
		{"f", nil},
	} {
		got, err := v.Neighbours(tt.task, seq)
		if diff := cmp.Diff(tt.want, got); diff != "" || err != nil {
			t.Errorf("%s (-want +got), %v:\n%s", tt.task, err, diff)
		}
	}
	if _, err := v.Neighbours("c", Sequence{}); err == nil {
		t.Error("a task that is not in the order has neighbours")
	}
	var name *NameError
	if _, err := v.Neighbours("x", seq); !errors.As(err, &name) {
		t.Errorf("an unknown task: %v", err)
	}
}

// TestLawMove compares prices with all orders there are, worked through one by one, and refusals with
// the edges.
func TestLawMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawParts(t)
		s := newSerial(v)
		if len(s.open) < 2 {
			return
		}
		task := rapid.SampledFrom(s.open).Draw(t, "task").ID
		other := rapid.SampledFrom(s.open).Draw(t, "other").ID
		if task == other {
			return
		}
		to, first, last := Place{After: other}, other, task
		if rapid.Bool().Draw(t, "before") {
			to, first, last = Place{Before: other}, task, other
		}
		got, err := v.Move(t.Context(), task, to, plan.Options{})
		var refused *MoveError
		var none *plan.NoSequenceError
		switch {
		case errors.As(err, &refused):
			refusalIsRight(t, v, refused.Path, last, first)
			return
		case errors.As(err, &none):
			if d, ok := s.best(func(d done) bool { return d.end[first] <= d.start[last] }); ok {
				t.Fatalf("%v, but there is %v", err, d.order)
			}
			return
		case err != nil:
			t.Fatal(err)
		case s.leads()[[2]id.Task{last, first}]:
			t.Fatalf("%s %v goes against a must edge", task, to)
		}
		was, _ := s.best(func(done) bool { return true })
		is, _ := s.best(func(d done) bool { return d.end[first] <= d.start[last] })
		if got.Was.Finish != was.finish || got.Was.WorkMin != was.work || got.Is.Finish != is.finish || got.Is.WorkMin != is.work {
			t.Fatalf("%+v; want %v, %d and %v, %d", got, was.finish, was.work, is.finish, is.work)
		}
		if got.LaterMin != int(is.finish-was.finish) || got.MoreWorkMin != is.work-was.work {
			t.Fatalf("differences of %+v", got)
		}
	})
}

// refusalIsRight checks that a path is one of must edges of the build, from one task to another.
func refusalIsRight(t *rapid.T, v *View, path []deps.Edge, from, to id.Task) {
	for _, e := range path {
		if e.Before != from || !slices.Contains(v.Live.Edges, e) || e.Kind == deps.Should {
			t.Fatalf("%+v leads nowhere: %+v", path, e)
		}
		from = e.After
	}
	if from != to {
		t.Fatalf("%+v ends at %s, not at %s", path, from, to)
	}
}

// No price is less than nothing, and a move that is taken gives the order that was priced or a
// better one.
func TestLawMoveTaken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		s := newSerial(v)
		if len(s.open) < 2 {
			return
		}
		to := Place{After: s.open[0].ID}
		pin, replaces, err := v.PinFor(s.open[1].ID, to)
		if err != nil {
			return
		}
		got, err := v.Move(t.Context(), s.open[1].ID, to, plan.Options{})
		if err != nil {
			return
		}
		taken, err := v.pinned(pin, replaces).Sequence(t.Context(), plan.Options{})
		if err != nil || taken.Finish != got.Is.Finish || got.LaterMin < 0 || got.LaterMin == 0 && got.MoreWorkMin < 0 {
			t.Fatalf("priced %+v, taken it ends %v, %v", got, taken.Finish, err)
		}
		if rows := rowsByTask(&got.Sequence); rows[pin.Before].Finish > rows[pin.After].Start {
			t.Fatalf("%+v does not hold in the order that was priced", pin)
		}
	})
}
