package access_test

import (
	"context"
	"errors"
	"flag"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/vanlog/internal/access"
)

var many = flag.Bool("access.many", false, "compare the full number of random vans with exhaustive search and with the library")

// Every answer about a small van equals exhaustive search: the cost, the number of
// openings and the items that are opened.
func TestPlanEqualsExhaustiveSearch(t *testing.T) {
	n := 2000
	if *many {
		n = 20_000
	}
	checkMany(t, n, 1, newSmall, 0.02)
}

// The same where most things shut others out.
func TestTightPlanEqualsExhaustiveSearch(t *testing.T) {
	n := 600
	if *many {
		n = 5000
	}
	checkMany(t, n, 10, newTight, 0.2)
}

// checkMany compares n vans with exhaustive search. In a third of them there has to be a way
// that costs something, and in a share of them the quarrels have to matter.
func checkMany(t *testing.T, n int, stream uint64, newVan func(*rand.Rand) small, quarrelsome float64) {
	t.Helper()
	reached, quarrels := 0, 0
	for seed := range uint64(n) {
		s := newVan(rand.New(rand.NewPCG(seed, stream)))
		want, ok := s.brute().solve()
		if ok && want.cost > 0 {
			reached++
		}
		if s.minds(want, ok) {
			quarrels++
		}
		checkAgainst(t, s, want, ok)
		if t.Failed() {
			t.Fatalf("seed %d: %+v", seed, s)
		}
	}
	t.Logf("%d of %d vans have a way that costs something; in %d quarrels matter", reached, n, quarrels)
	if reached < n/3 || float64(quarrels) < quarrelsome*float64(n) {
		t.Errorf("the vans are too easy or too hard to be a test")
	}
}

// minds reports whether the way would be another if nothing shut anything out.
func (s small) minds(want label, ok bool) bool {
	b := s.brute()
	b.items = peaceful(b.items)
	free, found := b.solve()
	return found != ok || free.cost != want.cost || free.opened != want.opened
}

// peaceful gives items that shut nothing out.
func peaceful(items []access.Item) []access.Item {
	items = slices.Clone(items)
	for i := range items {
		items[i].Blocks = nil
	}
	return items
}

func checkAgainst(t *testing.T, s small, want label, ok bool) {
	t.Helper()
	v := access.NewSolver(s.places, s.items)
	q := s.query(v)
	if c, found := v.Cost(q); found != ok || c != want.cost {
		t.Errorf("Cost = %d, %v, want %d, %v", c, found, want.cost, ok)
	}
	p, err := v.Plan(context.Background(), q)
	var none *access.NoWayError
	if errors.As(err, &none) == ok || err != nil && none == nil {
		t.Errorf("Plan error = %v, want a way: %v", err, ok)
		return
	}
	if err != nil {
		if len(none.Stuck) == 0 {
			t.Errorf("no way, but nothing stands in the way")
		}
		return
	}
	if p.Cost != want.cost || !p.Proven || p.Bound != want.cost {
		t.Errorf("Plan = %d, bound %d, proven %v, want %d", p.Cost, p.Bound, p.Proven, want.cost)
	}
	if got := s.brute().opened(p); got != want.opened {
		t.Errorf("opened %b, want %b", got, want.opened)
	}
	replay(t, s, p)
}

// opened gives the items that p opens, as in a label.
func (b *brute) opened(p access.Plan) uint64 {
	set := uint64(0)
	for _, s := range p.Steps {
		if s.Do == access.Open {
			set |= 1 << b.rank[b.atItem[s.Item]]
		}
	}
	return set
}
