package answer

import (
	"cmp"
	"slices"
	"sort"

	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// chains is what keeps the rows of a finished order apart: must edges, and for each unit of
// a resource which row has it after which. As long as each row stays behind those before it
// on its chains, rows may move to later times and the order is still valid. From the end of
// the build backward that gives the latest time each row may finish.
type chains struct {
	why    *reasons
	rows   []plan.Row
	finish units.Instant // of the build
	links  [][]link      // by row: what waits for it
	// until and startBy are the latest finish and start of a row for reasons that are not
	// on a chain.
	until, startBy []units.Instant
	late           []units.Instant // latest finish, once known; 0: not yet
}

// link makes row to wait for another row.
type link struct {
	to   int
	lag  int  // minutes after its finish
	cure bool // it waits for the end of its cure
	end  bool // only the finish of to waits, where its cure begins to hold something
}

func newChains(why *reasons, finish units.Instant) *chains {
	n := len(why.rows)
	c := &chains{why: why, rows: why.rows, finish: finish, links: make([][]link, n),
		until: make([]units.Instant, n), startBy: make([]units.Instant, n), late: make([]units.Instant, n)}
	for i, row := range c.rows {
		c.until[i], c.startBy[i] = finish, finish
		if deadline := why.p.Jobs[row.Job].Deadline; deadline != nil {
			c.until[i] = min(finish, *deadline)
		}
	}
	for _, e := range why.p.Edges {
		before, after := why.at[e.Before], why.at[e.After]
		switch {
		case e.Should:
			c.keepBefore(before, after)
		case e.Lag != nil:
			c.links[before] = append(c.links[before], link{to: after, lag: *e.Lag})
		default:
			c.links[before] = append(c.links[before], link{to: after, cure: true})
		}
	}
	for r := range why.p.Resources {
		c.chain(r)
	}
	for i := range c.rows {
		c.keepOpen(i)
	}
	return c
}

// slack gives how many minutes more of work row i may take before the build ends later or
// a date is missed, all rows in their order.
func (c *chains) slack(i int) int {
	row := c.rows[i]
	return c.why.p.Jobs[row.Job].Hours.Count(row.Finish, c.lateFinish(i))
}

// lateFinish gives the latest finish of row i with which the build still ends in time. Where rows
// wait for each other, as a lag below nothing lets them, none of them may move.
func (c *chains) lateFinish(i int) units.Instant {
	if c.late[i] != 0 {
		return c.late[i]
	}
	c.late[i] = c.rows[i].Finish // for whoever asks while it is being looked for
	cure := c.why.p.Jobs[c.rows[i].Job].Cure
	latest := min(c.until[i], cure.LatestFinish(c.finish))
	for _, l := range c.links[i] {
		at := c.lateStart(l.to)
		if l.end {
			at = c.lastEnd(l.to)
		}
		if l.cure {
			at = cure.LatestFinish(at)
		}
		latest = min(latest, at-units.Instant(l.lag))
	}
	c.late[i] = max(latest, c.rows[i].Finish)
	return c.late[i]
}

func (c *chains) lateStart(i int) units.Instant {
	row, hours := c.rows[i], c.why.p.Jobs[c.rows[i].Job].Hours
	start, ok := hours.LatestStart(c.lateFinish(i), row.Work)
	if ok && row.Work > 0 && start > c.startBy[i] { // it starts at a minute that it works
		start, ok = hours.LatestStart(c.startBy[i]+1, 1)
	}
	if !ok {
		return row.Start
	}
	return max(row.Start, min(start, c.startBy[i]))
}

// lastEnd gives when row i finishes if it starts as late as it may.
func (c *chains) lastEnd(i int) units.Instant {
	row := c.rows[i]
	end, ok := c.why.p.Jobs[row.Job].Hours.Finish(c.lateStart(i), row.Work)
	if !ok {
		return row.Finish
	}
	return end
}

// spell is a stretch of time in which a row, or its cure, has units of a resource.
type spell struct {
	row, units int
	from, to   units.Instant
	cure       bool
}

// chain deals the units of a resource out to the rows in the order in which they have them:
// of the free ones those that became free last.
func (c *chains) chain(r int) {
	had := make([]*unit, c.why.p.Resources[r].Capacity)
	for i := range had {
		had[i] = &unit{}
	}
	for _, s := range c.spells(r) {
		slices.SortStableFunc(had, func(a, b *unit) int {
			fa, fb := a.free(), b.free()
			if fa <= s.from && fb <= s.from {
				return cmp.Compare(fb, fa)
			}
			return cmp.Compare(fa, fb)
		})
		for _, u := range had[:min(s.units, len(had))] {
			c.take(u, s)
		}
	}
}

// unit is one unit of a resource: who has it, several where one works in the hours off of
// another, and who had it before them.
type unit struct{ now, before []spell }

// free gives when the unit becomes free; 0 where nobody had it yet.
func (u *unit) free() units.Instant {
	last := units.Instant(0)
	for _, s := range u.now {
		last = max(last, s.to)
	}
	return last
}

// spells gives who has some of resource r, and when, by time.
func (c *chains) spells(r int) []spell {
	var out []spell
	for i, row := range c.rows {
		job := c.why.p.Jobs[row.Job]
		for _, u := range job.Uses {
			if u.Resource == r && row.Work > 0 {
				out = append(out, spell{row: i, units: u.Units, from: row.Start, to: row.Finish})
			}
		}
		if row.CureEnd > row.Finish && slices.Contains(job.Holds, r) {
			out = append(out, spell{row: i, units: 1, from: row.Finish, to: row.CureEnd, cure: true})
		}
	}
	slices.SortStableFunc(out, func(a, b spell) int { return cmp.Compare(a.from, b.from) })
	return out
}

// take gives a unit to s after those who had it.
func (c *chains) take(u *unit, s spell) {
	if u.free() <= s.from {
		u.before, u.now = u.now, nil
	}
	for _, p := range u.before {
		c.follow(p, s)
	}
	still := []spell{s}
	for _, p := range u.now {
		if p.to <= s.from {
			c.follow(p, s)
			continue
		}
		c.between(p, s)
		still = append(still, p)
	}
	u.now = still
}

func (c *chains) follow(p, s spell) {
	if p.row != s.row {
		c.links[p.row] = append(c.links[p.row], link{to: s.row, cure: p.cure, end: s.cure})
	}
}

// between keeps apart two rows of which s works in the hours off of p: neither may run
// into the hours of the other.
func (c *chains) between(p, s spell) {
	if p.cure || s.cure {
		c.until[p.row], c.until[s.row] = min(c.until[p.row], c.rows[p.row].Finish), min(c.until[s.row], c.rows[s.row].Finish)
		return
	}
	stop := func(row, at int) {
		if next, ok := c.why.p.Jobs[c.rows[at].Job].Hours.Next(c.rows[row].Finish); ok {
			c.until[row] = min(c.until[row], next)
		}
	}
	stop(s.row, p.row)
	if s.to > p.to {
		stop(p.row, s.row)
	}
}

// ordered reports whether a chain keeps row b behind row a: they could not run at once.
func (c *chains) ordered(a, b int) bool {
	if c.rows[a].Finish > c.rows[b].Start {
		return false
	}
	p := c.why.p
	for _, u := range p.Jobs[c.rows[a].Job].Uses {
		for _, w := range p.Jobs[c.rows[b].Job].Uses {
			if u.Resource == w.Resource && u.Units+w.Units > p.Resources[u.Resource].Capacity &&
				c.rows[a].Work > 0 && c.rows[b].Work > 0 {
				return true
			}
		}
	}
	return false
}

// keepBefore has the row before a should edge start before the other, as it does in the
// order, so that nothing is owed for it.
func (c *chains) keepBefore(before, after int) {
	b, a := c.rows[before].Start, c.rows[after].Start
	switch {
	case b > a || c.ordered(before, after):
	case b == a:
		c.startBy[before] = min(c.startBy[before], a)
	default:
		c.startBy[before] = min(c.startBy[before], a-1)
	}
}

// keepOpen has row i start before anything is fitted that makes it dearer to get at and that no
// chain keeps behind it.
func (c *chains) keepOpen(i int) {
	row := c.rows[i]
	var later []int
	for _, k := range c.why.fitter {
		if k != i && c.rows[k].Finish > row.Start && !c.ordered(i, k) {
			later = append(later, k)
		}
	}
	slices.SortStableFunc(later, func(a, b int) int { return cmp.Compare(c.rows[a].Finish, c.rows[b].Finish) })
	first := sort.Search(len(later), func(n int) bool { // more items never make it cheaper
		cost, ok := c.why.p.Reach(row.Job, c.why.fittedAt(row.Start, later[:n+1]))
		return !ok || cost > row.Reach
	})
	if first < len(later) {
		c.startBy[i] = min(c.startBy[i], c.rows[later[first]].Finish-1)
	}
}
