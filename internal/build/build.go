// Package build holds a whole build as one value, and the only way to change it.
//
// A Build is read-only: Apply gives a new one. A Change is one person's action, a
// list of edits of single records; Inverse undoes it. Check says everything that is
// wrong with a build, each fault with its path in the build file. Live gives the
// build with its design choices resolved, which is what engines look at.
//
// The package reads and writes no files (packages store and exchange) and computes
// no plans (package answer).
package build

import (
	"errors"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// What can go wrong with the file of a build; the store wraps these, so that others
// can tell them apart without knowing the store.
var (
	// ErrBusy says that another process has the build open for longer than we wait.
	ErrBusy = errors.New("the build is in use")
	// ErrReadOnly says that the file or its folder cannot be written.
	ErrReadOnly = errors.New("the build cannot be written")
	// ErrDamaged says that the file does not hold what was written to it.
	ErrDamaged = errors.New("the file is damaged")
	// ErrNewer says that a newer vanlog has written the file.
	ErrNewer = errors.New("the file was written by a newer vanlog")
	// ErrStale says that the build has changed since it was read.
	ErrStale = errors.New("the build has changed meanwhile")
	// ErrNothing says that there is nothing to undo or to redo.
	ErrNothing = errors.New("nothing to do")
	// ErrExists says that a file is there already.
	ErrExists = errors.New("there is a file already")
	// ErrAbsent says that there is no such file.
	ErrAbsent = errors.New("there is no such build")
)

// Build is one vehicle and all that is known of it.
type Build struct {
	Head      Head
	Resources List[calendar.Resource]
	Places    List[access.Place]
	Items     List[access.Item]
	Parts     List[parts.Part]
	Tasks     List[tasks.Task]
	Edges     List[deps.Edge]
	Options   List[Option]
	Stocks    List[cutlist.Stock]
	Cuts      List[cutlist.Cut]
	Days      List[daybook.Entry] // by At, then by key
	Snags     List[daybook.Snag]
	Clock     *daybook.Clock // work under way; not part of the build file
}

// Head is what a build is as a whole.
type Head struct {
	Name    string         `json:"name,omitempty"`
	Units   string         `json:"units,omitempty"` // metric or imperial, for display
	Now     *units.Instant `json:"now,omitempty"`   // a planning time that stands still, for examples
	Vehicle *Vehicle       `json:"vehicle,omitempty"`
}

// Vehicle is the van before anything is fitted.
type Vehicle struct {
	WheelbaseMm float64     `json:"wheelbase_mm,omitempty"`
	InsideMm    *access.Box `json:"inside_mm,omitempty"` // the load space
	EmptyKg     *Axles      `json:"empty_kg,omitempty"`
	LimitsKg    *Limits     `json:"limits_kg,omitempty"`
}

// Axles is a load on each axle.
type Axles struct {
	Front float64 `json:"front"`
	Rear  float64 `json:"rear"`
}

// Limits are the most that the plates allow.
type Limits struct {
	Total float64 `json:"total"`
	Front float64 `json:"front"`
	Rear  float64 `json:"rear"`
}

// Option is one answer to a design choice; of the options of a choice exactly one is chosen.
type Option struct {
	ID     id.Option `json:"id"`
	Choice string    `json:"choice"`
	Name   string    `json:"name,omitempty"`
	Chosen bool      `json:"chosen,omitempty"`
}

// Key tells the records of a list apart, for as long as they are there. Keys rise in the
// order of the list. The zero Key is no record.
type Key uint64

// List is a list of records in order: Rows[i] has the key Keys[i].
type List[T any] struct {
	Keys []Key
	Rows []T
}

// Len gives the number of records.
func (l List[T]) Len() int { return len(l.Rows) }

// ListOf makes a list of rows with keys of its own.
func ListOf[T any](rows ...T) List[T] {
	l := List[T]{Rows: rows}
	for i := range rows {
		l.Keys = append(l.Keys, Key(i+1))
	}
	return l
}

// ByKey gives the record with key k.
func (l List[T]) ByKey(k Key) (T, bool) {
	for i, have := range l.Keys {
		if have == k {
			return l.Rows[i], true
		}
	}
	var none T
	return none, false
}
