package answer

import (
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
	fitter []int // rows that fit something, by start
}

func newReasons(v *View, p *problem, rows []plan.Row) *reasons {
	r := &reasons{v: v, p: p, rows: rows, at: make([]int, len(p.Jobs))}
	for i, row := range rows {
		r.at[row.Job] = i
		if len(p.Jobs[row.Job].Fits) > 0 {
			r.fitter = append(r.fitter, i)
		}
	}
	return r
}

// of gives the reasons of row i, never none.
func (r *reasons) of(i int) []Because {
	row := r.rows[i]
	out, free := r.holding(row)
	silent := id.Resource("")
	if busy := r.busy(i); len(busy) > 0 {
		free = r.lastOpen(r.p.Jobs[row.Job].Hours, row.Start)
		for _, b := range busy {
			if !slices.ContainsFunc(out, func(e Because) bool { return e.Ref == string(b.with) && e.Kind == "edge" }) {
				out, silent = append(out, b.Because), builder
			}
		}
	}
	out = append(out, r.off(row, free, silent)...)
	out = append(out, r.buried(i)...)
	out = append(out, r.burying(i)...)
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
			b.until = from
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
	for _, e := range r.v.before()[task.ID] {
		job, open := r.p.job[e.Before]
		if !open || isMust(e) || r.p.Jobs[row.Job].Started {
			continue
		}
		if first := r.rows[r.at[job]].Start; first <= row.Start { // else it is broken
			hold(first, r.should(e))
		}
	}
	for _, f := range r.v.freed(task) {
		hold(f.from, Because{Kind: "resource", Ref: string(f.resource), Text: f.text})
	}
	for _, h := range r.v.holds(task) {
		if h.kind == "cure" {
			h.kind = "lag"
		}
		hold(h.from, Because{Kind: h.kind, Ref: h.ref, Text: h.text})
	}
	return out, free
}

// should is the reason of a row that starts no sooner so that nothing is owed for a should edge.
func (r *reasons) should(e deps.Edge) Because {
	text := fmt.Sprintf("%s should start first, else it takes %s more", r.v.taskTitle(e.Before), units.Minutes(units.RoundMinutes(e.ReworkH)))
	return Because{Kind: "edge", Ref: string(e.Before), Text: reason(text, e.Why)}
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
	case from < before.Finish:
		b.Kind, b.Text = "lag", fmt.Sprintf("no sooner than %s before %s is done, %s", units.Minutes(before.Finish-from), title, when(before.Finish))
	case e.LagH != nil:
		b.Kind, b.Text = "lag", fmt.Sprintf("%s must stand until %s", title, when(from))
	default:
		b.Kind, b.Text = "lag", fmt.Sprintf("%s cures until %s", title, when(from))
	}
	b.Text = reason(b.Text, e.Why)
	return from, b
}

// lastOpen gives the end of the last minute of h before start: from then to start it was off.
func (r *reasons) lastOpen(h *calendar.Hours, start units.Instant) units.Instant {
	last, ok := h.LatestStart(start, 1)
	if !ok {
		return start
	}
	return last + 1
}

// off says which resource was out of hours from the time the row was free until it starts. Of
// one it says nothing: that the builder goes home goes without saying.
func (r *reasons) off(row plan.Row, free units.Instant, silent id.Resource) []Because {
	if row.Work == 0 || free >= row.Start || r.next(row, free) != row.Start {
		return nil
	}
	var last id.Resource
	var until units.Instant
	for _, u := range r.p.Jobs[row.Job].Uses {
		res := r.p.Resources[u.Resource]
		if next, ok := res.Hours.Next(free); ok && next > free && next > until && res.ID != silent {
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

// burying says which row this one would close in if it started sooner: it lets it start first.
func (r *reasons) burying(i int) []Because {
	row := r.rows[i]
	sooner, ok := r.sooner(i)
	if len(r.p.Jobs[row.Job].Fits) == 0 || !ok {
		return nil
	}
	first := sort.Search(len(r.rows), func(k int) bool { return r.rows[k].Start >= sooner.Finish })
	for k := first; k < len(r.rows) && r.rows[k].Start < row.Finish; k++ {
		if k == i {
			continue
		}
		other := r.rows[k]
		if c, ok := r.p.Reach(other.Job, r.fittedAt(other.Start, []int{i})); !ok || c > other.Reach {
			task := r.p.task[other.Job]
			return []Because{{Kind: "close-in", Ref: string(task.ID), Text: fmt.Sprintf("after %s has started: %s would close it in", task.Title(), r.v.itemTitles(r.p.task[row.Job].Fits))}}
		}
	}
	return nil
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
