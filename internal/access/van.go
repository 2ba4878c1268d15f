package access

import (
	"slices"

	"example.com/vanlog/internal/id"
)

// van is the places and items of a Solver by number instead of by name.
type van struct {
	places  []place
	items   []item
	placeAt map[id.Place]int32
	itemAt  map[id.Item]int32
}

// none stands where there is no place: outside, or always within reach.
const none int32 = -1

type place struct {
	id       id.Place
	ways     []way
	closedBy []int32
	known    bool // false: only named by others
	free     bool // entered from outside for nothing
}

type way struct {
	from    int32
	through []int32
	enter   Cost
	number  int // among the ways that the place was given with, from 1
}

type item struct {
	id          id.Item
	place       int32
	covers      []int32
	opens       bool
	open, refit Cost
	shutsPlaces []int32 // these may not be entered while it is open
	shutsItems  []int32 // these may not be open while it is
}

func newVan(places []Place, items []Item) *van {
	v := &van{placeAt: map[id.Place]int32{}, itemAt: map[id.Item]int32{}}
	for _, p := range places {
		v.placeAt[p.ID] = int32(len(v.places))
		v.places = append(v.places, place{id: p.ID, known: true, free: len(p.Ways) == 0 && !p.Shut})
	}
	for i, it := range items {
		v.itemAt[it.ID] = int32(i)
	}
	for i, p := range places {
		v.places[i].closedBy = v.numbers(p.ClosedBy)
		if len(p.ClosedBy) > 0 && len(v.places[i].closedBy) == 0 {
			v.places[i].free = true // nothing that is here can close it
			continue
		}
		v.places[i].ways = v.waysOf(int32(i), p)
	}
	for _, it := range items {
		v.items = append(v.items, v.itemOf(it))
	}
	return v
}

// waysOf gives the ways into p that can be gone: not those through an item that the
// van does not have, nor from a place that it does not have or from p itself.
func (v *van) waysOf(self int32, p Place) []way {
	var ways []way
	for i, w := range p.Ways {
		from := none
		if w.From != "" {
			at, ok := v.placeAt[w.From]
			if !ok || at == self {
				continue
			}
			from = at
		}
		if through := v.numbers(w.Through); len(through) == distinct(w.Through) {
			ways = append(ways, way{from: from, through: through, enter: CostOf(w.EnterMin), number: i + 1})
		}
	}
	return ways
}

func (v *van) itemOf(it Item) item {
	out := item{id: it.ID, place: none, covers: v.numbers(it.Covers)}
	if it.Place != "" {
		out.place = v.placeNamed(it.Place)
	}
	if o := it.Opening; o != nil {
		out.opens, out.open, out.refit = true, CostOf(o.OpenMin), CostOf(o.RefitMin)
	}
	for _, name := range it.Blocks {
		if name == string(it.ID) {
			continue
		}
		if at, ok := v.itemAt[id.Item(name)]; ok {
			out.shutsItems = append(out.shutsItems, at)
		}
		if at, ok := v.placeAt[id.Place(name)]; ok { // one name can be both
			out.shutsPlaces = append(out.shutsPlaces, at)
		}
	}
	return out
}

// placeNamed gives the place of a name; one that nobody has described has no way in.
func (v *van) placeNamed(name id.Place) int32 {
	at, ok := v.placeAt[name]
	if !ok {
		at = int32(len(v.places))
		v.placeAt[name] = at
		v.places = append(v.places, place{id: name})
	}
	return at
}

// numbers gives the items of these names, each once, without those that the van does
// not have.
func (v *van) numbers(names []id.Item) []int32 {
	var out []int32
	for _, name := range names {
		if at, ok := v.itemAt[name]; ok && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	return out
}

func distinct(names []id.Item) int {
	n := 0
	for i, name := range names {
		if !slices.Contains(names[:i], name) {
			n++
		}
	}
	return n
}

// openFloor reports whether p is open floor still: what will close it is not fitted.
func (v *van) openFloor(p int32, fitted Set) bool {
	by := v.places[p].closedBy
	return len(by) > 0 && !slices.ContainsFunc(by, fitted.has)
}
