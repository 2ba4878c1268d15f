package access_test

import (
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/access"
)

// What was asked before changes no answer: one solver asked about many sets of fitted
// items, each like the last but for a few, agrees with a new solver for each set.
func TestAskedBefore(t *testing.T) {
	for seed := range uint64(2500) {
		r := rand.New(rand.NewPCG(seed, 3))
		s := newSmall(r)
		old := access.NewSolver(s.places, s.items)
		q := s.query(old)
		for range 40 {
			fresh := access.NewSolver(s.places, s.items)
			want, found := fresh.Cost(q)
			if c, ok := old.Cost(q); c != want || ok != found {
				t.Fatalf("seed %d: Cost = %d, %v, a new solver says %d, %v; fitted %b of %+v", seed, c, ok, want, found, q.Fitted, s)
			}
			for range 1 + r.IntN(2) {
				i := r.IntN(len(s.items))
				q.Fitted[0] ^= 1 << i
			}
		}
	}
}
