package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// search improves the best until ctx ends, or nothing can be better, or it has made
// as many schedules as it may.
func (f *finder) search(ctx context.Context, seed uint64, schedules int) {
	if f.m.reach != nil {
		f.m.reach.hasty = false
	}
	a := annealing{finder: f, r: rand.New(rand.NewPCG(seed, 0)), s: newSchedule(f.m), t: newSchedule(f.m)}
	a.move = newMover(f.m, a.r)
	a.list = slices.Clone(f.list)
	a.trial = make([]int, len(a.list))
	for round := 0; ctx.Err() == nil && !f.settled() && schedules > 0; round++ {
		schedules -= a.round(ctx, round)
	}
}

// annealing walks from list to list: to a better one always, to a worse one the
// more seldom the worse it is and the later it is in the round.
type annealing struct {
	*finder
	r      *rand.Rand
	move   *mover
	list   []int // where the walk is
	s      *schedule
	energy float64
	trial  []int // a neighbour
	t      *schedule
}

// weigh gives a schedule in one number: minutes on the clock, and minutes of work as
// what they come to on the clock where one resource is always at work.
func (a *annealing) weigh(got score) float64 {
	return float64(got.late)*4 + float64(got.finish-a.m.p.Now) + float64(got.work)*1.5 + float64(got.broken)
}

// round walks once from hot to cold, and gives how many schedules it made.
func (a *annealing) round(ctx context.Context, round int) int {
	n := len(a.list)
	steps := 40 * n << min(round, 6)
	hot, cold := 240.0, 4.0
	copy(a.list, a.finder.list)
	a.take(a.list)
	for i := range steps {
		if ctx.Err() != nil || a.settled() {
			return i
		}
		heat := hot * math.Pow(cold/hot, float64(i)/float64(steps))
		a.step(heat)
	}
	return steps
}

// take runs list, and makes the walk go on from it.
func (a *annealing) take(list []int) {
	a.energy = a.weigh(a.attempt(a.s, list))
	copy(a.list, list)
	a.move.look(a.s, a.list)
}

func (a *annealing) step(heat float64) {
	copy(a.trial, a.list)
	a.move.change(a.s, a.trial)
	energy := a.weigh(a.attempt(a.t, a.trial))
	if energy <= a.energy || a.r.Float64() < math.Exp((a.energy-energy)/heat) {
		a.energy = energy
		a.list, a.trial, a.s, a.t = a.trial, a.list, a.t, a.s
		a.move.look(a.s, a.list)
	}
}
