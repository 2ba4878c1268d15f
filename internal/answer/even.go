package answer

import (
	"context"
	"errors"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/plan"
)

// drawn is a design with the order found for it.
type drawn struct {
	Design
	p     *problem
	found plan.Sequence
	taken int            // how many orders it has taken
	tried map[*drawn]int // by design, which of its orders was tried last
}

// order adds when the design, which v is, would be finished, or why that cannot be said.
func (d *drawn) order(ctx context.Context, v *View, o plan.Options) error {
	p, found, err := v.find(ctx, o)
	var none *plan.NoSequenceError
	var loops *deps.CycleError
	switch {
	case errors.As(err, &none), errors.As(err, &loops):
		d.NoOrder = err.Error()
	case err != nil:
		return err
	case len(p.Jobs) == 0:
		d.NoOrder = "nothing is left to do"
	default:
		d.p = p
		d.take(found)
	}
	return nil
}

func (d *drawn) take(found plan.Sequence) {
	d.found, d.taken = found, d.taken+1
	d.Finish, d.BoundFinish, d.WorkMin, d.Proven = found.Finish, found.Bound, found.Work, found.Proven
}

// mostRounds is how often orders are passed on between designs at most. Two nearly always do.
const mostRounds = 4

// even takes the luck of the search out of the comparison: what one design found is tried on
// every other, and on itself, in the same way, until none gets any better. The error is that of ctx.
func even(ctx context.Context, all []*drawn, o plan.Options) error {
	for range mostRounds {
		better := false
		for _, to := range all {
			for _, from := range all {
				if to.NoOrder == "" && from.NoOrder == "" && to.tried[from] < from.taken && ctx.Err() == nil {
					better = to.try(ctx, from, o) || better
				}
			}
		}
		if !better {
			break
		}
	}
	return ctx.Err()
}

// try plans d with the tasks that from has too in the order that they have there, and takes it
// where that is better.
func (d *drawn) try(ctx context.Context, from *drawn, o plan.Options) bool {
	if d.tried == nil {
		d.tried = map[*drawn]int{}
	}
	d.tried[from] = from.taken
	rows := d.p.rowsFrom(from.p, from.found.Rows, "")
	kept, err := d.p.search(ctx, d.p.keeping(rows, d.p.all), polish(o))
	if err != nil || !beats(kept, d.found) {
		return false // an order that does not suit this design
	}
	d.take(take(kept, d.found))
	return true
}
