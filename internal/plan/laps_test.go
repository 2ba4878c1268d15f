package plan

import (
	"math/rand/v2"
	"testing"
)

// lapping gives a tiny problem in which lags may be less than nothing: the second job may
// start before the first has finished.
func lapping(r *rand.Rand, jobs int, whole bool) (p Problem, laps bool) {
	p = tiny(r, jobs, whole)
	for i := range p.Edges {
		if e := &p.Edges[i]; !e.Should && r.IntN(2) == 0 {
			lag := -1 - r.IntN(3)
			e.Lag, laps = &lag, true
		}
	}
	return p, laps
}

// With lags less than nothing what Find gives is true by the clock, and no worse than the best
// order of placing; no schedule, every job at every minute, finishes before its bound.
func TestLagsLessThanNothing(t *testing.T) {
	seen, worse := 0, 0
	for seed := range share(1600) {
		p, laps := lapping(rand.New(rand.NewPCG(uint64(seed), 81)), 3, seed%3 == 0)
		if !laps {
			continue
		}
		seen++
		s := findTiny(t, seed, p)
		if order, found := bestOrder(&p); found && (s.Rows == nil || s.score().compare(order.score()) > 0) {
			t.Errorf("problem %d: Find gives %+v, but there is %+v", seed, s.score(), order)
		}
		best, found := bestOfAll(&p, 14)
		if !found || s.Rows == nil {
			continue
		}
		if s.Bound > best.finish || s.Proven && s.Finish > best.finish {
			t.Errorf("problem %d: bound %v, proven %v, but there is a finish at %v", seed, s.Bound, s.Proven, best.finish)
		}
		if s.score().compare(best.score()) > 0 {
			worse++
		}
	}
	if seen < share(200) {
		t.Errorf("only %d problems have such a lag", seen)
	}
	t.Logf("%d of %d have a better schedule that no order of placing gives", worse, seen)
}
