package plan

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"
)

// breeding is a genetic search over lists (Hartmann 1998): the best of a population and of
// its children live on. Each list is improved by double justification as it comes.
type breeding struct {
	*finder
	r       *rand.Rand
	s, back *schedule
	alive   []being
	born    []being
	spare   []int
	taken   []bool
	made    int // schedules
}

// being is a list and what the schedule weighs that comes of it.
type being struct {
	list   []int
	weight float64
	starts uint64 // the starts of the schedule in one number
}

// mutation is how likely a job of a new list changes places with the next.
const mutation = 0.05

func newBreeding(f *finder, r *rand.Rand) *breeding {
	n := len(f.m.jobs)
	return &breeding{finder: f, r: r, s: newSchedule(f.m), back: newSchedule(f.m), spare: make([]int, n), taken: make([]bool, n)}
}

// epoch breeds from a new population of some size, which has the best list in it, until
// it has made so many schedules, and gives how many it made.
func (b *breeding) epoch(ctx context.Context, size, schedules int) int {
	b.made = 0
	b.populate(size)
	ended := func() bool { return over(ctx) || b.settled() || b.made >= schedules }
	for i := range b.alive {
		if ended() {
			return b.made
		}
		b.grow(&b.alive[i])
	}
	for !ended() {
		for i := 0; i+1 < size && !ended(); i += 2 {
			b.pair(i)
		}
		b.choose(size)
	}
	return b.made
}

// populate begins a population: the best list, and lists drawn at random that prefer what
// has to finish soon.
func (b *breeding) populate(size int) {
	n := len(b.m.jobs)
	for len(b.alive) < size {
		b.alive = append(b.alive, being{list: make([]int, n)})
		b.born = append(b.born, being{list: make([]int, n)})
	}
	b.alive, b.born = b.alive[:size], b.born[:size]
	copy(b.alive[0].list, b.list)
	for i := 1; i < size; i++ {
		b.m.sample(b.r, b.w, b.alive[i].list)
	}
}

// sample draws a list at random: of the jobs that may come next, one the more likely the
// sooner it must finish (regret-based sampling, Drexl 1991).
func (m *model) sample(r *rand.Rand, w []window, list []int) {
	waits := make([]int, len(m.jobs))
	var ready []int
	for j := range m.jobs {
		if waits[j] = len(m.jobs[j].before); waits[j] == 0 {
			ready = append(ready, j)
		}
	}
	for at := range list {
		i := m.draw(r, w, ready)
		j := ready[i]
		ready[i] = ready[len(ready)-1]
		ready = ready[:len(ready)-1]
		list[at] = j
		for _, l := range m.jobs[j].after {
			if waits[l.job]--; waits[l.job] == 0 {
				ready = append(ready, l.job)
			}
		}
	}
}

func (m *model) draw(r *rand.Rand, w []window, ready []int) int {
	most := w[ready[0]].last
	for _, j := range ready {
		most = max(most, w[j].last)
	}
	sum := 0.0
	for _, j := range ready {
		sum += float64(most-w[j].last) + 1
	}
	sum *= r.Float64()
	for i, j := range ready {
		if sum -= float64(most-w[j].last) + 1; sum < 0 {
			return i
		}
	}
	return len(ready) - 1
}

// grow finds what x weighs, and improves it by double justification.
func (b *breeding) grow(x *being) {
	b.made++
	x.weight = b.weigh(b.attempt(b.s, x.list, nil))
	x.starts = b.s.hash()
	if len(b.s.order) < len(x.list) || !b.s.justify(b.back, b.spare) {
		return
	}
	b.made += 2
	if weight := b.weigh(b.attempt(b.s, b.spare, nil)); weight <= x.weight {
		x.weight, x.starts = weight, b.s.hash()
		copy(x.list, b.s.order)
		insertionSort(x.list, func(i, j int) bool {
			return b.s.start[i] < b.s.start[j] || b.s.start[i] == b.s.start[j] && b.m.depth[i] < b.m.depth[j]
		})
	}
}

// pair makes two children of two of the living.
func (b *breeding) pair(i int) {
	p := b.r.IntN(len(b.alive))
	q := (p + 1 + b.r.IntN(len(b.alive)-1)) % len(b.alive)
	from, to := b.r.IntN(len(b.spare)), b.r.IntN(len(b.spare))
	if from > to {
		from, to = to, from
	}
	b.cross(b.alive[p].list, b.alive[q].list, b.born[i].list, from, to)
	b.cross(b.alive[q].list, b.alive[p].list, b.born[i+1].list, from, to)
	for k := i; k < i+2; k++ {
		b.mutate(b.born[k].list)
		b.grow(&b.born[k])
	}
}

// cross fills child from one parent up to from, from the other up to to, and from the
// first again, each in the parent's order.
func (b *breeding) cross(one, other, child []int, from, to int) {
	clear(b.taken)
	at := 0
	fill := func(parent []int, end int) {
		for _, j := range parent {
			if at >= end {
				return
			}
			if !b.taken[j] {
				b.taken[j] = true
				child[at] = j
				at++
			}
		}
	}
	fill(one, from)
	fill(other, to)
	fill(one, len(child))
}

func (b *breeding) mutate(list []int) {
	for i := 0; i+1 < len(list); i++ {
		if b.r.Float64() < mutation && !b.m.waits(list[i+1], list[i]) {
			list[i], list[i+1] = list[i+1], list[i]
		}
	}
}

// waits reports whether a must edge leads from k to j.
func (m *model) waits(j, k int) bool {
	return slices.ContainsFunc(m.jobs[j].before, func(l link) bool { return l.job == k })
}

// choose lets the best of the living and the born live on, each schedule once as long as
// there are enough.
func (b *breeding) choose(size int) {
	all := append(b.alive, b.born...)
	slices.SortStableFunc(all, func(x, y being) int { return cmp.Compare(x.weight, y.weight) })
	known := map[uint64]bool{}
	var once, again []being
	for _, x := range all {
		if known[x.starts] {
			again = append(again, x)
		} else {
			once = append(once, x)
		}
		known[x.starts] = true
	}
	all = append(once, again...)
	b.alive, b.born = all[:size:size], all[size:]
}

// hash gives the starts as one number.
func (s *schedule) hash() uint64 {
	h := uint64(14695981039346656037)
	for _, at := range s.start {
		h = (h ^ uint64(at)) * 1099511628211
	}
	return h
}
