package access_test

import (
	"slices"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// replay does the steps of a plan one by one, checks that each can be done when its turn
// comes, that the targets are reached at the end, and that the costs add up.
func replay(t *testing.T, s small, p access.Plan) {
	t.Helper()
	b := s.brute()
	b.prepare()
	var now state
	var sum access.Cost
	for i, step := range p.Steps {
		sum += step.Cost*access.Cost(step.Times) + step.Refit
		switch step.Do {
		case access.Enter:
			before := now
			if now = b.enter(t, now, step); now == before {
				t.Errorf("step %d: %+v changes nothing", i, step)
			}
		case access.Open:
			now = b.openUp(t, now, step)
		case access.At:
			if !b.done(now) {
				t.Errorf("step %d: at %s%s before all targets are reached", i, step.Place, step.Item)
			}
		}
		if !b.allowed(now) {
			t.Errorf("step %d %+v: something open shuts it", i, step)
		}
	}
	if sum != p.Cost || !b.done(now) {
		t.Errorf("steps add up to %d of %d, targets reached: %v", sum, p.Cost, b.done(now))
	}
	checkArrivals(t, s, p)
}

func (b *brute) enter(t *testing.T, now state, step access.Step) state {
	t.Helper()
	at := b.atRoom[step.Place]
	ways, free := b.waysInto(b.places[at]), b.isFree(b.places[at])
	w := ways[max(0, step.Way-1)]
	if free != (step.Way == 0) || w.From != step.From || access.CostOf(w.EnterMin) != step.Cost || b.inTheWay(w.Through)&^now.open != 0 {
		t.Errorf("no way into %s as in %+v", step.Place, step)
	}
	inside, bit := now.visited|now.once, uint64(1)<<at
	if step.Times == b.visits && (step.From == "" || now.visited&(1<<b.atRoom[step.From]) != 0) {
		now.visited |= bit
		return now
	}
	if step.Times != 1 || step.From != "" && inside&(1<<b.atRoom[step.From]) == 0 {
		t.Errorf("cannot enter from %s: %+v", step.From, step)
	}
	if inside&bit == 0 {
		now.once |= bit
	}
	return now
}

func (b *brute) openUp(t *testing.T, now state, step access.Step) state {
	t.Helper()
	it := b.items[b.atItem[step.Item]]
	o := it.Opening
	inside := it.Place == "" || (now.visited|now.once)&(1<<b.atRoom[it.Place]) != 0
	if o == nil || !b.fitted[it.ID] || !inside || b.inTheWay(it.Covers)&^now.open != 0 || step.Times != 1 ||
		step.Cost != access.CostOf(o.OpenMin) || step.Refit != access.CostOf(o.RefitMin) {
		t.Errorf("cannot open as in %+v", step)
	}
	now.open |= 1 << b.atItem[step.Item]
	return now
}

// checkArrivals checks that the plan ends by being at each target once.
func checkArrivals(t *testing.T, s small, p access.Plan) {
	t.Helper()
	var places []id.Place
	var items []id.Item
	for _, step := range p.Steps {
		if step.Do == access.At && step.Item != "" {
			items = append(items, step.Item)
		} else if step.Do == access.At {
			places = append(places, step.Place)
		} else if len(places)+len(items) > 0 {
			t.Errorf("%+v comes after being at a target", step)
		}
	}
	if want := once(s.rooms); !slices.Equal(places, want) {
		t.Errorf("at places %v, want %v", places, want)
	}
	if want := once(s.targets); !slices.Equal(items, want) {
		t.Errorf("at items %v, want %v", items, want)
	}
}

// once gives what is in all, each once, in its order.
func once[T comparable](all []T) []T {
	var out []T
	for _, x := range all {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}
