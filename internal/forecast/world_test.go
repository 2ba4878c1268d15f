package forecast

import (
	"fmt"
	"math/rand/v2"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// monday is a Monday, 08:00.
var monday = instantOf("2026-03-02T08:00")

func instantOf(s string) units.Instant {
	at, err := units.ParseInstant(s)
	if err != nil {
		panic(err)
	}
	return at
}

// kind of a random problem.
type shape struct {
	jobs  int
	many  bool // some resources have more than one unit
	cures bool // some cures hold resources
}

const (
	builder = iota
	helper
	inside
	warm
)

var names = []id.Resource{"builder", "helper", "inside", "warm"}

// newWorld makes a small problem like a van's: a builder with days of work, a helper on
// some of them, the inside of the van day and night, and warm hours.
func newWorld(r *rand.Rand, s shape) Problem {
	pick := func(from ...int) int { return from[r.IntN(len(from))] }
	cal := calendar.Compile([]calendar.Resource{calendar.DefaultBuilder(), {ID: "inside"},
		{ID: "helper", Hours: &calendar.Week{0: {{From: 600, To: 780}}, 2: {{From: 480, To: 720}, {From: 840, To: 1080}}, 5: {{From: 540, To: 780}}}},
		{ID: "warm", Hours: &calendar.Week{{{From: 540, To: 1080}}, {{From: 420, To: 720}}, {}, {{From: 480, To: 1080}}, {{From: 480, To: 1080}}}}})
	p := Problem{Now: monday}
	for i, name := range names {
		p.Resources = append(p.Resources, Resource{ID: name, Capacity: 1})
		if s.many && i <= inside {
			p.Resources[i].Capacity = pick(1, 1, 2)
		}
	}
	for i := range 1 + r.IntN(2) {
		low := r.IntN(4)
		part := Part{ID: id.Part(fmt.Sprint("p", i)), Ordered: monday.Date() - units.Date(r.IntN(4)),
			Lead: units.Estimate{Low: float64(low), Likely: float64(low + r.IntN(3)), High: float64(low + 2 + r.IntN(5))}}
		if r.IntN(3) == 0 {
			due := monday.Date() + units.Date(r.IntN(6)-3)
			part.Due = &due
		}
		p.Parts = append(p.Parts, part)
	}
	for j := range s.jobs {
		p.Jobs = append(p.Jobs, newWorldJob(r, cal, s, len(p.Parts), j))
	}
	overlap(r, &p)
	return p
}

// overlap lets some jobs start before those that they wait for have finished, but none before
// those have started.
func overlap(r *rand.Rand, p *Problem) {
	for j := range p.Jobs {
		for i, l := range p.Jobs[j].After {
			if r.IntN(4) == 0 {
				lag := -int(p.Jobs[l.Job].Minutes.Low)
				p.Jobs[j].After[i].Lag = &lag
			}
		}
	}
}

func newWorldJob(r *rand.Rand, cal *calendar.Calendars, s shape, parts, j int) Job {
	uses := [][]int{{builder}, {builder}, {builder, inside}, {builder, helper}, {helper, inside}, {builder, warm}, {}}[r.IntN(7)]
	likely := float64(r.IntN(9) * 30)
	job := Job{ID: id.Task(fmt.Sprint("t", j)), Release: monday, Extra: r.IntN(2) * 15,
		Trade:   []string{"", "water", "walls"}[r.IntN(3)],
		Minutes: units.Estimate{Low: likely * .75, Likely: likely, High: likely * (1 + r.Float64())}}
	var named []id.Resource
	for _, u := range uses {
		job.Uses, named = append(job.Uses, Use{u, 1}), append(named, names[u])
	}
	job.Hours = cal.Of(named...)
	for k := range j {
		if r.IntN(2+s.jobs) < 2 {
			l := Link{Job: k}
			if r.IntN(3) == 0 {
				lag := r.IntN(40) * 60
				l.Lag = &lag
			}
			job.After = append(job.After, l)
		}
	}
	if r.IntN(4) == 0 {
		job.Parts = []int{r.IntN(parts)}
	}
	if r.IntN(4) == 0 {
		job.Release += units.Instant(r.IntN(60)) * units.Hour
	}
	if r.IntN(3) == 0 {
		job.Cure.Minutes = r.IntN(30) * 60
		if r.IntN(2) == 0 {
			job.Cure.While = cal.Of("warm")
		}
		if s.cures && r.IntN(2) == 0 {
			job.Holds = []int{r.IntN(3)}
		}
	}
	return job
}

// chainOf makes jobs that follow each other on the clock, with nothing else in the way.
func chainOf(ranges ...units.Estimate) Problem {
	p := Problem{Now: monday}
	for j, e := range ranges {
		job := Job{ID: id.Task(fmt.Sprint("t", j)), Minutes: e, Hours: calendar.Compile(nil).Of(), Release: monday}
		if j > 0 {
			job.After = []Link{{Job: j - 1}}
		}
		p.Jobs = append(p.Jobs, job)
	}
	return p
}
