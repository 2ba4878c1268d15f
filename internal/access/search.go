package access

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// mark says what a search has decided about a move.
type mark int8

const (
	maybe mark = iota
	taken      // it is paid for
	out        // it may not be done
)

// search finds the lightest set of moves that reaches the goals of a graph and holds no
// two that shut each other out.
//
// It is a branch and bound on single moves. Its lower bound is made of landmarks: sets of
// moves of which every plan has one. A landmark is found by allowing moves one by one
// as long as the goals stay shut; those left out are one (CUT). Paying the lightest
// move of each in turn, until what is paid for reaches the goals, gives the bound, and what
// was paid for holds a plan (START); the landmarks found stay for the whole search. See
// Haslum, Slaney & Thiébaux, "Minimal landmarks for optimal delete-free planning",
// ICAPS 2012. Where the plan is dearer than the bound, a landmark of which it has two is
// branched on, and where it holds two moves that shut each other out, one of these.
type search struct {
	g     *graph
	order []int32 // moves, light ones first: CUT leaves out the heavy ones

	foes   [][2]int32 // sorted: moves that shut each other out, both ways round
	foesAt []int32    // the foes of move m: foes[foesAt[m]:foesAt[m+1]]

	marks  []mark
	marked []int32 // moves that are not maybe, in the order of marking
	rest   []int64 // what is left of each weight after paying for landmarks
	found  landmarks
	base   flow    // what has been paid for
	trial  flow    // of a plan, while it is thinned out
	tried  []int32 // moves that CUT allowed for the moment
	plan   []int32

	thinner thinner
	best    []int32 // the lightest plan found
	limit   int64   // look only for plans lighter than this: the weight of best, once found

	zone    []int32    // facts, see lose
	inZone  []bool     // by fact
	proof   bool       // note what is lost
	lost    []bool     // by fact: being true for nothing might make a plan lighter, see witness
	zones   lists      // found behind landmarks
	handed  lists      // the zones that the first landmarks came from
	helped  []bool     // by handed zone: its landmark was paid for
	clashes [][2]int32 // moves of one plan that shut each other out

	ctx     context.Context
	nodes   int   // still to be looked at before giving up, once there is a plan
	stopped bool  // gave up
	left    int64 // the least bound of what was given up
}

// beyond is a weight that no plan has.
const beyond = math.MaxInt64

// landmarks are sets of moves of which every plan has one.
type landmarks struct {
	moves []int32 // end to end
	ends  []int32
	paid  []int64 // by landmark: what it adds to the bound at the node last looked at
}

func (l *landmarks) start(i int) int32 {
	if i == 0 {
		return 0
	}
	return l.ends[i-1]
}

func (l *landmarks) get(i int) []int32 { return l.moves[l.start(i):l.ends[i]] }

// keep forgets all landmarks but the first n.
func (l *landmarks) keep(n int) {
	if n < len(l.ends) {
		l.moves, l.ends, l.paid = l.moves[:l.start(n)], l.ends[:n], l.paid[:n]
	}
}

// begin makes the search ready for g.
func (s *search) begin(ctx context.Context, g *graph, nodes int) {
	s.g, s.ctx, s.nodes = g, ctx, nodes
	s.stopped, s.left, s.limit, s.best = false, beyond, beyond, s.best[:0]
	n := len(g.moves)
	s.marks, s.rest = sized(s.marks, n), sized(s.rest, n)
	clear(s.marks)
	s.marked, s.clashes = s.marked[:0], s.clashes[:0]
	s.found.keep(0)
	s.lost = sized(s.lost, g.facts)
	clear(s.lost)
	s.inZone = sized(s.inZone, g.facts)
	clear(s.inZone)
	s.zones.clear()
	s.handed.clear()
	s.helped = sized(s.helped, handOn)
	clear(s.helped)
	s.order = s.order[:0]
	for m := range g.moves {
		s.order = append(s.order, int32(m))
	}
	slices.SortFunc(s.order, func(a, b int32) int {
		if by := cmp.Compare(g.moves[a].weight, g.moves[b].weight); by != 0 {
			return by
		}
		return cmp.Compare(a, b)
	})
}

// enemies takes over which groups shut each other out.
func (s *search) enemies(quarrels [][2]int32) {
	s.foes = s.foes[:0]
	for _, q := range quarrels {
		for a := range s.g.moves {
			if s.g.moves[a].group == q[0] {
				s.pairUp(int32(a), q[1])
			}
		}
	}
	slices.SortFunc(s.foes, func(a, b [2]int32) int { return slices.Compare(a[:], b[:]) })
	s.foes = slices.Compact(s.foes)
	s.foesAt = sized(s.foesAt, len(s.g.moves)+1)
	at := 0
	for m := range s.foesAt {
		for at < len(s.foes) && s.foes[at][0] < int32(m) {
			at++
		}
		s.foesAt[m] = int32(at)
	}
}

// pairUp makes a and every move of a group foes.
func (s *search) pairUp(a, group int32) {
	for b := range s.g.moves {
		if s.g.moves[b].group == group {
			s.foes = append(s.foes, [2]int32{a, int32(b)}, [2]int32{int32(b), a})
		}
	}
}

func (s *search) foesOf(m int32) [][2]int32 { return s.foes[s.foesAt[m]:s.foesAt[m+1]] }

// take marks m as paid for, and its foes as out.
func (s *search) take(m int32) {
	s.set(m, taken)
	for _, foe := range s.foesOf(m) {
		if s.marks[foe[1]] == maybe {
			s.set(foe[1], out)
		}
	}
}

func (s *search) set(m int32, to mark) {
	s.marks[m] = to
	s.marked = append(s.marked, m)
}

// undo takes back all marks but the first n.
func (s *search) undo(n int) {
	for _, m := range s.marked[n:] {
		s.marks[m] = maybe
	}
	s.marked = s.marked[:n]
}

// node looks for lighter plans that keep to the marks. No plan that does is lighter
// than least.
func (s *search) node(least int64) {
	if s.giveUp() {
		s.left = min(s.left, least)
		return
	}
	bound, ok := s.bound()
	if !ok || bound >= s.limit {
		return
	}
	s.thin()
	kept, marks := len(s.found.ends), len(s.marked)
	m := s.conflict()
	if m == none {
		if w := s.weigh(s.plan); w < s.limit {
			s.limit, s.best = w, append(s.best[:0], s.plan...)
		}
		if bound >= s.limit {
			return
		}
		m = s.widest()
	}
	s.fix(bound)
	if s.marks[m] == maybe {
		inner := len(s.marked)
		s.take(m)
		s.node(bound)
		s.undo(inner)
		s.set(m, out)
	}
	s.node(bound)
	s.undo(marks)
	s.found.keep(max(kept, 4*len(s.g.moves)+64))
}

// giveUp reports whether to look no further. The number of nodes is no reason before there
// is a plan: that there is no way is only said with proof.
func (s *search) giveUp() bool {
	s.nodes--
	if s.nodes < 0 && s.limit < beyond || s.nodes%16 == 0 && s.ctx.Err() != nil {
		s.stopped = true
	}
	return s.stopped
}

// fix puts out every move with which a plan would be too heavy, as its own weight left
// over comes on top of the bound.
func (s *search) fix(bound int64) {
	for m, rest := range s.rest {
		if s.marks[m] == maybe && rest >= s.limit-bound {
			s.set(int32(m), out)
		}
	}
}

func (s *search) weigh(plan []int32) int64 {
	sum := int64(0)
	for _, m := range plan {
		sum += s.g.moves[m].weight
	}
	return sum
}

// conflict gives a move of the plan that another move of it shuts out, or none.
func (s *search) conflict() int32 {
	for _, m := range s.plan {
		for _, foe := range s.foesOf(m) {
			if slices.Contains(s.plan, foe[1]) {
				s.note(foe)
				return m
			}
		}
	}
	return none
}

// note keeps a clash, for the explanation in case there is no way. A few will do.
func (s *search) note(clash [2]int32) {
	if len(s.clashes) < 8 && !slices.Contains(s.clashes, clash) {
		s.clashes = append(s.clashes, clash)
	}
}

// widest gives a move of the landmark that adds most to the gap between plan and bound:
// one of which the plan has two or more.
func (s *search) widest() int32 {
	gap, at := int64(-1), none
	for i := range s.found.ends {
		paid := s.found.paid[i]
		if paid == 0 {
			continue
		}
		heaviest, n := none, int64(0)
		for _, m := range s.found.get(i) {
			if !slices.Contains(s.plan, m) {
				continue
			}
			n++
			if heaviest == none || s.g.moves[m].weight > s.g.moves[heaviest].weight {
				heaviest = m
			}
		}
		if (n-1)*paid > gap {
			gap, at = (n-1)*paid, heaviest
		}
	}
	return at
}
