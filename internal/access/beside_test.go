package access_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// In vans built like real ones the cost equals the optimum of a general pseudo-boolean
// optimiser (github.com/crillab/gophersat). Half of the vans are full of things that
// shut each other out. In the short run all vans are small enough for the optimiser; in the
// long one it is given up where it takes too long, and what is left out is counted.
func TestCostEqualsOptimiser(t *testing.T) {
	vans, least, most, limit := 40, 50, 100, time.Minute
	if *many {
		vans, most, limit = 800, 200, 20*time.Second
	}
	var n tally
	for seed := range uint64(vans) {
		r := rand.New(rand.NewPCG(seed, 11))
		v := newVanLike(seed+1000, least+r.IntN(most-least+1), 5)
		if seed%2 == 1 {
			v.quarrel(r)
		}
		for k, j := range v.jobs {
			fitted := everything(v.items)
			if k%3 == 2 {
				fitted = someOf(r, len(v.items))
			}
			n.compare(t, v, j, fitted, limit)
			if t.Failed() {
				t.Fatalf("seed %d job %d", seed, k)
			}
		}
	}
	t.Logf("%d questions, %d of them with no way, %d with one for nothing, %d left out", n.all, n.none, n.free, n.late)
	if n.none == 0 || n.all-n.none-n.free < n.all/3 || n.late > n.all/10 {
		t.Errorf("the vans are not much of a test")
	}
}

// The optimiser's answers about small vans, in which many things are behind each other, equal
// exhaustive search: so the question is put to it as it should be.
func TestOptimiserEqualsExhaustiveSearch(t *testing.T) {
	n, loops := 300, 0
	for seed := range uint64(n) {
		s := newSmall(rand.New(rand.NewPCG(seed, 12)))
		if seed%2 == 1 {
			s = newTight(rand.New(rand.NewPCG(seed, 12)))
		}
		label, ok := s.brute().solve()
		want := -1
		if ok {
			want = int(label.cost / (access.Minute / 4))
		}
		fitted := make([]bool, len(s.items))
		for i, it := range s.items {
			fitted[i] = slices.Contains(s.fitted, it.ID)
		}
		p := newPB(newPBVan(s.places, s.items), job{places: s.rooms, items: s.targets, visits: s.visits}, fitted,
			pbForm{whole: seed%3 == 0, order: seed%2 == 0})
		if got, ok := p.optimum(time.Minute); !ok || got != want {
			t.Fatalf("seed %d: optimum = %d, %v, want %d; %+v", seed, got, ok, want, s)
		}
		if p.order && p.loops > 0 {
			t.Errorf("seed %d: the numbers left %d loops", seed, p.loops)
		}
		loops += p.loops
	}
	t.Logf("%d loops were forbidden", loops)
	if loops < n/40 {
		t.Errorf("too few loops to be a test")
	}
}

// tally counts questions by their answers.
type tally struct{ all, none, free, late int }

func (n *tally) compare(t *testing.T, v vanLike, j job, fitted []bool, limit time.Duration) {
	t.Helper()
	n.all++
	want, ok := newPB(newPBVan(v.places, v.items), j, fitted, pbForm{}).optimum(limit)
	switch {
	case !ok:
		n.late++
		return
	case want < 0:
		n.none++
	case want == 0:
		n.free++
	}
	s := access.NewSolver(v.places, v.items)
	q := j.query(setOf(s, v.items, fitted))
	if got := quarters(t, s, q); got != want {
		t.Errorf("Plan = %d quarters of a minute, the optimiser says %d", got, want)
	}
	if c, found := s.Cost(q); found != (want >= 0) || found && c != access.Cost(want)*access.Minute/4 {
		t.Errorf("Cost = %v, %v, the optimiser says %d quarters of a minute", c.Minutes(), found, want)
	}
}

// quarters gives the cost of the plan in quarters of a minute, less than 0 where there is no way.
func quarters(t testing.TB, s *access.Solver, q access.Query) int {
	t.Helper()
	p, err := s.Plan(context.Background(), q)
	var none *access.NoWayError
	if errors.As(err, &none) {
		return -1
	}
	if err != nil || !p.Proven || p.Cost%(access.Minute/4) != 0 {
		t.Errorf("Plan = %+v, %v", p, err)
	}
	return int(p.Cost / (access.Minute / 4))
}

// quarrel lets a third of the items shut one or two others out while they are open, or a place.
func (v *vanLike) quarrel(r *rand.Rand) {
	for i := range v.items {
		it := &v.items[i]
		if r.IntN(3) > 0 {
			continue
		}
		for range 1 + r.IntN(2) {
			if z := v.items[r.IntN(len(v.items))].ID; z != it.ID {
				it.Blocks = append(it.Blocks, string(z))
			}
		}
		if z := v.places[1+r.IntN(len(v.places)-1)].ID; r.IntN(4) == 0 && z != it.Place {
			it.Blocks = append(it.Blocks, string(z))
		}
	}
}

func everything(items []access.Item) []bool { return slices.Repeat([]bool{true}, len(items)) }

func someOf(r *rand.Rand, n int) []bool {
	fitted := make([]bool, n)
	for i := range fitted {
		fitted[i] = r.IntN(4) > 0
	}
	return fitted
}

func setOf(s *access.Solver, items []access.Item, fitted []bool) access.Set {
	var names []id.Item
	for i, it := range items {
		if fitted[i] {
			names = append(names, it.ID)
		}
	}
	return s.Set(names...)
}
