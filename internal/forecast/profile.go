package forecast

import (
	"slices"

	"example.com/vanlog/internal/units"
)

// profile is how much of a resource is in use over time: a step at each change, in
// order; before the first nothing is in use.
type profile []step

// step says what is in use from at on, up to the next step, and which job's end, or
// else start, made it.
type step struct {
	at   units.Instant
	used int32
	by   int32
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

// clash gives the step that ends the first run of minutes in [from, to) in which more
// than free is in use; false where there is none. Where less than need minutes follow
// until the next such run it gives the end of that, and so on.
func (p profile) clash(from, to units.Instant, free int, need units.Instant) (step, bool) {
	if from >= to {
		return step{}, false
	}
	for i := max(p.step(from), 0); i < len(p) && p[i].at < to; i++ {
		if int(p[i].used) > free {
			return p.after(i, free, need), true
		}
	}
	return step{}, false
}

// after gives the first step after i from which no more than free is in use for need
// minutes. There is one: after the last step nothing is in use.
func (p profile) after(i, free int, need units.Instant) step {
	found := -1
	for ; i < len(p); i++ {
		switch {
		case int(p[i].used) > free:
			found = -1
		case found < 0:
			found = i
		}
		if found >= 0 && (i+1 == len(p) || p[i+1].at >= p[found].at+need) {
			break
		}
	}
	return p[found]
}

// add puts n more in use by job j in [from, to).
func (p *profile) add(from, to units.Instant, n, j int) {
	if from >= to {
		return
	}
	first := p.cut(from, j)
	last := p.cut(to, j)
	for i := first; i < last; i++ {
		(*p)[i].used += int32(n)
	}
	(*p)[last].by = int32(j)
	p.join(last)
	p.join(first)
}

// cut makes a step begin at t, and gives its place.
func (p *profile) cut(t units.Instant, j int) int {
	i := p.step(t)
	if i >= 0 && (*p)[i].at == t {
		return i
	}
	s := step{at: t, by: int32(j)}
	if i >= 0 {
		s.used = (*p)[i].used
	}
	*p = slices.Insert(*p, i+1, s)
	return i + 1
}

// join takes step i out where it changes nothing.
func (p *profile) join(i int) {
	used := int32(0)
	if i > 0 {
		used = (*p)[i-1].used
	}
	if (*p)[i].used == used {
		*p = slices.Delete(*p, i, i+1)
	}
}
