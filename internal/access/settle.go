package access

import "slices"

// noteForced notes which quarrels are settled by moves that were taken by force.
func (d *desk) noteForced() {
	for _, m := range d.hunt.marked {
		for _, foe := range d.hunt.foesOf(m) {
			s := [2]int32{d.near.moves[m].group, d.near.moves[foe[1]].group}
			if d.hunt.marks[m] == taken && !slices.Contains(d.settled, s) {
				d.settled = append(d.settled, s)
			}
		}
	}
}

// settle decides the quarrels in which one side is in every plan: the other side is out.
// It is false where that leaves no way.
func (d *desk) settle() bool {
	if len(d.hunt.foes) == 0 {
		return true
	}
	for again := true; again; {
		again = false
		if !d.hunt.needless(none) {
			d.hunt.lose(&d.hunt.trial)
			return false
		}
		d.hunt.firstPlan()
		for _, q := range d.quarrel {
			if d.settleFor(q[0], q[1]) || d.settleFor(q[1], q[0]) {
				again = true
			}
		}
	}
	return true
}

// settleFor puts the moves of group loser out if every plan has one of group winner, and
// tells whether anything changed.
func (d *desk) settleFor(winner, loser int32) bool {
	if !d.hunt.planned(winner) || !d.hunt.undecided(loser) || d.hunt.needless(winner) {
		return false
	}
	d.hunt.lose(&d.hunt.trial)
	d.hunt.putOut(loser)
	d.settled = append(d.settled, [2]int32{winner, loser})
	return true
}

// firstPlan makes a plan of whatever trial came upon first on its way to the goals.
func (s *search) firstPlan() {
	s.plan = s.plan[:0]
	s.zone = append(s.zone[:0], s.g.goals...)
	for _, f := range s.zone {
		s.inZone[f] = true
	}
	for i := 0; i < len(s.zone); i++ {
		m := s.trial.by[s.zone[i]]
		s.plan = append(s.plan, m)
		for _, need := range s.g.needs(m) {
			if !s.inZone[need] {
				s.enter(need)
			}
		}
	}
	s.leaveZone()
}

// planned reports whether the plan has a move of this group.
func (s *search) planned(group int32) bool {
	return slices.ContainsFunc(s.plan, func(m int32) bool { return s.g.moves[m].group == group })
}

// needless reports whether the goals can be reached without the moves of this group.
// Where they cannot be reached at all, no group is needless.
func (s *search) needless(group int32) bool {
	return s.trial.reaches(s.g, func(m int32) bool {
		return s.marks[m] != out && s.g.moves[m].group != group
	})
}

// undecided reports whether a move of this group may be done and has not been taken.
func (s *search) undecided(group int32) bool {
	for m := range s.g.moves {
		if s.g.moves[m].group == group && s.marks[m] == maybe {
			return true
		}
	}
	return false
}

// putOut marks the moves of this group as out.
func (s *search) putOut(group int32) {
	for m := range s.g.moves {
		if s.g.moves[m].group == group && s.marks[m] == maybe {
			s.set(int32(m), out)
		}
	}
}
