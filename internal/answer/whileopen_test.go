package answer

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
)

// cellar is a van with a bay behind a hatch (5 minutes), and in it a box behind a lid (2); and
// a shelf that lies open. Everything is fitted.
const cellar = `
"places": [{"id": "bay", "ways": [{"through": ["hatch"], "enter_min": 1}]}, {"id": "loft", "ways": [{"enter_min": 2}]}, {"id": "floor"}],
"items": [{"id": "hatch", "fitted": true, "opening": {"open_min": 2, "refit_min": 3}},
	{"id": "lid", "place": "bay", "fitted": true, "opening": {"open_min": 1, "refit_min": 1}},
	{"id": "pump", "name": "Pump", "place": "bay", "fitted": true, "service": [{"what": "clean", "per_year": 4, "minutes": 9.5}]},
	{"id": "fuse", "name": "Fuse", "place": "bay", "covers": ["lid"], "fitted": true, "service": [{"what": "look", "per_year": 1}]},
	{"id": "filter", "place": "bay", "service": [{"what": "change", "per_year": 1}]},
	{"id": "lamp", "place": "loft", "fitted": true, "service": [{"what": "dust", "per_year": 12}]},
	{"id": "mat", "place": "floor", "fitted": true, "service": [{"what": "beat", "per_year": 12}]},
	{"id": "wall", "fitted": true}, {"id": "void", "covers": ["wall"], "fitted": true, "service": [{"what": "look", "per_year": 1}]}],
"tasks": [{"id": "pipe", "name": "Lay the pipe", "hours": 2, "place": "bay", "visits": 6, "uses": {}},
	{"id": "sweep", "hours": 1, "place": "floor"}, {"id": "buy", "hours": 1},
	{"id": "strap", "name": "Strap it", "hours": 1, "place": "bay", "state": "finished", "checks": [{"id": "torque", "kind": "torque", "what": "straps"}, {"id": "photo", "kind": "photo"}]},
	{"id": "wire", "name": "Wire it", "hours": 1.5, "reaches": ["fuse"], "state": "started", "spent_h": 0.5, "checks": [{"id": "buzz", "kind": "test"}]},
	{"id": "later", "hours": 1, "reaches": ["void"]},
	{"id": "relid", "name": "New lid", "hours": 0.5, "place": "bay", "fits": ["lid"]}]`

func TestWhileOpen(t *testing.T) {
	v := viewOf(t, monday, cellar)
	// The way to the pump: 5 for the hatch, 1 to go in. The fuse: 2 for its lid on top.
	want := []WhileOpen{
		{What: "work", Task: "pipe", Text: "Lay the pipe", AloneMin: 6, LeftMin: 120, Status: Workable},
		{What: "proof", Task: "strap", Check: "torque", Text: "straps of Strap it", AloneMin: 6, Status: Hidden},
		{What: "proof", Task: "strap", Check: "photo", Text: "photo of Strap it", AloneMin: 6, Status: Hidden},
		{What: "work", Task: "relid", Text: "New lid", AloneMin: 6, LeftMin: 30, Status: Workable},
		{What: "service", Item: "pump", Text: "clean of Pump", AloneMin: 6, LeftMin: 10, PerYear: 4},
		{What: "work", Task: "wire", Text: "Wire it", MoreMin: 2, AloneMin: 8, LeftMin: 60, Status: UnderWay},
		{What: "proof", Task: "wire", Check: "buzz", Text: "buzz of Wire it", MoreMin: 2, AloneMin: 8, Status: UnderWay},
		{What: "service", Item: "fuse", Text: "look of Fuse", MoreMin: 2, AloneMin: 8, PerYear: 1}}
	got, err := v.WhileOpen(t.Context(), []string{"pump"}, FittedNow, 5)
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("while the way to the pump is open (-want +got), %v:\n%s", err, diff)
	}
	got, err = v.WhileOpen(t.Context(), []string{"pump"}, FittedNow, 1.9)
	if diff := cmp.Diff(want[:5], got); diff != "" || err != nil {
		t.Errorf("for less than the lid (-want +got), %v:\n%s", err, diff)
	}
	if got, err := v.WhileOpen(t.Context(), []string{"mat"}, FittedNow, 100); got == nil || len(got) > 0 || err != nil {
		t.Errorf("on the way to what lies open: %v, %v, want an empty list: nothing is saved", got, err)
	}
}

// What is not fitted has no service, unless everything is taken to be.
func TestWhileOpenServicesWhatIsFitted(t *testing.T) {
	v := viewOf(t, monday, cellar)
	for f, want := range map[Fitted]bool{FittedNow: false, FittedAll: true, FittedNone: false} {
		got, err := v.WhileOpen(t.Context(), []string{"pump"}, f, 5)
		has := false
		for _, w := range got {
			has = has || w.Item == "filter"
		}
		if has != want || err != nil {
			t.Errorf("with %s fitted the filter is to be serviced: %v, %v", f, has, err)
		}
	}
}

// Work that puts the lid on finds it off.
func TestWhileOpenWithWhatATaskFits(t *testing.T) {
	v := viewOf(t, monday, `"places": [{"id": "bay", "ways": [{"enter_min": 1}]}],
		"items": [{"id": "lid", "fitted": true, "opening": {"open_min": 2}}, {"id": "fuse", "place": "bay", "covers": ["lid"]}],
		"tasks": [{"id": "relid", "hours": 1, "fits": ["lid"], "reaches": ["fuse"]}, {"id": "look", "hours": 1, "reaches": ["fuse"]}]`)
	want := []WhileOpen{{What: "work", Task: "relid", Text: "relid", AloneMin: 1, LeftMin: 60, Status: Workable},
		{What: "work", Task: "look", Text: "look", MoreMin: 2, AloneMin: 3, LeftMin: 60, Status: Workable}}
	got, err := v.WhileOpen(t.Context(), []string{"bay"}, FittedNow, 5)
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("(-want +got), %v:\n%s", err, diff)
	}
}

func TestWhileOpenErrors(t *testing.T) {
	v := viewOf(t, monday, cellar)
	var none *NoWayError
	if _, err := v.WhileOpen(t.Context(), []string{"void"}, FittedNow, 5); !errors.As(err, &none) {
		t.Errorf("where there is no way: %v", err)
	}
	var name *NameError
	if _, err := v.WhileOpen(t.Context(), []string{"pmup"}, FittedNow, 5); !errors.As(err, &name) {
		t.Errorf("to what is not there: %v", err)
	}
}

// What a service costs on top is what the way to both costs more than the way to the targets, as
// Reach gives them; together is never dearer than two trips.
func TestWhileOpenAgreesWithReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		target := string(v.Live.Places[0].ID)
		for _, f := range []Fitted{FittedNow, FittedAll} {
			base, err := v.Reach(t.Context(), []string{target}, 1, f)
			if err != nil {
				continue
			}
			found, err := v.WhileOpen(t.Context(), []string{target}, f, math.Inf(1))
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range found {
				if w.MoreMin < 0 || w.MoreMin >= w.AloneMin {
					t.Fatalf("%+v saves nothing", w)
				}
				if w.What != "service" || inTheWayOf(t, v, w.Item, target, f, base.CostMin) {
					continue
				}
				both, err := v.Reach(t.Context(), []string{target, string(w.Item)}, 1, f)
				if err != nil || both.CostMin != base.CostMin+w.MoreMin {
					t.Fatalf("%+v on top of %v, but both are %v (%v)", w, base.CostMin, both.CostMin, err)
				}
			}
		}
	})
}

// inTheWayOf reports whether the way to the target is cheaper where x is out of the way.
func inTheWayOf(t *rapid.T, v *View, x id.Item, target string, f Fitted, cost float64) bool {
	q, err := v.question([]string{target}, 1, f)
	if err != nil {
		t.Fatal(err)
	}
	q.Fitted = minus(q.Fitted, v.solver().Set(x))
	without, ok := v.solver().Cost(q)
	return !ok || without.Minutes() != cost
}

// A task costs on top what its place and items do, with what it fits out of the way: asked of the
// build in which the task, and all it fits, has never been.
func TestWhileOpenOfTasks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		target := string(v.Live.Items[0].ID)
		found, err := v.WhileOpen(t.Context(), []string{target}, FittedNow, math.Inf(1))
		if err != nil {
			return
		}
		for _, w := range found {
			if w.Task == "" {
				continue
			}
			task, _ := v.task(w.Task)
			without := bare(v, task.Fits)
			base, err := without.Reach(t.Context(), []string{target}, 1, FittedNow)
			if err != nil {
				t.Fatal(err)
			}
			q, err := without.question([]string{target}, 1, FittedNow)
			if err != nil {
				t.Fatal(err)
			}
			q.Items = append(append(q.Items, task.Reaches...), task.Fits...)
			if task.Place != "" {
				q.Places = append(q.Places, task.Place)
			}
			both, ok := without.solver().Cost(q)
			if !ok || both.Minutes() != base.CostMin+w.MoreMin {
				t.Fatalf("%+v on top of %v, but both are %v (%v)", w, base.CostMin, both.Minutes(), ok)
			}
		}
	})
}

// bare gives the build with these items not fitted, by whatever task.
func bare(v *View, off []id.Item) *View {
	b := v.Build
	items, rows := slices.Clone(b.Items.Rows), slices.Clone(b.Tasks.Rows)
	isOff := func(x id.Item) bool { return slices.Contains(off, x) }
	for i := range items {
		items[i].Fitted = items[i].Fitted && !isOff(items[i].ID)
	}
	for i := range rows {
		rows[i].Fits = slices.DeleteFunc(slices.Clone(rows[i].Fits), isOff)
	}
	b.Items, b.Tasks = build.ListOf(items...), build.ListOf(rows...)
	return New(b, v.Now)
}
