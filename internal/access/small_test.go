package access_test

import (
	"fmt"
	"math/rand/v2"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// small is a question about a small van, made at random without regard to sense, so that
// loops, dead ends, free ways and quarrels come about.
type small struct {
	places  []access.Place
	items   []access.Item
	rooms   []id.Place
	targets []id.Item
	fitted  []id.Item
	visits  int
	even    bool // everything costs the same, so that there are many ties
	tame    bool // things are mostly behind later ones, so that there mostly is a way
}

func newSmall(r *rand.Rand) small {
	s := small{visits: 1 + r.IntN(4)}
	places, items := 1+r.IntN(6), 1+r.IntN(14)
	clean := r.IntN(3) == 0 // no quarrels
	s.tame, s.even = r.IntN(5) > 0, r.IntN(3) == 0
	for i := range places {
		s.places = append(s.places, s.place(r, i, places, items))
	}
	for i := range items {
		s.items = append(s.items, s.item(r, i, places, items, clean))
	}
	deep := 1 // how much targets tend to the deep end, where numbers are low
	if s.tame {
		deep = 2
	}
	if r.IntN(3) > 0 {
		s.rooms = append(s.rooms, s.places[r.IntN(places)/deep].ID)
	}
	for range r.IntN(4) {
		s.targets = append(s.targets, s.items[r.IntN(items)/deep].ID)
	}
	odds := []int{1, 2, 5, 20}[r.IntN(4)]
	for i := range items {
		if r.IntN(odds+1) > 0 {
			s.fitted = append(s.fitted, s.items[i].ID)
		}
	}
	return s
}

// name makes item names, not in order; some places are called like an item.
func name(i int) string { return fmt.Sprintf("x%02d", i*5%16) }

func roomName(i int) id.Place {
	if i%4 == 3 {
		return id.Place(name(i))
	}
	return id.Place(fmt.Sprintf("room%d", i))
}

func (s *small) someItems(r *rand.Rand, from, most, items int) []id.Item {
	var out []id.Item
	for range r.IntN(most + 1) {
		i := r.IntN(items)
		if s.tame && r.IntN(12) > 0 {
			i = min(items-1, from+1+r.IntN(5))
		}
		if i != from {
			out = append(out, id.Item(name(i)))
		}
	}
	return out
}

// minutes are often equal, often nothing.
func (s *small) minutes(r *rand.Rand) float64 {
	if s.even {
		return 1
	}
	return float64(max(0, r.IntN(8)-2)) / 2
}

func (s *small) place(r *rand.Rand, i, places, items int) access.Place {
	p := access.Place{ID: roomName(i)}
	ways := r.IntN(4)
	if s.tame {
		ways = 1 + r.IntN(3)
	}
	for range ways {
		w := access.Way{Through: s.someItems(r, items/2-1, 2, items), EnterMin: s.minutes(r)}
		from := r.IntN(places + 1)
		if s.tame {
			from = i + 1 + r.IntN(3)
		}
		if from < places {
			w.From = roomName(from)
		}
		p.Ways = append(p.Ways, w)
	}
	if r.IntN(4) == 0 {
		p.ClosedBy = s.someItems(r, -1, 2, items)
	}
	p.Shut = len(p.Ways) == 0 && r.IntN(4) == 0
	return p
}

func (s *small) item(r *rand.Rand, i, places, items int, clean bool) access.Item {
	it := access.Item{ID: id.Item(name(i)), Covers: s.someItems(r, i, 2, items)}
	at := r.IntN(places + 1)
	if s.tame {
		at = i*places/items + r.IntN(2)
	}
	if at < places {
		it.Place = roomName(at)
	}
	if r.IntN(24) > 0 {
		it.Opening = &access.Opening{OpenMin: s.minutes(r), RefitMin: s.minutes(r)}
	}
	for range max(0, r.IntN(6)-3) {
		z := string(roomName(r.IntN(places)))
		if r.IntN(3) > 0 {
			z = name(r.IntN(items))
		}
		if !clean && z != string(it.Place) {
			it.Blocks = append(it.Blocks, z)
		}
	}
	return it
}

func (s *small) query(v *access.Solver) access.Query {
	return access.Query{Places: s.rooms, Items: s.targets, Visits: s.visits, Fitted: v.Set(s.fitted...)}
}

func (s *small) brute() *brute {
	return newBrute(s.places, s.items, s.fitted, s.visits, s.rooms, s.targets)
}

// newTight makes a small van with two or three ways into each place, in which most items shut
// something out while they are open, so that it matters which ways go together.
func newTight(r *rand.Rand) small {
	s := small{visits: 1 + r.IntN(3), tame: true, even: r.IntN(4) == 0}
	places, items := 2+r.IntN(5), 6+r.IntN(9)
	for i := range places {
		p := access.Place{ID: roomName(i)}
		for range 2 + r.IntN(2) {
			w := access.Way{Through: []id.Item{id.Item(name(r.IntN(items)))}, EnterMin: s.minutes(r)}
			if from := i + 1 + r.IntN(2); from < places {
				w.From = roomName(from)
			}
			p.Ways = append(p.Ways, w)
		}
		s.places = append(s.places, p)
	}
	for i := range items {
		s.items = append(s.items, s.tightItem(r, i, places, items))
		s.fitted = append(s.fitted, s.items[i].ID)
	}
	s.rooms = append(s.rooms, s.places[r.IntN(places)/2].ID)
	for range r.IntN(2) {
		s.targets = append(s.targets, s.items[r.IntN(items)].ID)
	}
	return s
}

func (s *small) tightItem(r *rand.Rand, i, places, items int) access.Item {
	it := access.Item{ID: id.Item(name(i)), Opening: &access.Opening{OpenMin: s.minutes(r), RefitMin: s.minutes(r)}}
	if r.IntN(3) == 0 {
		it.Place = roomName(i * places / items)
	}
	if r.IntN(4) == 0 {
		it.Covers = s.someItems(r, i, 1, items)
	}
	for range r.IntN(4) {
		z := name(r.IntN(items))
		if r.IntN(5) == 0 {
			z = string(roomName(r.IntN(places)))
		}
		if z != string(it.Place) {
			it.Blocks = append(it.Blocks, z)
		}
	}
	return it
}
