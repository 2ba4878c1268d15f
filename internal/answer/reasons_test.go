package answer

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Every reason is true of the order, minute by minute, and one of each row says why it starts
// no sooner.
func TestLawReasonsExplainTheStart(t *testing.T) {
	said := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		v := drawCrowd(t)
		seq, ok := someOrder(t, v)
		if !ok {
			return
		}
		s := newSlow(v)
		for _, r := range seq.Tasks {
			task, _ := v.task(r.ID)
			s.place(task, r.Start, r.WorkMin)
		}
		for _, r := range seq.Tasks {
			explained := r.Start == v.Now
			for _, b := range r.Because {
				is := s.explains(t, r, b)
				explained = explained || is
				said[b.Kind]++
			}
			if !explained {
				t.Fatalf("nothing says why %+v does not start sooner; the order is %+v", r, seq.Tasks)
			}
		}
	})
	for _, kind := range []string{"edge", "lag", "part", "not-before", "resource", "close-in"} {
		if said[kind] == 0 {
			t.Errorf("no random order has a row with a reason of kind %s", kind)
		}
	}
}

// explains reports whether a reason keeps a row from starting sooner.
func (s *slow) explains(t *rapid.T, r Row, b Because) bool {
	task, _ := s.v.task(r.ID)
	switch b.Kind {
	case "edge", "lag":
		if strings.Contains(b.Text, "should start first") {
			return s.first(task, s.row[id.Task(b.Ref)].Start) == r.Start
		}
		return s.first(task, s.letsGo(t, b.Ref, task)) == r.Start
	case "part":
		return s.first(task, (s.v.Now.Date()+2).Start()) == r.Start
	case "not-before":
		return s.first(task, task.NotBefore.At) == r.Start
	case "resource":
		return s.noneLeft(t, r, task, b)
	}
	return strings.Contains(b.Text, "has started") && s.wouldBury(r, task, id.Task(b.Ref))
}

// wouldBury reports whether the way to another row is dearer than in the order if r has fitted
// its items when that starts. A row that stands before what would bury it is held back by nothing.
func (s *slow) wouldBury(r Row, task tasks.Task, other id.Task) bool {
	at := s.row[other].Start
	seq := Sequence{Tasks: []Row{}}
	for _, row := range s.row {
		seq.Tasks = append(seq.Tasks, row)
	}
	then := New(builtBy(s.v.Build, seq, at), at)
	buried, _ := then.task(other)
	without, _ := then.reach(buried, then.fitted())
	with, ok := then.reach(buried, union(then.fitted(), then.solver().Set(task.Fits...)))
	return (!ok || with > without) && at < r.Finish
}

// letsGo gives when the task before lets the other start.
func (s *slow) letsGo(t *rapid.T, before string, after tasks.Task) units.Instant {
	alone := newSlow(s.v)
	alone.row = s.row
	for _, e := range s.v.Live.Edges {
		if string(e.Before) == before && e.After == after.ID {
			return alone.ready(tasks.Task{ID: after.ID})
		}
	}
	t.Fatalf("%s waits for %s, and there is no such edge", after.ID, before)
	return 0
}

// first gives the first minute from which t can work: all that it uses is in its hours.
func (s *slow) first(t tasks.Task, from units.Instant) units.Instant {
	for m := from; ; m++ {
		if in, _ := s.open(t, m); in || s.row[t.ID].WorkMin == 0 {
			return m
		}
	}
}

// noneLeft reports whether the resource that is named was not there in the minute before the
// row starts; or, from the last minute in which the row could have worked, others had it.
func (s *slow) noneLeft(t *rapid.T, r Row, task tasks.Task, b Because) bool {
	res := id.Resource(b.Ref)
	if strings.HasPrefix(b.Text, "nothing before it") {
		return s.first(task, s.ready(task)) == r.Start
	}
	if strings.Contains(b.Text, "out of hours") {
		return !inWeek(s.v.Live.Resources[s.v.Live.ResourceAt[res]].Hours, r.Start-1)
	}
	if task.Uses[res] == 0 && (task.Cure == nil || !slices.Contains(task.Cure.Holds, res)) {
		t.Fatalf("%s has no use for %s, yet is said to wait for it", r.ID, res)
	}
	others := newSlow(s.v)
	for _, o := range s.row {
		if placed, _ := s.v.task(o.ID); o.ID != r.ID {
			others.place(placed, o.Start, o.WorkMin)
		}
	}
	sooner := r.Start - 1
	for in, _ := s.open(task, sooner); !in && r.WorkMin > 0; in, _ = s.open(task, sooner) {
		sooner--
	}
	_, could := others.try(task, sooner, sooner, r.WorkMin)
	return !could && sooner >= s.v.Now
}
