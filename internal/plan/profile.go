package plan

import (
	"slices"

	"example.com/vanlog/internal/units"
)

// profile is how much of a resource is in use over time: a step at each change,
// in order; before the first nothing is in use.
type profile []step

// step says what is in use from at on, up to the next step.
type step struct {
	at   units.Instant
	used int
}

// step gives the place of the step that t lies in; -1 before the first.
func (p profile) step(t units.Instant) int {
	low, high := 0, len(p)
	if high > 0 && p[high-1].at <= t { // most often: jobs come in their order
		return high - 1
	}
	for low < high {
		if mid := (low + high) / 2; p[mid].at <= t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low - 1
}

// clash gives the end of the first run of minutes in [from, to) in which more than
// free is in use; false where there is none. Where less than need minutes follow until
// the next such run it gives the end of that, and so on.
func (p profile) clash(from, to units.Instant, free int, need units.Instant) (units.Instant, bool) {
	if from >= to {
		return 0, false
	}
	for i := max(p.step(from), 0); i < len(p) && p[i].at < to; i++ {
		if p[i].used > free {
			return p.after(i, free, need), true
		}
	}
	return 0, false
}

// after gives the first minute after step i from which no more than free is in use for
// need minutes.
func (p profile) after(i, free int, need units.Instant) units.Instant {
	at := never
	for ; i < len(p); i++ {
		switch {
		case p[i].used > free:
			at = never
		case at == never:
			at = p[i].at
		}
		if at < never && (i+1 == len(p) || p[i+1].at >= at+need) {
			break
		}
	}
	return at
}

// add puts n more in use in [from, to).
func (p *profile) add(from, to units.Instant, n int) {
	if from >= to {
		return
	}
	first := p.cut(from)
	last := p.cut(to)
	for i := first; i < last; i++ {
		(*p)[i].used += n
	}
	p.join(last)
	p.join(first)
}

// cut makes a step begin at t, and gives its place.
func (p *profile) cut(t units.Instant) int {
	i := p.step(t)
	if i >= 0 && (*p)[i].at == t {
		return i
	}
	used := 0
	if i >= 0 {
		used = (*p)[i].used
	}
	*p = slices.Insert(*p, i+1, step{t, used})
	return i + 1
}

// join takes step i out where it changes nothing.
func (p *profile) join(i int) {
	used := 0
	if i > 0 {
		used = (*p)[i-1].used
	}
	if (*p)[i].used == used {
		*p = slices.Delete(*p, i, i+1)
	}
}

// clashLast gives the start of the last run of minutes in [from, to) in which more than
// free is in use; false where there is none.
func (p profile) clashLast(from, to units.Instant, free int) (units.Instant, bool) {
	if from >= to {
		return 0, false
	}
	for i := p.step(to - 1); i >= 0; i-- {
		if p[i].used > free {
			for i > 0 && p[i-1].used > free {
				i--
			}
			return p[i].at, true
		}
		if p[i].at <= from {
			break
		}
	}
	return 0, false
}
