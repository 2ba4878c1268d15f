package answer

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/plan"
)

// row gives the row of a task in a sequence.
func row(t *testing.T, s Sequence, task string) Row {
	t.Helper()
	for _, r := range s.Tasks {
		if string(r.ID) == task {
			return r
		}
	}
	t.Fatalf("%s is not in the sequence", task)
	return Row{}
}

func search(t *testing.T, v *View) Sequence {
	t.Helper()
	s, err := v.Sequence(t.Context(), plan.Options{Time: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// says reports whether a row has a reason of a kind about a thing.
func says(r Row, kind, ref, text string) bool {
	for _, b := range r.Because {
		if b.Kind == kind && b.Ref == ref && strings.Contains(b.Text, text) {
			return true
		}
	}
	return false
}

const workdays = `"resources": [{"id": "builder", "name": "Builder", "hours": {"mon": ["08:00-12:00"], "tue": ["08:00-12:00"], "wed": ["08:00-12:00"]}},
	{"id": "helper", "name": "Helper", "hours": {"wed": ["10:00-12:00"]}}]`

func TestReasons(t *testing.T) {
	for _, tt := range []struct {
		name, lists      string
		task, start      string
		kind, ref, words string
	}{
		{"first", `"tasks": [{"id": "a", "hours": 1}]`, "a", "2026-03-02T08:00", "resource", "builder", "nothing before it"},
		{"edge", `"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b", "why": "wet"}]`,
			"b", "2026-03-02T09:00", "edge", "a", "after a: wet"},
		{"edge over night", `"tasks": [{"id": "a", "hours": 4}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b"}]`,
			"b", "2026-03-03T08:00", "resource", "builder", "Builder: out of hours until Tue 2026-03-03 08:00"},
		{"lag", `"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b", "lag_h": 1.5}]`,
			"b", "2026-03-02T10:30", "lag", "a", "a must stand until Mon 2026-03-02 10:30"},
		{"cure", `"tasks": [{"id": "a", "hours": 1, "cure": {"hours": 2}}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b"}]`,
			"b", "2026-03-02T11:00", "lag", "a", "a cures until Mon 2026-03-02 11:00"},
		{"cure of a finished task", `"tasks": [{"id": "a", "hours": 1, "cure": {"hours": 2}, "state": "finished", "finished_at": "2026-03-02T07:30"}, {"id": "b", "hours": 1}],
			"edges": [{"before": "a", "after": "b"}]`, "b", "2026-03-02T09:30", "lag", "a", "a cures until Mon 2026-03-02 09:30"},
		{"part", `"parts": [{"id": "p", "due": "2026-03-02"}], "tasks": [{"id": "a", "hours": 1, "parts": ["p"]}]`,
			"a", "2026-03-03T08:00", "part", "p", "p is there from Tue 2026-03-03 00:00"},
		{"not before", `"tasks": [{"id": "a", "hours": 1, "not_before": "2026-03-02T11:00"}]`,
			"a", "2026-03-02T11:00", "not-before", "a", "Mon 2026-03-02 11:00"},
		{"helper", `"tasks": [{"id": "a", "hours": 1, "uses": {"builder": 1, "helper": 1}}, {"id": "b", "hours": 1}]`,
			"a", "2026-03-04T10:00", "resource", "helper", "Helper: out of hours"},
		{"one pair of hands", `"tasks": [{"id": "a", "hours": 1, "not_after": "2026-03-02T09:00"}, {"id": "b", "hours": 1}]`,
			"b", "2026-03-02T09:00", "resource", "builder", "Builder: busy with a until Mon 2026-03-02 09:00"},
		{"before it is closed in", `"items": [{"id": "lid", "opening": {"open_min": 30}}, {"id": "pump", "covers": ["lid"]}],
			"tasks": [{"id": "shut", "hours": 1, "fits": ["lid"]}, {"id": "a", "hours": 1, "reaches": ["pump"]}]`,
			"a", "2026-03-02T08:00", "close-in", "shut", "before lid is fitted: it would cost 30 more minutes"},
	} {
		s := search(t, viewOf(t, monday, workdays+", "+tt.lists))
		r := row(t, s, tt.task)
		if r.Start != at(t, tt.start) || !says(r, tt.kind, tt.ref, tt.words) {
			t.Errorf("%s: %s starts %s because of %+v, want %s because of %s %s: %s",
				tt.name, tt.task, r.Start, r.Because, tt.start, tt.kind, tt.ref, tt.words)
		}
	}
}

func TestBusyIsNotSaidOfWorkThatEndedWhileTheRowCouldNotRun(t *testing.T) {
	s := search(t, viewOf(t, monday, workdays+`, "tasks": [{"id": "a", "hours": 1, "uses": {"builder": 1, "helper": 1}}, {"id": "b", "hours": 1}]`))
	for _, b := range row(t, s, "a").Because {
		if strings.Contains(b.Text, "busy") {
			t.Errorf("a waits for the helper, not for b: %+v", b)
		}
	}
}

func TestSequencePaysForShouldEdgesAlreadyBroken(t *testing.T) {
	s := search(t, viewOf(t, monday, workdays+`, "tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1, "state": "finished"}],
		"edges": [{"before": "a", "after": "b", "kind": "should", "rework_h": 0.5}]`))
	if len(s.ShouldBroken) != 1 || s.ShouldBroken[0] != (Broken{"a", "b", 30}) || row(t, s, "a").ReworkMin != 30 || s.WorkMin != 90 {
		t.Errorf("broken %+v, row %+v, work %d; want 30 minutes of rework", s.ShouldBroken, s.Tasks[0], s.WorkMin)
	}
}

func TestSequenceOfNothing(t *testing.T) {
	s := search(t, viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1, "state": "finished"}]`))
	if !s.Proven || s.Finish != at(t, monday) || s.Tasks == nil || s.ShouldBroken == nil {
		t.Errorf("a build that is done: %+v", s)
	}
}

func TestNoSequence(t *testing.T) {
	var none *plan.NoSequenceError
	for name, lists := range map[string]string{
		"a cure that never ends": `"resources": [{"id": "builder"}, {"id": "warm", "hours": {}}],
			"tasks": [{"id": "a", "hours": 1, "state": "finished", "finished_at": "2026-03-01", "cure": {"hours": 1, "while": "warm"}}, {"id": "b", "hours": 1}],
			"edges": [{"before": "a", "after": "b"}]`,
		"a date that has passed": `"tasks": [{"id": "b", "hours": 1, "not_after": "2026-03-01"}]`,
	} {
		_, err := viewOf(t, monday, lists).Sequence(t.Context(), plan.Options{})
		if !errors.As(err, &none) || none.ID != "b" {
			t.Errorf("%s: %v, want that b stands in no order", name, err)
		}
	}
	v := viewOf(t, monday, `"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1}]`)
	v.Live.Edges = []deps.Edge{{Before: "a", After: "b"}, {Before: "b", After: "a"}} // a build file cannot say so
	var loop *deps.CycleError
	if _, err := v.Sequence(t.Context(), plan.Options{}); !errors.As(err, &loop) {
		t.Errorf("a loop: %v", err)
	}
}
