package access

// force takes the moves that alone make a goal true; what they need is a goal as well.
// That is quicker than finding them as landmarks.
func (s *search) force() {
	for i := 0; i < len(s.g.goals); i++ {
		f := s.g.goals[i]
		makers := s.g.makers(f)
		if len(makers) != 1 {
			continue
		}
		s.lost[f] = true
		if s.marks[makers[0]] == maybe {
			s.take(makers[0])
		}
		for _, need := range s.g.needs(makers[0]) {
			s.g.aim(need)
		}
	}
}
