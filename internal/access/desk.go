package access

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// patience is how many nodes a search for a cost looks at before it makes do.
const patience = 200_000

// cost gives the cost with these items fitted, from the answers kept or anew.
func (ask *question) cost(s *Solver, fitted Set) (Cost, bool) {
	c, known := ask.answers.get(fitted, ask.relevant)
	if !known {
		d := s.desks.Get().(*desk)
		c = d.cost(ask, fitted)
		s.desks.Put(d)
	}
	return max(c, 0), c != noWay
}

// cost gives the cost with these items fitted, and keeps it.
func (d *desk) cost(ask *question, fitted Set) Cost {
	set := fitted.only(ask.relevant)
	c, known := ask.answers.similar(set)
	var w *witness
	if !known {
		c = d.solve(ask, set)
		w = d.witness(set, c)
	}
	ask.answers.put(set, c, w)
	return c
}

// solve gives the cost with these items fitted, of which all can matter.
func (d *desk) solve(ask *question, fitted Set) Cost {
	if len(ask.nowhere) > 0 || !d.prepare(ask, fitted) {
		return noWay
	}
	d.reduce(1)
	if !d.search(context.Background(), patience) {
		return noWay
	}
	return Cost(d.hunt.limit)
}

// search looks for the lightest plan in near, and reports whether it has found one.
func (d *desk) search(ctx context.Context, nodes int) bool {
	d.hunt.begin(ctx, &d.near, nodes)
	d.hunt.enemies(d.quarrel)
	d.hunt.force()
	d.noteForced()
	if !d.settle() {
		return false
	}
	d.hunt.node(0)
	return d.hunt.limit < beyond
}

// plan answers q, whose question is ask.
func (d *desk) plan(ctx context.Context, ask *question, q Query) (Plan, error) {
	if len(ask.nowhere) > 0 {
		return Plan{}, &NoWayError{Stuck: ask.unknown()}
	}
	if !d.prepare(ask, q.Fitted.only(ask.relevant)) {
		return Plan{}, d.noWay()
	}
	scale := d.scale()
	d.reduce(scale)
	if !d.search(ctx, math.MaxInt) {
		if d.hunt.stopped {
			return Plan{}, fmt.Errorf("look for a way in: %w", ctx.Err())
		}
		return Plan{}, d.noWay()
	}
	bound := min(d.hunt.limit, d.hunt.left) / scale
	if !d.hunt.stopped && scale > 1 {
		d.firstInOrder()
	}
	p := Plan{Steps: d.steps(q)}
	for _, step := range p.Steps {
		p.Cost += step.Cost.times(step.Times) + step.Refit
	}
	p.Bound = min(Cost(bound), p.Cost)
	p.Proven = p.Bound == p.Cost
	return p, nil
}

// scale gives by what to multiply costs so that an opening can count as one more without
// ever outweighing a cost: 1 where that would be too much to count.
func (d *desk) scale() int64 {
	openings, sum := int64(1), int64(0)
	for m := range d.raw.moves {
		sum += d.raw.moves[m].weight
		if d.raw.moves[m].opens {
			openings++
		}
	}
	if sum >= math.MaxInt64/2/openings {
		return 1
	}
	return openings
}

// prepare does all that goes before reduction; it is false where there is no way even
// with all quarrels forgotten.
func (d *desk) prepare(ask *question, fitted Set) bool {
	d.explore(ask, fitted)
	if !d.forward() {
		return false
	}
	d.findQuarrels()
	d.absorb(&d.hunt.trial)
	return true
}

// noteForced notes which quarrels are settled by moves that were taken by force.
func (d *desk) noteForced() {
	d.settled = d.settled[:0]
	for _, m := range d.hunt.marked {
		for _, foe := range d.hunt.foesOf(m) {
			s := [2]int32{d.near.moves[m].group, d.near.moves[foe[1]].group}
			if d.hunt.marks[m] == taken && !slices.Contains(d.settled, s) {
				d.settled = append(d.settled, s)
			}
		}
	}
}

// settle decides the quarrels in which one side is in every plan: the other side is out.
// It is false where that leaves no way.
func (d *desk) settle() bool {
	if len(d.hunt.foes) == 0 {
		return true
	}
	for again := true; again; {
		again = false
		for _, q := range d.quarrel {
			if d.settleFor(q[0], q[1]) || d.settleFor(q[1], q[0]) {
				again = true
			}
		}
	}
	if d.hunt.needless(none) {
		return true
	}
	d.hunt.lose(&d.hunt.trial)
	return false
}

// settleFor puts the moves of group loser out if every plan has one of group winner, and
// tells whether anything changed.
func (d *desk) settleFor(winner, loser int32) bool {
	if d.hunt.needless(winner) || !d.hunt.putOut(loser) {
		return false
	}
	d.hunt.lose(&d.hunt.trial)
	d.settled = append(d.settled, [2]int32{winner, loser})
	return true
}

// needless reports whether the goals can be reached without the moves of this group.
// Where they cannot be reached at all, no group is needless.
func (s *search) needless(group int32) bool {
	return s.trial.reaches(s.g, func(m int32) bool {
		return s.marks[m] != out && s.g.moves[m].group != group
	})
}

// putOut marks the moves of this group as out, and tells whether any were not.
func (s *search) putOut(group int32) bool {
	any := false
	for m := range s.g.moves {
		if s.g.moves[m].group == group && s.marks[m] == maybe {
			s.set(int32(m), out)
			any = true
		}
	}
	return any
}
