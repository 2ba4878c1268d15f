package forecast

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// van makes a problem like the conversion of a van by one builder with some help: see its like in package plan.
func van(jobs int) Problem {
	r := rand.New(rand.NewPCG(1, 1))
	builder := calendar.DefaultBuilder()
	builder.Hours[5] = []calendar.Span{{From: 540, To: 780}}
	middays := []calendar.Span{{From: 600, To: 1080}}
	cal := calendar.Compile([]calendar.Resource{builder, {ID: "inside"},
		{ID: "helper", Hours: &calendar.Week{2: {{From: 840, To: 1020}}, 5: {{From: 540, To: 780}}}},
		{ID: "warm", Hours: &calendar.Week{middays, middays, middays, middays, middays}}})
	p := Problem{Now: monday}
	for _, name := range names {
		p.Resources = append(p.Resources, Resource{ID: name, Capacity: 1})
	}
	for i := range jobs / 10 {
		p.Parts = append(p.Parts, Part{ID: id.Part(fmt.Sprint("p", i)), Ordered: monday.Date(),
			Lead: units.Estimate{Low: 3, Likely: float64(10 + r.IntN(20)), High: 60}})
	}
	for j := range jobs {
		likely := float64(60 * (1 + r.IntN(8)))
		job := Job{ID: id.Task(fmt.Sprint("t", j)), Trade: fmt.Sprint("trade", j/20), Extra: r.IntN(10), Release: monday,
			Minutes: units.Estimate{Low: likely * (.5 + .1*float64(r.IntN(5))), Likely: likely,
				High: likely * (1.4 + .2*float64(r.IntN(5)))},
			Uses: []Use{{0, 1}}, Hours: cal.Of("builder")}
		switch r.IntN(10) {
		case 0:
			job.Uses, job.Hours = append(job.Uses, Use{helper, 1}), cal.Of("builder", "helper")
		case 1:
			job.Uses, job.Hours = append(job.Uses, Use{warm, 1}), cal.Of("builder", "warm")
		case 2, 3, 4, 5:
			job.Uses = append(job.Uses, Use{inside, 1})
		}
		for range min(j, r.IntN(3)) {
			job.After = append(job.After, Link{Job: max(0, j-1-r.IntN(20))})
		}
		if r.IntN(6) == 0 {
			job.Cure.Minutes = 60 * (4 + r.IntN(45))
			if r.IntN(4) == 0 {
				job.Holds = []int{inside}
			}
		}
		if r.IntN(8) == 0 {
			job.Parts = []int{min(j*len(p.Parts)/jobs, len(p.Parts)-1)}
		}
		p.Jobs = append(p.Jobs, job)
	}
	return p
}

// BenchmarkRun: one operation is 10,000 lives of 160 jobs.
func BenchmarkRun(b *testing.B) {
	for _, goOn := range []bool{false, true} {
		for _, movers := range []int{0, 10} {
			b.Run(fmt.Sprintf("goOn=%v/movers=%d", goOn, movers), func(b *testing.B) {
				p := van(160)
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Run(context.Background(), p, Options{Seed: 1, Alike: UsualAlike, GoOn: goOn, Movers: movers}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkLife: one operation is one life of 160 jobs, with its draw.
func BenchmarkLife(b *testing.B) {
	for _, goOn := range []bool{false, true} {
		b.Run(fmt.Sprintf("goOn=%v", goOn), func(b *testing.B) {
			p := van(160)
			n, err := newNetwork(&p, &Options{Alike: UsualAlike, GoOn: goOn})
			if err != nil {
				b.Fatal(err)
			}
			luck, l := newLuck(n, thing{}), newLife(n)
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				luck.draw(1, i)
				l.run(luck.minutes, luck.there)
				i++
			}
		})
	}
}
