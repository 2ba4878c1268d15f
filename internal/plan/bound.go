package plan

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/units"
)

// window is where a job lies in every sequence that finishes by some time, were it
// for must edges, calendars and its least length alone.
type window struct {
	start, finish units.Instant // earliest
	cured         units.Instant
	latest, last  units.Instant // latest start, latest finish
	held          units.Instant // latest end of the cure
	by            units.Instant // latest finish, for what was found beside the edges
}

// heads gives the earliest start and finish of every job. A job that has none is a
// *NoSequenceError.
func (m *model) heads() ([]window, error) {
	w := slices.Repeat([]window{{by: never}}, len(m.jobs))
	for _, j := range m.topo {
		b := &m.jobs[j]
		at := b.release
		for _, l := range b.before {
			at = max(at, l.ready(w[l.job].finish, w[l.job].cured))
		}
		ok := true
		if b.minutes > 0 {
			if at, ok = b.hours.next(at); !ok {
				return nil, m.impossible(j, "all it uses is never there together")
			}
		}
		w[j].start = at
		if w[j].finish, ok = b.hours.finish(at, b.minutes); !ok {
			return nil, m.impossible(j, "all it uses is never there together for as long as it lasts")
		}
		if w[j].cured, ok = b.cure.end(w[j].finish); !ok {
			return nil, m.impossible(j, "it never cures: what its cure waits for does not come")
		}
		if w[j].finish > b.deadline {
			return nil, m.impossible(j, fmt.Sprintf("it cannot finish before %v, and must by %v", w[j].finish, b.deadline))
		}
	}
	return w, nil
}

// tails fills in the latest start and finish of every job for the whole to finish by
// end. It reports whether every job can lie within its window.
func (m *model) tails(w []window, end units.Instant) bool {
	ok := true
	for i := len(m.topo) - 1; i >= 0; i-- {
		j := m.topo[i]
		b := &m.jobs[j]
		last := min(b.deadline, b.cure.latestFinish(end))
		for _, l := range b.after {
			last = min(last, l.due(b, w[l.job].latest))
		}
		w[j].last = last
		latest, found := b.hours.latestStart(last, b.minutes)
		if !found {
			latest = last - units.Instant(b.minutes)
		}
		w[j].latest = latest
		ok = ok && latest >= w[j].start
	}
	return ok
}

// bound gives a time that no sequence finishes before, from the critical path and the
// work on each resource.
func (m *model) bound(w []window) units.Instant {
	machines := m.machines()
	for i := range machines {
		machines[i].sort(w)
	}
	low := m.p.Now
	for j := range w {
		low = max(low, w[j].cured)
	}
	return leastPossible(low, func(end units.Instant) bool {
		if !m.tails(w, end) {
			return false
		}
		for i := range machines {
			if !machines[i].possible(w, false) {
				return false
			}
		}
		return true
	}, func(units.Instant) {})
}

// leastPossible gives the first time from low on that is possible; what is possible stays
// so later. It tells proven each time that it has come to on the way.
func leastPossible(low units.Instant, possible func(units.Instant) bool, proven func(units.Instant)) units.Instant {
	high := low
	for step := units.Day; !possible(high); step *= 2 {
		low = high + 1
		if proven(low); step > 200*365*units.Day {
			return low
		}
		high += step
	}
	for low < high {
		if mid := low + (high-low)/2; possible(mid) {
			high = mid
		} else {
			low = mid + 1
			proven(low)
		}
	}
	return low
}
