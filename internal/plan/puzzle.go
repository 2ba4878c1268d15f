package plan

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

// puzzle is a problem in which all is there round the clock and nothing but must edges and
// resources counts, in whole numbers from Now on: branch and bound works on it.
type puzzle struct {
	n       int
	long    []int   // minutes of each job
	head    []int   // earliest start of each job, for releases alone
	tail    []int   // from each finish to the end of the whole, at least
	due     []int   // latest finish of each job, for deadlines alone
	before  [][]lag // must edges into each job
	after   [][]lag // must edges out of each job
	needs   [][]int // units of each resource
	there   []int   // units of each resource
	longest []int   // the longest wait after each job
	path    []int   // from each start to the end of the whole, at least, along must edges
	urgent  []int   // jobs, those first after which most must follow
	mirror  bool    // time runs backward
}

// lag is a must edge seen from one end: wait is from the finish of the one to the start of
// the other.
type lag struct{ job, wait int }

// puzzleJobs is the largest puzzle.
const puzzleJobs = 128

// plain reports whether the problem is a puzzle, but for its size.
func (m *model) plain() bool {
	if !m.fixed() {
		return false
	}
	for j := range m.jobs {
		b := &m.jobs[j]
		if !b.hours.always || b.cure.while != nil || len(b.holds) > 0 {
			return false
		}
	}
	return true
}

// puzzle lays a plain problem out.
func (m *model) puzzle() *puzzle {
	n := len(m.jobs)
	p := &puzzle{n: n, before: make([][]lag, n), after: make([][]lag, n)}
	for r := range m.p.Resources {
		p.there = append(p.there, m.p.Resources[r].Capacity)
	}
	for j := range m.jobs {
		b := &m.jobs[j]
		p.long = append(p.long, b.minutes)
		p.head = append(p.head, int(b.release-m.p.Now))
		p.tail = append(p.tail, max(0, b.cure.minutes))
		p.due = append(p.due, int(min(b.deadline-m.p.Now, far)))
		needs := make([]int, len(p.there))
		for _, u := range b.uses {
			if b.minutes > 0 {
				needs[u.resource] = u.units
			}
		}
		p.needs = append(p.needs, needs)
		for _, l := range b.after {
			wait := l.lag
			if !l.set {
				wait = p.tail[j]
			}
			p.after[j] = append(p.after[j], lag{l.job, wait})
			p.before[l.job] = append(p.before[l.job], lag{j, wait})
		}
	}
	p.paths(m.topo)
	return p
}

// far is later than every time in a puzzle.
const far = 1 << 40

// paths fills in what follows from the edges; topo is an order that they allow.
func (p *puzzle) paths(topo []int) {
	p.path, p.longest = make([]int, p.n), make([]int, p.n)
	for i := len(topo) - 1; i >= 0; i-- {
		j := topo[i]
		p.path[j] = p.long[j] + p.tail[j]
		for _, l := range p.after[j] {
			p.path[j] = max(p.path[j], p.long[j]+l.wait+p.path[l.job])
			p.longest[j] = max(p.longest[j], l.wait)
		}
	}
	p.urgent = slices.Clone(topo)
	follows := func(j int) int { return p.path[j] - p.long[j] }
	slices.SortStableFunc(p.urgent, func(i, j int) int { return cmp.Compare(follows(j), follows(i)) })
}

// mirrored gives the puzzle with time running backward; false where deadlines do not allow it.
func (p *puzzle) mirrored(topo []int) (*puzzle, bool) {
	for _, due := range p.due {
		if due < far {
			return nil, false
		}
	}
	q := *p
	q.head, q.tail, q.before, q.after, q.mirror = p.tail, p.head, p.after, p.before, true
	back := make([]int, len(topo))
	for i, j := range topo {
		back[len(topo)-1-i] = j
	}
	q.paths(back)
	return &q, true
}

// set is a set of jobs of a puzzle.
type set [puzzleJobs / 64]uint64

func (s set) has(j int) bool { return s[j/64]>>(j%64)&1 == 1 }
func (s *set) flip(j int)    { s[j/64] ^= 1 << (j % 64) }

// instant gives a time of the puzzle on the clock.
func (m *model) instant(at int) units.Instant { return m.p.Now + units.Instant(at) }
