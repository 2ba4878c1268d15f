package access

import (
	"cmp"
	"context"
	"slices"

	"example.com/vanlog/internal/id"
)

// Second gives the second-best way: the cheapest plan for q that does without at least
// one move of best, the plan that Plan has given for q. A move is to open an item, or to
// enter a place by a particular way, be it once or for the visits. It is false where every
// plan has all the moves of best. Of plans that cost the same it gives the one that
// Plan would give.
//
// Where ctx ends first, the answer is the best found, with its bound; where none has been
// found by then the error is that of ctx.
func (s *Solver) Second(ctx context.Context, q Query, best Plan) (Plan, bool, error) {
	ask := s.asked.find(s.van, q)
	if len(ask.nowhere) > 0 {
		return Plan{}, false, nil
	}
	d := s.desks.take(s.van)
	defer s.desks.put(d)
	defer func() { d.bar = noAct }()
	var all runnersUp
	for _, step := range best.Steps {
		// What is opened in every plan need not be tried; a place that is entered in every
		// plan may still be entered by another way.
		if step.Do == At || step.Do == Open && step.NoWayRound {
			continue
		}
		d.bar = s.van.actOf(step)
		p, ok, err := d.look(ctx, ask, q)
		all.add(p, ok, err, best.Bound)
	}
	return all.first(best)
}

// actOf gives what a step does, or noAct where the van has nothing of the kind.
func (v *van) actOf(step Step) act {
	if step.Do == Open {
		if at, ok := v.itemAt[step.Item]; ok {
			return act{int32(len(v.places)) + at, none}
		}
		return noAct
	}
	at, ok := v.placeAt[step.Place]
	if !ok {
		return noAct
	}
	if step.Way == 0 {
		return act{at, none}
	}
	way := slices.IndexFunc(v.places[at].ways, func(w way) bool { return w.number == step.Way })
	if way < 0 {
		return noAct
	}
	return act{at, int32(way)}
}

// runnersUp keeps the first of some plans, each of which does without something.
type runnersUp struct {
	plan   Plan
	found  bool
	bound  Cost  // no plan that was looked for costs less
	err    error // of a search that was broken off before it found anything
	bounds bool  // there is a bound
}

// add takes the outcome of one search; where it was broken off no plan costs less than
// least.
func (r *runnersUp) add(p Plan, ok bool, err error, least Cost) {
	switch {
	case err != nil:
		r.err = err
		r.noteBound(least)
	case ok:
		r.noteBound(p.Bound)
		if !r.found || p.compare(r.plan) < 0 {
			r.plan, r.found = p, true
		}
	}
}

func (r *runnersUp) noteBound(c Cost) {
	if !r.bounds || c < r.bound {
		r.bound, r.bounds = c, true
	}
}

// first gives the first of the plans. What every plan has, best has as well.
func (r *runnersUp) first(best Plan) (Plan, bool, error) {
	if !r.found {
		return Plan{}, false, r.err
	}
	p := r.plan
	p.Bound = r.bound
	p.Proven = p.Bound == p.Cost
	for i, step := range p.Steps {
		p.Steps[i].NoWayRound = slices.ContainsFunc(best.Steps, func(s Step) bool {
			return s.NoWayRound && s.Do == step.Do && s.Place == step.Place && s.Item == step.Item
		})
	}
	return p, true, nil
}

// compare orders plans: by cost, then the one with fewer openings first, then the one with
// the first item, in order of id, of those that only one of them opens.
func (p Plan) compare(o Plan) int {
	if by := cmp.Compare(p.Cost, o.Cost); by != 0 {
		return by
	}
	mine, theirs := p.opened(), o.opened()
	return cmp.Or(cmp.Compare(len(mine), len(theirs)), slices.Compare(mine, theirs))
}

// opened gives the items that p opens, in order of id.
func (p Plan) opened() []id.Item {
	var items []id.Item
	for _, s := range p.Steps {
		if s.Do == Open {
			items = append(items, s.Item)
		}
	}
	slices.Sort(items)
	return items
}
