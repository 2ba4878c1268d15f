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

// benchPlan plans 25 jobs in each of forty vans with everything fitted, and reports how
// long a plan takes in the middle and at the slow end, and which share costs something.
func benchPlan(b *testing.B, items int) {
	var vans []vanLike
	var solvers []*access.Solver
	for seed := range uint64(40) {
		v := newVanLike(seed, items, 25)
		vans, solvers = append(vans, v), append(solvers, access.NewSolver(v.places, v.items))
	}
	var took []time.Duration
	reached, unproven := 0, 0
	for b.Loop() {
		for k, v := range vans {
			for _, j := range v.jobs {
				began := time.Now()
				p, err := solvers[k].Plan(context.Background(), j.query(solvers[k].All()))
				took = append(took, time.Since(began))
				if err == nil && p.Cost > 0 {
					reached++
				}
				if err == nil && !p.Proven {
					unproven++
				}
			}
		}
	}
	slices.Sort(took)
	for name, at := range map[string]int{"median-µs": len(took) / 2, "p99-µs": len(took) * 99 / 100, "max-µs": len(took) - 1} {
		b.ReportMetric(float64(took[at].Nanoseconds())/1000, name)
	}
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

// BenchmarkTableAll and BenchmarkTableHalf make the close-in table of 160 tasks and 200 items in a new solver:
// what each item does to the way to each task. All is with everything fitted, Half with
// every other item.
func BenchmarkTableAll(b *testing.B)  { benchTable(b, ^uint64(0)) }
func BenchmarkTableHalf(b *testing.B) { benchTable(b, 0x5555555555555555) }

func benchTable(b *testing.B, mask uint64) {
	var took []time.Duration
	n := 0
	for b.Loop() {
		for seed := range uint64(8) {
			v := newVanLike(seed, 200, 160)
			began := time.Now()
			s := access.NewSolver(v.places, v.items)
			fitted := s.All()
			for w := range fitted {
				fitted[w] &= mask
			}
			for _, j := range v.jobs {
				n += len(s.Burials(j.query(fitted)))
			}
			took = append(took, time.Since(began))
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(took[len(took)-1].Microseconds())/1000, "max-ms")
	b.ReportMetric(float64(n)/float64(len(took)), "burials")
}

// BenchmarkSecond200 looks for the second-best way of every job that has a way, in forty vans of
// 200 items; the plan itself is not timed.
func BenchmarkSecond200(b *testing.B) {
	var took []time.Duration
	found := 0
	for b.Loop() {
		for seed := range uint64(40) {
			v := newVanLike(seed, 200, 25)
			s := access.NewSolver(v.places, v.items)
			for _, j := range v.jobs {
				q := j.query(s.All())
				best, err := s.Plan(context.Background(), q)
				if err != nil || best.Cost == 0 {
					continue
				}
				began := time.Now()
				_, ok, err := s.Second(context.Background(), q, best)
				took = append(took, time.Since(began))
				if err != nil {
					b.Fatal(err)
				}
				if ok {
					found++
				}
			}
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Nanoseconds())/1000, "median-µs")
	b.ReportMetric(float64(took[len(took)*99/100].Nanoseconds())/1000, "p99-µs")
	b.ReportMetric(float64(found)/float64(len(took)), "found")
}
