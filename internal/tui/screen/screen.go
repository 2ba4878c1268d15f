// Package screen has the screens of vanlog as values: the Bench (what now?), the Sequence (the
// whole order of work), Reach (the way to anything), Close-in (what will be buried), the Daybook,
// the Parts (what is bought, and what if it comes late) and the Designs (choices side by side).
//
// A Screen is asked for things by Actions, which are bound to keys elsewhere, and gives
// the next Screen and an Effect: a plain value that says what it wants done outside
// itself. It reads no file and no clock, and asks the engines nothing that could take
// long: what it shows is handed to it as Data.
//
//	s, effect := s.Do(screen.Down)
package screen

import (
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// Action is something that a person can ask a screen for. Numbers below zero are left to
// others.
type Action int

// The actions of screens. Those up to Enter mean the same everywhere.
const (
	Up Action = iota + 1
	Down
	PageUp
	PageDown
	First
	Last
	Back  // one step out; never out of vanlog
	Enter // go into, or choose, what is under the cursor

	ToggleClock // start the clock on the task, or stop it
	CountTrip   // count a trip in on the running clock
	WriteEntry  // write an entry for the task
	FinishTask
	WriteNote
	TakePhoto
	TakeReading
	CorrectEntry
	SplitEntry
	StrikeEntry
	FilterEntries
	Earlier // scroll the calendar
	Later
	Finer // the scale of the calendar
	Coarser
	Mark       // take a target, or leave it again
	SwapFitted // as fitted now, or as it will be finished
	MoreTime   // look further while it is open
	LessTime
	OptionBefore // the option on the left
	OptionAfter
	ChooseOption // build it with the option under the cursor

	HoursAtHand // the next of the hours that are at hand today
	HelperHere  // a helper is here, or is not
	Carry       // take a task in hand to move it
	TogglePin   // pin a task where it stands, or take its pins away
	AskLate     // what if the parts that a task waits for come late?
	SeeForecast // show the forecast
	SeeIdle     // show when the builder has no work
	DayBefore   // dial a date
	DayAfter
	WeekBefore
	WeekAfter
	WriteDue    // write the dialled date to the part
	GoodsIn     // the part has arrived
	SwapLearned // with what finished work says of each trade, or without
)

// ScreenKeys are the keys that show another screen. They do so also where letters search,
// until something is typed.
const ScreenKeys = "1234569"

// The scopes of the screens: the names of their sets of keys. FindScope is Reach while a
// target is picked, WayScope while it shows a way; CoverScope is Close-in while an item is
// picked, BehindScope while it shows what the item closes in; CarryScope is the Sequence while
// a task is moved; LateScope is Parts while it shows what to do when some come late. ForecastScope
// and IdleScope are pages over the Sequence.
const (
	BenchScope    = "bench"
	SequenceScope = "sequence"
	FindScope     = "find"
	WayScope      = "way"
	CoverScope    = "cover"
	BehindScope   = "behind"
	DaybookScope  = "daybook"
	DesignsScope  = "designs"
	CarryScope    = "carry"
	PartsScope    = "parts"
	LateScope     = "late"
	ForecastScope = "forecast"
	IdleScope     = "idle"
)

// Effect is something that a screen wants done outside itself. Effects are plain values.
type Effect interface{ Effect() }

// Screen is what fills the work side, or a page that lies over it.
type Screen interface {
	// Scope says which keys work now.
	Scope() string
	// Do gives the screen after an action, and what it wants done, nil for nothing.
	Do(Action) (Screen, Effect)
	// Typed takes a key before any Action is looked up for it; used is false where the
	// screen has no use for it.
	Typed(widget.Key) (next Screen, e Effect, used bool)
	// With gives the screen with other data; what is selected stays selected.
	With(Data) Screen
	// View draws the screen in exactly w columns and h lines.
	View(st widget.Styles, w, h int) string
}

// Data is what screens show. Each field is filled as soon as it is known.
type Data struct {
	View  *answer.View                 // nil: the build is not read yet
	Seq   *answer.Sequence             // nil: not planned yet
	NoSeq string                       // why there is no sequence; empty: there is, or will be
	Today *answer.Today                // nil: not known yet
	Ahead map[build.Key][]answer.Ahead // of entries that came ahead of their turn

	Buried map[build.Key][]answer.Owed // proofs that were missing when an entry closed them in
	Closes *Closes                     // nil: not known yet
	Compare
	Outlook
	Parts []answer.PartRow // nil: not known yet
	Lines int              // about how many lines View will be given: a page of a list
}

// Closes is everything that will be closed in, and by which item.
type Closes struct {
	Edges []answer.Derived
	Owed  map[id.Item][]answer.Owed // proofs that the item buries, of what is done, too; nil: not known yet
	Stale bool                      // of the build as it was before the last change
}

// Compare is what is known of the choices of the build.
type Compare struct {
	Designs []answer.Designs // of each choice that is worked out
	Burden  *answer.Burden   // of the build as it is chosen; nil: not known yet
	Stale   bool             // of the build as it was before the last change
	Working bool
	Stopped bool   // by the person
	Trouble string // why it cannot be worked out
}

// Outlook is what is known of when the build will be done.
type Outlook struct {
	Forecast *answer.Forecast // nil: not known yet
	Asked    FindForecast     // as it was asked for last
	Looking  bool             // it is being worked out
	Aged     bool             // Forecast is of the build as it was before the last change
	NoView   string           // why there is none; empty: there is, or will be
}

// Focus is the thing that the van and the card show: a task, or items and places. The
// zero Focus is nothing.
type Focus struct {
	Task    id.Task
	Part    id.Part       // that is edited in place of the task that waits for it
	Targets []string      // items or places, by id
	Fitted  answer.Fitted // with what in the way; empty: what is fitted now
	Behind  []string      // items or places that the target closes in, by id, in the order of their numbers
}

// movement gives the key by which a list knows an action.
func movement(a Action) (widget.Key, bool) {
	names := map[Action]string{Up: "up", Down: "down", PageUp: "pgup", PageDown: "pgdown", First: "home", Last: "end"}
	name, ok := names[a]
	return widget.Key{Name: name}, ok
}
