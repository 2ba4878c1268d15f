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
	rooms  map[id.Place]bool // to be in
	covers map[id.Item]bool  // to be open
	atItem map[id.Item]int
	atRoom map[id.Place]int
	rank   []int // of the items, in the order of their ids
}

type state struct{ open, once, visited uint64 }

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
		rooms: map[id.Place]bool{}, covers: map[id.Item]bool{}, atItem: map[id.Item]int{}, atRoom: map[id.Place]int{}}
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
		b.rooms[r] = true
	}
	for _, t := range targets {
		it := items[b.atItem[t]]
		if it.Place != "" {
			b.rooms[it.Place] = true
		}
		for _, c := range it.Covers {
			if b.fitted[c] {
				b.covers[c] = true
			}
		}
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

// solve gives the first label at the goal, in the order of compare.
func (b *brute) solve() (label, bool) {
	best := map[state]label{{}: {}}
	todo := &frontier{{}}
	for todo.Len() > 0 {
		l := heap.Pop(todo).(label)
		if best[l.state] != l {
			continue
		}
		if b.done(l.state) {
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
	for r := range b.rooms {
		if s.visited&(1<<b.atRoom[r]) == 0 {
			return false
		}
	}
	for c := range b.covers {
		if s.open&(1<<b.atItem[c]) == 0 {
			return false
		}
	}
	return true
}

func (b *brute) waysInto(p access.Place) []access.Way {
	floor := len(p.ClosedBy) > 0 && !slices.ContainsFunc(p.ClosedBy, func(i id.Item) bool { return b.fitted[i] })
	if floor || len(p.Ways) == 0 && !p.Shut {
		return []access.Way{{}}
	}
	return p.Ways
}

func (b *brute) next(l label) []label {
	var out []label
	add := func(s state, cost access.Cost, opened uint64) {
		if b.allowed(s) {
			out = append(out, label{l.cost + cost, opened, s})
		}
	}
	for i, p := range b.places {
		for _, w := range b.waysInto(p) {
			if !b.areOpen(w.Through, l.state) {
				continue
			}
			bit, cost := uint64(1)<<i, access.CostOf(w.EnterMin)
			if w.From == "" || l.state.visited&(1<<b.atRoom[w.From]) != 0 {
				s := l.state
				s.visited |= bit
				add(s, cost*access.Cost(b.visits), l.opened)
			}
			if w.From == "" || (l.state.visited|l.state.once)&(1<<b.atRoom[w.From]) != 0 {
				s := l.state
				s.once |= bit
				add(s, cost, l.opened)
			}
		}
	}
	for i, it := range b.items {
		bit := uint64(1) << i
		if !b.fitted[it.ID] || it.Opening == nil || l.state.open&bit != 0 || !b.areOpen(it.Covers, l.state) ||
			it.Place != "" && (l.state.visited|l.state.once)&(1<<b.atRoom[it.Place]) == 0 {
			continue
		}
		s := l.state
		s.open |= bit
		add(s, access.CostOf(it.Opening.OpenMin)+access.CostOf(it.Opening.RefitMin), l.opened|1<<b.rank[i])
	}
	return out
}

func (b *brute) areOpen(items []id.Item, s state) bool {
	return !slices.ContainsFunc(items, func(i id.Item) bool { return b.fitted[i] && s.open&(1<<b.atItem[i]) == 0 })
}

// allowed reports whether nothing in s is shut by what is open in s.
func (b *brute) allowed(s state) bool {
	for i, it := range b.items {
		if s.open&(1<<i) == 0 {
			continue
		}
		for _, z := range it.Blocks {
			if at, ok := b.atItem[id.Item(z)]; ok && at != i && s.open&(1<<at) != 0 {
				return false
			}
			if at, ok := b.atRoom[id.Place(z)]; ok && z != string(it.ID) && (s.once|s.visited)&(1<<at) != 0 {
				return false
			}
		}
	}
	return true
}
