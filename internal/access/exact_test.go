package access_test

import (
	"context"
	"errors"
	"flag"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/access"
)

var many = flag.Bool("access.many", false, "compare 20,000 random vans with exhaustive search")

// Every answer about a small van equals exhaustive search: the cost, the number of
// openings and the items that are opened.
func TestPlanEqualsExhaustiveSearch(t *testing.T) {
	n := 3000
	if *many {
		n = 20_000
	}
	reached := 0
	for seed := range uint64(n) {
		s := newSmall(rand.New(rand.NewPCG(seed, 1)))
		want, ok := s.brute().solve()
		if ok && want.cost > 0 {
			reached++
		}
		checkAgainst(t, s, want, ok)
		if t.Failed() {
			t.Fatalf("seed %d: %+v", seed, s)
		}
	}
	if reached < n/10 {
		t.Errorf("only %d of %d vans had a way that costs something", reached, n)
	}
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
	if got := opened(p); got != want.opened {
		t.Errorf("opened %q, want %q", got, want.opened)
	}
	replay(t, s, p)
}

// opened gives the items that p opens, as in a label.
func opened(p access.Plan) string {
	var ids []string
	for _, s := range p.Steps {
		if s.Do == access.Open {
			ids = append(ids, string(s.Item)+",")
		}
	}
	slices.Sort(ids)
	return strings.Join(ids, "")
}
