package plan

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

// narrowJobs is the largest problem whose windows are narrowed by what must come before
// and after each job.
const narrowJobs = 600

// narrowing makes the windows of a problem smaller, for the whole to finish by some time:
// a job starts only when all that must come before it can be done, one after the
// other where it shares a resource.
type narrowing struct {
	m        *model
	machines []machine
	on       [][]*portion // by machine and job; nil: it is not on it
	up, down [][]int      // what must come before and after each job
	w        []window
	spare    []*portion
}

func (m *model) newNarrowing(w []window) *narrowing {
	n := &narrowing{m: m, machines: m.machines(), w: slices.Clone(w)}
	for i := range n.machines {
		k := &n.machines[i]
		k.sort(w)
		on := make([]*portion, len(m.jobs))
		for x := range k.jobs {
			on[k.jobs[x].job] = &k.jobs[x]
		}
		n.on = append(n.on, on)
	}
	n.up, n.down = m.relatives(true), m.relatives(false)
	return n
}

// relatives gives all that must come before each job, or after it.
func (m *model) relatives(up bool) [][]int {
	sets := make([]bitset, len(m.jobs))
	out := make([][]int, len(m.jobs))
	for i := range m.topo {
		j := m.topo[i]
		links := m.jobs[j].before
		if !up {
			j = m.topo[len(m.topo)-1-i]
			links = m.jobs[j].after
		}
		sets[j] = make(bitset, (len(m.jobs)+63)/64)
		for _, l := range links {
			sets[j].add(l.job)
			sets[j].addAll(sets[l.job])
		}
		out[j] = sets[j].members()
	}
	return out
}

// bound gives a time that no sequence finishes before, no sooner than low.
func (n *narrowing) bound(low units.Instant) units.Instant {
	first := slices.Clone(n.w)
	return leastPossible(low, func(end units.Instant) bool {
		copy(n.w, first)
		return n.possible(end)
	})
}

// possible reports whether the windows leave room for a sequence that finishes by end.
func (n *narrowing) possible(end units.Instant) bool {
	for i := range n.machines {
		for x := range n.machines[i].jobs {
			n.machines[i].jobs[x].lost = 0
		}
	}
	for range 3 {
		if !n.heads() || !n.tails(end) {
			return false
		}
		n.lose()
	}
	for i := range n.machines {
		n.machines[i].sort(n.w)
		n.link(i)
		if k := &n.machines[i]; !k.possible(n.w, false) || !k.possible(n.w, true) {
			return false
		}
	}
	return true
}

// link finds the portions of machine i again, after sorting.
func (n *narrowing) link(i int) {
	for x := range n.machines[i].jobs {
		n.on[i][n.machines[i].jobs[x].job] = &n.machines[i].jobs[x]
	}
}

// heads narrows the windows from below.
func (n *narrowing) heads() bool {
	for _, j := range n.m.topo {
		b, w := &n.m.jobs[j], &n.w[j]
		at := w.start
		for _, l := range b.before {
			at = max(at, l.ready(n.w[l.job].finish, n.w[l.job].cured))
		}
		for i := range n.machines {
			at = max(at, n.done(i, j))
		}
		ok := true
		if b.minutes > 0 {
			if at, ok = b.hours.Next(at); !ok {
				return false
			}
		}
		w.start = at
		if w.finish, ok = b.hours.Finish(at, b.minutes); !ok {
			return false
		}
		if w.cured, ok = b.cure.End(w.finish); !ok {
			return false
		}
	}
	return true
}

// done gives when machine i can have done all that must come before j.
func (n *narrowing) done(i, j int) units.Instant {
	k := &n.machines[i]
	found := n.among(i, n.up[j])
	if len(found) == 0 {
		return 0
	}
	slices.SortFunc(found, func(a, b *portion) int { return cmp.Compare(n.w[a.job].start, n.w[b.job].start) })
	at, work := units.Instant(0), int64(0)
	mine := n.on[i][j] != nil
	for _, x := range found {
		if start := n.w[x.job].start; start > at {
			if end, ok := k.finish(at, work); ok && end <= start {
				at, work = start, 0
			}
		}
		if work += x.work; mine {
			work += x.lost
		}
	}
	end, _ := k.finish(at, work)
	return end
}

// among gives the portions of machine i that are of jobs.
func (n *narrowing) among(i int, jobs []int) []*portion {
	n.spare = n.spare[:0]
	for _, j := range jobs {
		if x := n.on[i][j]; x != nil {
			n.spare = append(n.spare, x)
		}
	}
	return n.spare
}

func (k *machine) finish(at units.Instant, work int64) (units.Instant, bool) {
	return k.hours.Finish(at, int((work+int64(k.units)-1)/int64(k.units)))
}

// tails narrows the windows from above, and reports whether each still has room for
// its job.
func (n *narrowing) tails(end units.Instant) bool {
	for x := len(n.m.topo) - 1; x >= 0; x-- {
		j := n.m.topo[x]
		b, w := &n.m.jobs[j], &n.w[j]
		w.held = end
		w.last = min(b.deadline, b.cure.LatestFinish(end))
		for _, l := range b.after {
			if l.lag >= 0 {
				w.last = min(w.last, n.w[l.job].latest-units.Instant(l.lag))
			} else {
				w.last = min(w.last, b.cure.LatestFinish(n.w[l.job].latest))
			}
		}
		for i := range n.machines {
			w.last = min(w.last, n.begun(i, j))
		}
		w.held, _ = b.cure.End(w.last)
		latest, found := b.hours.LatestStart(w.last, b.minutes)
		if w.latest = latest; !found || latest < w.start {
			return false
		}
	}
	return true
}

// begun gives when machine i must have begun what must come after j.
func (n *narrowing) begun(i, j int) units.Instant {
	k := &n.machines[i]
	found := n.among(i, n.down[j])
	if len(found) == 0 {
		return never
	}
	last := func(x *portion) units.Instant {
		if x.lost > 0 {
			return n.w[x.job].held
		}
		return n.w[x.job].last
	}
	slices.SortFunc(found, func(a, b *portion) int { return cmp.Compare(last(b), last(a)) })
	at := never
	work := int64(0)
	for _, x := range found {
		if end := last(x); end < at {
			if start, ok := k.start(at, work); at == never || ok && start >= end {
				at, work = end, 0
			}
		}
		work += x.work + x.lost
	}
	start, ok := k.start(at, work)
	if !ok {
		return 0
	}
	return start
}

func (k *machine) start(at units.Instant, work int64) (units.Instant, bool) {
	return k.hours.LatestStart(at, int((work+int64(k.units)-1)/int64(k.units)))
}

// lose finds how many minutes of a machine each cure that holds it takes at least, wherever
// in its window the job finishes.
func (n *narrowing) lose() {
	for i := range n.machines {
		k := &n.machines[i]
		for x := range k.jobs {
			if k.jobs[x].hold {
				k.jobs[x].lost = n.least(k, k.jobs[x].job)
			}
		}
	}
}

// least gives the fewest minutes of k between the finish of j and the end of its cure,
// for any finish in its window. From one minute to the next they fall by one at most, so
// that only every so many minutes are looked at, and those between where it matters.
func (n *narrowing) least(k *machine, j int) int64 {
	const stride = 16
	b, w := &n.m.jobs[j], &n.w[j]
	if w.last-w.finish > 400*units.Day {
		return 0
	}
	best := int64(1) << 40
	for at := w.finish - 1; at < w.last; {
		end := min(b.hours.Until(at), w.last)
		for ; at < end; at += stride {
			lost := n.loss(k, b, at+1)
			best = min(best, lost)
			for next := at + 1; lost-stride < best && next < min(at+stride, end); next++ {
				best = min(best, n.loss(k, b, next+1))
			}
		}
		next, ok := b.hours.Next(end)
		if !ok {
			break
		}
		at = next
	}
	return best
}

// loss gives the minutes of k from finish to the end of the cure of b.
func (n *narrowing) loss(k *machine, b *job, finish units.Instant) int64 {
	cured, _ := b.cure.End(finish)
	return int64(k.hours.Count(finish, cured))
}
