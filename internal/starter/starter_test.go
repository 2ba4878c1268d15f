package starter

import (
	"context"
	"math"
	"strings"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

func evenings() calendar.Week {
	var w calendar.Week
	for d := range 5 {
		w[d] = []calendar.Span{{From: 18 * 60, To: 21 * 60}}
	}
	return w
}

func full(v Van) Answers {
	warm := evenings()
	return Answers{Name: "Net repair van", Units: "metric", Van: v, Hours: evenings(), Helper: &warm, Heated: &warm, Places: true, Trades: true, Licensed: true}
}

// Every van, with and without each thing, makes a build that is in order and has no cycle.
func TestEveryAnswerMakesABuild(t *testing.T) {
	for _, v := range Vans() {
		for bits := range 32 {
			a := full(v)
			a.Places, a.Trades, a.Licensed = bits&1 != 0, bits&2 != 0, bits&4 != 0
			if bits&8 != 0 {
				a.Helper = nil
			}
			if bits&16 != 0 {
				a.Heated = nil
			}
			b, err := Build(a)
			if err != nil {
				t.Fatalf("%s, %05b: %v", v.Name, bits, err)
			}
			if got := b.Tasks.Len() > 0; got != a.Trades {
				t.Errorf("%s, %05b: %d tasks", v.Name, bits, b.Tasks.Len())
			}
			var names []id.Task
			for _, task := range b.Tasks.Rows {
				names = append(names, task.ID)
			}
			if loops := deps.Cycles(names, b.Edges.Rows); len(loops) > 0 {
				t.Errorf("%s, %05b: %v", v.Name, bits, loops)
			}
		}
	}
}

// A bare van hides nothing: every place can be entered, and all lie in its box or around it.
func TestEveryPlaceCanBeEntered(t *testing.T) {
	for _, v := range Vans() {
		b, err := Build(full(v))
		if err != nil {
			t.Fatal(err)
		}
		s := access.NewSolver(b.Places.Rows, nil)
		for _, p := range b.Places.Rows {
			if _, err := s.Plan(context.Background(), access.Query{Places: []id.Place{p.ID}}); err != nil {
				t.Errorf("%s: %s: %v", v.Name, p.ID, err)
			}
			if p.Box == nil || p.Box[0] >= p.Box[3] || p.Box[1] >= p.Box[4] || p.Box[2] >= p.Box[5] {
				t.Errorf("%s: %s has the box %v", v.Name, p.ID, p.Box)
			}
		}
	}
}

// What will be hidden is proven before: every proof that a trade owes on what the next one closes.
func TestHiddenWorkIsProven(t *testing.T) {
	b, err := Build(full(Vans()[1]))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []id.Task{"first-fix", "openings", "water", "power", "licensed"} {
		at := -1
		for i, task := range b.Tasks.Rows {
			if task.ID == name {
				at = i
			}
		}
		if at < 0 || !hasGate(b.Tasks.Rows[at]) {
			t.Errorf("%s owes no proof before it is covered", name)
		}
	}
}

func hasGate(t tasks.Task) bool {
	for _, c := range t.Checks {
		if c.BeforeCover {
			return true
		}
	}
	return false
}

func TestWrongSizesAreRefused(t *testing.T) {
	for name, v := range map[string]Van{
		"wheelbase": {Wheelbase: -1, Length: 3000, Width: 1700, Height: 1900, FromAxle: 900},
		"length":    {Wheelbase: 3000, Width: 1700, Height: 1900, FromAxle: 900},
		"height":    {Wheelbase: 3000, Length: 3000, Width: 1700, Height: 1e9, FromAxle: 900},
		"width":     {Wheelbase: 3000, Length: 3000, Width: math.NaN(), Height: 1900, FromAxle: 900},
	} {
		if b, err := Build(full(v)); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %+v makes %+v, %v", name, v, b.Head, err)
		}
	}
}
