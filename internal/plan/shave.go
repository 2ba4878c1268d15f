package plan

import (
	"cmp"
	"context"
	"slices"

	"example.com/vanlog/internal/units"
)

// shaveSteps is how many times the room of a job is halved.
const shaveSteps = 5

// shaveDepth is how many suppositions are made on top of one another in the end.
const shaveDepth = 16

// shaving rules out times to finish by. It supposes that a job starts in one part of its
// window; where that leaves no room for the others, it starts in the rest (Martin and
// Shmoys 1996).
type shaving struct {
	n     *narrowing
	first []window
	end   units.Instant
	gains []int // by job: how often shaving its window has helped to rule out a time
}

// raise gives times that no sequence finishes before, each later than the one before,
// until ctx ends or none later is found.
func (m *model) raise(ctx context.Context, w []window, low units.Instant, proven func(units.Instant)) {
	v := shaving{n: m.newNarrowing(w), first: slices.Clone(w), gains: make([]int, len(w))}
	tell := proven
	proven = func(at units.Instant) { tell(m.ending(at)) }
	narrow := func(end units.Instant) bool {
		copy(v.n.w, v.first)
		return over(ctx) || v.n.possible(end)
	}
	low = leastPossible(low, narrow, proven)
	for _, depth := range []int{0, shaveDepth} {
		low = leastPossible(low, func(end units.Instant) bool { return !v.rulesOut(ctx, end, depth) }, proven)
	}
}

// ending gives the first time from at on at which a sequence can finish: when a job finishes at the
// end of a minute in which it can work, or when its cure has ended then.
func (m *model) ending(at units.Instant) units.Instant {
	first := never
	for j := range m.jobs {
		b := &m.jobs[j]
		if b.followed() {
			continue // another ends no sooner
		}
		if b.minutes == 0 {
			return at // it may finish at any time
		}
		next, ok := b.hours.next(b.cure.latestFinish(at - 1))
		if !ok {
			continue
		}
		if end, ok := b.cure.end(next + 1); ok {
			first = min(first, end)
		}
	}
	return max(at, first)
}

// followed reports whether the whole never ends with j alone: another job ends no sooner.
func (b *job) followed() bool {
	return slices.ContainsFunc(b.after, func(l link) bool { return !l.set || l.lag >= 0 && b.cure.minutes <= 0 })
}

// rulesOut reports whether no sequence finishes by end, as far as trying shows, with so many
// suppositions on top of one another.
func (v *shaving) rulesOut(ctx context.Context, end units.Instant, depth int) bool {
	v.end = end
	start := slices.Clone(v.first)
	defer func() {
		v.first = start
		v.free()
	}()
	v.first = slices.Clone(start)
	return v.refutes(ctx, depth, len(v.first))
}

// shaveBelow is how many windows are shaved below the first supposition: the rest has seldom
// helped, and costs most of the time.
const shaveBelow = 40

// shave narrows the windows of so many jobs, one after the other. It reports whether there is room
// then.
func (v *shaving) shave(ctx context.Context, most int) bool {
	var helped []int
	jobs := v.likeliest()
	for _, j := range jobs[:min(most, len(jobs))] {
		if over(ctx) {
			return true
		}
		raised, room := v.raise(j)
		lowered := false
		if room {
			lowered, room = v.lower(j)
		}
		if raised || lowered {
			helped = append(helped, j)
		}
		if !room {
			for _, k := range helped {
				v.gains[k]++
			}
			return false
		}
	}
	return true
}

// free takes all limits away.
func (v *shaving) free() {
	for j := range v.n.endBy {
		v.n.startBy[j], v.n.endBy[j] = never, never
	}
	for i := range v.n.aparts {
		v.n.aparts[i].order = open
	}
}

func (v *shaving) possible() bool {
	copy(v.n.w, v.first)
	return v.n.possible(v.end)
}

// likeliest gives the jobs that have room, those first whose windows were of use before,
// and then those with the least room.
func (v *shaving) likeliest() []int {
	var jobs []int
	room := func(j int) units.Instant { return v.n.w[j].latest - v.n.w[j].start }
	for j := range v.n.w {
		if room(j) > 0 {
			jobs = append(jobs, j)
		}
	}
	slices.SortFunc(jobs, func(a, b int) int {
		return cmp.Or(cmp.Compare(v.gains[b], v.gains[a]), cmp.Compare(room(a), room(b)), cmp.Compare(a, b))
	})
	return jobs
}

// raise makes the earliest start of j later, and reports whether it has, and whether there
// is room then.
func (v *shaving) raise(j int) (raised, room bool) {
	v.possible()
	low, high := v.n.w[j].start, v.n.w[j].latest
	was := low
	for step := 0; step < shaveSteps && low < high; step++ {
		mid := low + (high-low)/2
		startBy, endBy := v.n.startBy[j], v.n.endBy[j]
		v.limit(j, mid)
		if v.possible() {
			high = mid
		} else {
			low = mid + 1
		}
		v.n.startBy[j], v.n.endBy[j] = startBy, endBy
	}
	if low == was {
		return false, true
	}
	v.first[j].start = low
	return true, v.possible()
}

// lower makes the latest start of j sooner, and reports whether it has, and whether there
// is room then.
func (v *shaving) lower(j int) (lowered, room bool) {
	v.possible()
	low, high := v.n.w[j].start, v.n.w[j].latest
	was := high
	for step := 0; step < shaveSteps && low < high; step++ {
		mid := low + (high-low+1)/2
		start := v.first[j].start
		v.first[j].start = mid
		if v.possible() {
			low = mid
		} else {
			high = mid - 1
		}
		v.first[j].start = start
	}
	if high == was {
		return false, true
	}
	v.limit(j, high)
	return true, v.possible()
}

// limit lets j start by at. Where no order changes its length it finishes by then too.
func (v *shaving) limit(j int, at units.Instant) {
	b := &v.n.m.jobs[j]
	if b.minutes > 0 { // it starts in its hours
		if start, ok := b.hours.latestStart(at+1, 1); ok {
			at = start
		}
	}
	v.n.startBy[j] = min(v.n.startBy[j], at)
	if b.moved || slices.ContainsFunc(b.pays, func(d dues) bool { return d.minutes > 0 }) {
		return
	}
	if end, ok := b.hours.finish(at, b.minutes); ok {
		v.n.endBy[j] = min(v.n.endBy[j], end)
	}
}
