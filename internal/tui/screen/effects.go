package screen

import (
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
)

// StartClock wants the clock to run on a task.
type StartClock struct{ Task id.Task }

// StopClock wants the clock stopped, which makes its entry.
type StopClock struct{}

// CountOne wants a trip in counted on the running clock.
type CountOne struct{}

// OpenEntry wants an entry for a task to be filled in by the person.
type OpenEntry struct{ Task id.Task }

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
