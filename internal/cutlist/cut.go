// Package cutlist holds the bars a build is cut from and the pieces wanted.
//
// Lengths are kept as typed (see units.ParseQuantity). The package makes no cutting plan yet.
package cutlist

import (
	"cmp"

	"example.com/vanlog/internal/id"
)

// Stock is a kind of bar, in the lengths it can be had in.
type Stock struct {
	ID      id.Stock `json:"id"`
	Name    string   `json:"name,omitempty"`
	Kerf    string   `json:"kerf,omitempty"` // width the saw takes
	Trim    string   `json:"trim,omitempty"` // taken off the end of each bar
	KgPerM  float64  `json:"kg_per_m,omitempty"`
	Lengths []Length `json:"lengths,omitempty"`
}

// Length is a length a stock can be had in.
type Length struct {
	Length string `json:"length"`
	Have   *int   `json:"have,omitempty"` // nil: as many as wanted can be bought
	Cost   string `json:"cost,omitempty"`
}

// Cut is a row of the cutting list: some pieces of one length.
type Cut struct {
	ID     id.Cut   `json:"id"`
	Stock  id.Stock `json:"stock"`
	Length string   `json:"length"`
	Qty    Qty      `json:"qty,omitzero"`
	Task   id.Task  `json:"task,omitempty"`
	Note   string   `json:"note,omitempty"`
}

// SetDefaults fills in what a file may leave out and c does not say.
func (c *Cut) SetDefaults() { c.Qty = cmp.Or(c.Qty, 1) }

// Qty counts pieces; a file that leaves it out means one.
type Qty int

// IsZero reports whether q goes without saying in a file.
func (q Qty) IsZero() bool { return q == 1 }
