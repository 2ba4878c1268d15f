package access

// thinner tells which moves of a plan it cannot do without, as far as that is seen at once:
// those that alone in it make something true that is needed.
type thinner struct {
	inPlan []bool  // by move
	makers []int32 // by fact: how many moves of the plan make it true
	needed []bool  // by fact
	queue  []int32 // the needed facts
	seen   int     // those of queue that have been followed up
	kept   []bool  // by move
}

// thin leaves in plan only what is needed of what was paid for. Heavy moves go first,
// and of those that weigh the same the ones that shut others out.
func (s *search) thin() {
	s.plan = s.plan[:0]
	for i := len(s.order) - 1; i >= 0; i-- {
		if m := s.order[i]; s.base.allowed[m] && s.base.ready(m) {
			s.plan = append(s.plan, m)
		}
	}
	s.startThin()
	for i := 0; i < len(s.plan); {
		if m := s.plan[i]; s.thinner.kept[m] || !s.needlessAt(i) {
			i++
			continue
		}
		s.leaveOut(s.plan[i])
		s.plan = append(s.plan[:i], s.plan[i+1:]...)
	}
}

// needlessAt reports whether the goals are reached without move i of the plan.
func (s *search) needlessAt(i int) bool {
	s.trial.reset(s.g)
	for j, m := range s.plan {
		if j != i {
			s.trial.allow(m)
		}
	}
	return s.trial.run()
}

func (s *search) startThin() {
	t := &s.thinner
	t.inPlan, t.kept = sized(t.inPlan, len(s.g.moves)), sized(t.kept, len(s.g.moves))
	t.makers, t.needed = sized(t.makers, s.g.facts), sized(t.needed, s.g.facts)
	clear(t.inPlan)
	clear(t.kept)
	clear(t.makers)
	clear(t.needed)
	t.queue, t.seen = t.queue[:0], 0
	for _, m := range s.plan {
		t.inPlan[m] = true
		for _, f := range s.g.moves[m].adds {
			if f != none {
				t.makers[f]++
			}
		}
	}
	for _, f := range s.g.goals {
		t.need(f)
	}
	s.followNeeds()
}

func (t *thinner) need(f int32) {
	if !t.needed[f] {
		t.needed[f] = true
		t.queue = append(t.queue, f)
	}
}

// followNeeds keeps what alone makes a needed fact true; what it needs is needed as well.
func (s *search) followNeeds() {
	for t := &s.thinner; t.seen < len(t.queue); t.seen++ {
		if f := t.queue[t.seen]; t.makers[f] == 1 {
			s.keepMaker(f)
		}
	}
}

// keepMaker keeps the only move of the plan that makes f true.
func (s *search) keepMaker(f int32) {
	t := &s.thinner
	for _, m := range s.g.makers(f) {
		if !t.inPlan[m] || t.kept[m] {
			continue
		}
		t.kept[m] = true
		for _, need := range s.g.needs(m) {
			t.need(need)
		}
	}
}

// leaveOut notes that m is no longer in the plan.
func (s *search) leaveOut(m int32) {
	t := &s.thinner
	t.inPlan[m] = false
	for _, f := range s.g.moves[m].adds {
		if f == none {
			continue
		}
		if t.makers[f]--; t.makers[f] == 1 && t.needed[f] {
			s.keepMaker(f)
		}
	}
	s.followNeeds()
}
