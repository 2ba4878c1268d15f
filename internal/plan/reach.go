package plan

// addReach finds what reaching each job costs at best, and whether the order changes it.
// A job that can never be reached is a *NoSequenceError.
func (m *model) addReach() error {
	m.words = (len(m.fitters) + 63) / 64
	for j := range m.jobs {
		m.jobs[j].minutes = m.jobs[j].base
	}
	if m.p.Reach == nil {
		m.fitters = nil
		for j := range m.jobs {
			m.jobs[j].fitter = -1
		}
		return nil
	}
	m.reach = newMemo(m)
	m.reach.hasty = true
	first, last := m.kin(true), m.kin(false)
	for j := range m.jobs {
		cost := m.reach.cost(j, first[j])
		if cost == buried {
			return m.impossible(j, m.whyBuried(j))
		}
		m.jobs[j].minutes += cost
	}
	for j := range m.jobs {
		cost := m.jobs[j].minutes - m.jobs[j].base
		m.jobs[j].moved = m.reach.cost(j, m.most(j, last[j])) != cost
	}
	return nil
}

// most gives the fitters that can have finished when j starts; waiting are those that
// wait for it, which can have finished in the same minute where j takes no time.
func (m *model) most(j int, waiting bitset) bitset {
	set := make(bitset, m.words)
	for i := range set {
		set[i] = m.all(i)
		if m.jobs[j].base > 0 {
			set[i] &^= waiting[i]
		}
	}
	return set
}

// all gives word i of the set of all fitters.
func (m *model) all(i int) uint64 {
	if rest := len(m.fitters) - 64*i; rest < 64 {
		return 1<<rest - 1
	}
	return ^uint64(0)
}

// kin gives the fitters that must finish before each job starts, or, with up false,
// those that must not have, for they wait for it.
func (m *model) kin(up bool) []bitset {
	sets := make([]bitset, len(m.jobs))
	for i := range m.topo {
		j := m.topo[i]
		if !up {
			j = m.topo[len(m.topo)-1-i]
		}
		sets[j] = make(bitset, m.words)
		links := m.jobs[j].before
		if !up {
			links = m.jobs[j].after
		}
		for _, l := range links {
			if !l.whole() {
				continue
			}
			sets[j].addAll(sets[l.job])
			if f := m.jobs[l.job].fitter; f >= 0 {
				sets[j].add(f)
			}
		}
	}
	return sets
}

func (m *model) whyBuried(j int) string {
	if m.reach.ask(j, make(bitset, m.words)) == buried {
		return "it cannot be reached as the van stands now"
	}
	return "it cannot be reached once the tasks that must come before it are done"
}
