package deps

import (
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

// Schedule gives the dates of every activity, and the finish of the whole, cures
// included: the critical path method with minimum lags (US Navy NAVEDTRA 14233,
// ch. 2: early finish + lag = early start of the next; late start − lag = late finish
// of the one before; total float = late start − early start; free float = early
// start of the next − lag − early finish). Nothing starts before n.Start. The error
// says which activity never finishes (its hours never come).
func (n Network) Schedule() ([]Dates, units.Instant, error) { panic("not written yet") }
