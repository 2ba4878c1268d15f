package plan

import "math/bits"

// state is what matters of a partial schedule for all that can still come.
type state struct {
	at   int
	done int     // end of what has been started, with what follows each
	in   set     // what has been started before at
	live []int32 // of those whose finish still matters: job and finish, in turn
}

// memory holds states from which all has been looked at. A state that is open still must
// never be in it: what comes of an open one would be passed over for its sake.
type memory struct {
	heads map[set]int32 // the newest state of each set, as its place in cells
	cells []int32       // by state: next, at, done, length of live, live
}

// memoryCells is how much is remembered.
const memoryCells = 1 << 24

func (m *memory) keep(b *branching, n *node) {
	if len(m.cells) > memoryCells {
		return
	}
	next, known := m.heads[n.state.in]
	if !known {
		next = -1
	}
	m.heads[n.state.in] = int32(len(m.cells))
	m.cells = append(m.cells, next, int32(n.state.at), int32(n.state.done), int32(len(n.state.live)))
	m.cells = append(m.cells, n.state.live...)
}

// beats reports whether from a state that was looked at all comes at least as soon as from s.
func (m *memory) beats(b *branching, s *state) bool {
	at, known := m.heads[s.in]
	for ; known && at >= 0; at = m.cells[at] {
		c := m.cells[at:]
		if int(c[1]) <= s.at && int(c[2]) < b.best && b.sooner(c[4:4+c[3]], s.at) {
			return true
		}
	}
	return false
}

// sooner reports whether each finish in live is no later than the one now, as far as it
// matters from at on.
func (b *branching) sooner(live []int32, at int) bool {
	for i := 0; i < len(live); i += 2 {
		j, end := int(live[i]), int(live[i+1])
		if end > max(at-b.p.longest[j], b.start[j]+b.p.long[j]) {
			return false
		}
	}
	return true
}

func trailing(word uint64) int { return bits.TrailingZeros64(word) }
