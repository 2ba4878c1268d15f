package access

import (
	"context"
	"fmt"
	"math"
)

// patience is how many nodes a search for a cost looks at before it makes do.
const patience = 20_000

// cost gives the cost with these items fitted, from the answers kept or anew.
func (ask *question) cost(s *Solver, fitted Set) (Cost, bool) {
	if len(ask.nowhere) > 0 {
		return 0, false
	}
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
	if !d.prepare(ask, fitted) {
		return noWay
	}
	d.reduce(1)
	d.hunt.proof = true
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
	if d.hunt.proof {
		d.handOver(d.ask.answers.zonesKept())
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
	d.hunt.proof = false
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
