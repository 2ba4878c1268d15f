package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"

	"example.com/vanlog/internal/units"
)

// over reports whether ctx has ended. Searches ask it often, so that it is the place to
// let others have the processor: on a machine with few of them a person's keys would wait.
func over(ctx context.Context) bool {
	runtime.Gosched()
	return ctx.Err() != nil
}

// search improves the best until ctx ends, or nothing can be better, or it has made
// as many schedules as it may.
func (f *finder) search(ctx context.Context, seed uint64, schedules int, prove bool) {
	if f.m.reach != nil {
		f.m.reach.hasty = false
	}
	b := newBreeding(f, rand.New(rand.NewPCG(seed, 1)))
	if f.m.plain() {
		f.breed(ctx, b, schedules, prove)
		return
	}
	some := min(schedules, 1000, breedJobs/len(f.m.jobs))
	schedules -= b.epoch(ctx, population(some), some)
	f.anneal(ctx, seed, schedules)
}

// breedJobs is how many jobs are placed in breeding before a list is annealed.
const breedJobs = 60_000

// breed breeds from one population after another, each larger than the one before. Where
// time is the limit it looks at the problem by branch and bound in between.
func (f *finder) breed(ctx context.Context, b *breeding, schedules int, prove bool) {
	var proofs []*proof
	if prove && len(f.m.jobs) <= puzzleJobs {
		proofs = f.proofs()
	}
	jobs := len(f.m.jobs)
	for some := 1000; !over(ctx) && !f.settled() && schedules > 0; some *= 4 {
		if schedules < 16*some && len(proofs) == 0 {
			some = schedules
		}
		schedules -= b.epoch(ctx, population(some), some)
		for _, p := range proofs {
			if !f.settled() && p.run(ctx, some*nodesEach/(jobs*jobs)) {
				return
			}
		}
	}
}

// anneal anneals the best list, time and again.
func (f *finder) anneal(ctx context.Context, seed uint64, schedules int) {
	a := annealing{finder: f, r: rand.New(rand.NewPCG(seed, 0)), s: newSchedule(f.m), t: newSchedule(f.m)}
	a.move = newMover(f.m, a.r)
	a.list = slices.Clone(f.list)
	a.trial = make([]int, len(a.list))
	a.least = f.m.leastWork()
	if len(f.m.jobs) <= narrowJobs {
		a.limits = newLimits(f.m.newNarrowing(f.w))
	}
	for round := 0; !over(ctx) && !f.settled() && schedules > 0; round++ {
		schedules -= a.round(ctx, round, schedules)
	}
}

// nodesEach is how many nodes are looked at for each schedule that is made, times the square
// of the number of jobs: large problems are seldom proven.
const nodesEach = 40_000

// population gives how many lists to breed from where so many schedules can be made.
func population(schedules int) int {
	return 2 * int(math.Sqrt(float64(schedules))/3.75+4)
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
func (f *finder) weigh(got score) float64 {
	return float64(got.late)*4 + float64(got.finish-f.m.p.Now) + float64(got.work)*weighWork + float64(got.broken)
}

// round walks once from hot to cold, or for most steps, and gives how many it made. The first
// is short and not so hot, for there may be little time. Many short rounds have found more
// than few long ones that begin hotter.
func (a *annealing) round(ctx context.Context, round, most int) int {
	n := len(a.list)
	steps, hot := 40*n, 100.0
	if round > 0 {
		steps, hot = 40*n<<min(round, 6), 200
	}
	const cold = 1.0
	copy(a.list, a.finder.list)
	a.take(a.list)
	for i := range steps {
		if i == most || over(ctx) || a.settled() {
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
