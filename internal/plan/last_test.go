package plan

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/vanlog/internal/units"
)

// An order that was found is given back as it is where nothing has changed, whatever made it.
func TestUnchangedProblemGivesUnchangedOrder(t *testing.T) {
	for seed := range uint64(6) {
		p := van(seed, 50)
		for _, o := range []Options{{}, {Schedules: 300}, {Schedules: 2000, Seed: seed}} {
			found, err := Find(context.Background(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			again, err := Find(context.Background(), p, Options{Last: found.Rows})
			if err != nil || !slices.Equal(found.Rows, again.Rows) {
				t.Errorf("van %d: finish %v, then %v, %v", seed, found.Finish, again.Finish, err)
			}
			if again.Bound > again.Finish {
				t.Errorf("van %d: bound %v after %v", seed, again.Bound, again.Finish)
			}
		}
	}
}

// After a change the search begins with the last order: it is never worse than what that
// order comes to, and valid, with a job that is new, one that comes later, and one that is gone.
func TestReplanningBeginsWithTheLastOrder(t *testing.T) {
	for seed := range uint64(8) {
		p := van(seed, 50)
		found, err := Find(context.Background(), p, Options{Schedules: 1500})
		if err != nil {
			t.Fatal(err)
		}
		changed := p
		changed.Jobs = slices.Clone(p.Jobs)
		r := rand.New(rand.NewPCG(seed, 71))
		changed.Jobs[r.IntN(50)].Release += units.Instant(r.IntN(20)) * units.Day
		changed.Jobs[r.IntN(50)].Minutes += 60
		without := slices.DeleteFunc(slices.Clone(found.Rows), func(r Row) bool { return r.Job%17 == 3 })
		for _, last := range [][]Row{found.Rows, without} {
			s, err := Find(context.Background(), changed, Options{Last: last})
			if err != nil {
				t.Fatal(err)
			}
			valid(t, &changed, s)
			if order := placed(t, &changed, last); order.late == 0 && s.score().compare(order) > 0 {
				t.Errorf("van %d: %+v, but the last order comes to %+v", seed, s.score(), order)
			}
		}
	}
}

// placed gives what placing the jobs in the order of rows comes to, and those that are not in
// it after them.
func placed(t *testing.T, p *Problem, rows []Row) score {
	t.Helper()
	f := finderOf(t, p)
	rank := map[int]int64{}
	for _, r := range rows {
		rank[r.Job] = int64(r.Start)
	}
	list := f.m.listBy(func(j int) int64 {
		if at, ok := rank[j]; ok {
			return at
		}
		return int64(never)
	})
	return newSchedule(f.m).run(list, nil)
}

// pin holds a job in its place, as a person does by hand.
type pin struct {
	job   int
	after []int         // jobs that have finished when it starts
	from  units.Instant // it starts no sooner
}

// pinned gives p with the pins as edges and releases.
func pinned(p Problem, pins ...pin) Problem {
	p.Jobs, p.Edges = slices.Clone(p.Jobs), slices.Clone(p.Edges)
	for _, pin := range pins {
		job := &p.Jobs[pin.job]
		job.Release = max(job.Release, pin.from)
		for _, k := range pin.after {
			p.Edges = append(p.Edges, Edge{Before: k, After: pin.job, Lag: new(int)})
		}
	}
	return p
}

// Pins are kept: jobs after others, and not before a time. The bound is of what keeps them.
func TestPinsAreKept(t *testing.T) {
	for seed := range uint64(10) {
		p := van(seed, 40)
		free, err := Find(context.Background(), p, Options{Schedules: 500})
		if err != nil {
			t.Fatal(err)
		}
		// Two neighbours change places, and one waits for a week.
		rows := free.Rows
		first, second := rows[20].Job, rows[21].Job
		from := rows[25].Start + 7*units.Day
		held := pinned(p, pin{job: first, after: []int{second}}, pin{job: rows[25].Job, from: from})
		s, err := Find(context.Background(), held, Options{Schedules: 500})
		var none *NoSequenceError
		if errors.As(err, &none) {
			continue // a must edge says the contrary
		}
		if err != nil {
			t.Fatal(err)
		}
		at := make([]Row, len(p.Jobs))
		for _, r := range s.Rows {
			at[r.Job] = r
		}
		if at[first].Start < at[second].Finish || at[rows[25].Job].Start < from {
			t.Errorf("van %d: %v starts before %v, or %v before %v", seed, at[first], at[second], at[rows[25].Job], from)
		}
		valid(t, &p, s)
		again, err := Find(context.Background(), held, Options{Last: s.Rows})
		if err != nil || !slices.Equal(again.Rows, s.Rows) {
			t.Errorf("van %d: the pinned order is not given back: %v", seed, err)
		}
	}
}

// Pins that contradict each other are refused, and the job is named.
func TestPinsInALoop(t *testing.T) {
	p := clockRound(rand.New(rand.NewPCG(5, 72)), 6)
	_, err := Find(context.Background(), pinned(p, pin{job: 0, after: []int{3}}, pin{job: 3, after: []int{0}}), Options{})
	var none *NoSequenceError
	if !errors.As(err, &none) || !none.Sure || none.Job != 0 && none.Job != 3 && len(p.Jobs[none.Job].ID) > 0 {
		t.Errorf("two jobs each after the other: %v", err)
	}
}

// A search that is cancelled gives what it has: at least the first plan.
func TestCancelledSearchGivesTheFirstPlan(t *testing.T) {
	p := van(2, 60)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s, err := Find(ctx, p, Options{Schedules: 1 << 30})
	if err != nil {
		t.Fatal(err)
	}
	valid(t, &p, s)
	told := 0
	running, stop := context.WithCancel(context.Background())
	defer stop()
	s, err = Find(running, p, Options{Schedules: 1 << 30, Better: func(Sequence) {
		if told++; told == 3 {
			stop()
		}
	}})
	if err != nil || told < 3 {
		t.Fatalf("told %d times, %v", told, err)
	}
	valid(t, &p, s)
}
