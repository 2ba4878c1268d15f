// Package profile keeps how much of a resource is in use over time, and finds room in it.
//
// It knows neither jobs nor calendars: package plan asks it where a job may stand, package
// forecast which job was in the way.
package profile

import (
	"math"
	"slices"

	"example.com/vanlog/internal/units"
)

// Never is later than every time that is reckoned with.
const Never = units.Instant(math.MaxInt64 / 4)

// Profile is how much of a resource is in use over time: a step at each change,
// in order; before the first nothing is in use.
type Profile []Step

// Step says what is in use from At on, up to the next step, and whose end, or else
// start, made it.
type Step struct {
	At       units.Instant
	Used, By int32
}

// StepAt gives the place of the step that t lies in; -1 before the first.
func (p Profile) StepAt(t units.Instant) int {
	low, high := 0, len(p)
	if high > 0 && p[high-1].At <= t { // most often: jobs come in their order
		return high - 1
	}
	for low < high {
		if mid := (low + high) / 2; p[mid].At <= t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low - 1
}

// Clash gives the step that ends the first run of minutes in [from, to) in which more than
// free is in use; false where there is none. Where less than need minutes follow until
// the next such run it gives the end of that, and so on.
func (p Profile) Clash(from, to units.Instant, free int, need units.Instant) (Step, bool) {
	if from >= to {
		return Step{}, false
	}
	for i := max(p.StepAt(from), 0); i < len(p) && p[i].At < to; i++ {
		if int(p[i].Used) > free {
			return p.after(i, free, need), true
		}
	}
	return Step{}, false
}

// after gives the first step after i from which no more than free is in use for need
// minutes; one at Never where more is in use for good.
func (p Profile) after(i, free int, need units.Instant) Step {
	found := Step{At: Never}
	for ; i < len(p); i++ {
		switch {
		case int(p[i].Used) > free:
			found.At = Never
		case found.At == Never:
			found = p[i]
		}
		if found.At < Never && (i+1 == len(p) || p[i+1].At >= found.At+need) {
			break
		}
	}
	return found
}

// Add puts n more in use by job by in [from, to); less where n is below nothing.
func (p *Profile) Add(from, to units.Instant, n, by int) {
	if from >= to {
		return
	}
	first := p.cut(from, by)
	last := p.cut(to, by)
	for i := first; i < last; i++ {
		(*p)[i].Used += int32(n)
	}
	(*p)[last].By = int32(by)
	p.join(last)
	p.join(first)
}

// cut makes a step begin at t, and gives its place.
func (p *Profile) cut(t units.Instant, by int) int {
	i := p.StepAt(t)
	if i >= 0 && (*p)[i].At == t {
		return i
	}
	s := Step{At: t, By: int32(by)}
	if i >= 0 {
		s.Used = (*p)[i].Used
	}
	*p = slices.Insert(*p, i+1, s)
	return i + 1
}

// join takes step i out where it changes nothing.
func (p *Profile) join(i int) {
	used := int32(0)
	if i > 0 {
		used = (*p)[i-1].Used
	}
	if (*p)[i].Used == used {
		*p = slices.Delete(*p, i, i+1)
	}
}

// ClashLast gives the start of the last run of minutes in [from, to) in which more than
// free is in use; false where there is none.
func (p Profile) ClashLast(from, to units.Instant, free int) (units.Instant, bool) {
	if from >= to {
		return 0, false
	}
	for i := p.StepAt(to - 1); i >= 0; i-- {
		if int(p[i].Used) > free {
			for i > 0 && int(p[i-1].Used) > free {
				i--
			}
			return p[i].At, true
		}
		if p[i].At <= from {
			break
		}
	}
	return 0, false
}
