package answer

import (
	"slices"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// An independent planner for random builds: one builder, nothing that cures, so that an order of
// work is an order of the tasks one after the other, and all of them can be tried. It reads
// the rows of the build alone; only what a way in costs it asks the view.

// drawParts adds parts to a random build: arrived, ordered, or not. Half of the builds are only
// begun: nothing is done.
func drawParts(t *rapid.T) *View {
	v := drawView(t)
	b := v.Build
	rows := slices.Clone(b.Tasks.Rows)
	fresh := rapid.Bool().Draw(t, "nothing is done")
	for i := range rows {
		rows[i].Parts = names[id.Part](t, "part", 2)
		if fresh {
			rows[i].State, rows[i].FinishedAt = tasks.Todo, nil
		}
	}
	b.Tasks = build.ListOf(rows...)
	if fresh {
		b.Days = build.ListOf[daybook.Entry]()
	}
	day := func(label string, from int) *units.When {
		date := v.Now.Date() + units.Date(rapid.IntRange(from, from+4).Draw(t, label))
		return &units.When{At: date.Start(), DateOnly: true}
	}
	var list []parts.Part
	for _, name := range []id.Part{"part0", "part1"} {
		p := parts.Part{ID: name, Qty: 1, LeadDays: units.Sure(float64(rapid.IntRange(0, 4).Draw(t, "lead")))}
		switch rapid.IntRange(0, 3).Draw(t, "part") {
		case 0:
			p.Arrived = day("arrived", -5)
		case 1:
			p.Due = day("due", -1)
		case 2:
			p.Ordered = day("ordered", -4)
		}
		list = append(list, p)
	}
	b.Parts = build.ListOf(list...)
	return New(b, v.Now)
}

// serial tries orders of the open tasks of a view.
type serial struct {
	v    *View
	open []tasks.Task
}

func newSerial(v *View) *serial {
	s := &serial{v: v}
	for _, t := range v.Live.Tasks {
		if t.State != tasks.Finished {
			s.open = append(s.open, t)
		}
	}
	return s
}

// done is an order that was worked through.
type done struct {
	order  []id.Task
	start  map[id.Task]units.Instant
	end    map[id.Task]units.Instant
	fitted map[id.Task]access.Set // when each starts
	finish units.Instant
	work   int
}

// atWork are the hours of the builder of a build that has no resources: Monday to Friday, 08:00-12:00
// and 13:00-17:00.
func atWork(at units.Instant) bool {
	hour := at.Clock() / 60
	return at.Date().Weekday() < 5 && hour >= 8 && hour < 17 && hour != 12
}

// run works through the tasks in an order; false where it breaks a must edge or a task cannot be
// reached.
func (s *serial) run(order []tasks.Task) (done, bool) {
	d := done{start: map[id.Task]units.Instant{}, end: map[id.Task]units.Instant{}, fitted: map[id.Task]access.Set{}, finish: s.v.Now}
	fitted := slices.Clone(s.v.fitted())
	for _, t := range order {
		from, ok := s.release(t, d)
		way, there := s.v.reach(t, fitted)
		if !ok || !there {
			return d, false
		}
		work := t.LeftMinutes() + way.Ceil() + s.rework(t, d)
		for from = max(from, d.finish); !atWork(from); {
			from++
		}
		d.order, d.start[t.ID], d.fitted[t.ID], d.work = append(d.order, t.ID), from, fitted, d.work+work
		for ; work > 0; from++ {
			if atWork(from) {
				work--
			}
		}
		d.end[t.ID], d.finish = from, from
		fitted = union(fitted, s.v.solver().Set(t.Fits...))
	}
	return d, true
}

// release gives the first minute of t, after those that are done in d; false where one that must
// come before is not done.
func (s *serial) release(t tasks.Task, d done) (units.Instant, bool) {
	from := s.v.Now
	if t.NotBefore != nil {
		from = max(from, t.NotBefore.At)
	}
	for _, name := range t.Parts {
		p := s.v.Build.Parts.Rows[slices.IndexFunc(s.v.Build.Parts.Rows, func(p parts.Part) bool { return p.ID == name })]
		from = max(from, partThere(p, s.v.Now))
	}
	for _, e := range s.v.Live.Edges {
		if e.After != t.ID || e.Kind == deps.Should {
			continue
		}
		end, ok := d.end[e.Before]
		if before := s.v.Live.Tasks[s.v.Live.TaskAt[e.Before]]; before.State == tasks.Finished {
			end, ok = before.FinishedAt.At, true
		}
		if !ok {
			return 0, false
		}
		if e.LagH != nil {
			end += units.Instant(*e.LagH * 60)
		}
		from = max(from, end)
	}
	return from, true
}

// partThere says when a part is there: at once when arrived, else 00:00 of the day after it is
// due; not ordered, as if it were ordered now.
func partThere(p parts.Part, now units.Instant) units.Instant {
	switch {
	case p.Arrived != nil:
		return now
	case p.Due != nil:
		return p.Due.At + units.Day
	case p.Ordered != nil:
		return p.Ordered.At + units.Day*units.Instant(1+p.LeadDays.Likely)
	}
	return now.Date().Start() + units.Day*units.Instant(1+p.LeadDays.Likely)
}

// rework gives what the should edges cost t that are broken when it starts after those of d.
func (s *serial) rework(t tasks.Task, d done) (min int) {
	for _, e := range s.v.Live.Edges {
		if e.Kind != deps.Should || e.Before != t.ID || t.State == tasks.Started {
			continue
		}
		_, begun := d.start[e.After]
		if begun || s.v.Live.Tasks[s.v.Live.TaskAt[e.After]].State != tasks.Todo {
			min += int(e.ReworkH * 60)
		}
	}
	return min
}

// best gives the best of all orders that hold lets through; false where there is none.
func (s *serial) best(holds func(done) bool) (best done, found bool) {
	s.each(func(d done) {
		if holds(d) && (!found || d.finish < best.finish || d.finish == best.finish && d.work < best.work) {
			best, found = d, true
		}
	})
	return best, found
}

// each gives every order that can be.
func (s *serial) each(give func(done)) {
	order := slices.Clone(s.open)
	var next func(int)
	next = func(k int) {
		if k == len(order) {
			if d, ok := s.run(order); ok {
				give(d)
			}
			return
		}
		for i := k; i < len(order); i++ {
			order[k], order[i] = order[i], order[k]
			next(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	next(0)
}

// inOrder gives the tasks of a sequence.
func (s *serial) inOrder(seq Sequence) []tasks.Task {
	var out []tasks.Task
	for _, r := range seq.Tasks {
		out = append(out, s.v.Live.Tasks[s.v.Live.TaskAt[r.ID]])
	}
	return out
}

// leads gives for every two tasks whether must edges lead from the one to the other. What is done
// holds nothing up any more, so none leads through it.
func (s *serial) leads() map[[2]id.Task]bool {
	out := map[[2]id.Task]bool{}
	isOpen := func(name id.Task) bool {
		return slices.ContainsFunc(s.open, func(t tasks.Task) bool { return t.ID == name })
	}
	for _, e := range s.v.Live.Edges {
		if e.Kind != deps.Should && isOpen(e.Before) && isOpen(e.After) {
			out[[2]id.Task{e.Before, e.After}] = true
		}
	}
	closeOver(out, s.v.taskIDs())
	return out
}

// closeOver makes a relation transitive (R. W. Floyd, Algorithm 97: Shortest path, CACM 5, 1962).
func closeOver(leads map[[2]id.Task]bool, ids []id.Task) {
	for _, k := range ids {
		for _, i := range ids {
			for _, j := range ids {
				if leads[[2]id.Task{i, k}] && leads[[2]id.Task{k, j}] {
					leads[[2]id.Task{i, j}] = true
				}
			}
		}
	}
}
