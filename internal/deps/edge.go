// Package deps holds what must come before what, and answers from that alone:
// an order, the loops that make one impossible, the edges that say nothing new,
// what each task holds up, and the early and late dates of the critical path.
//
// It knows nothing of hands, of access or of what buries what: see packages plan
// and answer for the order a person works in.
package deps

import (
	"cmp"

	"example.com/vanlog/internal/id"
)

// Edge says that one task comes before another.
type Edge struct {
	Before  id.Task  `json:"before"`
	After   id.Task  `json:"after"`
	Kind    Kind     `json:"kind,omitzero"`
	LagH    *float64 `json:"lag_h,omitempty"`    // hours after the finish of Before; nil: the end of its cure
	ReworkH float64  `json:"rework_h,omitempty"` // of should: added to Before once After has started
	Why     string   `json:"why,omitempty"`
}

// SetDefaults fills in what a file may leave out and e does not say.
func (e *Edge) SetDefaults() { e.Kind = cmp.Or(e.Kind, Must) }

// Kind says how binding an edge is.
type Kind string

// The kinds of edge: Must holds always, Should may be broken at the price of rework.
const (
	Must   Kind = "must"
	Should Kind = "should"
)

// IsZero reports whether k goes without saying in a file.
func (k Kind) IsZero() bool { return k == Must || k == "" }

// Valid reports whether k is one of the kinds.
func (k Kind) Valid() bool { return k == Must || k == Should }
