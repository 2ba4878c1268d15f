package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"example.com/vanlog/internal/units"
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
	a.least = f.m.leastWork()
	if len(f.m.jobs) <= narrowJobs {
		a.limits = newLimits(f.m.newNarrowing(f.w))
	}
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
	limits *limits // nil in a problem too large for them
	least  int     // minutes of work in any order
}

// weighWork is what a minute of work counts beside a minute of the finish.
const weighWork = 1.5

// weigh gives a schedule in one number: minutes on the clock, and minutes of work as
// what they come to on the clock where one resource is always at work.
func (a *annealing) weigh(got score) float64 {
	return float64(got.late)*4 + float64(got.finish-a.m.p.Now) + float64(got.work)*weighWork + float64(got.broken)
}

// round walks once from hot to cold, and gives how many schedules it made. The first is
// short and not so hot, for there may be little time; the others begin hot enough to
// leave a valley a few days deep.
func (a *annealing) round(ctx context.Context, round int) int {
	n := len(a.list)
	steps, hot := 40*n, 240.0
	if round > 0 {
		steps, hot = 150*n<<min(round, 6), 800
	}
	const cold = 4.0
	copy(a.list, a.finder.list)
	a.take(a.list)
	for i := range steps {
		if ctx.Err() != nil || a.settled() {
			return i
		}
		a.step(hot * math.Pow(cold/hot, float64(i)/float64(steps)))
	}
	return steps
}

// take runs list, and makes the walk go on from it.
func (a *annealing) take(list []int) {
	a.energy = a.weigh(a.attempt(a.s, list, nil))
	copy(a.list, list)
	a.move.look(a.s, a.list)
}

// latest gives the latest start of each job in a schedule that weighs no more than
// limit; false where there is none.
func (a *annealing) latest(limit float64) ([]units.Instant, bool) {
	if a.limits == nil || limit > float64(noPlace) {
		return nil, true
	}
	end := limit - weighWork*float64(a.least)
	latest := a.limits.by(a.m.p.Now + units.Instant(end))
	return latest, latest != nil
}

func (a *annealing) step(heat float64) {
	copy(a.trial, a.list)
	a.move.change(a.s, a.trial)
	limit := a.energy + heat*a.r.ExpFloat64()
	latest, ok := a.latest(limit)
	if !ok {
		return
	}
	if energy := a.weigh(a.attempt(a.t, a.trial, latest)); energy <= limit {
		a.energy = energy
		a.list, a.trial, a.s, a.t = a.trial, a.list, a.t, a.s
		a.move.look(a.s, a.list)
	}
}
