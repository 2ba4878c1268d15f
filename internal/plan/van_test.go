package plan

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// van makes a problem like the conversion of a van by one builder with some help: most
// jobs use the builder and the inside, some a helper, who comes on Saturdays and two
// evenings; glue and paint cure; parts come late; and each item covers a few that were
// fitted before it.
func van(seed uint64, jobs int) Problem {
	r := rand.New(rand.NewPCG(seed, 1))
	builder := calendar.DefaultBuilder()
	builder.Hours[5] = []calendar.Span{span(540, 780)}
	monday := instantOf(worldNow).Date()
	builder.Off = []calendar.Off{{From: monday + 32, To: monday + 35}}
	cal := calendar.Compile([]calendar.Resource{builder, {ID: "inside"},
		{ID: "helper", Hours: &calendar.Week{2: {span(960, 1260)}, 4: {span(960, 1260)}, 5: {span(540, 1080)}}},
		{ID: "warm", Hours: &calendar.Week{0: {span(480, 1080)}, 1: {span(480, 1080)}, 2: {span(480, 1080)}, 3: {span(480, 1080)}, 4: {span(480, 1080)}}}})
	p := Problem{Now: instantOf(worldNow), Fitted: make(Set, jobs/64+1)}
	for i, name := range []id.Resource{"builder", "inside", "helper", "warm"} {
		p.Resources = append(p.Resources, Resource{ID: name, Capacity: []int{1, 2, 1, 1}[i], Hours: cal.Of(name)})
	}
	for i := range jobs {
		p.Jobs = append(p.Jobs, vanJob(r, cal, p.Now, i, jobs))
	}
	for i := 1; i < jobs; i++ {
		for range r.IntN(3) {
			k := max(0, i-1-r.IntN(30))
			e := Edge{Before: k, After: i, Should: r.IntN(4) == 0, Rework: 30}
			if k != i {
				p.Edges = append(p.Edges, e)
			}
		}
	}
	p.Reach = vanReach(r, p.Jobs)
	return p
}

func vanJob(r *rand.Rand, cal *calendar.Calendars, now units.Instant, i, jobs int) Job {
	j := Job{ID: id.Task(fmt.Sprintf("t%d", i)), Minutes: 15 * (1 + r.IntN(32)), Release: now}
	j.Uses, j.Hours = []Use{{0, 1}}, cal.Of("builder")
	switch r.IntN(10) {
	case 0:
		j.Uses, j.Hours = []Use{{0, 1}, {2, 1}}, cal.Of("builder", "helper")
		j.Minutes = min(j.Minutes, 180)
	case 1:
		j.Uses, j.Hours = []Use{{0, 1}, {3, 1}}, cal.Of("builder", "warm")
	case 2, 3, 4, 5:
		j.Uses = append(j.Uses, Use{1, 1})
	}
	if r.IntN(6) == 0 {
		j.Cure.Minutes = 60 * (4 + r.IntN(45))
		if r.IntN(3) == 0 {
			j.Cure = calendar.Cure{Minutes: 60 * (4 + r.IntN(16)), While: cal.Of("warm")}
		}
		if r.IntN(4) == 0 {
			j.Holds = []int{1}
		}
	}
	if r.IntN(5) == 0 {
		j.Release += units.Instant(r.IntN(1+jobs*100/480)) * units.Day
	}
	if r.IntN(5) < 3 {
		j.Fits = []int{i}
	}
	return j
}

// vanReach makes what reaching costs: the opening of all that covers the targets, and
// what covers that. Item i is fitted by job i and covers up to three of the items of
// the forty jobs around it. One in twenty items can never be opened.
func vanReach(r *rand.Rand, jobs []Job) func(int, Set) (int, bool) {
	n := len(jobs)
	coveredBy, open, targets := make([][]int, n), make([]int, n), make([][]int, n)
	for i := range n {
		open[i] = 1 + r.IntN(20)
		if r.IntN(20) == 0 {
			open[i] = -1
		}
		for range r.IntN(4) {
			if k := i - r.IntN(30) + 8; k >= 0 && k < n && k != i && len(jobs[i].Fits) > 0 {
				coveredBy[k] = append(coveredBy[k], i)
			}
		}
		targets[i] = []int{i}
		if r.IntN(2) == 0 {
			targets[i] = append(targets[i], max(0, i-r.IntN(20)))
		}
	}
	seen := make([]int, n)
	round := 0
	reach := func(j int, fitted Set) (int, bool) {
		round++
		sum, ok := 0, true
		var visit func(x int)
		visit = func(x int) {
			for _, y := range coveredBy[x] {
				if y != j && fitted.has(y) && seen[y] != round {
					seen[y] = round
					sum += open[y]
					ok = ok && open[y] >= 0
					visit(y)
				}
			}
		}
		for _, x := range targets[j] {
			visit(x)
		}
		return sum, ok
	}
	// In the order of their numbers all jobs can be reached: what would be in the way and
	// can never be opened has an opening after all.
	before := make(Set, n/64+1)
	for j := range n {
		for i := 0; i < n; i++ {
			if _, ok := reach(j, before); ok {
				break
			}
			if before.has(i) && open[i] < 0 {
				open[i] = 25
			}
		}
		if len(jobs[j].Fits) > 0 {
			before[j/64] |= 1 << (j % 64)
		}
	}
	return reach
}

func BenchmarkFirstPlan(b *testing.B) {
	for _, jobs := range []int{160, 500, 1000, 2000, 5000} {
		b.Run(fmt.Sprint(jobs), func(b *testing.B) {
			p := van(1, jobs)
			for b.Loop() {
				if _, err := Find(context.Background(), p, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSchedules(b *testing.B) {
	for _, jobs := range []int{30, 160, 500, 1000, 2000, 5000} {
		b.Run(fmt.Sprint(jobs), func(b *testing.B) {
			p := van(1, jobs)
			m, err := newModel(&p)
			if err != nil {
				b.Fatal(err)
			}
			w, _ := m.heads()
			m.tails(w, m.bound(w))
			s := newSchedule(m)
			m.reach.hasty = false // as in a search
			list := m.listBy(func(j int) int64 { return int64(w[j].last) })
			s.run(list, nil)
			b.ReportAllocs()
			for b.Loop() {
				s.clear() // what stands as the list wants it would stay
				if s.run(list, nil).late > 0 {
					b.Fatal("no schedule")
				}
			}
		})
	}
}
