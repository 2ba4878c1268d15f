package access_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// newHostile makes a van that nobody would build: items behind each other in loops and named
// twice, ways from each place to any other, much for nothing, and each item shutting up
// to so many others out.
func newHostile(r *rand.Rand, items, places, shuts int) vanLike {
	item := func() id.Item { return id.Item(fmt.Sprintf("item-%03d", r.IntN(items))) }
	room := func() id.Place { return id.Place(fmt.Sprintf("room-%02d", r.IntN(places))) }
	minutes := func() float64 { return float64(max(0, r.IntN(12)-6)) / 2 }
	var v vanLike
	for i := range places {
		p := access.Place{ID: id.Place(fmt.Sprintf("room-%02d", i))}
		for k := range 3 {
			w := access.Way{From: room(), Through: []id.Item{item()}, EnterMin: minutes()}
			if k == 0 && r.IntN(4) == 0 {
				w.From = ""
			}
			p.Ways = append(p.Ways, w)
		}
		v.places = append(v.places, p)
	}
	for i := range items {
		it := panel(id.Item(fmt.Sprintf("item-%03d", i)), "", minutes(), minutes())
		if r.IntN(3) == 0 {
			it.Place = room()
		}
		for range max(0, r.IntN(5)-3) {
			it.Covers = append(it.Covers, item(), item())
			it.Covers = append(it.Covers, it.Covers[0])
		}
		it.Covers = slices.DeleteFunc(it.Covers, func(c id.Item) bool { return c == it.ID })
		for range r.IntN(shuts + 1) {
			z := string(item())
			if r.IntN(5) == 0 {
				z = string(room())
			}
			if z != string(it.ID) && z != string(it.Place) {
				it.Blocks = append(it.Blocks, z)
			}
		}
		v.items = append(v.items, it)
	}
	v.jobs = []job{{places: []id.Place{room(), room()}, items: []id.Item{item()}, visits: 1 + r.IntN(3)}, {places: []id.Place{room()}, visits: 1}}
	return v
}

// Vans that nobody would build get the optimiser's answers as well.
func TestHostile(t *testing.T) {
	vans := 150
	if *many {
		vans = 3000
	}
	var n tally
	for seed := range uint64(vans) {
		r := rand.New(rand.NewPCG(seed, 13))
		v := newHostile(r, 20+r.IntN(25), 4+r.IntN(6), int(seed%3)*2)
		for _, j := range v.jobs {
			n.compare(t, v, j, everything(v.items), time.Minute)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d questions, %d of them with no way, %d with one for nothing, %d left out", n.all, n.none, n.free, n.late)
	if n.all-n.none-n.free < n.all/4 || n.none < n.all/10 || n.late > n.all/10 {
		t.Errorf("the vans are not much of a test")
	}
}

// Three hundred items in one place, the last behind all the others one after the other, each of
// which shuts every place but this one: everything is opened, in that order.
func TestOneBox(t *testing.T) {
	places := []access.Place{{ID: "box", Ways: []access.Way{through("", 0.5)}}, {ID: "shelf"}}
	var items []access.Item
	for i := range 300 {
		it := blocking(panel(id.Item(fmt.Sprintf("item-%03d", i)), "box", 0.5, 0.5), "shelf")
		if i > 0 {
			it.Covers = []id.Item{items[i-1].ID, items[i-1].ID}
		}
		items = append(items, it)
	}
	s := access.NewSolver(places, items)
	q := access.Query{Items: []id.Item{"item-299"}, Visits: 2, Fitted: s.All()}
	p, err := s.Plan(context.Background(), q)
	if err != nil || p.Cost != 300*access.Minute || !p.Proven || len(p.Steps) != 301 {
		t.Fatalf("Plan = %v, %d steps, %v, want 1 + 299", p.Cost.Minutes(), len(p.Steps), err)
	}
	for i, step := range p.Steps[1:300] {
		if step.Item != items[i].ID || !step.NoWayRound {
			t.Errorf("step %d is %+v", i+1, step)
		}
	}
	if again, ok, err := s.Second(context.Background(), q, p); ok || err != nil {
		t.Errorf("Second = %v, %v, want none", again.Cost.Minutes(), err)
	}
	q.Places = []id.Place{"shelf"}
	if c, ok := s.Cost(q); ok {
		t.Errorf("with the shelf Cost = %v", c.Minutes())
	}
}

// A search for a cost that is broken off says so, and what it gives is never too low; where
// none was broken off nothing is said.
func TestUnproven(t *testing.T) {
	places, items := tangle(20)
	s := access.NewSolver(places, items)
	q := access.Query{Places: []id.Place{"end"}, Fitted: s.All()}
	exact, ok := s.Cost(q)
	if p, err := s.Plan(context.Background(), q); !ok || err != nil || p.Cost != exact || s.Unproven() != 0 {
		t.Errorf("Cost = %v, %v, %d unproven, Plan = %v, %v", exact.Minutes(), ok, s.Unproven(), p.Cost.Minutes(), err)
	}
	s = access.NewSolver(places, items)
	s.SetPatience(1)
	c, ok := s.Cost(q)
	if !ok || s.Unproven() != 1 {
		t.Errorf("Cost = %v, %v, %d unproven, want one", c.Minutes(), ok, s.Unproven())
	}
	s.Cost(q)
	if s.Unproven() != 1 {
		t.Errorf("asked again %d are unproven", s.Unproven())
	}
	if c < exact {
		t.Errorf("Cost = %v, less than %v", c.Minutes(), exact.Minutes())
	}
}

// That there is no way is said only with proof, whatever the patience.
func TestNoWayIsProven(t *testing.T) {
	for seed := range uint64(300) {
		s := newTight(rand.New(rand.NewPCG(seed, 15)))
		v, hasty := access.NewSolver(s.places, s.items), access.NewSolver(s.places, s.items)
		hasty.SetPatience(0)
		want, ok := v.Cost(s.query(v))
		if c, found := hasty.Cost(s.query(hasty)); found != ok || c < want || c > want && hasty.Unproven() == 0 {
			t.Fatalf("seed %d: Cost = %v, %v, want %v, %v", seed, c, found, want, ok)
		}
	}
}

// The same hostile van made again gets the same plan, step by step.
func TestHostileSameAgain(t *testing.T) {
	for seed := range uint64(60) {
		v := newHostile(rand.New(rand.NewPCG(seed, 14)), 40, 10, 3)
		for _, j := range v.jobs {
			var plans []access.Plan
			for range 3 {
				s := access.NewSolver(v.places, v.items)
				p, _ := s.Plan(context.Background(), j.query(s.All()))
				plans = append(plans, p)
			}
			if !reflect.DeepEqual(plans[0], plans[1]) || !reflect.DeepEqual(plans[0], plans[2]) {
				t.Errorf("seed %d: plans %v", seed, plans)
			}
		}
	}
}
