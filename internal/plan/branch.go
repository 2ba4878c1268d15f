package plan

import (
	"cmp"
	"context"
	"slices"
)

// branching is branch and bound on a puzzle: time goes from event to event, all that can start
// is started, and where that uses too much, every smallest choice of what to put off is
// tried (Demeulemeester and Herroelen 1992). It can be stopped and taken up again.
type branching struct {
	p      *puzzle
	best   int // only what finishes before this is looked for
	starts []int
	found  bool // starts are those of a schedule that finishes at best
	start  []int
	in     set   // what has been started
	open   set   // what has not, but all that must come before it
	waits  []int // jobs before each job that have not been started
	trail  []move
	nodes  []node
	used   []int
	seen   memory
	begun  bool
	cut    cutter
}

// move is a start, or one that is undone: then at is what it was.
type move struct {
	job, at int
	undone  bool
}

// node is a time at which something has to be put off.
type node struct {
	at      int
	trail   int      // length of the trail once all that can start is started
	active  []int    // in progress, or started now
	choices []choice // what to put off, best first
	next    int      // of the choices
	state   state    // as it was before anything was started now
}

// choice is jobs to put off; nothing before bound comes of it.
type choice struct {
	jobs  []int
	bound int
}

func newBranching(p *puzzle, best int) *branching {
	b := &branching{p: p, best: best, start: make([]int, p.n), starts: make([]int, p.n), waits: make([]int, p.n), used: make([]int, len(p.there))}
	b.seen.heads = map[set]int32{}
	b.cut.b = b
	for j := range p.n {
		if b.waits[j] = len(p.before[j]); b.waits[j] == 0 {
			b.open.flip(j)
		}
	}
	return b
}

// run looks at so many times more, and reports whether there is nothing left to look at.
func (b *branching) run(ctx context.Context, count int) bool {
	if !b.begun {
		b.begun = true
		b.forward(-1, nil)
	}
	for ; len(b.nodes) > 0; count-- {
		if count <= 0 || count%256 == 0 && over(ctx) {
			return false
		}
		n := &b.nodes[len(b.nodes)-1]
		b.undo(n.trail)
		if n.next == len(n.choices) || n.choices[n.next].bound >= b.best {
			b.seen.keep(b, n)
			b.nodes = b.nodes[:len(b.nodes)-1]
			continue
		}
		c := n.choices[n.next]
		n.next++
		b.putOff(n, c)
	}
	b.undo(0)
	return true
}

// putOff takes the jobs of a choice out, and goes on from there.
func (b *branching) putOff(n *node, c choice) {
	for _, j := range c.jobs {
		b.stop(j)
	}
	active := make([]int, 0, len(n.active)+4)
	for _, j := range n.active {
		if b.in.has(j) {
			active = append(active, j)
		}
	}
	b.forward(n.at, active)
}

func (b *branching) begin(j, at int) {
	b.trail = append(b.trail, move{job: j, at: at})
	b.put(j, at)
}

func (b *branching) stop(j int) {
	b.trail = append(b.trail, move{job: j, at: b.start[j], undone: true})
	b.take(j)
}

func (b *branching) put(j, at int) {
	b.start[j] = at
	b.in.flip(j)
	b.open.flip(j)
	for _, l := range b.p.after[j] {
		if b.waits[l.job]--; b.waits[l.job] == 0 {
			b.open.flip(l.job)
		}
	}
}

func (b *branching) take(j int) {
	b.in.flip(j)
	b.open.flip(j)
	for _, l := range b.p.after[j] {
		if b.waits[l.job] == 0 {
			b.open.flip(l.job)
		}
		b.waits[l.job]++
	}
}

func (b *branching) undo(to int) {
	for len(b.trail) > to {
		s := b.trail[len(b.trail)-1]
		b.trail = b.trail[:len(b.trail)-1]
		if s.undone {
			b.put(s.job, s.at)
		} else {
			b.take(s.job)
		}
	}
}

// ready gives the first time at which j may start, all before it having been started.
func (b *branching) ready(j int) int {
	at := b.p.head[j]
	for _, l := range b.p.before[j] {
		at = max(at, b.start[l.job]+b.p.long[l.job]+l.wait)
	}
	return at
}

// forward goes on in time until something must be put off, all has been started, or nothing
// can come of it any more.
func (b *branching) forward(at int, active []int) {
	for {
		next := far
		for _, j := range active {
			if end := b.start[j] + b.p.long[j]; end > at {
				next = min(next, end)
			}
		}
		for w, word := range b.open {
			for ; word != 0; word &= word - 1 {
				j := w*64 + trailing(word)
				ready := b.ready(j)
				if max(ready, at)+b.p.path[j] >= b.best {
					return
				}
				if ready > at {
					next = min(next, ready)
				}
			}
		}
		if next == far {
			b.finish()
			return
		}
		at = next
		var before state
		if active, before = b.startAll(at, active); active == nil {
			return
		}
		if b.overloaded(active) {
			b.branch(at, active, before)
			return
		}
	}
}

// startAll starts all that can start at at, and gives what is in progress then; nil where
// nothing good comes of that.
func (b *branching) startAll(at int, active []int) ([]int, state) {
	live := make([]int, 0, len(active)+8)
	for _, j := range active {
		if b.start[j]+b.p.long[j] > at {
			live = append(live, j)
		}
	}
	before := state{at: at, in: b.in}
	for again := true; again; {
		again = false
		for w, word := range b.open {
			for ; word != 0; word &= word - 1 {
				j := w*64 + trailing(word)
				if b.ready(j) > at {
					continue
				}
				if at+b.p.path[j] >= b.best || at+b.p.long[j] > b.p.due[j] {
					return nil, before
				}
				b.begin(j, at)
				if b.p.long[j] > 0 {
					live = append(live, j)
				}
				again = true
			}
		}
	}
	return live, before
}

func (b *branching) overloaded(active []int) bool {
	clear(b.used)
	for _, j := range active {
		for r, n := range b.p.needs[j] {
			b.used[r] += n
		}
	}
	for r, n := range b.used {
		if n > b.p.there[r] {
			return true
		}
	}
	return false
}

// finish takes a whole schedule as the best.
func (b *branching) finish() {
	end := 0
	for j, at := range b.start {
		end = max(end, at+b.p.long[j]+b.p.tail[j])
	}
	if end < b.best {
		b.best, b.found = end, true
		copy(b.starts, b.start)
	}
}

// branch makes a node of a time at which too much is in progress, unless one that is at
// least as good has been looked at.
func (b *branching) branch(at int, active []int, before state) {
	b.fill(&before)
	if b.hopeless(at) || b.seen.beats(b, &before) {
		return
	}
	n := node{at: at, trail: len(b.trail), active: active, state: before}
	n.choices = b.cut.choices(at, active)
	b.nodes = append(b.nodes, n)
}

// fill completes a state: what has been started before and still matters.
func (b *branching) fill(s *state) {
	for w, word := range s.in {
		for ; word != 0; word &= word - 1 {
			j := w*64 + trailing(word)
			end := b.start[j] + b.p.long[j]
			s.done = max(s.done, end+b.p.tail[j])
			if end+b.p.longest[j] > s.at {
				s.live = append(s.live, int32(j), int32(end))
			}
		}
	}
}

// hopeless reports whether some resource has more to do than it can before the best: all of
// it, or that part which much must follow.
func (b *branching) hopeless(at int) bool {
	clear(b.used)
	for _, j := range b.p.urgent {
		left := b.p.long[j]
		if b.in.has(j) {
			left = b.start[j] + left - at
		}
		if left <= 0 {
			continue
		}
		room := b.best - 1 - at - (b.p.path[j] - b.p.long[j])
		for r, n := range b.p.needs[j] {
			if b.used[r] += n * left; b.used[r] > b.p.there[r]*room {
				return true
			}
		}
	}
	return false
}

// cutter finds the smallest choices of jobs to put off.
type cutter struct {
	b      *branching
	at     int
	active []int
	kept   []int
	off    []int
	left   []int // of each resource
	out    []choice
}

func (c *cutter) choices(at int, active []int) []choice {
	c.at, c.active, c.kept, c.off, c.out = at, active, c.kept[:0], c.off[:0], nil
	c.left = append(c.left[:0], c.b.p.there...)
	c.from(0)
	slices.SortStableFunc(c.out, func(x, y choice) int { return cmp.Compare(x.bound, y.bound) })
	return c.out
}

// from chooses for the active jobs from i on.
func (c *cutter) from(i int) {
	if i == len(c.active) {
		c.take()
		return
	}
	p, j := c.b.p, c.active[i]
	if c.fits(j) {
		for r, n := range p.needs[j] {
			c.left[r] -= n
		}
		c.kept = append(c.kept, j)
		c.from(i + 1)
		c.kept = c.kept[:len(c.kept)-1]
		for r, n := range p.needs[j] {
			c.left[r] += n
		}
	}
	if c.at+1+p.path[j] >= c.b.best || c.at+1+p.long[j] > p.due[j] {
		return
	}
	c.off = append(c.off, j)
	c.from(i + 1)
	c.off = c.off[:len(c.off)-1]
}

func (c *cutter) fits(j int) bool {
	for r, n := range c.b.p.needs[j] {
		if n > c.left[r] {
			return false
		}
	}
	return true
}

// take takes what is off as a choice, if none of it could stay.
func (c *cutter) take() {
	if slices.ContainsFunc(c.off, c.fits) {
		return
	}
	b := c.b
	next := far
	for _, j := range c.kept {
		next = min(next, b.start[j]+b.p.long[j])
	}
	for w, word := range b.open {
		for ; word != 0; word &= word - 1 {
			if ready := b.ready(w*64 + trailing(word)); ready > c.at {
				next = min(next, ready)
			}
		}
	}
	bound := 0
	for _, j := range c.off {
		bound = max(bound, next+b.p.path[j])
		if next+b.p.long[j] > b.p.due[j] {
			return
		}
	}
	if bound < b.best {
		c.out = append(c.out, choice{slices.Clone(c.off), bound})
	}
}
