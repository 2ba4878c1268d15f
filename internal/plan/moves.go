package plan

import (
	"math/rand/v2"

	"example.com/vanlog/internal/units"
)

// mover makes neighbours of a list: the same but for a job or a few.
type mover struct {
	m     *model
	r     *rand.Rand
	marks []bool
	spare []int
	place []int // of each job in the list
	hurt  []int // jobs whose work is longer than it need be
	chain []arc // pairs on what decides the finish, each sharing a resource
	fresh bool  // chain is that of the schedule looked at
}

// arc is two jobs, of which the second starts when the first leaves it something it uses.
type arc struct{ first, second int }

func newMover(m *model, r *rand.Rand) *mover {
	n := len(m.jobs)
	return &mover{m: m, r: r, marks: make([]bool, n), spare: make([]int, 0, n), place: make([]int, n)}
}

// bring moves list[from] to the place to, before it, with all between that must come
// before it.
func (v *mover) bring(list []int, to, from int) {
	clear(v.marks)
	v.marks[list[from]] = true
	for i := from; i > to; i-- {
		if v.marks[list[i]] {
			v.mark(list[i])
		}
	}
	v.part(list[to:from+1], true)
}

func (v *mover) mark(j int) {
	for _, l := range v.m.jobs[j].before {
		v.marks[l.job] = true
	}
}

// push moves list[from] to the place to, after it, with all between that must come
// after it.
func (v *mover) push(list []int, from, to int) {
	clear(v.marks)
	v.marks[list[from]] = true
	for _, j := range list[from+1 : to+1] {
		for _, l := range v.m.jobs[j].before {
			v.marks[j] = v.marks[j] || v.marks[l.job]
		}
	}
	v.part(list[from:to+1], false)
}

// part puts the jobs of list whose mark is first before the others.
func (v *mover) part(list []int, first bool) {
	v.spare = v.spare[:0]
	at := 0
	for _, j := range list {
		if v.marks[j] == first {
			list[at] = j
			at++
		} else {
			v.spare = append(v.spare, j)
		}
	}
	copy(list[at:], v.spare)
}

// look takes in the schedule s that came of list.
func (v *mover) look(s *schedule, list []int) {
	v.hurt, v.fresh = v.hurt[:0], false
	for i, j := range list {
		v.place[j] = i
		if s.length(j) > v.m.jobs[j].minutes {
			v.hurt = append(v.hurt, j)
		}
	}
}

// change changes list, of which s came, in place.
func (v *mover) change(s *schedule, list []int) {
	if len(v.hurt) > 0 && v.r.IntN(3) == 0 && v.heal(s, list) {
		return
	}
	if v.r.IntN(2) == 0 && v.hasten(s, list) {
		return
	}
	n := len(list)
	from := v.r.IntN(n)
	// Near places are tried more often than far ones.
	by := 1 + int(float64(n)*v.r.Float64()*v.r.Float64()*v.r.Float64())
	if v.r.IntN(2) == 0 {
		v.bring(list, max(0, from-by), from)
	} else {
		v.push(list, from, min(n-1, from+by))
	}
}

// heal parts a job that lasts longer than it need from one that makes it so: the job
// before the other, or the other after the job.
func (v *mover) heal(s *schedule, list []int) bool {
	j := v.hurt[v.r.IntN(len(v.hurt))]
	other := v.cause(s, j)
	if other < 0 || other == j {
		return false
	}
	a, b := v.place[other], v.place[j]
	switch {
	case a > b: // it filled a gap before j
		v.push(list, b, a)
		v.bring(list, b, a)
	case v.r.IntN(2) == 0:
		v.bring(list, a, b)
	default:
		v.push(list, a, b)
	}
	return true
}

// cause gives a job that makes j last longer; -1 where none is found.
func (v *mover) cause(s *schedule, j int) int {
	b := &v.m.jobs[j]
	if s.rework[j] > 0 && (!b.moved || v.r.IntN(2) == 0) {
		for _, d := range b.pays {
			if s.start[d.job] < s.start[j] && d.minutes > 0 {
				return d.job
			}
		}
	}
	if !b.moved || s.reach[j] <= b.minutes-b.base {
		return -1
	}
	return v.burier(s, j)
}

// burier gives the first job in time with which reaching j costs more than a part,
// drawn at random, of what it costs beyond the least.
func (v *mover) burier(s *schedule, j int) int {
	least := v.m.jobs[j].minutes - v.m.jobs[j].base
	limit := least + v.r.IntN(s.reach[j]-least)
	low, high := v.m.p.Now-1, s.start[j]
	for low+1 < high { // with all that has finished by high it costs more, by low it does not
		mid := low + (high-low)/2
		if s.finished(mid); v.m.reach.cost(j, s.now) > limit {
			high = mid
		} else {
			low = mid
		}
	}
	return v.finishing(s, high)
}

func (v *mover) finishing(s *schedule, at units.Instant) int {
	for _, k := range v.m.fitters {
		if s.finish[k] == at {
			return k
		}
	}
	return -1
}

// hasten turns a pair round on the chain of jobs that decides the finish.
func (v *mover) hasten(s *schedule, list []int) bool {
	if !v.fresh {
		v.fresh = true
		v.trace(s, list)
	}
	if len(v.chain) == 0 {
		return false
	}
	a := v.chain[v.r.IntN(len(v.chain))]
	at, to := v.place[a.first], v.place[a.second]
	switch {
	case at > to:
		v.push(list, to, at)
		v.bring(list, to, at)
	case v.r.IntN(2) == 0:
		v.bring(list, at, to)
	default:
		v.push(list, at, to)
	}
	return true
}

// trace follows from the finish back what each job started after, one of what held it
// up drawn at random, and keeps the pairs that no must edge holds.
func (v *mover) trace(s *schedule, list []int) {
	v.chain = v.chain[:0]
	j := list[0]
	for _, k := range list {
		if s.cured[k] > s.cured[j] {
			j = k
		}
	}
	for range list {
		before, shared := v.held(s, j)
		if before < 0 {
			return
		}
		if shared {
			v.chain = append(v.chain, arc{before, j})
		}
		j = before
	}
}

// held gives a job that kept j from starting sooner, and whether by what both use
// rather than by a must edge; -1 where there is none.
func (v *mover) held(s *schedule, j int) (before int, shared bool) {
	b := &v.m.jobs[j]
	before, count := -1, 0
	at := s.start[j]
	draw := func(k int, with bool) {
		if count++; v.r.IntN(count) == 0 {
			before, shared = k, with
		}
	}
	tight := func(ready units.Instant) bool { return ready <= at && b.hours.count(ready, at) == 0 }
	for _, l := range b.before {
		if tight(l.ready(s.finish[l.job], s.cured[l.job])) {
			draw(l.job, false)
		}
	}
	for k := range v.m.jobs {
		if k != j && s.start[k] < at && s.cured[k] >= at-7*units.Day && v.m.shares(k, j) {
			free := s.finish[k]
			if len(v.m.jobs[k].holds) > 0 {
				free = s.cured[k]
			}
			if tight(free) {
				draw(k, true)
			}
		}
	}
	return before, shared
}

// shares reports whether two jobs use or hold a resource in common.
func (m *model) shares(k, j int) bool {
	for _, u := range m.jobs[j].uses {
		for _, other := range m.jobs[k].uses {
			if u.resource == other.resource {
				return true
			}
		}
		for _, other := range m.jobs[k].holds {
			if u.resource == other.resource {
				return true
			}
		}
	}
	return false
}
