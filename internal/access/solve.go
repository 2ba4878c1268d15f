package access

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync/atomic"

	"example.com/vanlog/internal/id"
)

// Cost is a number of minutes, counted in millionths so that sums are exact.
type Cost int64

// Minute is one minute of cost.
const Minute Cost = 1_000_000

// most is the dearest that one step can be, so that sums of thousands of steps fit.
const most = 100_000_000 * Minute

// CostOf gives min minutes as a Cost, to the nearest millionth. Less than nothing counts
// as nothing, and more than a hundred million minutes as that many.
func CostOf(min float64) Cost {
	if !(min > 0) {
		return 0
	}
	return Cost(math.Round(math.Min(min, most.Minutes()) * float64(Minute)))
}

// Minutes gives c in minutes.
func (c Cost) Minutes() float64 { return float64(c) / float64(Minute) }

// Ceil gives c in whole minutes, rounded up.
func (c Cost) Ceil() int { return int((c + Minute - 1) / Minute) }

// times gives the cost of doing n times what costs c, at most most.
func (c Cost) times(n int) Cost {
	if c > 0 && Cost(n) > most/c {
		return most
	}
	return c * Cost(n)
}

// Solver answers questions about one van. It is safe for use by several goroutines.
type Solver struct {
	van   *van
	asked questions
	desks desks

	patience int          // nodes that a search for a cost looks at
	unproven atomic.Int64 // costs whose search was broken off
}

// NewSolver prepares a van of these places and items for questions. Both must
// be valid (package build checks them) and free of options that are not chosen.
// A Fitted field of an item is not looked at: what is fitted is part of a Query.
func NewSolver(places []Place, items []Item) *Solver {
	s := &Solver{van: newVan(places, items), patience: patience}
	s.asked.init()
	s.desks.put(newDesk(s.van))
	return s
}

// Query asks for the cheapest way to a set of targets. Items that the van does not have
// are not looked for; to a place that it does not have there is no way.
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
	Place      id.Place // of Enter, and of At a place
	From       id.Place // of Enter: the place it is entered from, none: outside
	Item       id.Item  // of Open, and of At an item
	Cost       Cost     // of one time, without refitting
	Refit      Cost     // of Open
	Times      int      // how often it is paid: the visits for places on the way to a target
	Way        int      // of Enter: which of the place's ways, from 1; 0: for nothing from outside
	NoWayRound bool     // of Enter and Open: every plan for these targets enters or opens it
}

// Plan gives the cheapest plan for q: of those that cost the same the one with
// fewer openings, then the one whose opened items come first in order of id. Where ctx
// ends first, the answer is the best found, with its bound; where none has been found by
// then the error is that of ctx. Where there is no way the error is a *NoWayError.
//
// The ties are decided exactly, unless ctx ends first or the steps of the van come to
// more than ten thousand years.
func (s *Solver) Plan(ctx context.Context, q Query) (Plan, error) {
	d := s.desks.take(s.van)
	defer s.desks.put(d)
	ask := s.asked.find(s.van, q)
	return d.plan(ctx, ask, q)
}

// Cost gives the cost of the cheapest plan for q, and whether there is one. Answers
// are kept, so that asking again is cheap. A search that comes to tens of thousands of
// cases is broken off as soon as there is a plan, with the best found by then, and
// counted, see Unproven; that takes a van in which dozens of openings shut each other. That
// there is no way is never said without proof.
func (s *Solver) Cost(q Query) (Cost, bool) {
	return s.asked.find(s.van, q).cost(s, q.Fitted)
}

// Unproven gives how many costs of s, of those that Cost or Burials looked for, may be too
// high because their search was broken off. Where it is 0, all answers of s are exact.
func (s *Solver) Unproven() int { return int(s.unproven.Load()) }

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
