// Package app has one method for each thing a person can do to a build, for the
// commands and the screens alike. It reads and writes through a Store and owns no
// state but the last build read, so that several vanlogs can work on one file.
//
// Questions are put to the View that it gives (package answer); it shows nothing.
package app

import (
	"context"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Store keeps one build. Every method opens the file and lets go of it.
type Store interface {
	// Rev gives the revision of the file, cheaply.
	Rev(ctx context.Context) (build.Rev, error)
	// Load reads the build.
	Load(ctx context.Context) (build.Build, build.Rev, error)
	// Commit writes c, made from the build at rev, with its journal entry, in one
	// transaction. It gives c with its Seq and the new revision; build.ErrStale where
	// the file is no longer at rev.
	Commit(ctx context.Context, c build.Change, rev build.Rev) (build.Change, build.Rev, error)
	// Undo takes back the newest change that is not undone; Redo does the oldest undone
	// one again, unless something was changed since. Both give build.ErrNothing where
	// there is nothing to do.
	Undo(ctx context.Context) (build.Change, error)
	Redo(ctx context.Context) (build.Change, error)
	// History gives the newest changes, newest first, without their edits; most < 1: all.
	History(ctx context.Context, most int) ([]build.Change, error)
	// Verify checks the file: pages, every record, every cross reference, and that the
	// journal leads from an empty build to this one.
	Verify(ctx context.Context) ([]build.Problem, error)
	// Path gives the name of the file.
	Path() string
}

// App works on one build.
type App struct{}

// New makes an App on a store; now is the clock.
func New(s Store, now func() units.Instant) *App { panic("not written yet") }

// View gives the build as it is on file now, ready for questions at the planning time:
// the clock, or the build's own.
func (a *App) View(ctx context.Context) (*answer.View, error) { panic("not written yet") }

// Rev gives the revision of the file, cheaply: the screens ask once a second.
func (a *App) Rev(ctx context.Context) (build.Rev, error) { panic("not written yet") }

// LogRequest is an entry to be made.
type LogRequest struct {
	Task     id.Task
	Minutes  int
	At       *units.Instant // when the work began; nil: Minutes ago
	Visits   int
	Note     string
	Photos   []string
	Readings []daybook.Reading
	Finished bool
}

// Logged is an entry that was made.
type Logged struct {
	daybook.Entry
	Ahead     []answer.Ahead `json:"ahead_of_its_turn,omitempty"`
	NotProved []answer.Owed  `json:"not_proved,omitempty"` // buried by what this finished
	Change    build.Change   `json:"-"`
}

// Log makes an entry: the task's spent hours and state follow from it.
func (a *App) Log(ctx context.Context, r LogRequest) (Logged, error) { panic("not written yet") }

// Start sets the clock running on t; a clock that runs on another task is stopped first.
func (a *App) Start(ctx context.Context, t id.Task) (build.Change, error) { panic("not written yet") }

// Stop stops the clock and makes its entry, with what r adds (Task, Minutes, At are the clock's).
func (a *App) Stop(ctx context.Context, r LogRequest) (Logged, error) { panic("not written yet") }

// TripIn counts a trip in on the running clock.
func (a *App) TripIn(ctx context.Context) (build.Change, error) { panic("not written yet") }

// Save puts a record in its list: in place of the one with key k, or at the end for key 0.
// Row is the domain type of the kind.
func (a *App) Save(ctx context.Context, kind build.Kind, k build.Key, row any) (build.Change, error) {
	panic("not written yet")
}

// Remove removes a record and what means nothing without it; also says what went with it.
func (a *App) Remove(ctx context.Context, kind build.Kind, k build.Key) (c build.Change, also []string, err error) {
	panic("not written yet")
}

// Import replaces the build by another, as one change.
func (a *App) Import(ctx context.Context, b build.Build, what string) (build.Change, error) {
	panic("not written yet")
}

// Undo takes the newest change back, Redo does it again.
func (a *App) Undo(ctx context.Context) (build.Change, error) { panic("not written yet") }

// Redo does the change that was undone last again.
func (a *App) Redo(ctx context.Context) (build.Change, error) { panic("not written yet") }

// History gives the newest changes, newest first.
func (a *App) History(ctx context.Context, most int) ([]build.Change, error) {
	panic("not written yet")
}

// Verify checks the file.
func (a *App) Verify(ctx context.Context) ([]build.Problem, error) { panic("not written yet") }
