package plan

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// With time as it is and with time running backward branch and bound comes to the same finish,
// on problems far beyond trying all orders; and no search finds a better one.
func TestBothDirectionsAgree(t *testing.T) {
	for seed := range share(240) {
		r := rand.New(rand.NewPCG(uint64(seed), 91))
		p := clockRound(r, 18)
		for j := range p.Jobs {
			p.Jobs[j].Deadline = nil
			p.Jobs[j].Minutes += r.IntN(9)
		}
		f := finderOf(t, &p)
		forward := f.m.puzzle()
		backward, ok := forward.mirrored(f.m.topo)
		if !ok {
			t.Fatalf("problem %d cannot run backward", seed)
		}
		a, b := newBranching(forward, far), newBranching(backward, far)
		if !a.run(context.Background(), 2_000_000) || !b.run(context.Background(), 2_000_000) {
			continue // too hard: nothing is proven
		}
		if a.best != b.best {
			t.Errorf("problem %d: %d forward, %d backward", seed, a.best, b.best)
		}
		s, err := Find(context.Background(), p, Options{Schedules: 400})
		if err != nil || s.Finish < f.m.instant(a.best) || s.Bound > f.m.instant(a.best) {
			t.Errorf("problem %d: finish %v, bound %v, %v, but %d is proven", seed, s.Finish, s.Bound, err, a.best)
		}
	}
}

// No state is remembered while something that can come of it has not been looked at: that
// would "prove" what is not so.
func TestMemoryHoldsClosedStatesOnly(t *testing.T) {
	remembered := 0
	for seed := range uint64(30) {
		p := clockRound(rand.New(rand.NewPCG(seed, 92)), 14)
		for j := range p.Jobs {
			p.Jobs[j].Deadline = nil
		}
		f := finderOf(t, &p)
		b := newBranching(f.m.puzzle(), far)
		for done := false; !done; done = b.run(context.Background(), 1) {
			for i := range b.nodes {
				if open := &b.nodes[i].state; remembers(b, open) {
					t.Fatalf("problem %d: an open state at %d is remembered", seed, open.at)
				}
			}
		}
		remembered += len(b.seen.heads)
	}
	if remembered < 50 {
		t.Errorf("only %d states were remembered", remembered)
	}
}

// remembers reports whether just this state is in the memory.
func remembers(b *branching, s *state) bool {
	at, known := b.seen.heads[s.in]
	for ; known && at >= 0; at = b.seen.cells[at] {
		c := b.seen.cells[at:]
		if int(c[1]) == s.at && slices.Equal(c[4:4+c[3]], s.live) {
			return true
		}
	}
	return false
}

// instance is an instance in the form of the library, made up: three jobs of 3, 2 and 4 units
// of time between two that take none. The second must wait for the first; the third shares
// the one resource of 4 units with both, and needs 3 of them.
const instance = `************************************************************************
jobs (incl. supersource/sink ):  5
RESOURCES
  - renewable                 :  1   R
************************************************************************
PROJECT INFORMATION:
pronr.  #jobs rel.date duedate tardcost  MPM-Time
    1      3      0       5        0        5
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   4
   2        1          1           3
   3        1          1           5
   4        1          1           5
   5        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
------------------------------------------------------------------------
  1      1     0       0
  2      1     3       2
  3      1     2       1
  4      1     4       3
  5      1     0       0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1
    4
************************************************************************
`

// Worked by hand: the third job fits beside the second only, for the first needs two of the
// four units. First 0-3, then the third from 3 to 7 with the second beside it, 3-5.
func TestReadPSPLIB(t *testing.T) {
	p := readPSPLIB(t, "x.sm", instance)
	if len(p.Jobs) != 5 || len(p.Edges) != 5 || p.Resources[0].Capacity != 4 {
		t.Fatalf("%d jobs, %d edges, %+v", len(p.Jobs), len(p.Edges), p.Resources)
	}
	s, err := Find(context.Background(), p, Options{})
	if err != nil || s.Finish != 7 || !s.Proven {
		t.Errorf("finish %d, proven %v, %v; want 7", s.Finish, s.Proven, err)
	}
	if path := criticalPath(t, p); path != 5 {
		t.Errorf("the critical path is %d long, want 5", path)
	}
}

// Find proves the best finish of problems that trying all orders cannot, where time is given.
func TestFindProves(t *testing.T) {
	proven := 0
	for seed := range uint64(12) {
		p := clockRound(rand.New(rand.NewPCG(seed, 93)), 24)
		for j := range p.Jobs {
			p.Jobs[j].Deadline = nil
		}
		f := finderOf(t, &p)
		for _, v := range f.proofs() {
			if v.run(context.Background(), 300_000) {
				proven++
				if !f.found || f.bound != f.best.Finish {
					t.Errorf("problem %d: proven, but finish %v, bound %v", seed, f.best.Finish, f.bound)
				}
			}
		}
	}
	if proven < 12 {
		t.Errorf("%d of 24 are proven", proven)
	}
}
