package access

import (
	"fmt"
	"slices"
)

// unknown says which of the places asked for the van does not have.
func (ask *question) unknown() []Stuck {
	var out []Stuck
	for _, p := range ask.nowhere {
		out = append(out, Stuck{Place: p, Why: "the van has no such place"})
	}
	return out
}

// noWay says why the goals of raw cannot be reached.
func (d *desk) noWay() error {
	why := &inquiry{desk: d, flow: &d.far, state: make([]int8, d.raw.facts)}
	d.far.reset(&d.raw)
	for m := range d.raw.moves {
		if !d.isSettled(d.raw.moves[m].group) {
			d.far.allow(int32(m))
		}
	}
	d.far.runOn()
	for _, f := range d.raw.goals {
		why.fact(f, nil)
	}
	if len(why.found) == 0 {
		why.clashes()
	}
	return &NoWayError{Stuck: why.found}
}

// inquiry goes back from what cannot be reached to what stands in the way of it.
type inquiry struct {
	*desk
	flow  *flow
	state []int8 // by fact: 0 not looked at, 1 being looked at, 2 looked at
	found []Stuck
}

// fact looks at why f of raw cannot be made true; path holds the facts that wait for it.
func (q *inquiry) fact(f int32, path []int32) {
	if q.flow.have[f] || q.state[f] == 2 {
		return
	}
	if q.state[f] == 1 {
		q.loop(path[slices.Index(path, f):])
		return
	}
	q.state[f] = 1
	path = append(path, f)
	if why := q.reason(f); why != "" {
		q.say(f, why)
	} else {
		for m := q.movesOf[f]; m < q.movesOf[f+1]; m++ {
			for _, need := range q.raw.needs(m) {
				q.fact(need, path)
			}
		}
	}
	q.state[f] = 2
}

// reason says why f cannot be made true for a reason of its own, if there is one.
func (q *inquiry) reason(f int32) string {
	group, isItem := q.groupOf(f)
	for _, s := range q.settled {
		if s[1] == group {
			return q.lost(s[0], group)
		}
	}
	if q.movesOf[f] < q.movesOf[f+1] {
		return ""
	}
	if !isItem && !q.van.places[group].known {
		return "the van has no such place"
	}
	if !isItem {
		return "the place has no way in left"
	}
	it := &q.van.items[group-int32(len(q.van.places))]
	if !it.opens {
		return "has no opening: once fitted it stays"
	}
	shut := it.shutsPlaces[slices.IndexFunc(it.shutsPlaces, q.ask.inRoom)]
	return fmt.Sprintf("opening it shuts %s, which has to be entered", q.van.places[shut].id)
}

// lost says why loser is out for the sake of winner.
func (q *inquiry) lost(winner, loser int32) string {
	if slices.Contains(q.quarrel, [2]int32{loser, winner}) {
		return fmt.Sprintf("opening it shuts %s, which is on every way", q.name(winner))
	}
	return fmt.Sprintf("is shut while %s is open, which is on every way", q.name(winner))
}

// loop says of the items on a loop of facts, each of which waits for the next, that they
// are behind each other.
func (q *inquiry) loop(facts []int32) {
	var items []int32
	for _, f := range facts {
		if _, isItem := q.groupOf(f); isItem {
			items = append(items, f)
		}
	}
	if len(items) == 0 {
		q.say(facts[0], "the place has no way in left")
		return
	}
	for i, f := range items {
		behind, _ := q.groupOf(items[(i+1)%len(items)])
		if len(items) == 1 {
			q.say(f, "can only be got at once it is open itself")
		} else {
			q.say(f, fmt.Sprintf("is itself behind %s", q.name(behind)))
		}
	}
}

// clashes says which openings shut something, where that alone leaves no way.
func (q *inquiry) clashes() {
	for _, c := range q.hunt.clashes {
		y, z := q.near.moves[c[0]].group, q.near.moves[c[1]].group
		if !slices.Contains(q.quarrel, [2]int32{y, z}) {
			y, z = z, y
		}
		q.found = append(q.found, Stuck{Item: q.van.items[y-int32(len(q.van.places))].id,
			Why: fmt.Sprintf("opening it shuts %s, and no way does without both", q.name(z))})
	}
}

func (q *inquiry) name(group int32) string {
	if p := int32(len(q.van.places)); group >= p {
		return string(q.van.items[group-p].id)
	}
	return string(q.van.places[group].id)
}

func (q *inquiry) say(f int32, why string) {
	s := Stuck{Why: why}
	group, isItem := q.groupOf(f)
	if p := int32(len(q.van.places)); isItem {
		s.Item = q.van.items[group-p].id
	} else {
		s.Place = q.van.places[group].id
	}
	if !slices.Contains(q.found, s) {
		q.found = append(q.found, s)
	}
}
