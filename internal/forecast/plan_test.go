package forecast

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
	"pgregory.net/rapid"
)

// planned puts p, all of it as likely, to package plan.
func planned(p Problem, there []units.Instant) plan.Problem {
	out := plan.Problem{Now: p.Now}
	for _, r := range p.Resources {
		out.Resources = append(out.Resources, plan.Resource{ID: r.ID, Capacity: r.Capacity, Hours: calendar.Compile(nil).Of()})
	}
	for j, job := range p.Jobs {
		k := plan.Job{ID: job.ID, Minutes: int(job.Minutes.Likely) + job.Extra, Hours: job.Hours, Release: job.Release,
			Cure: job.Cure, Holds: job.Holds}
		for _, u := range job.Uses {
			k.Uses = append(k.Uses, plan.Use(u))
		}
		for _, i := range job.Parts {
			k.Release = max(k.Release, there[i])
		}
		for _, l := range job.After {
			out.Edges = append(out.Edges, plan.Edge{Before: l.Job, After: j, Lag: l.Lag})
		}
		out.Jobs = append(out.Jobs, k)
	}
	return out
}

// inOrder gives p in the order of a plan.
func inOrder(p Problem, rows []plan.Row) Problem {
	at := make([]int, len(rows))
	for i, row := range rows {
		at[row.Job] = i
	}
	out := p
	out.Jobs = nil
	for _, row := range rows {
		job := p.Jobs[row.Job]
		after := job.After
		job.After = nil
		for _, l := range after {
			job.After = append(job.After, Link{at[l.Job], l.Lag})
		}
		out.Jobs = append(out.Jobs, job)
	}
	return out
}

// TestThePlanIsKept: lived through as likely, a plan of package plan comes out as it was planned, or jobs start
// sooner where it had them wait for nothing; a plan that is proven cannot end sooner.
func TestThePlanIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		p := newWorld(r, shape{jobs: 2 + r.IntN(10), many: r.IntN(2) == 0})
		for j := range p.Jobs {
			p.Jobs[j].Extra += 15 // no job of no length: it could stand beside one it waits for
		}
		o := Options{GoOn: r.IntN(2) == 0}
		n, err := newNetwork(&p, &o)
		if err != nil {
			t.Fatal(err)
		}
		likely := newLuck(n, thing{})
		likely.likely()
		s, err := plan.Find(context.Background(), planned(p, likely.there), plan.Options{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		ordered := inOrder(p, s.Rows)
		if n, err = newNetwork(&ordered, &o); err != nil {
			t.Fatal(err)
		}
		l, luck := newLife(n), newLuck(n, thing{})
		luck.likely()
		l.run(luck.minutes, luck.there)
		for i, row := range s.Rows {
			if l.start[i] > row.Start || l.finish[i] > row.Finish || l.cured[i] > row.CureEnd {
				t.Fatalf("%s starts at %v, planned %v (goOn %v)", ordered.Jobs[i].ID, l.start[i], row.Start, o.GoOn)
			}
		}
		if _, end := l.end(); s.Proven && end != s.Finish {
			t.Fatalf("ends at %v, planned and proven %v", end, s.Finish)
		}
	})
}

// TestCuresStayAhead: two people, one room. The helper's glue holds the room from 10:00 to 10:00 of the next day, and
// the builder's hour in it comes after that. Where the glueing takes longer the builder would fit in
// before it cures; but he keeps to the order.
func TestCuresStayAhead(t *testing.T) {
	always := calendar.Compile(nil).Of()
	p := Problem{Now: monday, Resources: []Resource{{"builder", 1}, {"helper", 1}, {"inside", 1}}, Jobs: []Job{
		{ID: "glue", Minutes: units.Estimate{Low: 120, Likely: 120, High: 600}, Hours: always, Release: monday, Uses: []Use{{1, 1}},
			Cure: calendar.Cure{Minutes: 24 * 60}, Holds: []int{2}},
		{ID: "saw", Minutes: units.Sure(90), Hours: always, Release: monday, Uses: []Use{{0, 1}}},
		{ID: "fit", Minutes: units.Sure(60), Hours: always, Release: monday, Uses: []Use{{0, 1}, {2, 1}}},
	}}
	r := run(t, p, Options{Samples: 400})
	if first := instantOf("2026-03-03T11:00"); r.Finishes[0] < first {
		t.Errorf("the first of the lives ends at %v, want none before %v", r.Finishes[0], first)
	}
	if r.Jobs[0].Criticality != 1 || r.Jobs[1].Criticality != 0 {
		t.Errorf("criticality %+v, want 1 for the glue and 0 for the sawing", r.Jobs)
	}
}

// TestGoingOn: the helper comes on Tuesdays until ten. When the job before it takes longer than that, whoever keeps
// to the order idles for a week; whoever goes on does the next job meanwhile.
func TestGoingOn(t *testing.T) {
	cal := calendar.Compile([]calendar.Resource{calendar.DefaultBuilder(), {ID: "helper", Hours: &calendar.Week{1: {{From: 480, To: 600}}}}})
	p := Problem{Now: monday, Resources: []Resource{{"builder", 1}, {"helper", 1}}, Jobs: []Job{
		{ID: "first", Minutes: units.Sure(650), Hours: cal.Of("builder"), Release: monday, Uses: []Use{{0, 1}}},
		{ID: "lift", Minutes: units.Sure(60), Hours: cal.Of("builder", "helper"), Release: monday, Uses: []Use{{0, 1}, {1, 1}}},
		{ID: "next", Minutes: units.Sure(600), Hours: cal.Of("builder"), Release: monday, Uses: []Use{{0, 1}}},
	}}
	for goOn, want := range map[bool]string{false: "2026-03-11T11:00", true: "2026-03-10T09:00"} {
		if got := run(t, p, Options{Samples: 2, GoOn: goOn}).P50.String(); got != want {
			t.Errorf("goOn %v: done at %s, want %s", goOn, got, want)
		}
	}
}
