package access

import (
	"context"
	"fmt"
	"strings"

	"example.com/vanlog/internal/id"
)

// Cost is a number of minutes, counted in millionths so that sums are exact.
type Cost int64

// Minute is one minute of cost.
const Minute Cost = 1_000_000

// CostOf gives min minutes as a Cost.
func CostOf(min float64) Cost { panic("not written yet") }

// Minutes gives c in minutes.
func (c Cost) Minutes() float64 { return float64(c) / float64(Minute) }

// Ceil gives c in whole minutes, rounded up.
func (c Cost) Ceil() int { return int((c + Minute - 1) / Minute) }

// Set is a set of items of one Solver: bit i of word i/64 is the i-th item.
type Set []uint64

// Solver answers questions about one van. It is safe for use by several goroutines.
type Solver struct{}

// NewSolver prepares a van of these places and items for questions. Both must
// be valid (package build checks them) and free of options that are not chosen.
// A Fitted field of an item is not looked at: what is fitted is part of a Query.
func NewSolver(places []Place, items []Item) *Solver { panic("not written yet") }

// Set makes a set of the named items; names that the van does not have are left out.
func (s *Solver) Set(items ...id.Item) Set { panic("not written yet") }

// All gives the set of all items.
func (s *Solver) All() Set { panic("not written yet") }

// Query asks for the cheapest way to a set of targets.
type Query struct {
	Places []id.Place // to be in
	Items  []id.Item  // to have within reach: in their place, with what covers them open
	Visits int        // trips in; less than 1 means 1
	Fitted Set        // what is in the way; an item asked for may be in it or not
}

// Plan is a cheapest way to the targets of a query.
type Plan struct {
	Cost   Cost
	Bound  Cost // no plan costs less
	Proven bool // Bound is Cost
	Steps  []Step
}

// Do says what a step of a plan is.
type Do string

// The steps of a plan: enter a place, open an item, be at a target.
const (
	Enter Do = "enter"
	Open  Do = "open"
	At    Do = "at"
)

// Step is one thing to do on the way in, in an order that works.
type Step struct {
	Do         Do
	Place      id.Place // of Enter
	From       id.Place // of Enter: the place it is entered from, none: outside
	Item       id.Item  // of Open and At (At a place has Place)
	Cost       Cost     // of one time, without refitting
	Refit      Cost     // of Open
	Times      int      // how often it is paid: the visits for places on the way to a target
	NoWayRound bool     // every plan for these targets has this step
}

// Plan gives the cheapest plan for q: of those that cost the same the one with
// fewer openings, then the one whose opened items come first in order. Where ctx ends
// first, the answer is the best found, with its bound. Where there is no way the
// error is a *NoWayError.
func (s *Solver) Plan(ctx context.Context, q Query) (Plan, error) { panic("not written yet") }

// Cost gives the cost of the cheapest plan for q, and whether there is one. Answers
// are kept, so that asking again is cheap.
func (s *Solver) Cost(q Query) (Cost, bool) { panic("not written yet") }

// NoWayError says that the targets cannot be reached, and what stands in the way.
type NoWayError struct{ Stuck []Stuck }

// Stuck is a thing that stands in the way and cannot be passed.
type Stuck struct {
	Item  id.Item  // none: the place itself cannot be entered
	Place id.Place // of a place
	Why   string   // in words, for the person
}

func (e *NoWayError) Error() string {
	var why []string
	for _, s := range e.Stuck {
		why = append(why, fmt.Sprintf("%s%s: %s", s.Item, s.Place, s.Why))
	}
	return "cannot be reached: " + strings.Join(why, "; ")
}
