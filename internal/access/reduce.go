package access

import "slices"

// reduce fills near with what is left of raw once what comes for nothing is taken for
// granted: only possible moves that lead to a goal, without those that another move
// does as well for no more. Weights become cost × scale, plus one for an opening
// where scale is above one.
func (d *desk) reduce(scale int64) {
	g := &d.near
	g.clear()
	d.nearOf = sized(d.nearOf, d.raw.facts)
	for f := range d.nearOf {
		d.nearOf[f] = none
	}
	d.queue = d.queue[:0]
	for _, f := range d.raw.goals {
		if !d.free[f] {
			g.goals = append(g.goals, d.nearFact(f))
		}
	}
	for at := 0; at < len(d.queue); at++ {
		d.movesNear(d.queue[at], scale)
	}
	g.facts = len(d.queue)
	d.alsoIn(g, func(p int32) int32 {
		if f := d.factOf[d.inKey(p)]; f != none {
			return d.nearOf[f]
		}
		return none
	})
	g.link()
	d.keepQuarrels()
}

// keepQuarrels forgets the quarrels of which a side is not in near.
func (d *desk) keepQuarrels() {
	if len(d.quarrel) == 0 {
		return
	}
	for m := range d.near.moves {
		d.touchy[d.near.moves[m].group] = true
	}
	d.quarrel = slices.DeleteFunc(d.quarrel, func(q [2]int32) bool { return !d.touchy[q[0]] || !d.touchy[q[1]] })
	for m := range d.near.moves {
		d.touchy[d.near.moves[m].group] = false
	}
}

func (d *desk) nearFact(f int32) int32 {
	if d.nearOf[f] == none {
		d.nearOf[f] = int32(len(d.queue))
		d.queue = append(d.queue, f)
	}
	return d.nearOf[f]
}

// movesNear adds the moves to fact f of raw that are worth a thought.
func (d *desk) movesNear(f int32, scale int64) {
	for m := d.movesOf[f]; m < d.movesOf[f+1]; m++ {
		if !d.possible(m) || d.dominated(m, f) {
			continue
		}
		mv := d.raw.moves[m]
		mv.raw, mv.from = m, int32(len(d.near.pre))
		for _, need := range d.raw.needs(m) {
			if !d.free[need] {
				d.near.pre = append(d.near.pre, d.nearFact(need))
			}
		}
		mv.to = int32(len(d.near.pre))
		mv.adds = [2]int32{d.nearOf[f], none}
		mv.weight *= scale
		if scale > 1 && mv.opens {
			mv.weight++
		}
		d.near.moves = append(d.near.moves, mv)
	}
}

// dominated reports whether another move to f costs no more and needs nothing that m
// does not need; of two alike the first stays.
func (d *desk) dominated(m, f int32) bool {
	for o := d.movesOf[f]; o < d.movesOf[f+1]; o++ {
		if o == m || !d.possible(o) || d.raw.moves[o].weight > d.raw.moves[m].weight || !d.needsLess(o, m) {
			continue
		}
		if o < m || d.raw.moves[o].weight < d.raw.moves[m].weight || !d.needsLess(m, o) {
			return true
		}
	}
	return false
}

// needsLess reports whether all that a needs and is not free is needed by b.
func (d *desk) needsLess(a, b int32) bool {
	theirs := d.raw.needs(b)
	for _, f := range d.raw.needs(a) {
		if !d.free[f] && !slices.Contains(theirs, f) {
			return false
		}
	}
	return true
}
