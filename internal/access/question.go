package access

import (
	"hash/maphash"
	"slices"
	"sync"

	"example.com/vanlog/internal/id"
)

// question is a query without what is fitted, prepared once and kept with its answers.
type question struct {
	places []id.Place // as asked
	items  []id.Item
	visits int

	rooms    []int32    // to be in
	covers   []int32    // to be open where they are fitted
	nowhere  []id.Place // asked for, but not in the van
	relevant Set        // the items whose being fitted can make a difference
	barred   Set        // the items that may not be opened: they shut a place that is asked for

	answers answers
}

// questions keeps every question that was asked.
type questions struct {
	seed maphash.Seed
	mu   sync.RWMutex
	by   map[uint64][]*question
}

func (qs *questions) init() {
	qs.seed = maphash.MakeSeed()
	qs.by = map[uint64][]*question{}
}

// find gives the question of q, prepared.
func (qs *questions) find(v *van, q Query) *question {
	key := qs.hash(q)
	qs.mu.RLock()
	ask := among(qs.by[key], q)
	qs.mu.RUnlock()
	if ask != nil {
		return ask
	}
	ask = newQuestion(v, q)
	qs.mu.Lock()
	defer qs.mu.Unlock()
	if have := among(qs.by[key], q); have != nil {
		return have
	}
	qs.by[key] = append(qs.by[key], ask)
	return ask
}

func (qs *questions) hash(q Query) uint64 {
	h := uint64(max(1, q.Visits))
	for _, p := range q.Places {
		h = h*0x9e3779b97f4a7c15 ^ maphash.String(qs.seed, string(p))
	}
	h = h*0x9e3779b97f4a7c15 + 1
	for _, i := range q.Items {
		h = h*0x9e3779b97f4a7c15 ^ maphash.String(qs.seed, string(i))
	}
	return h
}

func among(asks []*question, q Query) *question {
	for _, a := range asks {
		if a.visits == max(1, q.Visits) && slices.Equal(a.places, q.Places) && slices.Equal(a.items, q.Items) {
			return a
		}
	}
	return nil
}

func newQuestion(v *van, q Query) *question {
	ask := &question{places: slices.Clone(q.Places), items: slices.Clone(q.Items), visits: max(1, q.Visits)}
	for _, name := range q.Places {
		if at, ok := v.placeAt[name]; ok {
			ask.room(at)
		} else {
			ask.nowhere = append(ask.nowhere, name)
		}
	}
	for _, name := range q.Items {
		at, ok := v.itemAt[name]
		if !ok {
			continue
		}
		if p := v.items[at].place; p != none {
			ask.room(p)
		}
		for _, c := range v.items[at].covers {
			if !slices.Contains(ask.covers, c) {
				ask.covers = append(ask.covers, c)
			}
		}
	}
	ask.relevant = ask.reachBack(v)
	ask.barred = newSet(len(v.items))
	for i := range v.items {
		if slices.ContainsFunc(v.items[i].shutsPlaces, ask.inRoom) {
			ask.barred.add(int32(i))
		}
	}
	ask.answers.init(len(ask.relevant))
	return ask
}

func (ask *question) inRoom(p int32) bool { return slices.Contains(ask.rooms, p) }

func (ask *question) room(p int32) {
	if !ask.inRoom(p) {
		ask.rooms = append(ask.rooms, p)
	}
}

// reachBack gives the items that can matter, whatever is fitted: what covers the
// targets, what is on any way to them, what closes a place on the way, and what is in
// the way of opening those.
func (ask *question) reachBack(v *van) Set {
	b := backward{van: v, items: newSet(len(v.items)), opened: newSet(len(v.items)), seen: make([]bool, len(v.places))}
	for _, p := range ask.rooms {
		b.place(p)
	}
	b.open(ask.covers)
	for len(b.todo) > 0 {
		i := b.todo[len(b.todo)-1]
		b.todo = b.todo[:len(b.todo)-1]
		if p := v.items[i].place; p != none {
			b.place(p)
		}
		b.open(v.items[i].covers)
	}
	return b.items
}

// backward collects what can matter for some targets.
type backward struct {
	van    *van
	items  Set
	opened Set // those of items that may have to be opened
	seen   []bool
	todo   []int32 // items to be opened, whose own way is still to be looked at
}

func (b *backward) place(p int32) {
	if b.seen[p] {
		return
	}
	b.seen[p] = true
	for _, i := range b.van.places[p].closedBy {
		b.items.add(i)
	}
	for _, w := range b.van.places[p].ways {
		if w.from != none {
			b.place(w.from)
		}
		b.open(w.through)
	}
}

func (b *backward) open(items []int32) {
	for _, i := range items {
		b.items.add(i)
		if !b.opened.has(i) {
			b.opened.add(i)
			if b.van.items[i].opens {
				b.todo = append(b.todo, i)
			}
		}
	}
}
