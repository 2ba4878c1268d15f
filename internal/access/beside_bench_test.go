package access_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"example.com/vanlog/internal/access"
)

// BenchmarkBeside puts the same questions to this package and to a general pseudo-boolean
// optimiser (see pb_test.go), van by van, and asserts that the optima are equal. Only
// questions with a way that costs something are put, each three times; of the three
// the shortest time counts, for either side, so that other work on the machine counts less.
//
// Timed is, for plan, a Plan: preparing the question, the search and its proof, ties and
// steps; for cost, a Cost: the same without ties and steps, which the optimiser does not give
// either. Every van has a new Solver for every time and for each of the two, so that nothing is
// known beforehand; making it is not counted, but is with with-solver, where every question has
// a new Solver of its own.
//
// For the optimiser it is writing down the question and optimising, in three ways: all at
// once (whole), with the whole van and numbers against loops, which is how one would put such a question to it;
// with the whole van, loops forbidden by us as they turn up (helped); and that with only
// what the targets may depend on (near), which is a part of our own work done for it beforehand. Its
// tables of the van are not counted. Where near takes longer than patience, the others are taken to be as quick as near.
func BenchmarkBeside50(b *testing.B)  { benchBeside(b, 50) }
func BenchmarkBeside200(b *testing.B) { benchBeside(b, 200) }
func BenchmarkBeside500(b *testing.B) { benchBeside(b, 500) }

// besidePatience is how long near may take so that the others are tried, in microseconds.
const besidePatience = 4000

// beside is how long one question took, in microseconds.
type beside struct{ plan, cost, withSolver, whole, helped, near float64 }

func (x *beside) shorten(by beside) {
	x.plan, x.cost, x.withSolver = min(x.plan, by.plan), min(x.cost, by.cost), min(x.withSolver, by.withSolver)
	x.whole, x.helped, x.near = min(x.whole, by.whole), min(x.helped, by.helped), min(x.near, by.near)
}

func benchBeside(b *testing.B, items int) {
	var all []beside
	for b.Loop() {
		all = all[:0]
		for seed := range uint64(40) {
			v := newVanLike(seed, items, 10)
			best := besideVan(b, v)
			for range 2 {
				for i, x := range besideVan(b, v) {
					best[i].shorten(x)
				}
			}
			all = append(all, best...)
		}
	}
	median := func(of func(x beside) float64) float64 {
		var xs []float64
		for _, x := range all {
			xs = append(xs, of(x))
		}
		slices.Sort(xs)
		return xs[len(xs)/2]
	}
	plan, cost := median(func(x beside) float64 { return x.plan }), median(func(x beside) float64 { return x.cost })
	b.ReportMetric(0, "ns/op")
	report := map[string]float64{"plan-µs": plan, "cost-µs": cost, "questions": float64(len(all)),
		"with-solver-µs": median(func(x beside) float64 { return x.withSolver })}
	for name, of := range map[string]func(x beside) float64{"whole": func(x beside) float64 { return x.whole },
		"helped": func(x beside) float64 { return x.helped }, "near": func(x beside) float64 { return x.near }} {
		took := median(of)
		report[name+"-µs"], report[name+"/plan-times-faster"], report[name+"/cost-times-faster"] = took, took/plan, took/cost
	}
	for name, x := range report {
		b.ReportMetric(x, name)
	}
}

// besideVan puts the questions of a van to each, all of them to one before the next, so that
// each finds the processor as it left it.
func besideVan(b *testing.B, v vanLike) []beside {
	plans, costs := access.NewSolver(v.places, v.items), access.NewSolver(v.places, v.items)
	pb, fitted, set := newPBVan(v.places, v.items), everything(v.items), plans.All()
	var all []beside
	var jobs []job
	var want []access.Cost
	for _, j := range v.jobs {
		var x beside
		var p access.Plan
		var err error
		x.plan = micros(func() { p, err = plans.Plan(context.Background(), j.query(set)) })
		if err == nil && p.Cost > 0 {
			all, jobs, want = append(all, x), append(jobs, j), append(want, p.Cost)
		}
	}
	for i, j := range jobs {
		var c access.Cost
		all[i].cost = micros(func() { c, _ = costs.Cost(j.query(set)) })
		if c != want[i] {
			b.Fatalf("Cost = %v, Plan has %v", c, want[i])
		}
	}
	for i, j := range jobs {
		all[i].withSolver = micros(func() { _, _ = access.NewSolver(v.places, v.items).Plan(context.Background(), j.query(set)) })
	}
	for i, j := range jobs {
		all[i].near = besideOptimum(b, pb, j, fitted, pbForm{}, want[i])
		all[i].helped, all[i].whole = all[i].near, all[i].near
	}
	for i, j := range jobs {
		if all[i].near < besidePatience {
			all[i].helped = besideOptimum(b, pb, j, fitted, pbForm{whole: true}, want[i])
		}
	}
	for i, j := range jobs {
		if all[i].near < besidePatience {
			all[i].whole = besideOptimum(b, pb, j, fitted, pbForm{whole: true, order: true}, want[i])
		}
	}
	return all
}

// besideOptimum gives how long the optimiser takes for a question, whose answer must be want.
func besideOptimum(b *testing.B, v *pbVan, j job, fitted []bool, form pbForm, want access.Cost) float64 {
	var quarters int
	took := micros(func() { quarters, _ = newPB(v, j, fitted, form).optimum(time.Minute) })
	if access.Cost(quarters)*access.Minute/4 != want {
		b.Fatalf("%v minutes, the optimiser says %d quarters (%+v)", want.Minutes(), quarters, form)
	}
	return took
}

func micros(f func()) float64 {
	began := time.Now()
	f()
	return float64(time.Since(began).Nanoseconds()) / 1000
}
