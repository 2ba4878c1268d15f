package plan

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/vanlog/internal/units"
)

// finderOf gives a search of p with its first plan.
func finderOf(t *testing.T, p *Problem) *finder {
	t.Helper()
	m, err := newModel(p)
	if err != nil {
		t.Fatal(err)
	}
	w, err := m.heads()
	if err != nil {
		t.Fatal(err)
	}
	f := &finder{m: m, w: w, bound: m.bound(w)}
	f.first()
	return f
}

// inOrder reports whether list holds every job once, each after what must come before it.
func inOrder(m *model, list []int) bool {
	at := make([]int, len(m.jobs))
	for j := range at {
		at[j] = slices.Index(list, j)
		if at[j] < 0 {
			return false
		}
	}
	for j := range m.jobs {
		for _, l := range m.jobs[j].before {
			if at[l.job] > at[j] {
				return false
			}
		}
	}
	return len(list) == len(m.jobs)
}

// All that breeding makes is lists that can be placed: the sample, the children, what has
// changed by chance, and the order after justification.
func TestBreedingKeepsLists(t *testing.T) {
	for seed := range uint64(20) {
		p := van(seed, 40)
		b := newBreeding(finderOf(t, &p), rand.New(rand.NewPCG(seed, 0)))
		b.populate(12)
		for round := range 5 {
			for i := 0; i+1 < len(b.alive); i += 2 {
				b.pair(i)
			}
			for _, x := range slices.Concat(b.alive, b.born) {
				if !inOrder(b.m, x.list) {
					t.Fatalf("van %d, round %d: %v is no order", seed, round, x.list)
				}
			}
			b.choose(12)
			if !slices.IsSortedFunc(b.alive[:1], func(x, y being) int { return int(x.weight - y.weight) }) {
				t.Fatal("the best does not come first")
			}
		}
	}
}

// A child has what lies outside the two points from its first parent's order, and what lies
// between in the order of the other: worked by hand.
func TestCross(t *testing.T) {
	b := breeding{taken: make([]bool, 6)}
	child := make([]int, 6)
	b.cross([]int{0, 1, 2, 3, 4, 5}, []int{5, 4, 3, 2, 1, 0}, child, 2, 4)
	if want := []int{0, 1, 5, 4, 2, 3}; !slices.Equal(child, want) {
		t.Errorf("the child is %v, want %v", child, want)
	}
}

// What lives on is the best of all, and no schedule twice as long as there are others.
func TestChoose(t *testing.T) {
	b := breeding{alive: []being{{weight: 5, starts: 1}, {weight: 3, starts: 2}}}
	b.born = []being{{weight: 3, starts: 2}, {weight: 9, starts: 4}}
	b.choose(2)
	if b.alive[0].weight != 3 || b.alive[1].weight != 5 {
		t.Errorf("%+v live on, want those that weigh 3 and 5", b.alive)
	}
}

// Without calendars, and where no order changes lengths, double justification never finishes
// later than the schedule that it begins with (Valls, Ballestín and Quintanilla 2005).
func TestJustificationIsNeverLater(t *testing.T) {
	sooner := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 61))
		p := clockRound(r, 12)
		for j := range p.Jobs {
			p.Jobs[j].Deadline = nil
		}
		f := finderOf(t, &p)
		s, back, list := newSchedule(f.m), newSchedule(f.m), make([]int, len(p.Jobs))
		f.m.sample(r, f.w, list)
		before := s.run(list, nil)
		if !s.justify(back, list) {
			t.Fatalf("problem %d: a job finds no later place", seed)
		}
		for j := range p.Jobs {
			if back.start[j] < s.start[j] {
				t.Fatalf("problem %d: job %d goes back from %v to %v", seed, j, s.start[j], back.start[j])
			}
		}
		if !inOrder(f.m, list) {
			t.Fatalf("problem %d: %v is no order", seed, list)
		}
		after := newSchedule(f.m).run(list, nil)
		if after.finish > before.finish {
			t.Errorf("problem %d: %v after justification, %v before", seed, after.finish, before.finish)
		}
		if after.finish < before.finish {
			sooner++
		}
	}
	if sooner < 20 {
		t.Errorf("only %d of 400 finish sooner: justification does nothing", sooner)
	}
}

// A search that a number of schedules ends gives the same on every run; another seed is free
// to differ, but not to be wrong.
func TestScheduleLimitIsRepeatable(t *testing.T) {
	plain := clockRound(rand.New(rand.NewPCG(1, 62)), 30)
	for j := range plain.Jobs {
		plain.Jobs[j].Deadline = nil
	}
	for _, p := range []Problem{van(3, 40), plain} {
		first, err := Find(context.Background(), p, Options{Schedules: 700, Seed: 4})
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			again, err := Find(context.Background(), p, Options{Schedules: 700, Seed: 4})
			if err != nil || !slices.Equal(first.Rows, again.Rows) {
				t.Fatalf("another run gives %v %v, %v, not %v %v", again.Finish, again.Work, err, first.Finish, first.Work)
			}
		}
		valid(t, &p, first)
	}
}

// valid holds s against all rules.
func valid(t *testing.T, p *Problem, s Sequence) {
	t.Helper()
	start, finish := make([]units.Instant, len(p.Jobs)), make([]units.Instant, len(p.Jobs))
	for _, r := range s.Rows {
		start[r.Job], finish[r.Job] = r.Start, r.Finish
	}
	found, err := evaluate(p, start, finish)
	if err != nil || found.score() != s.score() || s.Bound > s.Finish {
		t.Fatalf("%v; %+v, not %+v; bound %v", err, found.score(), s.score(), s.Bound)
	}
}
