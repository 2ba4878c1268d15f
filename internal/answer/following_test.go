package answer

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// starts gives the rows of an order by task and time.
func starts(s Sequence) [][3]string {
	var out [][3]string
	for _, r := range s.Tasks {
		out = append(out, [3]string{string(r.ID), r.Start.String(), r.Finish.String()})
	}
	return out
}

// searched gives the demonstration build with an order that a search made better than the first.
func searched(t *testing.T) (*View, Sequence, Sequence) {
	t.Helper()
	now := at(t, "2026-03-04T08:00")
	v := New(demo.Build(now), now)
	first, err := v.Sequence(t.Context(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	better, err := v.Sequence(t.Context(), plan.Options{Schedules: 3000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if better.Finish >= first.Finish {
		t.Fatalf("the search found nothing better than the first order: %v", first.Finish)
	}
	return v, first, better
}

// An unchanged build keeps its order, a word in the daybook changes nothing in it, and what was
// found is not forgotten.
func TestAnUnchangedBuildKeepsItsOrder(t *testing.T) {
	v, _, better := searched(t)
	again, err := v.Following(&better).Sequence(t.Context(), plan.Options{})
	if diff := cmp.Diff(starts(better), starts(again)); diff != "" || err != nil {
		t.Errorf("unchanged (-was +is), %v:\n%s", err, diff)
	}
	b := v.Build
	noted, err := b.Patch(append(v.Build.Differing(b), v.Build.Adding("day", daybook.Entry{At: v.Now, Task: id.Task(better.Tasks[0].ID), Note: "mind the rib"}, 0)))
	if err != nil {
		t.Fatal(err)
	}
	again, err = New(noted, v.Now).Following(&better).Sequence(t.Context(), plan.Options{})
	if diff := cmp.Diff(starts(better), starts(again)); diff != "" || err != nil {
		t.Errorf("with a note (-was +is), %v:\n%s", err, diff)
	}
}

// A task that is finished just as it was planned leaves the rest as it stood.
func TestFinishedAsPlannedLeavesTheRest(t *testing.T) {
	v, _, better := searched(t)
	first := better.Tasks[0]
	b := v.Build
	b.Tasks.Rows = append([]tasks.Task{}, b.Tasks.Rows...)
	for i := range b.Tasks.Rows {
		if b.Tasks.Rows[i].ID == first.ID {
			b.Tasks.Rows[i].State, b.Tasks.Rows[i].FinishedAt = tasks.Finished, &units.When{At: first.Finish}
		}
	}
	then, err := New(b, first.Finish).Following(&better).Sequence(t.Context(), plan.Options{})
	want := starts(better)[1:]
	if diff := cmp.Diff(want, starts(then)); diff != "" || err != nil {
		t.Errorf("(-planned +is), %v:\n%s", err, diff)
	}
}

// The price of a move is against the order on the screen, and never a better one that nobody has seen.
func TestMovesArePricedAgainstTheOrderOnScreen(t *testing.T) {
	v, first, better := searched(t)
	priced := 0
	for i, on := range []Sequence{first, better, first, better, first, better} {
		task, to := better.Tasks[i].ID, Place{After: better.Tasks[i+3].ID}
		price, err := v.Following(&on).Move(t.Context(), task, to, plan.Options{})
		if err != nil {
			continue // the move breaks an edge
		}
		priced++
		if price.Was.Finish > on.Finish {
			t.Errorf("without the move it ends %v, on the screen %v", price.Was.Finish, on.Finish)
		}
	}
	if priced == 0 {
		t.Error("no move could be priced")
	}
}
