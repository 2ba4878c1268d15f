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
// free is in use; false where there is none.
func (p profile) clash(from, to units.Instant, free int) (units.Instant, bool) {
	if from >= to {
		return 0, false
	}
	for i := max(p.step(from), 0); i < len(p) && p[i].at < to; i++ {
		if p[i].used > free {
			return p.after(i, free), true
		}
	}
	return 0, false
}

// after gives the first minute after step i in which no more than free is in use.
func (p profile) after(i, free int) units.Instant {
	for i < len(p) && p[i].used > free {
		i++
	}
	if i == len(p) {
		return never
	}
	return p[i].at
}

// clashLast gives the start of the last run of minutes in [from, to) in which more than
// free is in use; the run may begin before from. False where there is none.
func (p profile) clashLast(from, to units.Instant, free int) (units.Instant, bool) {
	if from >= to {
		return 0, false
	}
	for i := p.step(to - 1); i >= 0 && (i+1 == len(p) || p[i+1].at > from); i-- {
		if p[i].used <= free {
			continue
		}
		for i > 0 && p[i-1].used > free {
			i--
		}
		return p[i].at, true
	}
	return 0, false
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
