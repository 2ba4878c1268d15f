package plan

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// clockRound makes a tiny problem that branch and bound can work on: round the clock, with
// releases, cures, lags, deadlines and resources of several units.
func clockRound(r *rand.Rand, jobs int) Problem {
	cal := calendar.Compile(nil)
	p := Problem{Now: instantOf(worldNow), Owed: make([]int, jobs)}
	for range 2 {
		p.Resources = append(p.Resources, Resource{Capacity: 1 + r.IntN(3), Hours: cal.Of()})
	}
	for i := range jobs {
		j := Job{Minutes: r.IntN(4), Release: p.Now, Hours: cal.Of()}
		for n, there := range p.Resources {
			j.Uses = append(j.Uses, Use{n, r.IntN(there.Capacity + 1)})
		}
		switch r.IntN(6) {
		case 0:
			j.Release += units.Instant(r.IntN(4))
		case 1:
			j.Cure.Minutes = r.IntN(4)
		case 2:
			due := p.Now + units.Instant(4+r.IntN(8))
			j.Deadline = &due
		}
		p.Jobs = append(p.Jobs, j)
		for k := range i {
			e := Edge{Before: k, After: i}
			if r.IntN(2) == 0 {
				lag := r.IntN(4)
				e.Lag = &lag
			}
			if r.IntN(4) == 0 {
				p.Edges = append(p.Edges, e)
			}
		}
	}
	return p
}

// Branch and bound, with time as it is and with time running backward, ends at the finish
// of the best of all schedules, every job at every minute. It is stopped after every few
// nodes and taken up again.
func TestBranchingAgainstEverySchedule(t *testing.T) {
	deep, backward := 0, 0
	for seed := range share(1500) {
		p := clockRound(rand.New(rand.NewPCG(uint64(seed), 21)), 5+seed%3)
		want, found := bestOrder(&p)
		m, err := newModel(&p)
		if err != nil || !found {
			continue
		}
		if !m.plain() {
			t.Fatalf("problem %d is no puzzle", seed)
		}
		puzzles := []*puzzle{m.puzzle()}
		if q, ok := puzzles[0].mirrored(m.topo); ok {
			puzzles = append(puzzles, q)
			backward++
		}
		for i, q := range puzzles {
			b := newBranching(q, far)
			for rounds := 0; !b.run(context.Background(), 2); rounds++ {
				deep = max(deep, rounds)
			}
			if m.instant(b.best) != want.finish {
				t.Errorf("problem %d, direction %d: %v, but the best finish is %v", seed, i, m.instant(b.best), want.finish)
			}
		}
	}
	if deep < 5 || backward < share(300) {
		t.Errorf("the problems are too easy: at most %d rounds, %d backward", deep, backward)
	}
}
