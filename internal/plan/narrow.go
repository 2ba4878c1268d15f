package plan

import (
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
	kin      [][]kin // by job: on each machine
	aparts   []apart
	wide     *timetable // the hours of most jobs
	w        []window
	startBy  []units.Instant // by job: limits that are tried, or found
	endBy    []units.Instant
}

// kin is what a machine has to do with a job.
type kin struct {
	on   *portion   // what it needs of it; nil: it does not work on it
	up   []*portion // what must come before it, by earliest start as far as known
	down []*portion // what must come after it, by latest end as far as known, the last first
}

func (m *model) newNarrowing(w []window) *narrowing {
	n := &narrowing{m: m, machines: m.machines(), w: slices.Clone(w), kin: make([][]kin, len(m.jobs))}
	n.aparts = m.aparts(n.machines)
	n.wide = m.commonest()
	up, down := m.relatives(true), m.relatives(false)
	for j := range n.kin {
		n.startBy, n.endBy = append(n.startBy, never), append(n.endBy, never)
		n.kin[j] = make([]kin, len(n.machines))
	}
	for i := range n.machines {
		n.machines[i].sort(w)
		on := make([]*portion, len(m.jobs))
		for _, x := range n.machines[i].jobs {
			on[x.job] = x
		}
		for j := range n.kin {
			n.kin[j][i] = kin{on: on[j], up: among(on, up[j]), down: among(on, down[j])}
		}
	}
	return n
}

// among gives what is on of the jobs that are.
func among(on []*portion, jobs []int) (found []*portion) {
	for _, j := range jobs {
		if on[j] != nil {
			found = append(found, on[j])
		}
	}
	return found
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
			if l.whole() {
				sets[j].add(l.job)
				sets[j].addAll(sets[l.job])
			}
		}
		out[j] = sets[j].members()
	}
	return out
}

// possible reports whether the windows leave room for a sequence that finishes by end.
func (n *narrowing) possible(end units.Instant) bool {
	for i := range n.machines {
		for _, x := range n.machines[i].jobs {
			x.lost = 0
		}
	}
	for more := true; more; {
		if !n.heads() || !n.tails(end) {
			return false
		}
		parted := n.part()
		more = n.lose() || parted
	}
	for i := range n.machines {
		k := &n.machines[i]
		k.sort(n.w)
		if !k.possible(n.w, false) || k.holds() && !k.possible(n.w, true) {
			return false
		}
	}
	return true
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
			if at, ok = b.hours.next(at); !ok {
				return false
			}
		}
		w.start = at
		if w.finish, ok = b.hours.finish(at, b.minutes); !ok {
			return false
		}
		if w.cured, ok = b.cure.end(w.finish); !ok {
			return false
		}
		for i := range n.machines {
			if x := n.kin[j][i].on; x != nil {
				x.head = n.machines[i].place(at)
			}
		}
	}
	return true
}

// done gives when machine i can have done all that must come before j.
func (n *narrowing) done(i, j int) units.Instant {
	k, found := &n.machines[i], n.kin[j][i].up
	if len(found) == 0 {
		return 0
	}
	insertionSort(found, func(a, b *portion) bool { return a.head < b.head })
	at := found[0].head
	mine := n.kin[j][i].on != nil
	for _, x := range found {
		if at = max(at, x.head) + x.work; mine {
			at += x.lost
		}
	}
	last, ok := k.hours.at(int((at+int64(k.units)-1)/int64(k.units) - 1))
	if !ok {
		return 0
	}
	return last + 1
}

// insertionSort sorts what is nearly in order.
func insertionSort[T any](list []T, before func(a, b T) bool) {
	for i := 1; i < len(list); i++ {
		x, at := list[i], i
		for ; at > 0 && before(x, list[at-1]); at-- {
			list[at] = list[at-1]
		}
		list[at] = x
	}
}

// tails narrows the windows from above, and reports whether each still has room for
// its job.
func (n *narrowing) tails(end units.Instant) bool {
	for x := len(n.m.topo) - 1; x >= 0; x-- {
		j := n.m.topo[x]
		b, w := &n.m.jobs[j], &n.w[j]
		w.held = end
		w.last = min(b.deadline, n.endBy[j], w.by, b.cure.latestFinish(end))
		for _, l := range b.after {
			w.last = min(w.last, l.due(b, n.w[l.job].latest))
		}
		for i := range n.machines {
			w.last = min(w.last, n.begun(i, j))
		}
		w.held, _ = b.cure.end(w.last)
		latest, found := b.hours.latestStart(w.last, b.minutes)
		if w.latest = min(latest, n.startBy[j]); !found || w.latest < w.start {
			return false
		}
		for i := range n.machines {
			n.end(i, j)
		}
	}
	return true
}

// end notes by when machine i must have done what j needs of it.
func (n *narrowing) end(i, j int) {
	x := n.kin[j][i].on
	switch {
	case x == nil:
	case x.lost > 0:
		x.tail = n.machines[i].place(n.w[j].held)
	default:
		x.tail = n.machines[i].place(n.w[j].last)
	}
}

// place gives a time as the minutes of the machine before it, times its units.
func (k *machine) place(at units.Instant) int64 { return int64(k.hours.place(at)) * int64(k.units) }

// begun gives when machine i must have begun what must come after j.
func (n *narrowing) begun(i, j int) units.Instant {
	k, found := &n.machines[i], n.kin[j][i].down
	if len(found) == 0 {
		return never
	}
	insertionSort(found, func(a, b *portion) bool { return a.tail > b.tail })
	at := found[0].tail
	for _, x := range found {
		at = min(at, x.tail) - x.work - x.lost
	}
	start, ok := k.hours.at(floorDivide(at, k.units))
	if !ok {
		return 0
	}
	return start
}

func floorDivide(a int64, by int) int {
	if a < 0 {
		return -int((-a + int64(by) - 1) / int64(by))
	}
	return int(a / int64(by))
}

// lose finds how many minutes of a machine each cure that holds it takes at least, wherever
// in its window the job finishes. It reports whether that is much more than was known.
func (n *narrowing) lose() (more bool) {
	for i := range n.machines {
		k := &n.machines[i]
		for _, x := range k.jobs {
			if x.hold {
				lost := max(x.lost, n.least(k, x.job))
				more = more || lost > x.lost+30
				x.lost = lost
			}
		}
	}
	return more
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
		end := min(b.hours.until(at), w.last)
		for ; at < end; at += stride {
			lost := n.loss(k, b, at+1)
			best = min(best, lost)
			for next := at + 1; lost-stride < best && next < min(at+stride, end); next++ {
				best = min(best, n.loss(k, b, next+1))
			}
		}
		next, ok := b.hours.next(end)
		if !ok {
			break
		}
		at = next
	}
	return best
}

// loss gives the minutes of k from finish to the end of the cure of b.
func (n *narrowing) loss(k *machine, b *job, finish units.Instant) int64 {
	cured, _ := b.cure.end(finish)
	return int64(k.hours.count(finish, cured))
}

// limits gives the latest start of each job for the whole to finish by a time; nil where
// it cannot. They are kept for each day, and those of its end are given.
type limits struct {
	n     *narrowing
	first []window
	days  map[units.Date][]units.Instant
}

func newLimits(n *narrowing) *limits {
	return &limits{n: n, first: slices.Clone(n.w), days: map[units.Date][]units.Instant{}}
}

func (l *limits) by(end units.Instant) []units.Instant {
	day := end.Date()
	if latest, known := l.days[day]; known {
		return latest
	}
	copy(l.n.w, l.first)
	var latest []units.Instant
	if l.n.tails((day + 1).Start()) {
		latest = make([]units.Instant, len(l.n.w))
		for j := range latest {
			latest[j] = l.n.w[j].latest
		}
	}
	l.days[day] = latest
	return latest
}

// commonest gives the hours that most jobs have.
func (m *model) commonest() *timetable {
	counts := map[*timetable]int{}
	best := m.jobs[0].hours
	for j := range m.jobs {
		hours := m.jobs[j].hours
		if counts[hours]++; counts[hours] > counts[best] {
			best = hours
		}
	}
	return best
}
