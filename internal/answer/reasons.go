package answer

import (
	"cmp"
	"fmt"
	"slices"
	"sort"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// reasons reads from a finished sequence what holds each row where it stands. It
// says nothing that the times do not bear out: a reason is one whose end is the
// row's start, or lies in the hours off just before it.
type reasons struct {
	v      *View
	p      *problem
	rows   []plan.Row
	at     []int // row of each job
	ends   []end // of work and of holding cures, by time
	fitter []int // rows that fit something, by start
}

// end is the minute at which a row lets go of what it uses, or its cure of what it holds.
type end struct {
	at   units.Instant
	row  int
	cure bool
}

func newReasons(v *View, p *problem, rows []plan.Row) *reasons {
	r := &reasons{v: v, p: p, rows: rows, at: make([]int, len(p.Jobs))}
	for i, row := range rows {
		r.at[row.Job] = i
		if row.Work > 0 {
			r.ends = append(r.ends, end{row.Finish, i, false})
		}
		if row.CureEnd > row.Finish && len(p.Jobs[row.Job].Holds) > 0 {
			r.ends = append(r.ends, end{row.CureEnd, i, true})
		}
		if len(p.Jobs[row.Job].Fits) > 0 {
			r.fitter = append(r.fitter, i)
		}
	}
	slices.SortStableFunc(r.ends, func(a, b end) int { return cmp.Compare(a.at, b.at) })
	return r
}

// of gives the reasons of row i, never none.
func (r *reasons) of(i int) []Because {
	row := r.rows[i]
	out, free := r.holding(row)
	for _, b := range r.busy(i) {
		if !slices.ContainsFunc(out, func(e Because) bool { return e.Ref == string(b.with) && e.Kind == "edge" }) {
			out = append(out, b.Because)
		}
	}
	out = append(out, r.off(row, free)...)
	out = append(out, r.buried(i)...)
	if len(out) == 0 {
		out = append(out, r.rest(row, free))
	}
	return out
}

// holding gives what a row waits for besides resources, where it does, and from when on
// nothing but resources holds it.
func (r *reasons) holding(row plan.Row) (out []Because, free units.Instant) {
	free = r.p.Now
	hold := func(from units.Instant, b Because) {
		free = max(free, from)
		if r.bites(row, from) {
			out = append(out, b)
		}
	}
	task := r.p.task[row.Job]
	for _, e := range r.v.before()[task.ID] {
		if job, open := r.p.job[e.Before]; open && isMust(e) {
			from, b := r.edge(e, r.rows[r.at[job]])
			hold(from, b)
		}
	}
	for _, h := range r.v.holds(task) {
		if h.kind == "cure" {
			h.kind = "lag"
		}
		hold(h.from, Because{Kind: h.kind, Ref: h.ref, Text: h.text})
	}
	return out, free
}

// bites reports whether a constraint that lets go at from holds the row: it starts then,
// or in the first minute after it that it can be worked in.
func (r *reasons) bites(row plan.Row, from units.Instant) bool {
	return from > r.p.Now && r.next(row, from) == row.Start
}

// next gives the first minute from which the row can be worked on.
func (r *reasons) next(row plan.Row, from units.Instant) units.Instant {
	if row.Work == 0 {
		return from
	}
	next, _ := r.p.Jobs[row.Job].Hours.Next(from)
	return next
}

func (r *reasons) edge(e deps.Edge, before plan.Row) (units.Instant, Because) {
	title := r.v.taskTitle(e.Before)
	b := Because{Kind: "edge", Ref: string(e.Before), Text: "after " + title}
	from := before.CureEnd
	if e.LagH != nil {
		from = before.Finish + units.Instant(clockMinutes(*e.LagH))
	}
	switch {
	case from == before.Finish:
	case e.LagH != nil:
		b.Kind, b.Text = "lag", fmt.Sprintf("%s must stand until %s", title, when(from))
	default:
		b.Kind, b.Text = "lag", fmt.Sprintf("%s cures until %s", title, when(from))
	}
	b.Text = reason(b.Text, e.Why)
	return from, b
}

// busyWith is a reason of kind resource, with the task that had it.
type busyWith struct {
	Because
	with id.Task
}

// busy gives the rows that let go of something before the row starts, and left too little
// of it in the last minute in which the row could have been worked on. Each is given
// once, with the first such thing.
func (r *reasons) busy(i int) []busyWith {
	var out []busyWith
	row := r.rows[i]
	job := r.p.Jobs[row.Job]
	from := r.lastOpen(job.Hours, row.Start)
	first := sort.Search(len(r.ends), func(k int) bool { return r.ends[k].at >= from })
	for _, e := range r.ends[first:] {
		if e.at > row.Start {
			break
		}
		if e.row == i || e.at <= r.p.Now {
			continue
		}
		for _, use := range job.Uses {
			if r.short(use, e.row, i, from-1) {
				out = append(out, busyWith{r.busyText(use, e), r.p.Jobs[r.rows[e.row].Job].ID})
				break
			}
		}
	}
	return out
}

// lastOpen gives the end of the last minute of h before start: from then to start it was off.
func (r *reasons) lastOpen(h *calendar.Hours, start units.Instant) units.Instant {
	last, ok := h.LatestStart(start, 1)
	if !ok {
		return start
	}
	return last + 1
}

// short reports whether what row k and the others hold of a resource in minute m leaves
// too little of it for row i.
func (r *reasons) short(use plan.Use, k, i int, m units.Instant) bool {
	held := r.units(k, use.Resource, m)
	if held == 0 {
		return false
	}
	for other := range r.rows {
		if r.rows[other].Start > m {
			break
		}
		if other != i && other != k {
			held += r.units(other, use.Resource, m)
		}
	}
	return held+use.Units > r.p.Resources[use.Resource].Capacity
}

// units gives how many of a resource row k holds in the minute m.
func (r *reasons) units(k, resource int, m units.Instant) int {
	row := r.rows[k]
	job := r.p.Jobs[row.Job]
	switch {
	case row.Start <= m && m < row.Finish && job.Hours.In(m):
		for _, u := range job.Uses {
			if u.Resource == resource {
				return u.Units
			}
		}
	case row.Finish <= m && m < row.CureEnd && slices.Contains(job.Holds, resource):
		return 1
	}
	return 0
}

func (r *reasons) busyText(use plan.Use, e end) Because {
	name := r.p.Resources[use.Resource].ID
	with := r.v.taskTitle(r.p.Jobs[r.rows[e.row].Job].ID)
	text := fmt.Sprintf("%s: busy with %s until %s", r.v.resourceTitle(name), with, when(e.at))
	if e.cure {
		text = fmt.Sprintf("%s: taken while %s cures, until %s", r.v.resourceTitle(name), with, when(e.at))
	}
	return Because{Kind: "resource", Ref: string(name), Text: text}
}

// off says which resource was out of hours from the time the row was free until it starts.
func (r *reasons) off(row plan.Row, free units.Instant) []Because {
	if row.Work == 0 || free >= row.Start || r.next(row, free) != row.Start {
		return nil
	}
	var last id.Resource
	var until units.Instant
	for _, u := range r.p.Jobs[row.Job].Uses {
		res := r.p.Resources[u.Resource]
		if next, ok := res.Hours.Next(free); ok && next > free && next > until {
			last, until = res.ID, next
		}
	}
	if last == "" {
		return nil
	}
	return []Because{{Kind: "resource", Ref: string(last),
		Text: fmt.Sprintf("%s: out of hours until %s", r.v.resourceTitle(last), when(until))}}
}

// buried says which later row would make this one dearer to get at: it stands before it.
func (r *reasons) buried(i int) []Because {
	row := r.rows[i]
	later := r.laterFitters(row)
	if len(later) == 0 {
		return nil
	}
	cost := func(n int) (int, bool) { return r.p.Reach(row.Job, r.fittedAt(row.Start, later[:n])) }
	dearer := func(n int) bool {
		c, ok := cost(n)
		return !ok || c > row.Reach
	}
	n := sort.Search(len(later)+1, dearer) // more items never make it cheaper
	if n == 0 || n > len(later) {
		return nil
	}
	by := r.p.task[r.rows[later[n-1]].Job]
	text := fmt.Sprintf("before %s is fitted", r.v.itemTitles(by.Fits))
	if c, ok := cost(n); ok {
		text += fmt.Sprintf(": it would cost %d more minutes", c-row.Reach)
	} else {
		text += ": it could not be reached any more"
	}
	return []Because{{Kind: "close-in", Ref: string(by.ID), Text: text}}
}

// laterFitters gives the rows that fit something and start after row has finished.
func (r *reasons) laterFitters(row plan.Row) []int {
	var out []int
	for _, k := range r.fitter {
		if r.rows[k].Start >= row.Finish && r.rows[k].Job != row.Job {
			out = append(out, k)
		}
	}
	return out
}

// fittedAt gives what is fitted at a time, and what these rows fit besides.
func (r *reasons) fittedAt(at units.Instant, more []int) plan.Set {
	set := append(plan.Set(nil), r.p.Fitted...)
	add := func(k int) {
		for _, x := range r.p.Jobs[r.rows[k].Job].Fits {
			set[x/64] |= 1 << (x % 64)
		}
	}
	for _, k := range r.fitter {
		if r.rows[k].Finish <= at {
			add(k)
		}
	}
	for _, k := range more {
		add(k)
	}
	return set
}

// rest is the reason of a row that no other reason holds.
func (r *reasons) rest(row plan.Row, free units.Instant) Because {
	b := Because{Kind: "resource"}
	if uses := r.p.Jobs[row.Job].Uses; len(uses) > 0 {
		b.Ref = string(r.p.Resources[uses[0].Resource].ID)
	}
	switch {
	case row.Start == r.p.Now || r.next(row, free) == row.Start:
		b.Text = "nothing before it"
	default:
		b.Text = fmt.Sprintf("could start from %s; this order does other work first", when(r.next(row, free)))
	}
	return b
}
