package access_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"example.com/vanlog/internal/access"
)

func BenchmarkPlan50(b *testing.B)  { benchPlan(b, 50) }
func BenchmarkPlan200(b *testing.B) { benchPlan(b, 200) }
func BenchmarkPlan500(b *testing.B) { benchPlan(b, 500) }

// benchPlan plans the jobs of forty vans, each once a round, and reports how long a plan
// takes in the middle and at the slow end.
func benchPlan(b *testing.B, items int) {
	var took []time.Duration
	reached, proven, unproven, worst := 0, 0, 0, time.Duration(0)
	for b.Loop() {
		for seed := range uint64(40) {
			v := newVanLike(seed, items, 25)
			s := access.NewSolver(v.places, v.items)
			for _, j := range v.jobs {
				ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
				began := time.Now()
				p, err := s.Plan(ctx, j.query(s.All()))
				took = append(took, time.Since(began))
				cancel()
				if took[len(took)-1] > worst {
					worst = took[len(took)-1]
				}
				if err == nil && p.Cost > 0 {
					reached++
				}
				if err == nil && p.Proven {
					proven++
				} else if err == nil {
					unproven++
				}
			}
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds()), "median-µs")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "p99-µs")
	b.ReportMetric(float64(worst.Microseconds()), "max-µs")
	b.ReportMetric(float64(reached)/float64(len(took)), "reached")
	b.ReportMetric(float64(unproven), "unproven")
}

// BenchmarkCost asks for a cost that is known already, as the search for an order does.
func BenchmarkCost(b *testing.B) {
	v := newVanLike(3, 200, 160)
	s := access.NewSolver(v.places, v.items)
	all := s.All()
	for _, j := range v.jobs {
		s.Cost(j.query(all))
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		s.Cost(v.jobs[i%len(v.jobs)].query(all))
		i++
	}
}

// BenchmarkTable asks, for 160 tasks and 200 items, what each item does to the cost of
// each task: with it and without it, all others being fitted, and again in an empty van.
func BenchmarkTable(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		v := newVanLike(3, 200, 160)
		s := access.NewSolver(v.places, v.items)
		all := s.All()
		half := s.Set()
		for i := range half {
			half[i] = all[i] & 0x5555555555555555
		}
		b.StartTimer()
		for _, j := range v.jobs {
			for _, base := range []access.Set{all, half} {
				with := slices.Clone(base)
				for i := range v.items {
					with[i/64] ^= 1 << (i % 64)
					s.Cost(j.query(with))
					with[i/64] ^= 1 << (i % 64)
				}
			}
		}
	}
}
