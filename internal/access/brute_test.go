package access_test

import (
	"cmp"
	"container/heap"
	"math/bits"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// brute finds the cheapest plan by going through the states of a van one by one: which
// items are open, which places have been entered once, which for the visits. It follows
// the build file's rules word for word and shares nothing with the solver. A van may
// have at most 64 items and 64 places.
type brute struct {
	places []access.Place
	items  []access.Item
	fitted map[id.Item]bool
	visits int
	rooms  uint64 // to be in
	covers uint64 // to be open
	atItem map[id.Item]int
	atRoom map[id.Place]int
	rank   []int         // of the items, in the order of their ids
	shun   []access.Step // a plan may not do all of these

	entries  []entry  // by which a state may be left
	openings []opened // the same
}

// entry is a way into a place, as bits.
type entry struct {
	room, from, through, shunned uint64 // from nothing: from outside
	cost                         access.Cost
}

// opened is an item to be opened, as bits.
type opened struct {
	item, room, covers, shunned uint64 // room nothing: always within reach
	shutsItems, shutsRooms      uint64
	rank                        int
	cost                        access.Cost
}

// state is what has been done: open items, places entered once and for the visits, and
// which of the steps that may not all be done.
type state struct{ open, once, visited, shunned uint64 }

// label is the best known way to a state: cost, then openings, then ids.
type label struct {
	cost   access.Cost
	opened uint64 // by rank of the item's id among all ids
	state  state
}

// compare orders labels as plans are ordered: of two that open equally many, the one
// with the first id in which they differ comes first.
func (l label) compare(o label) int {
	if by := cmp.Or(cmp.Compare(l.cost, o.cost), cmp.Compare(bits.OnesCount64(l.opened), bits.OnesCount64(o.opened))); by != 0 {
		return by
	}
	if l.opened == o.opened {
		return 0
	}
	if first := bits.TrailingZeros64(l.opened ^ o.opened); l.opened&(1<<first) != 0 {
		return -1
	}
	return 1
}

type frontier []label

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].compare(f[j]) < 0 }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(label)) }
func (f *frontier) Pop() any {
	last := (*f)[len(*f)-1]
	*f = (*f)[:len(*f)-1]
	return last
}

func newBrute(places []access.Place, items []access.Item, fitted []id.Item, visits int, rooms []id.Place, targets []id.Item) *brute {
	b := &brute{places: places, items: items, fitted: map[id.Item]bool{}, visits: max(1, visits),
		atItem: map[id.Item]int{}, atRoom: map[id.Place]int{}}
	for i, it := range items {
		b.atItem[it.ID] = i
	}
	b.rank = ranks(items)
	for i, p := range places {
		b.atRoom[p.ID] = i
	}
	for _, f := range fitted {
		b.fitted[f] = true
	}
	for _, r := range rooms {
		b.rooms |= 1 << b.atRoom[r]
	}
	for _, t := range targets {
		it := items[b.atItem[t]]
		if it.Place != "" {
			b.rooms |= 1 << b.atRoom[it.Place]
		}
		b.covers |= b.inTheWay(it.Covers)
	}
	return b
}

func ranks(items []access.Item) []int {
	rank := make([]int, len(items))
	for i := range items {
		for j := range items {
			if items[j].ID < items[i].ID {
				rank[i]++
			}
		}
	}
	return rank
}

// prepare turns the records into bits.
func (b *brute) prepare() {
	b.entries, b.openings = nil, nil
	for i, p := range b.places {
		for k, w := range b.waysInto(p) {
			e := entry{room: 1 << i, through: b.inTheWay(w.Through), cost: access.CostOf(w.EnterMin)}
			if w.From != "" {
				e.from = 1 << b.atRoom[w.From]
			}
			e.shunned = b.shunned(access.Step{Do: access.Enter, Place: p.ID, Way: b.wayNumber(p, k)})
			b.entries = append(b.entries, e)
		}
	}
	for i, it := range b.items {
		if b.fitted[it.ID] && it.Opening != nil {
			b.openings = append(b.openings, b.opening(i, it))
		}
	}
}

func (b *brute) opening(i int, it access.Item) opened {
	o := opened{item: 1 << i, covers: b.inTheWay(it.Covers), rank: b.rank[i],
		cost:    access.CostOf(it.Opening.OpenMin) + access.CostOf(it.Opening.RefitMin),
		shunned: b.shunned(access.Step{Do: access.Open, Item: it.ID})}
	if it.Place != "" {
		o.room = 1 << b.atRoom[it.Place]
	}
	for _, z := range it.Blocks {
		if at, ok := b.atItem[id.Item(z)]; ok && at != i {
			o.shutsItems |= 1 << at
		}
		if at, ok := b.atRoom[id.Place(z)]; ok && z != string(it.ID) {
			o.shutsRooms |= 1 << at
		}
	}
	return o
}

// inTheWay gives those of items that are fitted.
func (b *brute) inTheWay(items []id.Item) uint64 {
	set := uint64(0)
	for _, i := range items {
		if b.fitted[i] {
			set |= 1 << b.atItem[i]
		}
	}
	return set
}

// solve gives the first label at the goal, in the order of compare.
func (b *brute) solve() (label, bool) {
	b.prepare()
	best := map[state]label{{}: {}}
	todo := &frontier{{}}
	for todo.Len() > 0 {
		l := heap.Pop(todo).(label)
		if best[l.state] != l {
			continue
		}
		if b.done(l.state) && (b.shun == nil || l.state.shunned != 1<<len(b.shun)-1) {
			return l, true
		}
		for _, next := range b.next(l) {
			have, seen := best[next.state]
			if !seen || next.compare(have) < 0 {
				best[next.state] = next
				heap.Push(todo, next)
			}
		}
	}
	return label{}, false
}

func (b *brute) done(s state) bool {
	return b.rooms&^s.visited == 0 && b.covers&^s.open == 0
}

func (b *brute) waysInto(p access.Place) []access.Way {
	if b.isFree(p) {
		return []access.Way{{}}
	}
	return p.Ways
}

// isFree reports whether p is entered from outside, through nothing, for nothing.
func (b *brute) isFree(p access.Place) bool {
	floor := len(p.ClosedBy) > 0 && !slices.ContainsFunc(p.ClosedBy, func(i id.Item) bool { return b.fitted[i] })
	return floor || len(p.Ways) == 0 && !p.Shut
}

func (b *brute) wayNumber(p access.Place, k int) int {
	if b.isFree(p) {
		return 0
	}
	return k + 1
}

// shunned gives the bits of those steps to be shunned that do the same as s.
func (b *brute) shunned(s access.Step) uint64 {
	set := uint64(0)
	for i, o := range b.shun {
		if o.Do == s.Do && o.Item == s.Item && o.Place == s.Place && o.Way == s.Way {
			set |= 1 << i
		}
	}
	return set
}

func (b *brute) next(l label) []label {
	var out []label
	add := func(s state, cost access.Cost, opened uint64) {
		if b.allowed(s) {
			out = append(out, label{l.cost + cost, opened, s})
		}
	}
	for _, e := range b.entries {
		if e.through&^l.state.open != 0 {
			continue
		}
		here := l.state
		here.shunned |= e.shunned
		// What is entered already is not entered again; one visit is as good as once.
		if s := here; e.from&^s.visited == 0 && s.visited&e.room == 0 {
			s.visited |= e.room
			add(s, e.cost*access.Cost(b.visits), l.opened)
		}
		if s := here; b.visits > 1 && e.from&^(s.visited|s.once) == 0 && (s.visited|s.once)&e.room == 0 {
			s.once |= e.room
			add(s, e.cost, l.opened)
		}
	}
	for _, o := range b.openings {
		if s := l.state; s.open&o.item == 0 && o.covers&^s.open == 0 && o.room&^(s.visited|s.once) == 0 {
			s.open |= o.item
			s.shunned |= o.shunned
			add(s, o.cost, l.opened|1<<o.rank)
		}
	}
	return out
}

// allowed reports whether nothing in s is shut by what is open in s.
func (b *brute) allowed(s state) bool {
	for _, o := range b.openings {
		if s.open&o.item != 0 && (s.open&o.shutsItems != 0 || (s.once|s.visited)&o.shutsRooms != 0) {
			return false
		}
	}
	return true
}
