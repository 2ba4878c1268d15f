// Package parts holds what is bought for a build, and answers when it is there.
//
// It orders nothing and knows no prices but the one typed.
package parts

import (
	"cmp"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Part is a thing that is bought, or some of the same.
type Part struct {
	ID       id.Part        `json:"id"`
	Name     string         `json:"name,omitempty"`
	Qty      Qty            `json:"qty,omitzero"`
	LeadDays units.Estimate `json:"lead_days,omitzero"` // days from order to arrival
	Ordered  *units.When    `json:"ordered,omitempty"`
	Due      *units.When    `json:"due,omitempty"`
	Arrived  *units.When    `json:"arrived,omitempty"`
	Cost     string         `json:"cost,omitempty"` // as typed, a decimal number
}

// SetDefaults fills in what a file may leave out and p does not say.
func (p *Part) SetDefaults() { p.Qty = cmp.Or(p.Qty, 1) }

// Qty counts pieces; a file that leaves it out means one.
type Qty float64

// IsZero reports whether q goes without saying in a file.
func (q Qty) IsZero() bool { return q == 1 }

// Title gives the name, or the ID of a part without one.
func (p Part) Title() string {
	if p.Name == "" {
		return string(p.ID)
	}
	return p.Name
}

// ThereFrom gives the first minute from which p can be used, as seen at now:
// now itself where it has arrived, else 00:00 of the day after it is due. A part
// without a due date is due its likely lead time after it was ordered; one
// that is not ordered, as if it were ordered now.
func (p Part) ThereFrom(now units.Instant) units.Instant {
	if p.Arrived != nil {
		return now
	}
	return p.dueDate(now).Start() + units.Day
}

func (p Part) dueDate(now units.Instant) units.Date {
	switch {
	case p.Due != nil:
		return p.Due.At.Date()
	case p.Ordered != nil:
		return p.Ordered.At.Date() + units.Date(p.LeadDays.Likely)
	}
	return now.Date() + units.Date(p.LeadDays.Likely)
}
