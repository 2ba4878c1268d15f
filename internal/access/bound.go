package access

// bound gives a weight that no plan within the marks goes below, and leaves in base what
// it paid for, with the goals reached. It is false where there is no plan. It stops early
// with a bound of at least limit.
func (s *search) bound() (int64, bool) {
	sum := s.refresh()
	for i := range s.found.ends {
		paid, ok := s.pay(i)
		if (paid > 0 || !ok) && i < len(s.handed.ends) {
			s.loseZone(s.handed.get(i))
			s.helped[i] = true
		}
		if !ok {
			return 0, false
		}
		s.found.paid[i] = paid
		sum += paid
	}
	if sum >= s.limit {
		return sum, true
	}
	s.base.reset(s.g)
	for m, rest := range s.rest {
		if rest == 0 && s.marks[m] != out {
			s.base.allow(int32(m))
		}
	}
	for !s.base.run() {
		s.cut()
		i := len(s.found.ends) - 1
		paid, ok := s.pay(i)
		if !ok {
			return 0, false
		}
		s.found.paid[i] = paid
		if sum += paid; sum >= s.limit {
			return sum, true
		}
		for _, m := range s.found.get(i) {
			if s.rest[m] == 0 && s.marks[m] == maybe {
				s.base.allow(m)
			}
		}
	}
	return sum, true
}

// refresh gives every move its whole weight to pay with; it gives the weight of those
// that are paid for already.
func (s *search) refresh() int64 {
	sum := int64(0)
	for m := range s.g.moves {
		s.rest[m] = s.g.moves[m].weight
		if s.marks[m] == taken {
			sum += s.rest[m]
			s.rest[m] = 0
		}
	}
	return sum
}

// pay pays for the lightest move of landmark i, from what is left of all its moves. It is
// false where none of them may be done.
func (s *search) pay(i int) (int64, bool) {
	least, moves := int64(beyond), s.found.get(i)
	for _, m := range moves {
		if s.marks[m] != out {
			least = min(least, s.rest[m])
		}
	}
	if least == beyond {
		return 0, false
	}
	if least > 0 {
		for _, m := range moves {
			if s.marks[m] != out {
				s.rest[m] -= least
			}
		}
	}
	return least, true
}

// cut adds a landmark that base does not hold: moves are allowed one by one, light ones
// first, as long as the goals stay shut. Those that lead out of what is reached then
// are one, whatever the marks.
func (s *search) cut() {
	b := &s.base
	start := len(b.trail)
	s.tried = s.tried[:0]
	for _, m := range s.order {
		if b.allowed[m] || s.marks[m] == out {
			continue
		}
		before := len(b.trail)
		b.allow(m)
		if b.run() {
			b.back(before)
			b.allowed[m] = false
			continue
		}
		s.tried = append(s.tried, m)
	}
	l := &s.found
	for m := range s.g.moves {
		if b.leadsOut(int32(m)) {
			l.moves = append(l.moves, int32(m))
		}
	}
	l.ends, l.paid = append(l.ends, int32(len(l.moves))), append(l.paid, 0)
	s.lose(b)
	b.back(start)
	for _, m := range s.tried {
		b.allowed[m] = false
	}
}
