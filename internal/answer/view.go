package answer

import (
	"context"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// View is a build at a planning time, ready for questions. It is safe for use by
// several goroutines.
type View struct {
	Build build.Build
	Live  build.Live
	Now   units.Instant
}

// New prepares b for questions at now.
func New(b build.Build, now units.Instant) *View { panic("not written yet") }

// Sequence gives the best order of the open tasks. The error is a
// *plan.NoSequenceError where there is none.
func (v *View) Sequence(ctx context.Context, o plan.Options) (Sequence, error) {
	panic("not written yet")
}

// Dates gives the early and late dates of the open tasks.
func (v *View) Dates() (Dates, error) { panic("not written yet") }

// TodayOptions narrow the question of what can be done now.
type TodayOptions struct {
	Hours  float64 // at hand; 0: not said. Tasks that fit stand first
	Helper bool    // a helper is here, whatever the calendar says
}

// Today gives what can be done now, in the order of seq (nil: of the early dates),
// and why the rest cannot. Whether the builder is in hours at v.Now does not matter: who
// asks is there.
func (v *View) Today(seq *Sequence, o TodayOptions) Today { panic("not written yet") }

// Reach gives the cheapest way to the targets, items or places by id. The error is a
// *NoWayError where there is no way, a *NameError where a target is not known.
func (v *View) Reach(ctx context.Context, targets []string, visits int, f Fitted) (Reach, error) {
	panic("not written yet")
}

// CloseIn gives what the fitting of an item, or of all that a task fits, buries.
func (v *View) CloseIn(ref string) (CloseIn, error) { panic("not written yet") }

// Ahead gives what work on t at a time skips: must edges, cures and parts that are not
// there yet. Empty: it is t's turn.
func (v *View) Ahead(t id.Task, at units.Instant) []Ahead { panic("not written yet") }

// Status gives the word for how t stands.
func (v *View) Status(t id.Task) Status { panic("not written yet") }

// Owed gives the proofs that t owes and the daybook does not hold.
func (v *View) Owed(t id.Task) []Owed { panic("not written yet") }

// Given reports whether the daybook holds proof c of t: its last reading is within what
// is wanted, or there is a photo for it.
func (v *View) Given(t id.Task, c id.Check) bool { panic("not written yet") }

// Entries gives the daybook of t, oldest first.
func (v *View) Entries(t id.Task) []daybook.Entry { panic("not written yet") }

// Audit gives everything that is wrong with the plan or the record: loops, redundant
// edges, parts that come too late, proofs buried or about to be, work ahead of its
// turn, places that cannot be reached, dates that cannot be held.
func (v *View) Audit(ctx context.Context) []build.Problem { panic("not written yet") }

// NoWayError says that there is no way to the targets.
type NoWayError struct{ NoWay }

func (e *NoWayError) Error() string { panic("not written yet") }

// NameError says that nothing has this name, and which names are near.
type NameError struct {
	What string // task, item, place, item or place, …
	Name string
	Near []string
}

func (e *NameError) Error() string { panic("not written yet") }
