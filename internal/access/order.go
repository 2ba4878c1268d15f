package access

import (
	"cmp"
	"slices"
)

// firstInOrder replaces the best plan by the one of the same weight whose opened items
// come first in order of id. As all of these open equally many, that is the one that
// has the first item in which two of them differ. So the items are gone through in order:
// each is opened if there is such a plan that opens it and agrees with what has been
// decided before. Most items are ruled out by the bound alone.
func (d *desk) firstInOrder() {
	s, openings := &d.hunt, d.openingsInOrder()
	if len(openings) == 0 {
		return
	}
	lightest := s.limit
	s.limit = lightest + 1
	bound, _ := s.bound()
	s.fix(bound)
	for _, m := range openings {
		switch {
		case s.marks[m] != maybe:
		case slices.Contains(s.best, m):
			s.take(m)
			s.g.aim(s.g.moves[m].adds[0])
		case !s.with(m, lightest):
			s.set(m, out)
		}
		if s.stopped {
			return
		}
	}
}

// with looks for a plan of the given weight that has move m. Where there is one it
// becomes the best, and m stays taken.
func (s *search) with(m int32, weight int64) bool {
	marks, kept, goals := len(s.marked), len(s.found.ends), len(s.g.goals)
	s.take(m)
	s.g.aim(s.g.moves[m].adds[0])
	s.limit = weight + 1
	s.node(0)
	if s.limit == weight {
		return true
	}
	s.undo(marks)
	s.found.keep(kept)
	for _, f := range s.g.goals[goals:] {
		s.g.goal[f] = false
	}
	s.g.goals = s.g.goals[:goals]
	return false
}

// openingsInOrder gives the openings of near that are not decided yet, in the order of the ids
// of their items.
func (d *desk) openingsInOrder() []int32 {
	d.undecided = d.undecided[:0]
	for m := range d.near.moves {
		if d.near.moves[m].opens && d.hunt.marks[m] == maybe {
			d.undecided = append(d.undecided, int32(m))
		}
	}
	slices.SortFunc(d.undecided, func(a, b int32) int {
		return cmp.Compare(d.itemOf(&d.near.moves[a]).id, d.itemOf(&d.near.moves[b]).id)
	})
	return d.undecided
}

// itemOf gives the item that m opens.
func (d *desk) itemOf(m *move) *item { return &d.van.items[m.group-int32(len(d.van.places))] }
