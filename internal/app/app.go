// Package app has one method for each thing a person can do to a build, for the
// commands and the screens alike. It reads and writes through a Store and owns no
// state but the last build read, so that several vanlogs can work on one file.
//
// Questions are put to the View that it gives (package answer); it shows nothing.
package app

import (
	"context"
	"sync"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
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
	// Backup writes a verified copy; build.ErrExists where there is a file of that name.
	Backup(ctx context.Context, to string) error
	// Path gives the name of the file.
	Path() string
}

// App works on one build. It is safe for use by several goroutines.
type App struct {
	store Store
	now   func() units.Instant
	fixed bool // now is the planning time, whatever the build says

	mu   sync.Mutex
	last *answer.View // nil: none read yet
	rev  build.Rev    // of last
}

// New makes an App on a store; now is the clock.
func New(s Store, now func() units.Instant) *App { return &App{store: s, now: now} }

// NewAt makes an App for which it is now, also where the build has a planning time of
// its own.
func NewAt(s Store, now units.Instant) *App {
	return &App{store: s, now: func() units.Instant { return now }, fixed: true}
}

// View gives the build as it is on file now, ready for questions at the planning time:
// the build's own, or the clock. The errors are those of Store.Load.
func (a *App) View(ctx context.Context) (*answer.View, error) {
	v, _, err := a.view(ctx)
	return v, err
}

// view gives the build and its revision; the last one again while nothing changes.
func (a *App) view(ctx context.Context) (*answer.View, build.Rev, error) {
	rev, err := a.store.Rev(ctx)
	if err != nil {
		return nil, 0, err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.last != nil && a.rev == rev {
		return a.keep(a.last.Build, rev), rev, nil
	}
	b, rev, err := a.store.Load(ctx)
	if err != nil {
		return nil, 0, err
	}
	return a.keep(b, rev), rev, nil
}

// keep makes b the last build read, and gives its view. The caller holds the lock.
func (a *App) keep(b build.Build, rev build.Rev) *answer.View {
	now := a.planningTime(b)
	if a.last == nil || a.rev != rev || a.last.Now != now {
		a.last, a.rev = answer.New(b, now), rev
	}
	return a.last
}

// Stands reports whether the planning time stands still, as it was given to NewAt.
func (a *App) Stands() bool { return a.fixed }

func (a *App) planningTime(b build.Build) units.Instant {
	if b.Head.Now != nil && !a.fixed {
		return *b.Head.Now
	}
	return a.now()
}

// Rev gives the revision of the file, cheaply: the screens ask once a second.
func (a *App) Rev(ctx context.Context) (build.Rev, error) { return a.store.Rev(ctx) }

// Undo takes the newest change back; build.ErrNothing where there is none.
func (a *App) Undo(ctx context.Context) (build.Change, error) { return a.store.Undo(ctx) }

// Redo does the change that was undone last again; build.ErrNothing where there is none
// or something was changed since.
func (a *App) Redo(ctx context.Context) (build.Change, error) { return a.store.Redo(ctx) }

// History gives the newest changes, newest first, without their edits; most < 1: all.
func (a *App) History(ctx context.Context, most int) ([]build.Change, error) {
	return a.store.History(ctx, most)
}

// Path gives the name of the file.
func (a *App) Path() string { return a.store.Path() }

// Backup writes a verified copy of the file, history and all; build.ErrExists where there is a file of
// that name.
func (a *App) Backup(ctx context.Context, to string) error { return a.store.Backup(ctx, to) }

// Verify checks the file.
func (a *App) Verify(ctx context.Context) ([]build.Problem, error) { return a.store.Verify(ctx) }
