package screen

import (
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// StartClock wants the clock to run on a task.
type StartClock struct{ Task id.Task }

// StopClock wants the clock stopped, which makes its entry.
type StopClock struct{}

// CountOne wants a trip in counted on the running clock.
type CountOne struct{}

// OpenEntry wants an entry for a task to be filled in by the person.
type OpenEntry struct{ Task id.Task }

// OpenNote wants a note on a task to be written by the person.
type OpenNote struct{ Task id.Task }

// AddPhoto wants the newest picture entered for a task.
type AddPhoto struct{ Task id.Task }

// OpenReading wants readings for a task to be filled in by the person.
type OpenReading struct{ Task id.Task }

// OpenCorrection wants an entry of the daybook to be changed by the person.
type OpenCorrection struct {
	Key  build.Key
	Base daybook.Entry // as it is seen
}

// OpenSplit wants an entry of the daybook to be split by the person.
type OpenSplit struct {
	Key  build.Key
	Base daybook.Entry
}

// AskStrike wants an entry of the daybook struck out, after a question.
type AskStrike struct {
	Key  build.Key
	Base daybook.Entry
}

// OpenFilter wants the person to say which entries of the daybook to show.
type OpenFilter struct{ Filter answer.DayFilter }

// Finish wants a task finished, once the person knows what that buries.
type Finish struct{ Task id.Task }

// FindWay wants the cheapest way to some items or places, and what else there is to know
// about it.
type FindWay struct {
	Targets []string
	Fitted  answer.Fitted
	MoreMin float64 // of access, for what could be done while it is open
}

// FindCautions wants the warnings about fitting an item.
type FindCautions struct{ Item id.Item }

// Choose wants the build made with an option of a choice.
type Choose struct{ Option id.Option }

// AskToday wants to know what can be done with the hours that are at hand now.
type AskToday struct{}

// PriceMove wants to know what moving a task to a place costs; the zero PriceMove, no more.
type PriceMove struct {
	Task id.Task
	To   answer.Place
}

// MoveTask wants a task moved by hand.
type MoveTask struct {
	Task id.Task
	To   answer.Place
}

// PinTask wants a task pinned where it stands in an order.
type PinTask struct {
	Task id.Task
	Seq  *answer.Sequence
}

// UnpinTask wants the pins of a task taken away.
type UnpinTask struct{ Task id.Task }

// ShowLate wants the Parts to show what to do when some come late.
type ShowLate struct{ Parts []id.Part }

// FindLate wants to know what to do when parts come on other days; no delays: no more.
type FindLate struct{ Delays []answer.Delay }

// SaveDue wants a part due on a day.
type SaveDue struct {
	Part id.Part
	Due  units.Date
}

// TakeIn says that a part has arrived.
type TakeIn struct{ Part id.Part }

// ShowForecast wants the page of the forecast.
type ShowForecast struct{}

// FindForecast wants the forecast, and the chance to be done by the end of a day (0: none is
// asked about).
type FindForecast struct {
	Learn bool
	By    units.Date
}

// ShowIdle wants the page of when the builder has no work.
type ShowIdle struct{}

// ClosePage wants the page on top closed.
type ClosePage struct{}

// Refuse says why an action does nothing here.
type Refuse struct{ Text string }

// Effect marks StartClock as an Effect.
func (StartClock) Effect() {}

// Effect marks StopClock as an Effect.
func (StopClock) Effect() {}

// Effect marks CountOne as an Effect.
func (CountOne) Effect() {}

// Effect marks OpenEntry as an Effect.
func (OpenEntry) Effect() {}

// Effect marks OpenNote as an Effect.
func (OpenNote) Effect() {}

// Effect marks AddPhoto as an Effect.
func (AddPhoto) Effect() {}

// Effect marks OpenReading as an Effect.
func (OpenReading) Effect() {}

// Effect marks OpenCorrection as an Effect.
func (OpenCorrection) Effect() {}

// Effect marks OpenSplit as an Effect.
func (OpenSplit) Effect() {}

// Effect marks AskStrike as an Effect.
func (AskStrike) Effect() {}

// Effect marks OpenFilter as an Effect.
func (OpenFilter) Effect() {}

// Effect marks Finish as an Effect.
func (Finish) Effect() {}

// Effect marks FindWay as an Effect.
func (FindWay) Effect() {}

// Effect marks FindCautions as an Effect.
func (FindCautions) Effect() {}

// Effect marks Choose as an Effect.
func (Choose) Effect() {}

// Effect marks Refuse as an Effect.
func (Refuse) Effect() {}

// Effect marks AskToday as an Effect.
func (AskToday) Effect() {}

// Effect marks PriceMove as an Effect.
func (PriceMove) Effect() {}

// Effect marks MoveTask as an Effect.
func (MoveTask) Effect() {}

// Effect marks PinTask as an Effect.
func (PinTask) Effect() {}

// Effect marks UnpinTask as an Effect.
func (UnpinTask) Effect() {}

// Effect marks ShowLate as an Effect.
func (ShowLate) Effect() {}

// Effect marks FindLate as an Effect.
func (FindLate) Effect() {}

// Effect marks SaveDue as an Effect.
func (SaveDue) Effect() {}

// Effect marks TakeIn as an Effect.
func (TakeIn) Effect() {}

// Effect marks ShowForecast as an Effect.
func (ShowForecast) Effect() {}

// Effect marks FindForecast as an Effect.
func (FindForecast) Effect() {}

// Effect marks ShowIdle as an Effect.
func (ShowIdle) Effect() {}

// Effect marks ClosePage as an Effect.
func (ClosePage) Effect() {}
