package answer

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// TodayOptions narrow the question of what can be done now.
type TodayOptions struct {
	Hours  float64 // at hand; 0: not said. Tasks that fit alone stand first in Can
	Helper bool    // a helper is here, whatever the calendar says
}

// Today gives what can be done now, in the order of seq (nil: of the early dates),
// and why the rest cannot; with hours at hand also what fits into them, by place. Whether the
// builder is in hours at v.Now does not matter: who asks is there. What takes a helper, or
// anything else that is not in its hours now, can be done only where o says that it is here.
func (v *View) Today(seq *Sequence, o TodayOptions) Today {
	out := Today{Can: []Can{}, Cannot: []Cannot{}}
	w := &waitContext{rows: rowsByTask(seq), helper: o.Helper}
	for _, t := range v.inOrder(seq) {
		if waits := v.waits(t, w); len(waits) > 0 {
			out.Cannot = append(out.Cannot, Cannot{ID: t.ID, WaitsFor: waits})
			continue
		}
		out.Can = append(out.Can, v.can(t, w))
	}
	out.Fits.Groups = []Fit{}
	if o.Hours > 0 {
		out.Fits = v.fits(out.Can, o.Hours)
		slices.SortStableFunc(out.Can, func(a, b Can) int { return cmp.Compare(tooLong(a, o), tooLong(b, o)) })
	}
	return out
}

func tooLong(c Can, o TodayOptions) int {
	if float64(c.LeftMin)+math.Ceil(c.AccessMin) > o.Hours*60 {
		return 1
	}
	return 0
}

// waitContext is what is known beyond the build when waits are worked out.
type waitContext struct {
	rows   map[id.Task]Row // of the sequence, where there is one
	helper bool
}

func rowsByTask(seq *Sequence) map[id.Task]Row {
	out := map[id.Task]Row{}
	if seq != nil {
		for _, r := range seq.Tasks {
			out[r.ID] = r
		}
	}
	return out
}

// inOrder gives the open tasks in the order of seq, those that it does not have last; without
// one in the order of their early starts.
func (v *View) inOrder(seq *Sequence) []tasks.Task {
	starts := map[id.Task]units.Instant{}
	if seq != nil {
		for i, r := range seq.Tasks {
			starts[r.ID] = units.Instant(i)
		}
	} else if early, err := v.early(); err == nil {
		for t, d := range early {
			starts[t] = d.EarlyStart
		}
	}
	var out []tasks.Task
	for _, t := range v.Live.Tasks {
		if t.State != tasks.Finished {
			out = append(out, t)
		}
	}
	at := func(t tasks.Task) units.Instant {
		if s, ok := starts[t.ID]; ok {
			return s
		}
		return math.MaxInt64
	}
	slices.SortStableFunc(out, func(a, b tasks.Task) int { return cmp.Compare(at(a), at(b)) })
	return out
}

func (v *View) can(t tasks.Task, w *waitContext) Can {
	c := Can{ID: t.ID, LeftMin: t.LeftMinutes(), Place: t.Place, Because: v.standing(t, w)}
	buries := v.CloseInBy(t)
	c.ClosesIn, c.OwedFirst = buries.Closes, buries.NotProved
	c.Tools = []string{}
	if way, err := v.way(context.Background(), v.query(t, v.fitted())); err == nil {
		c.AccessMin, c.Tools = way.Cost.Minutes(), v.toolsFor(way)
	}
	return c
}

// standing says why a task stands where it stands in the list.
func (v *View) standing(t tasks.Task, w *waitContext) string {
	row, planned := w.rows[t.ID]
	early, err := v.early()
	switch {
	case v.onTheClock(t.ID):
		return "the clock is running on it"
	case t.State == tasks.Started:
		return "under way"
	case planned && row.Start <= v.Now:
		return "first in the plan: now"
	case planned:
		text := "in the plan from " + when(row.Start)
		for _, b := range row.Because {
			if b.Kind != "resource" {
				text += ", " + b.Text
			}
		}
		return text
	case err == nil && early[t.ID].Critical:
		return "every delay of it delays the end of the build"
	case err == nil:
		return fmt.Sprintf("may slip by %s", units.Minutes(early[t.ID].TotalFloatMin))
	}
	return "nothing holds it"
}

// waits gives what t waits for now, empty where it can be worked on.
func (v *View) waits(t tasks.Task, w *waitContext) []WaitsFor {
	var out []WaitsFor
	for _, e := range v.before()[t.ID] {
		before, ok := v.task(e.Before)
		if ok && isMust(e) && before.State != tasks.Finished && !v.overlaps(e, w) {
			out = append(out, WaitsFor{Kind: "edge", Ref: string(e.Before), Until: v.expected(e, w),
				Text: reason("after "+before.Title(), e.Why)})
		}
	}
	for _, h := range v.holds(t) {
		if h.never || h.from > v.Now {
			out = append(out, waitOf(h))
		}
	}
	out = append(out, v.resourceWaits(t, w)...)
	if stuck, ok := v.reachWait(t); ok {
		out = append(out, stuck)
	}
	return out
}

// overlaps reports whether e lets its After start before its Before has finished, and the sequence
// has come to that.
func (v *View) overlaps(e deps.Edge, w *waitContext) bool {
	if e.LagH == nil || *e.LagH >= 0 {
		return false
	}
	row, planned := w.rows[e.Before]
	if !planned {
		return false
	}
	from, ok := v.ready(e, row.Finish)
	return ok && from <= v.Now
}

func waitOf(h held) WaitsFor {
	wait := WaitsFor{Kind: h.kind, Ref: h.ref, Text: h.text}
	if !h.never {
		wait.Until = &h.from
	}
	return wait
}

// expected gives when an open task before is expected to let go: by the sequence, else by
// the early dates. nil: not known.
func (v *View) expected(e deps.Edge, w *waitContext) *units.Instant {
	finish := w.rows[e.Before].Finish
	if _, planned := w.rows[e.Before]; !planned {
		early, err := v.early()
		if err != nil {
			return nil
		}
		finish = early[e.Before].EarlyFinish
	}
	if from, ok := v.ready(e, finish); ok {
		return &from
	}
	return nil
}

const builder id.Resource = "builder"

// resourceWaits gives the resources that t uses and that are not there, or are held by a
// cure. The builder is whoever asks; a helper may be here without being in hours.
func (v *View) resourceWaits(t tasks.Task, w *waitContext) []WaitsFor {
	var out []WaitsFor
	for _, r := range v.used(t) {
		hours := v.cal().Of(r)
		here := r == builder || w.helper && isHelper(r)
		if !here && !hours.In(v.Now) {
			wait := WaitsFor{Kind: "resource", Ref: string(r), Text: v.resourceTitle(r) + " is never there"}
			if next, ok := hours.Next(v.Now); ok {
				wait.Until, wait.Text = &next, v.resourceTitle(r)+" is there from "+when(next)
			}
			out = append(out, wait)
		}
		if most := v.capacity(r); t.Uses[r] > most {
			out = append(out, WaitsFor{Kind: "resource", Ref: string(r),
				Text: fmt.Sprintf("it takes %d of %s, and there is only %d", t.Uses[r], v.resourceTitle(r), most)})
			continue
		}
		for _, h := range v.heldByCures(t, r) {
			out = append(out, waitOf(h))
		}
	}
	return out
}

// isHelper reports whether a resource is a second pair of hands by its name.
func isHelper(r id.Resource) bool { return strings.HasPrefix(string(r), "helper") }

func (v *View) reachWait(t tasks.Task) (WaitsFor, bool) {
	if _, ok := v.reach(t, v.fitted()); ok {
		return WaitsFor{}, false
	}
	wait := WaitsFor{Kind: "reach", Ref: string(t.Place), Text: "there is no way to it with what is fitted now"}
	_, err := v.way(context.Background(), v.query(t, v.fitted()))
	var none *access.NoWayError
	if errors.As(err, &none) && len(none.Stuck) > 0 {
		wait.Ref = cmp.Or(string(none.Stuck[0].Item), string(none.Stuck[0].Place))
		wait.Text += ": " + stuckText(none)
	}
	return wait, true
}
