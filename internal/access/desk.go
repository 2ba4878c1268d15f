package access

import (
	"context"
	"fmt"
	"math"
)

// patience is how many nodes a search for a cost looks at before it makes do with the
// best plan so far.
const patience = 20_000

// cost gives the cost with these items fitted, from the answers kept or anew.
func (ask *question) cost(s *Solver, fitted Set) (Cost, bool) {
	if len(ask.nowhere) > 0 {
		return 0, false
	}
	c, known := ask.answers.get(fitted, ask.relevant)
	if !known {
		d := s.desks.take(s.van)
		var proven bool
		if c, proven = d.cost(ask, fitted, s.patience); !proven {
			s.unproven.Add(1)
		}
		s.desks.put(d)
	}
	return max(c, 0), c != noWay
}

// cost gives the cost with these items fitted, and keeps it. It is false where the search was
// broken off for want of patience.
func (d *desk) cost(ask *question, fitted Set, patience int) (Cost, bool) {
	set := fitted.only(ask.relevant)
	if c, known := ask.answers.similar(set); known {
		ask.answers.put(set, c, nil)
		return c, true
	}
	c := d.solve(ask, set, patience)
	w := d.witness(set, c)
	ask.answers.put(set, c, w)
	return c, w != nil
}

// solve gives the cost with these items fitted, of which all can matter; it looks at as many
// nodes as it has patience for.
func (d *desk) solve(ask *question, fitted Set, patience int) Cost {
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
	p, ok, err := d.look(ctx, ask, q)
	switch {
	case err == nil && !ok:
		err = d.noWay()
	case ok:
		d.mark(p.Steps)
	}
	return p, err
}

// look gives the cheapest plan for q that does without what is barred, its steps not marked
// yet; it is false where there is none, and an error where ctx ends before one has been found.
func (d *desk) look(ctx context.Context, ask *question, q Query) (Plan, bool, error) {
	if !d.prepare(ask, q.Fitted.only(ask.relevant)) {
		return Plan{}, false, nil
	}
	scale := d.scale()
	d.hunt.proof = false
	d.reduce(scale)
	if !d.search(ctx, math.MaxInt) {
		if d.hunt.stopped {
			return Plan{}, false, fmt.Errorf("look for a way in: %w", ctx.Err())
		}
		return Plan{}, false, nil
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
	return p, true, nil
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
