package access

import (
	"slices"

	"example.com/vanlog/internal/id"
)

// steps gives the best plan of near as what a person does, in an order that works.
func (d *desk) steps(q Query) []Step {
	w := &walk{desk: d, flow: &d.hunt.trial}
	w.steps = make([]Step, 0, len(d.hunt.best)+len(q.Places)+len(q.Items)+4)
	d.groups = d.groups[:0]
	w.follow()
	for _, f := range d.raw.goals[:len(d.ask.rooms)] {
		w.forVisits(f)
	}
	for _, f := range d.raw.goals {
		w.make(f)
	}
	return d.arrivals(w.steps, q)
}

// mark marks those of steps, given by steps, that there is no way round.
func (d *desk) mark(steps []Step) {
	d.findNeeded()
	d.doubtful = d.doubtful[:0]
	for i, group := range d.groups {
		if steps[i].NoWayRound = d.needed[group]; !steps[i].NoWayRound && !slices.Contains(d.doubtful, group) {
			d.doubtful = append(d.doubtful, group)
		}
	}
	if len(d.doubtful) == 0 {
		return
	}
	d.findMissed()
	for i, group := range d.groups {
		steps[i].NoWayRound = d.needed[group]
	}
}

// findNeeded notes what every plan enters or opens, as far as that is seen at once: the goals,
// and of what all moves need that make something needed true.
func (d *desk) findNeeded() {
	clear(d.needed)
	d.factNeeded = sized(d.factNeeded, d.raw.facts)
	clear(d.factNeeded)
	d.back = d.back[:0]
	for _, f := range d.raw.goals {
		d.need(f)
	}
	for i := 0; i < len(d.back); i++ {
		d.needBefore(d.raw.makers(d.back[i]))
	}
}

func (d *desk) need(f int32) {
	if !d.factNeeded[f] {
		d.factNeeded[f] = true
		d.back = append(d.back, f)
		group, _ := d.groupOf(f)
		d.needed[group] = true
	}
}

// needBefore notes what all of the moves need that can be done.
func (d *desk) needBefore(moves []int32) {
	first := slices.IndexFunc(moves, d.possible)
	for _, f := range d.raw.needs(moves[first]) {
		if !slices.ContainsFunc(moves[first+1:], func(m int32) bool {
			return d.possible(m) && !slices.Contains(d.raw.needs(m), f)
		}) {
			d.need(f)
		}
	}
}

// groupOf gives what fact f of raw is about, and whether that is an item.
func (d *desk) groupOf(f int32) (int32, bool) {
	places, things := int32(len(d.van.places)), int32(len(d.van.places)+len(d.van.items))
	key := d.keys[f]
	if key >= things {
		key -= things
	}
	return key, key >= places
}

// walk puts the moves of a plan in the order in which a person does them.
type walk struct {
	*desk
	flow  *flow
	steps []Step
}

// follow does the plan in raw, with what comes for nothing. What comes for nothing is
// entered for the visits where that will do.
func (w *walk) follow() {
	w.visits, w.done = sized(w.visits, len(w.raw.moves)), sized(w.done, w.raw.facts)
	clear(w.visits)
	clear(w.done)
	w.flow.reset(&w.raw)
	for _, m := range w.hunt.best {
		w.flow.allow(w.near.moves[m].raw)
	}
	for _, visit := range []bool{true, false} {
		for _, m := range w.freely {
			if w.raw.moves[m].visit == visit {
				w.flow.allow(m)
			}
		}
		w.flow.runOn()
	}
}

// forVisits notes that fact f, being in a place, is needed at every visit.
func (w *walk) forVisits(f int32) {
	m := w.flow.by[f]
	if w.visits[m] {
		return
	}
	w.visits[m] = true
	for _, need := range w.raw.needs(m) {
		if w.keys[need] < int32(len(w.van.places)) {
			w.forVisits(need)
		}
	}
}

// make adds the steps that make fact f true.
func (w *walk) make(f int32) {
	if w.done[f] {
		return
	}
	m := w.flow.by[f]
	for _, need := range w.raw.needs(m) {
		w.make(need)
	}
	for _, other := range w.raw.moves[m].adds {
		if other != none {
			w.done[other] = true
		}
	}
	w.steps = append(w.steps, w.step(m))
	w.groups = append(w.groups, w.raw.moves[m].group)
}

func (w *walk) step(m int32) Step {
	mv := &w.raw.moves[m]
	if mv.opens {
		it := w.itemOf(mv)
		return Step{Do: Open, Item: it.id, Cost: it.open, Refit: it.refit, Times: 1}
	}
	p := &w.van.places[mv.group]
	s := Step{Do: Enter, Place: p.id, Times: 1}
	if w.visits[m] {
		s.Times = w.ask.visits
	}
	if mv.way != none {
		way := p.ways[mv.way]
		s.Cost, s.Way = way.enter, way.number
		if way.from != none {
			s.From = w.van.places[way.from].id
		}
	}
	return s
}

// findMissed adds to needed those doubtful groups without which the goals are not reached: what all
// other moves lead to is looked for once, and then what the doubtful ones but one add to it.
func (d *desk) findMissed() {
	f := &d.hunt.trial
	f.reset(&d.raw)
	d.undecided = d.undecided[:0]
	for m := range d.raw.moves {
		switch group := d.raw.moves[m].group; {
		case d.isSettled(group):
		case slices.Contains(d.doubtful, group):
			d.undecided = append(d.undecided, int32(m))
		default:
			f.allow(int32(m))
		}
	}
	f.run()
	sure := len(f.trail)
	for _, group := range d.doubtful {
		for _, m := range d.undecided {
			if d.raw.moves[m].group != group {
				f.allow(m)
			}
		}
		d.needed[group] = !f.run()
		f.back(sure)
		for _, m := range d.undecided {
			f.allowed[m] = false
		}
	}
}

// isSettled reports whether group is out for the sake of another that every plan needs.
func (d *desk) isSettled(group int32) bool {
	return slices.ContainsFunc(d.settled, func(s [2]int32) bool { return s[1] == group })
}

// arrivals adds the steps of being at the targets, each once.
func (d *desk) arrivals(steps []Step, q Query) []Step {
	for i, p := range q.Places {
		if !slices.Contains(q.Places[:i], p) {
			steps = append(steps, Step{Do: At, Place: p, Times: d.ask.visits})
		}
	}
	for i, name := range q.Items {
		if _, ok := d.van.itemAt[name]; ok && !slices.Contains(q.Items[:i], name) {
			steps = append(steps, Step{Do: At, Item: id.Item(name), Times: d.ask.visits})
		}
	}
	return steps
}
