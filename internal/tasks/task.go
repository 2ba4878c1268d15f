// Package tasks holds what a piece of work is: how long it takes, where it is
// done, what it fits, what must cure after it, which proofs it owes, and how far
// it has come.
//
// The package knows no order (package deps), no access (package access) and no
// clock; it changes nothing by itself.
package tasks

import (
	"cmp"
	"maps"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Task is a piece of work.
type Task struct {
	ID         id.Task        `json:"id"`
	Name       string         `json:"name,omitempty"`
	Trade      string         `json:"trade,omitempty"` // kind of work, for learning how long it takes
	Hours      units.Estimate `json:"hours"`           // hours of work, without access
	Place      id.Place       `json:"place,omitempty"` // where it is done; none: anywhere
	Fits       []id.Item      `json:"fits,omitempty"`  // items that are fitted once it has finished
	Reaches    []id.Item      `json:"reaches,omitempty"`
	Visits     Visits         `json:"visits,omitzero"` // trips in
	Uses       Uses           `json:"uses,omitzero"`
	Cure       *Cure          `json:"cure,omitempty"`
	Parts      []id.Part      `json:"parts,omitempty"`
	NotBefore  *units.When    `json:"not_before,omitempty"`
	NotAfter   *units.When    `json:"not_after,omitempty"` // a date means its end
	Checks     []Check        `json:"checks,omitempty"`
	State      State          `json:"state,omitzero"`
	SpentH     float64        `json:"spent_h,omitempty"`
	LeftH      *float64       `json:"left_h,omitempty"` // nil: likely hours less those spent
	FinishedAt *units.When    `json:"finished_at,omitempty"`
	Option     id.Option      `json:"option,omitempty"`
}

// SetDefaults fills in what a file may leave out and t does not say.
func (t *Task) SetDefaults() {
	t.Visits, t.State = cmp.Or(t.Visits, 1), cmp.Or(t.State, Todo)
	if t.Uses == nil {
		t.Uses = Uses{"builder": 1}
	}
}

// Title gives the name, or the ID of a task without one.
func (t Task) Title() string {
	if t.Name == "" {
		return string(t.ID)
	}
	return t.Name
}

// LeftMinutes gives the work that remains, in minutes, without access and
// rework: LeftH where given, else the likely hours, less SpentH once started.
func (t Task) LeftMinutes() int {
	switch {
	case t.State == Finished:
		return 0
	case t.LeftH != nil:
		return units.RoundMinutes(*t.LeftH)
	case t.State == Started:
		return units.RoundMinutes(max(0, t.Hours.Likely-t.SpentH))
	}
	return units.RoundMinutes(t.Hours.Likely)
}

// Check gives the proof named c.
func (t Task) Check(c id.Check) (Check, bool) {
	for _, k := range t.Checks {
		if k.ID == c {
			return k, true
		}
	}
	return Check{}, false
}

// State says how far a task has come.
type State string

// The states of a task. Whether a task that is still to do can be worked on is
// not a state but an answer (package answer).
const (
	Todo     State = "todo"
	Started  State = "started"
	Finished State = "finished"
)

// IsZero reports whether s goes without saying in a file.
func (s State) IsZero() bool { return s == Todo || s == "" }

// Valid reports whether s is one of the states.
func (s State) Valid() bool { return s == Todo || s == Started || s == Finished }

// Visits counts the trips in to a task; a file that leaves it out means one.
type Visits int

// IsZero reports whether v goes without saying in a file.
func (v Visits) IsZero() bool { return v == 1 }

// Uses says how many units of each resource a task uses while it works. A file
// that leaves it out means the builder.
type Uses map[id.Resource]int

// IsZero reports whether u goes without saying in a file.
func (u Uses) IsZero() bool { return maps.Equal(u, Uses{"builder": 1}) }

// Cure is a wait that begins at a task's finish.
type Cure struct {
	Hours float64       `json:"hours"`
	While id.Resource   `json:"while,omitempty"` // only minutes in its hours count
	Holds []id.Resource `json:"holds,omitempty"` // one unit each, to the end of the cure
}

// Check is a proof that a task owes.
type Check struct {
	ID          id.Check `json:"id"`
	Kind        Kind     `json:"kind"`
	What        string   `json:"what,omitempty"`
	Want        string   `json:"want,omitempty"` // as typed, see units.ParseWant; empty: a plain yes
	BeforeCover bool     `json:"before_cover,omitempty"`
}

// Kind is the kind of a proof.
type Kind string

// Kinds are the kinds of proof.
func Kinds() []Kind {
	return []Kind{"photo", "measure", "test", "torque", "label", "weight", "certificate", "receipt", "signature"}
}

// Kinds that are treated in their own way.
const (
	Photo  Kind = "photo"  // the only one that is given by a photo, not by a reading
	Torque Kind = "torque" // its readings say how they were come by
)
