package answer

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// drawCrowd draws a random build with more than one pair of hands, cures that hold the inside
// of the van, parts that come later, and tasks of all lengths.
func drawCrowd(t *rapid.T) *View {
	v := drawView(t)
	b := v.Build
	week := func(spans ...calendar.Span) *calendar.Week {
		return &calendar.Week{spans, spans, spans, spans, spans}
	}
	b.Resources = build.ListOf(
		calendar.Resource{ID: "builder", Capacity: 1, Hours: week(calendar.Span{From: 480, To: 720}, calendar.Span{From: 780, To: 1020})},
		calendar.Resource{ID: "helper", Capacity: 1, Hours: week(calendar.Span{From: 600, To: 720})},
		calendar.Resource{ID: "inside", Capacity: calendar.Capacity(rapid.IntRange(1, 2).Draw(t, "inside"))})
	b.Parts = build.ListOf(parts.Part{ID: "hose", Qty: 1, Due: &units.When{At: v.Now + units.Day, DateOnly: true}})
	rows := slices.Clone(b.Tasks.Rows)
	for i := range rows {
		drawNeeds(t, &rows[i])
	}
	b.Tasks = build.ListOf(rows...)
	if faults := b.Check(); len(faults) > 0 {
		t.Fatalf("the random build is at fault: %v", faults)
	}
	return New(b, v.Now)
}

func drawNeeds(t *rapid.T, task *tasks.Task) {
	h := float64(rapid.IntRange(0, 12).Draw(t, "half hours")) / 2
	task.Hours = units.Estimate{Low: h / 2, Likely: h, High: 2 * h}
	task.Uses = rapid.SampledFrom([]tasks.Uses{{"builder": 1}, {"builder": 1}, {"builder": 1, "helper": 1}, {"helper": 1},
		{"builder": 1, "inside": 1}, {"inside": 1}, {}}).Draw(t, "uses")
	if rapid.IntRange(0, 3).Draw(t, "cures") == 0 {
		task.Cure = &tasks.Cure{Hours: float64(rapid.IntRange(1, 20).Draw(t, "cure"))}
		if rapid.Bool().Draw(t, "holds") {
			task.Cure.Holds = []id.Resource{"inside"}
		}
	}
	if rapid.IntRange(0, 5).Draw(t, "waits for the hose") == 0 {
		task.Parts = []id.Part{"hose"}
	}
}

// someOrder gives the first order of a random build, or one that was searched for; false where
// there is none.
func someOrder(t *rapid.T, v *View) (Sequence, bool) {
	if rapid.Bool().Draw(t, "first order") {
		return firstOrder(t, v)
	}
	seq, err := v.Sequence(t.Context(), plan.Options{Time: time.Second, Schedules: 100})
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		return seq, false
	}
	if err != nil {
		t.Fatal(err)
	}
	return seq, true
}

// slow is an order of work laid out minute by minute: rows in the order of their starts, each
// as soon as all that it waits for and the minutes of its resources allow, none before a start
// that is given. It knows calendars, edges, cures and capacities, and is slow.
type slow struct {
	v      *View
	taken  map[string]int // resource and minute: units taken
	curing map[string]int // the same, by cures of what is done
	row    map[id.Task]Row
}

func newSlow(v *View) *slow {
	s := &slow{v: v, taken: map[string]int{}, curing: map[string]int{}, row: map[id.Task]Row{}}
	for _, t := range v.Live.Tasks {
		if t.State != tasks.Finished || t.Cure == nil || t.FinishedAt == nil {
			continue
		}
		for _, r := range t.Cure.Holds {
			for m := t.FinishedAt.At; m < t.FinishedAt.At+units.Instant(t.Cure.Hours*60); m++ {
				s.curing[minuteOf(r, m)]++
			}
		}
	}
	return s
}

func minuteOf(r id.Resource, m units.Instant) string { return fmt.Sprint(r, " ", int64(m)) }

// ready gives the time from which edges, parts and dates let t start.
func (s *slow) ready(t tasks.Task) units.Instant {
	from := s.v.Now
	for _, e := range s.v.Live.Edges {
		if e.After != t.ID || e.Kind == "should" {
			continue
		}
		before, _ := s.v.task(e.Before)
		end := s.row[e.Before].Finish
		if before.State == tasks.Finished {
			end = before.FinishedAt.At
		}
		switch {
		case e.LagH != nil:
			end += units.Instant(*e.LagH * 60)
		case before.Cure != nil:
			end += units.Instant(before.Cure.Hours * 60)
		}
		from = max(from, end)
	}
	if t.NotBefore != nil {
		from = max(from, t.NotBefore.At)
	}
	if len(t.Parts) > 0 {
		from = max(from, (s.v.Now.Date() + 2).Start()) // due tomorrow
	}
	return from
}

// place lays t out from a time on, and gives its row.
func (s *slow) place(t tasks.Task, from units.Instant, work int) Row {
	return s.placeBehind(t, from, from, work)
}

// placeBehind is place; the row finishes no sooner than end.
func (s *slow) placeBehind(t tasks.Task, from, end units.Instant, work int) Row {
	for start := from; ; start++ {
		if row, ok := s.try(t, start, end, work); ok {
			s.row[t.ID] = row
			return row
		}
	}
}

// open reports whether all that t uses is in its hours in a minute, and free there.
func (s *slow) open(t tasks.Task, m units.Instant) (in, free bool) {
	in, free = true, true
	for r, n := range t.Uses {
		res := s.v.Live.Resources[s.v.Live.ResourceAt[r]]
		in = in && inWeek(res.Hours, m)
		free = free && max(s.taken[minuteOf(r, m)], s.curing[minuteOf(r, m)])+n <= int(res.Capacity)
	}
	return in, free
}

func inWeek(w *calendar.Week, m units.Instant) bool {
	if w == nil {
		return true
	}
	return slices.ContainsFunc(w[m.Date().Weekday()], func(s calendar.Span) bool { return s.From <= m.Clock() && m.Clock() < s.To })
}

// try lays t out from a minute on; false where it cannot start then, or would finish before end.
func (s *slow) try(t tasks.Task, start, end units.Instant, work int) (Row, bool) {
	var minutes []units.Instant
	m := start
	for ; len(minutes) < work; m++ {
		in, free := s.open(t, m)
		switch {
		case in && !free, !in && m == start:
			return Row{}, false
		case in:
			minutes = append(minutes, m)
		}
	}
	if m < end {
		return Row{}, false
	}
	row := Row{ID: t.ID, Start: start, Finish: m, CureEnd: m, WorkMin: work}
	if t.Cure != nil {
		row.CureEnd += units.Instant(t.Cure.Hours * 60)
	}
	return row, s.hold(t, row, minutes)
}

// hold takes what t uses and its cure holds; false where its cure finds it taken.
func (s *slow) hold(t tasks.Task, row Row, minutes []units.Instant) bool {
	var held []id.Resource
	if t.Cure != nil {
		held = t.Cure.Holds
	}
	for _, r := range held {
		room := int(s.v.Live.Resources[s.v.Live.ResourceAt[r]].Capacity)
		for m := row.Finish; m < row.CureEnd; m++ {
			if s.taken[minuteOf(r, m)] >= room {
				return false
			}
		}
	}
	for _, m := range minutes {
		for r, n := range t.Uses {
			s.taken[minuteOf(r, m)] += n
		}
	}
	for _, r := range held {
		for m := row.Finish; m < row.CureEnd; m++ {
			s.taken[minuteOf(r, m)]++
		}
	}
	return true
}

// end gives the last finish or end of a cure.
func (s *slow) end() units.Instant {
	end := s.v.Now
	for _, r := range s.row {
		end = max(end, r.CureEnd)
	}
	return end
}
