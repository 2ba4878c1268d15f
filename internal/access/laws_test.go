package access_test

import (
	"context"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// vans draws vans by drawing the seed they are made from.
var vans = rapid.Custom(func(t *rapid.T) small {
	return newSmall(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5)))
})

// What was asked before changes no answer: one solver asked about many sets of fitted
// items, each like the last but for a few, agrees with a new solver for each set.
func TestAskedBefore(t *testing.T) {
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 3))
		checkAskedBefore(t, seed, r, newSmall(r), 40)
	}
}

// The same where most things shut others out. In these vans a landmark handed on from one
// search to the next shows that a choice leads nowhere, without raising the bound.
func TestAskedBeforeTight(t *testing.T) {
	for _, seed := range []uint64{808, 1201, 1563, 2515, 2559, 3178, 3988, 4342, 4557, 4989} {
		r := rand.New(rand.NewPCG(seed, 33))
		checkAskedBefore(t, seed, r, newTight(r), 25)
	}
}

func checkAskedBefore(t *testing.T, seed uint64, r *rand.Rand, s small, times int) {
	t.Helper()
	old := access.NewSolver(s.places, s.items)
	q := s.query(old)
	for range times {
		fresh := access.NewSolver(s.places, s.items)
		want, found := fresh.Cost(q)
		if c, ok := old.Cost(q); c != want || ok != found {
			t.Fatalf("seed %d: Cost = %d, %v, a new solver says %d, %v; fitted %b of %+v", seed, c, ok, want, found, q.Fitted, s)
		}
		for range 1 + r.IntN(2) {
			q.Fitted[0] ^= 1 << r.IntN(len(s.items))
		}
	}
}

// Fitting one more item never makes anything cheaper, nor possible.
func TestMoreFittedNeverCheaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := vans.Draw(t, "van")
		v := access.NewSolver(s.places, s.items)
		q := s.query(v)
		before, ok := v.Cost(q)
		more := rapid.IntRange(0, len(s.items)-1).Draw(t, "item")
		q.Fitted = v.Set(append(slices.Clone(s.fitted), s.items[more].ID)...)
		if after, still := v.Cost(q); still && (!ok || after < before) {
			t.Errorf("Cost = %d, %v, with %s fitted %d", before, ok, s.items[more].ID, after)
		}
	})
}

// More visits never cost less, and no more than as many times as much.
func TestMoreVisits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := vans.Draw(t, "van")
		v := access.NewSolver(s.places, s.items)
		q := s.query(v)
		q.Visits = 1
		once, ok := v.Cost(q)
		q.Visits = rapid.IntRange(2, 9).Draw(t, "visits")
		often, still := v.Cost(q)
		if ok != still || often < once || often > once*access.Cost(q.Visits) {
			t.Errorf("once %d, %v, %d times %d, %v", once, ok, q.Visits, often, still)
		}
	})
}

// The same question gets the same plan, from any solver of the same van, and whatever the
// order in which the van's records stand: then at least as to what is opened and paid.
func TestSameAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := vans.Draw(t, "van")
		first, err := planOf(s)
		again, errAgain := planOf(s)
		if !reflect.DeepEqual(first, again) || !reflect.DeepEqual(err, errAgain) {
			t.Errorf("once %+v, %v, then %+v, %v", first, err, again, errAgain)
		}
		turned := s
		turned.items, turned.places = slices.Clone(s.items), slices.Clone(s.places)
		slices.Reverse(turned.items)
		slices.Reverse(turned.places)
		other, err := planOf(turned)
		if err == nil && (other.Cost != first.Cost || s.brute().opened(other) != s.brute().opened(first)) {
			t.Errorf("with the records turned round %+v, not %+v", other, first)
		}
	})
}

func planOf(s small) (access.Plan, error) {
	v := access.NewSolver(s.places, s.items)
	return v.Plan(context.Background(), s.query(v))
}

// A step is marked as no way round just where there is no way without opening that item, or
// without entering that place: quarrels aside, which the mark may leave out.
func TestNoWayRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := vans.Draw(t, "van")
		p, err := planOf(s)
		if err != nil {
			return
		}
		quarrels := slices.ContainsFunc(s.items, func(it access.Item) bool { return len(it.Blocks) > 0 })
		for _, step := range p.Steps {
			if step.Do == access.At {
				continue
			}
			needed := !s.without(step.Item, step.Place).reachable()
			if step.NoWayRound && !needed || !step.NoWayRound && needed && !quarrels {
				t.Errorf("no way round %s%s: %v, but needed: %v", step.Place, step.Item, step.NoWayRound, needed)
			}
		}
	})
}

// without gives s with an item that cannot be opened, or a place that cannot be entered.
func (s small) without(item id.Item, place id.Place) small {
	s.places = slices.Clone(s.places)
	for i := range s.places {
		if s.places[i].ID == place {
			s.places[i] = access.Place{ID: place, Shut: true}
		}
	}
	s.items = slices.Clone(s.items)
	for i := range s.items {
		if s.items[i].ID == item {
			s.items[i].Opening = nil
		}
	}
	return s
}

func (s small) reachable() bool {
	_, ok := s.brute().solve()
	return ok
}

// Burials agree with asking for each item by itself.
func TestBurials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := vans.Draw(t, "van")
		v := access.NewSolver(s.places, s.items)
		var want []access.Burial
		for _, it := range s.items {
			others := slices.DeleteFunc(slices.Clone(s.fitted), func(f id.Item) bool { return f == it.ID })
			q := s.query(v)
			q.Fitted = v.Set(others...)
			without, ok := v.Cost(q)
			q.Fitted = v.Set(append(others, it.ID)...)
			with, still := v.Cost(q)
			if ok && (!still || with > without) {
				want = append(want, access.Burial{Item: it.ID, Without: without, With: with, ForGood: !still})
			}
		}
		if got := access.NewSolver(s.places, s.items).Burials(s.query(v)); !slices.Equal(got, want) {
			t.Errorf("Burials = %+v, want %+v", got, want)
		}
	})
}

// One solver may be asked by several goroutines at once.
func TestAskedAtOnce(t *testing.T) {
	v := newVanLike(1, 60, 20)
	shared := access.NewSolver(v.places, v.items)
	var all sync.WaitGroup
	for seed := range uint64(4) {
		all.Go(func() {
			r := rand.New(rand.NewPCG(seed, 6))
			own := access.NewSolver(v.places, v.items)
			for range 150 {
				fitted := access.Set{r.Uint64() | r.Uint64()}
				q := v.jobs[r.IntN(len(v.jobs))].query(fitted)
				c, ok := shared.Cost(q)
				if want, found := own.Cost(q); c != want || ok != found {
					t.Errorf("Cost = %d, %v, alone %d, %v", c, ok, want, found)
				}
			}
		})
	}
	all.Wait()
}

// In larger vans, built like real ones, the plan can be done step by step and costs what
// the cost says, though the two are searched for in different ways; and it is proven.
func TestVanLike(t *testing.T) {
	for seed := range uint64(60) {
		v := newVanLike(seed, 60, 20)
		s := access.NewSolver(v.places, v.items)
		for k, j := range v.jobs {
			fitted := s.All()
			if k%2 == 1 {
				fitted[0] &= rand.New(rand.NewPCG(seed, 7)).Uint64()
			}
			c, ok := s.Cost(j.query(fitted))
			p, err := s.Plan(context.Background(), j.query(fitted))
			if ok != (err == nil) || p.Cost != c || ok && !p.Proven {
				t.Fatalf("seed %d job %d: Plan = %d, proven %v, %v, Cost = %d, %v", seed, k, p.Cost, p.Proven, err, c, ok)
			}
			if ok {
				replay(t, small{places: v.places, items: v.items, rooms: j.places, targets: j.items, visits: j.visits, fitted: listed(v.items, fitted)}, p)
			}
		}
	}
}

func listed(items []access.Item, set access.Set) []id.Item {
	var out []id.Item
	for i, it := range items {
		if set[i/64]&(1<<(i%64)) != 0 {
			out = append(out, it.ID)
		}
	}
	return out
}

// A set holds the items that are named and that the van has.
func TestSet(t *testing.T) {
	v := newVanLike(0, 70, 0)
	s := access.NewSolver(v.places, v.items)
	if all := s.All(); !slices.Equal(listed(v.items, all), names(v.items)) || len(all) != 2 {
		t.Errorf("All() = %b", all)
	}
	some := s.Set("item-003", "anchor", "item-065", "item-003")
	if got, want := listed(v.items, some), []id.Item{"item-003", "item-065"}; !slices.Equal(got, want) {
		t.Errorf("Set holds %v, want %v", got, want)
	}
	// A set too short holds nothing of what it has no word for.
	job := access.Query{Items: names(v.items), Fitted: access.Set{}}
	empty, ok := s.Cost(job)
	job.Fitted = nil
	if c, still := s.Cost(job); c != empty || ok != still {
		t.Errorf("nothing fitted costs %d or %d", c, empty)
	}
}
