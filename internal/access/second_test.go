package access_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// The second-best way equals exhaustive search for the cheapest plan that does not do all
// that the best one does, in vans at random and in vans where most things shut others out.
func TestSecondEqualsExhaustiveSearch(t *testing.T) {
	n := 200
	if *many {
		n = 10_000
	}
	kinds := map[string]int{}
	for seed := range uint64(n) {
		checkSecond(t, newSmall(rand.New(rand.NewPCG(seed, 8))), kinds)
		checkSecond(t, newTight(rand.New(rand.NewPCG(seed, 9))), kinds)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("second-best ways: %v", kinds)
	for _, kind := range []string{"none", "dearer", "tied", "another way into the same places", "visits", "quarrels"} {
		if kinds[kind] < n/100 {
			t.Errorf("only %d of %d vans are of the kind %q", kinds[kind], 2*n, kind)
		}
	}
}

func checkSecond(t *testing.T, s small, kinds map[string]int) {
	t.Helper()
	v := access.NewSolver(s.places, s.items)
	best, err := v.Plan(context.Background(), s.query(v))
	if err != nil {
		return
	}
	b := s.brute()
	b.shun = moves(best)
	want, ok := b.solve()
	p, found, err := v.Second(context.Background(), s.query(v), best)
	if err != nil || found != ok {
		t.Errorf("Second = %v, %v, want %v; %+v", found, err, ok, s)
		return
	}
	kinds[kindOf(s, best, p, found)]++
	if !found {
		return
	}
	if p.Cost != want.cost || p.Bound != want.cost || !p.Proven || s.brute().opened(p) != want.opened {
		t.Errorf("Second = %d, bound %d, proven %v, opens %b, want %d, %b; %+v", p.Cost, p.Bound, p.Proven,
			s.brute().opened(p), want.cost, want.opened, s)
	}
	if all := moves(p); !slices.ContainsFunc(b.shun, func(m access.Step) bool { return !slices.Contains(all, m) }) {
		t.Errorf("the second way %v does all that the best one does: %v", words(p), words(best))
	}
	checkMarks(t, s, p)
	replay(t, s, p)
	if s.visits > 1 {
		kinds["visits"]++
	}
	if c, ok := access.NewSolver(s.places, peaceful(s.items)).Cost(s.query(v)); !ok || c != best.Cost {
		kinds["quarrels"]++
	}
}

// moves gives the moves of a plan: openings, and entries each by its way.
func moves(p access.Plan) []access.Step {
	var all []access.Step
	for _, s := range p.Steps {
		if s.Do != access.At {
			all = append(all, access.Step{Do: s.Do, Place: s.Place, Item: s.Item, Way: s.Way})
		}
	}
	return append([]access.Step{}, once(all)...)
}

func kindOf(s small, best, second access.Plan, found bool) string {
	switch {
	case !found:
		return "none"
	case second.Cost > best.Cost:
		return "dearer"
	case s.brute().opened(second) == s.brute().opened(best):
		return "another way into the same places"
	}
	return "tied"
}

// checkMarks checks that what a plan marks as no way round cannot be done without.
func checkMarks(t *testing.T, s small, p access.Plan) {
	t.Helper()
	for _, step := range p.Steps {
		if step.NoWayRound && s.without(step.Item, step.Place).reachable() {
			t.Errorf("there is a way round %s%s; %+v", step.Place, step.Item, s)
		}
	}
}

// The tank bay of the wagon is reached by the locker for 6.5 and by the kickboard for 9.
func TestSecondWay(t *testing.T) {
	places, items := wagon()
	s := access.NewSolver(places, items)
	for _, tt := range []struct {
		name    string
		query   access.Query
		want    float64 // less than 0: no other way
		steps   string
		without []id.Item // not fitted
	}{
		{name: "by the other side", query: access.Query{Places: []id.Place{"tank-bay"}}, want: 9,
			steps: "enter aisle*, open kickboard, enter tank-bay*, at tank-bay"},
		// 8.5 by the locker; by the kickboard 7, in 2, guard 2.
		{name: "what both need stays marked", query: access.Query{Items: []id.Item{"pump"}}, want: 11,
			steps: "enter aisle*, open kickboard, enter tank-bay*, open pump-guard*, at pump"},
		{name: "only one way", query: access.Query{Places: []id.Place{"locker"}}, want: -1},
		{name: "open floor", query: access.Query{Places: []id.Place{"tank-bay"}}, without: []id.Item{"bench"}, want: -1},
		{name: "nothing to do", query: access.Query{Items: []id.Item{"tray"}}, want: -1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.query.Fitted = s.Set(slices.DeleteFunc(names(items), func(i id.Item) bool { return slices.Contains(tt.without, i) })...)
			best, err := s.Plan(context.Background(), tt.query)
			if err != nil {
				t.Fatal(err)
			}
			p, ok, err := s.Second(context.Background(), tt.query, best)
			if err != nil || ok != (tt.want >= 0) || ok && (p.Cost != access.CostOf(tt.want) || words(p) != tt.steps) {
				t.Errorf("Second = %v min, %s, %v, %v, want %v, %s", p.Cost.Minutes(), words(p), ok, err, tt.want, tt.steps)
			}
			if again, err := s.Plan(context.Background(), tt.query); err != nil || words(again) != words(best) {
				t.Errorf("afterwards Plan = %s, %v, before %s", words(again), err, words(best))
			}
		})
	}
}

// Two ways into the bay alike but for the panel that is not fitted yet: the second stands
// open as well, and costs the same.
func TestSecondByTheSameDoor(t *testing.T) {
	places := []access.Place{{ID: "bay", Ways: []access.Way{through("gone", 1), through("", 1, "left"), through("", 1, "right")}}}
	s := access.NewSolver(places, []access.Item{panel("left", "", 1, 1), panel("right", "", 1, 1)})
	q := access.Query{Places: []id.Place{"bay"}}
	best, err := s.Plan(context.Background(), q)
	if err != nil || best.Steps[0].Way != 2 {
		t.Fatalf("Plan = %+v, %v", best, err)
	}
	p, ok, err := s.Second(context.Background(), q, best)
	if err != nil || !ok || p.Cost != access.Minute || p.Steps[0].Way != 3 {
		t.Errorf("Second = %+v, %v, %v", p, ok, err)
	}
}

// A best plan with a step that the van does not know leaves every plan as one without it;
// to a place that the van does not have there is no second way either.
func TestSecondOfAnotherVan(t *testing.T) {
	places, items := wagon()
	s := access.NewSolver(places, items)
	q := access.Query{Places: []id.Place{"tank-bay"}, Fitted: s.All()}
	for _, step := range []access.Step{{Do: access.Open, Item: "anchor"}, {Do: access.Enter, Place: "attic"}, {Do: access.Enter, Place: "locker", Way: 7}} {
		p, ok, err := s.Second(context.Background(), q, access.Plan{Steps: []access.Step{step}})
		if err != nil || !ok || p.Cost != access.CostOf(6.5) {
			t.Errorf("without %+v: Second = %v, %v, %v, want 6.5", step, p.Cost.Minutes(), ok, err)
		}
	}
	q.Places = []id.Place{"attic"}
	if p, ok, err := s.Second(context.Background(), q, access.Plan{}); ok || err != nil {
		t.Errorf("Second = %+v, %v, %v, want nothing", p, ok, err)
	}
}

// A context that ends gives the best second way found by then, with a bound that holds, or
// its own error; never that there is none.
func TestSecondContextEnds(t *testing.T) {
	places, items := tangle(60)
	s := access.NewSolver(places, items)
	q := access.Query{Places: []id.Place{"end"}, Fitted: s.All()}
	for _, after := range []time.Duration{-time.Second, 50 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), after)
		best := access.Plan{Steps: []access.Step{{Do: access.Open, Item: items[0].ID}, {Do: access.Open, Item: items[4].ID}}}
		p, ok, err := s.Second(ctx, q, best)
		cancel()
		switch {
		case err != nil && !errors.Is(err, context.DeadlineExceeded):
			t.Errorf("%v: %v", after, err)
		case err == nil && ok && (p.Bound > p.Cost || p.Proven != (p.Bound == p.Cost)):
			t.Errorf("%v: cost %d, bound %d, proven %v", after, p.Cost, p.Bound, p.Proven)
		case err == nil && ok:
			checkTangle(t, items, p)
		case err == nil:
			t.Errorf("%v: no second way", after)
		}
	}
}
