package access

import "sync"

// desk is the working space of one question at a time.
type desk struct {
	van  *van
	ask  *question
	in   Set // fitted
	bar  act // left out of raw
	raw  graph
	near graph // what is left of raw after reduction
	far  flow  // in raw
	hunt search

	keys    []int32    // of the facts of raw
	factOf  []int32    // by key: the fact of raw, or none
	movesOf []int32    // by fact of raw: its moves begin here
	free    []bool     // by fact of raw: true for nothing
	freely  []int32    // the moves of raw that make it so
	quarrel [][2]int32 // groups: an item, and what may not be while it is open
	touchy  []bool     // by group: part of a quarrel
	settled [][2]int32 // groups: one that every plan needs, and one that is out for its sake
	nearOf  []int32    // by fact of raw: the fact of near, or none
	queue   []int32    // the facts of near as facts of raw
	used    []bool     // by move of raw

	groups     []int32 // of the steps of a plan
	visits     []bool  // by move of raw: it is on the way to a target
	done       []bool  // by fact of raw: steps make it true
	doubtful   []int32 // groups of the steps that may have a way round
	undecided  []int32 // moves
	needed     []bool  // by group: every plan has it
	factNeeded []bool  // by fact of raw: true in every plan
	back       []int32 // the needed facts
}

// desks are the desks of a Solver that nobody sits at. They are kept for good: one that the
// garbage collector takes away costs more than the question it was for.
type desks struct {
	mu   sync.Mutex
	free []*desk
}

// take gives a desk that nobody sits at, or a new one.
func (ds *desks) take(v *van) *desk {
	ds.mu.Lock()
	defer ds.mu.Unlock()
	if n := len(ds.free); n > 0 {
		d := ds.free[n-1]
		ds.free = ds.free[:n-1]
		return d
	}
	return newDesk(v)
}

func (ds *desks) put(d *desk) {
	ds.mu.Lock()
	defer ds.mu.Unlock()
	ds.free = append(ds.free, d)
}

// act is what a move does: open an item, or enter a place by one of its ways.
type act struct {
	group int32 // as of a move
	way   int32
}

// noAct is what no move does.
var noAct = act{none, none}

func newDesk(v *van) *desk {
	d := &desk{van: v, bar: noAct, touchy: make([]bool, len(v.places)+len(v.items)),
		needed: make([]bool, len(v.places)+len(v.items))}
	d.factOf = make([]int32, 2*len(v.places)+len(v.items))
	for k := range d.factOf {
		d.factOf[k] = none
	}
	d.raw.reserve(v)
	d.near.reserve(v)
	d.keys, d.queue = make([]int32, 0, len(d.factOf)), make([]int32, 0, len(d.factOf))
	d.movesOf = make([]int32, 0, len(d.factOf)+1)
	return d
}

// The key of a fact: being in a place for the visits, by its number; open, by the
// item's number after the places; being in a place at all, after those. With one visit
// being in a place at all is being in it for the visits.

func (d *desk) openKey(i int32) int32 { return int32(len(d.van.places)) + i }

func (d *desk) inKey(p int32) int32 {
	if d.ask.visits == 1 {
		return p
	}
	return int32(len(d.van.places)+len(d.van.items)) + p
}

// explore fills raw with all that may be of use for ask with these items fitted.
func (d *desk) explore(ask *question, fitted Set) {
	d.ask, d.in = ask, fitted
	for _, k := range d.keys {
		d.factOf[k] = none
	}
	d.raw.clear()
	d.keys, d.movesOf, d.settled = d.keys[:0], d.movesOf[:0], d.settled[:0]
	for _, p := range ask.rooms {
		d.raw.goals = append(d.raw.goals, d.fact(p))
	}
	for _, c := range ask.covers {
		if fitted.has(c) {
			d.raw.goals = append(d.raw.goals, d.fact(d.openKey(c)))
		}
	}
	for f := 0; f < len(d.keys); f++ {
		d.movesOf = append(d.movesOf, int32(len(d.raw.moves)))
		d.movesTo(int32(f))
	}
	d.movesOf = append(d.movesOf, int32(len(d.raw.moves)))
	d.raw.facts = len(d.keys)
	d.alsoIn(&d.raw, func(p int32) int32 { return d.factOf[d.inKey(p)] })
	d.raw.link()
}

// alsoIn lets the moves that enter for the visits count as having entered at all.
func (d *desk) alsoIn(g *graph, factIn func(p int32) int32) {
	if d.ask.visits == 1 {
		return
	}
	for m := range g.moves {
		if g.moves[m].visit {
			g.moves[m].adds[1] = factIn(g.moves[m].group)
		}
	}
}

func (d *desk) fact(key int32) int32 {
	if d.factOf[key] == none {
		d.factOf[key] = int32(len(d.keys))
		d.keys = append(d.keys, key)
	}
	return d.factOf[key]
}

// movesTo adds the moves that make fact f of raw true.
func (d *desk) movesTo(f int32) {
	key, places := d.keys[f], int32(len(d.van.places))
	switch {
	case key < places:
		d.entries(f, key, true)
	case key < places+int32(len(d.van.items)):
		d.opening(f, key-places)
	default:
		d.entries(f, key-places-int32(len(d.van.items)), false)
	}
}

func (d *desk) entries(f, p int32, visit bool) {
	if d.van.places[p].free || d.van.openFloor(p, d.in) {
		if d.bar == (act{p, none}) {
			return
		}
		at := int32(len(d.raw.pre))
		d.raw.moves = append(d.raw.moves, move{from: at, to: at, adds: [2]int32{f, none}, group: p, way: none, visit: visit})
		return
	}
	for w, way := range d.van.places[p].ways {
		if d.bar == (act{p, int32(w)}) {
			continue
		}
		from := len(d.raw.pre)
		if way.from != none && visit {
			d.raw.pre = append(d.raw.pre, d.fact(way.from))
		} else if way.from != none {
			d.raw.pre = append(d.raw.pre, d.fact(d.inKey(way.from)))
		}
		d.needOpen(way.through)
		cost := way.enter
		if visit {
			cost = cost.times(d.ask.visits)
		}
		d.raw.moves = append(d.raw.moves, move{from: int32(from), to: int32(len(d.raw.pre)), adds: [2]int32{f, none},
			weight: int64(cost), group: p, way: int32(w), visit: visit})
	}
}

func (d *desk) opening(f, i int32) {
	it := &d.van.items[i]
	if !it.opens || d.ask.barred.has(i) || d.bar.group == d.openKey(i) {
		return
	}
	from := len(d.raw.pre)
	if it.place != none {
		d.raw.pre = append(d.raw.pre, d.fact(d.inKey(it.place)))
	}
	d.needOpen(it.covers)
	d.raw.moves = append(d.raw.moves, move{from: int32(from), to: int32(len(d.raw.pre)), adds: [2]int32{f, none},
		weight: int64(it.open + it.refit), group: d.openKey(i), way: none, opens: true})
}

func (d *desk) needOpen(items []int32) {
	for _, i := range items {
		if d.in.has(i) {
			d.raw.pre = append(d.raw.pre, d.fact(d.openKey(i)))
		}
	}
}

// forward finds what can be done at all, and reports whether the goals can be reached
// as far as quarrels do not matter.
func (d *desk) forward() bool {
	d.far.reset(&d.raw)
	for m := range d.raw.moves {
		d.far.allow(int32(m))
	}
	d.far.runOn()
	return d.far.open == 0
}

// possible reports whether m of raw can be done; forward has run.
func (d *desk) possible(m int32) bool { return d.far.ready(m) }

// findQuarrels notes which openings shut what else may be of use; forward has run.
func (d *desk) findQuarrels() {
	d.quarrel = d.quarrel[:0]
	for m := range d.raw.moves {
		mv := &d.raw.moves[m]
		if !mv.opens || !d.possible(int32(m)) {
			continue
		}
		it := &d.van.items[mv.group-int32(len(d.van.places))]
		for _, z := range it.shutsItems {
			d.noteQuarrel(mv.group, d.openKey(z), d.openKey(z))
		}
		for _, p := range it.shutsPlaces {
			if !d.noteQuarrel(mv.group, p, p) {
				d.noteQuarrel(mv.group, p, d.inKey(p))
			}
		}
	}
}

// noteQuarrel notes that opening y shuts z, where the fact with this key can come true.
func (d *desk) noteQuarrel(y, z, key int32) bool {
	f := d.factOf[key]
	if f == none || !d.far.have[f] {
		return false
	}
	d.quarrel = append(d.quarrel, [2]int32{y, z})
	return true
}

// absorb notes the facts of raw that come true for nothing and shut nothing out.
func (d *desk) absorb(f *flow) {
	for _, q := range d.quarrel {
		d.touchy[q[0]], d.touchy[q[1]] = true, true
	}
	f.reset(&d.raw)
	for m := range d.raw.moves {
		mv := &d.raw.moves[m]
		if mv.weight == 0 && !mv.opens && !d.touchy[mv.group] {
			f.allow(int32(m))
		}
	}
	f.runOn()
	for _, q := range d.quarrel {
		d.touchy[q[0]], d.touchy[q[1]] = false, false
	}
	d.free = append(d.free[:0], f.have...)
	d.freely = d.freely[:0]
	for _, fact := range f.trail {
		// What one move makes true comes one after the other.
		if m, n := f.by[fact], len(d.freely); n == 0 || d.freely[n-1] != m {
			d.freely = append(d.freely, m)
		}
	}
}
