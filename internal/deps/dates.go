package deps

import (
	"errors"
	"fmt"
	"slices"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// Activity is a task as the dates see it. Activities are known by their place in
// the list of a Network.
type Activity struct {
	Minutes int             // work that remains, without access
	Hours   *calendar.Hours // when it is worked on
	Release units.Instant   // parts, not before
	Cure    calendar.Cure   // after its finish
}

// Link says that To starts no earlier than Lag after the finish of From, or where
// Lag is nil than the end of the cure of From.
type Link struct {
	From, To int
	Lag      *int // minutes
}

// Network is a set of activities and the links between them.
type Network struct {
	Start      units.Instant
	Activities []Activity
	Links      []Link // free of loops
}

// Dates are the early and late dates of one activity.
type Dates struct {
	EarlyStart, EarlyFinish, LateStart, LateFinish units.Instant
	TotalFloat, FreeFloat                          int // minutes on the clock
	Critical                                       bool
}

// NeverError says which activity never finishes: the hours that its work or its
// cure waits for do not come.
type NeverError struct{ Activity int }

func (e *NeverError) Error() string {
	return fmt.Sprintf("activity %d never finishes: the hours it waits for do not come", e.Activity)
}

// Schedule gives the dates of every activity, and the finish of the whole, cures
// included: the critical path method with minimum lags (US Navy NAVEDTRA 14233,
// ch. 2: early finish + lag = early start of the next; late start − lag = late finish
// of the one before; total float = late start − early start; free float = early
// start of the next − lag − early finish). Nothing starts before n.Start, whatever
// the lags; the finish of an empty network is n.Start.
//
// Both floats are delays of the start: by TotalFloat the whole is no later, by
// FreeFloat no other activity is. Where every hour counts FreeFloat is the figure
// above; what nothing comes after has the finish of the whole for its next.
//
// The error is a *NeverError where an activity never finishes.
func (n Network) Schedule() ([]Dates, units.Instant, error) {
	g := newDigraph(len(n.Activities))
	for _, l := range n.Links {
		g.add(l.From, l.To)
	}
	s := schedule{Network: n, graph: g, dates: make([]Dates, len(n.Activities)), finish: n.Start}
	order := g.order()
	if len(order) < len(n.Activities) {
		return nil, 0, errors.New("activities wait for each other")
	}
	if err := s.forward(order); err != nil {
		return nil, 0, err
	}
	if err := s.backward(order); err != nil {
		return nil, 0, err
	}
	return s.dates, s.finish, nil
}

// schedule is a Network whose dates are being found. Edge e of the graph is link e.
type schedule struct {
	Network
	graph  *digraph
	dates  []Dates
	finish units.Instant // of the whole
}

// forward finds the early dates and the finish of the whole.
func (s *schedule) forward(order []int) error {
	from := make([]units.Instant, len(s.Activities)) // when an activity may start
	for i, a := range s.Activities {
		from[i] = max(s.Start, a.Release)
	}
	for _, i := range order {
		cured, ok := s.early(i, from[i])
		if !ok {
			return &NeverError{Activity: i}
		}
		s.finish = max(s.finish, cured)
		for _, e := range s.graph.out[i] {
			next, ready := s.Links[e].To, cured
			if lag := s.Links[e].Lag; lag != nil {
				ready = s.dates[i].EarlyFinish + units.Instant(*lag)
			}
			from[next] = max(from[next], ready)
		}
	}
	return nil
}

// early finds the early dates of activity i, which may start at from, and gives
// the end of its cure.
func (s *schedule) early(i int, from units.Instant) (cured units.Instant, ok bool) {
	a, d := s.Activities[i], &s.dates[i]
	d.EarlyStart = from
	if a.Minutes > 0 {
		if d.EarlyStart, ok = a.Hours.Next(from); !ok {
			return 0, false
		}
	}
	if d.EarlyFinish, ok = a.Hours.Finish(d.EarlyStart, a.Minutes); !ok {
		return 0, false
	}
	return a.Cure.End(d.EarlyFinish)
}

// backward finds the late dates and the floats.
func (s *schedule) backward(order []int) error {
	for _, i := range slices.Backward(order) {
		late, ok := s.latestStart(i, func(next Dates) units.Instant { return next.LateStart })
		free, also := s.latestStart(i, func(next Dates) units.Instant { return next.EarlyStart })
		if !ok || !also {
			return &NeverError{Activity: i}
		}
		a, d := s.Activities[i], &s.dates[i]
		d.LateStart = late
		d.LateFinish, _ = a.Hours.Finish(late, a.Minutes)
		d.TotalFloat, d.FreeFloat = int(late-d.EarlyStart), int(free-d.EarlyStart)
		d.Critical = d.TotalFloat == 0
	}
	return nil
}

// latestStart gives the latest start of activity i from which each activity after
// it can start at the start given for it, and the whole is no later.
func (s *schedule) latestStart(i int, given func(next Dates) units.Instant) (units.Instant, bool) {
	a := s.Activities[i]
	finish := a.Cure.LatestFinish(s.finish)
	for _, e := range s.graph.out[i] {
		at := given(s.dates[s.Links[e].To])
		if lag := s.Links[e].Lag; lag != nil {
			finish = min(finish, at-units.Instant(*lag))
		} else {
			finish = min(finish, a.Cure.LatestFinish(at))
		}
	}
	return a.Hours.LatestStart(finish, a.Minutes)
}
