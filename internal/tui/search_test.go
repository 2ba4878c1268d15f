package tui

import (
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/testkit"
)

// searching gives a driver in which a search of a length has begun, and its commands: the
// search itself and the one that reads what it finds.
func searching(t *testing.T, length time.Duration) (d *driver, find, better tea.Cmd) {
	t.Helper()
	d = drive(t, demo.Build(testkit.Now), 80, 24)
	m, cmd := d.m.searchFor(length)
	d.m = m
	batch, ok := cmd().(tea.BatchMsg)
	if !ok || len(batch) != 2 {
		t.Fatalf("a search gives %T, want two commands", cmd())
	}
	return d, batch[0], batch[1]
}

func TestASearchShowsWhatItFinds(t *testing.T) {
	d, find, better := searching(t, 50*time.Millisecond)
	first := *d.m.data.Seq
	d.see("looking for a better order", "x stop")
	end := find()
	if found, ok := better().(betterMsg); ok {
		d.send(found)
		if !slices.IsSortedFunc(d.m.data.Seq.Tasks, func(a, b answer.Row) int { return int(a.Start - b.Start) }) {
			t.Error("the better order is not in order")
		}
	}
	d.send(end)
	d.seeNot("looking for a better order")
	if last := d.m.data.Seq; last.Finish > first.Finish || last.BoundFinish > last.Finish {
		t.Errorf("after the search the plan ends %s (bound %s), before it %s", last.Finish, last.BoundFinish, first.Finish)
	}
	for _, r := range d.m.data.Seq.Tasks {
		for _, b := range r.Because {
			if b.Kind == "search" {
				t.Fatalf("%s has no reasons after the search", r.ID)
			}
		}
	}
}

// TestSoFarKnowsTheJobs: an order that came while the search went on has the same rows as the
// one that package answer makes of it.
func TestSoFarKnowsTheJobs(t *testing.T) {
	d := drive(t, demo.Build(testkit.Now), 80, 24)
	v := d.m.data.View
	var last answer.Sequence
	told := 0
	seq, err := v.Sequence(t.Context(), plan.Options{Time: 200 * time.Millisecond, Better: func(s plan.Sequence) {
		last, told = soFar(v, s), told+1
	}})
	if err != nil {
		t.Fatal(err)
	}
	if told == 0 {
		t.Skip("the search told of nothing better")
	}
	if last.Finish != seq.Finish || last.WorkMin != seq.WorkMin || last.AccessMin != seq.AccessMin || len(last.Tasks) != len(seq.Tasks) {
		t.Fatalf("the last order told ends %s with %d min, the answer %s with %d", last.Finish, last.WorkMin, seq.Finish, seq.WorkMin)
	}
	for i, r := range last.Tasks {
		if w := seq.Tasks[i]; r.ID != w.ID || r.Start != w.Start || r.CureEnd != w.CureEnd {
			t.Errorf("row %d is %s from %s, the answer has %s from %s", i, r.ID, r.Start, w.ID, w.Start)
		}
	}
}

func TestASearchIsStoppedByAKey(t *testing.T) {
	d, find, _ := searching(t, time.Hour)
	d.press("x")
	d.send(find()) // would go on for an hour
	d.seeNot("looking for a better order")
	if len(d.m.data.Seq.Tasks) == 0 {
		t.Error("no order is left after stopping")
	}
}

func TestAChangeEndsASearch(t *testing.T) {
	d, find, _ := searching(t, time.Hour)
	d.press("s")
	late := find()
	d.seeNot("looking for a better order")
	seq := d.m.data.Seq
	d.send(late)
	if d.m.data.Seq != seq {
		t.Error("the order of a search for an older build was shown")
	}
}

func TestTheProgressOfASearch(t *testing.T) {
	d, _, _ := searching(t, time.Second)
	d.see("░░░░░░░░░░")
	for range 5 {
		d.send(beatMsg{d.m.search.number})
	}
	d.see("█████░░░░░")
	for range 50 {
		d.send(beatMsg{d.m.search.number})
	}
	d.see("██████████")
}

func TestReplaceKeepsTheNewest(t *testing.T) {
	ch := make(chan answer.Sequence, 1)
	for n := range 3 {
		replace(ch, answer.Sequence{WorkMin: n})
	}
	if got := (<-ch).WorkMin; got != 2 {
		t.Errorf("the channel has %d, want the newest, 2", got)
	}
}

func TestAPlanThatCannotBeIsExplained(t *testing.T) {
	b := testkit.Workshop()
	b.Items.Rows[1].Opening = nil // the panel cannot be opened …
	b.Edges.Rows = b.Edges.Rows[:1]
	b.Edges.Keys = b.Edges.Keys[:1]
	b.Items.Rows[1].Fitted = true // … and is in the way of the pump
	d := drive(t, b, 80, 24)
	d.press("2")
	d.see("no order", "Mount the coolant pump", "no order of work, see 2")
	d.press("1")
	d.see("Mount the coolant pump")
}
