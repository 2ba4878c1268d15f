// Package access answers how to get at a thing in the van: which places to enter,
// which items to open, in which order, at what cost in minutes, and how to refit.
//
// A Place is entered by one of its Ways; an Item is within reach when its place
// has been entered and what covers it is open. A Solver finds the cheapest plan
// for a set of targets, exactly, and says what stands in the way where there is
// none.
//
//	s := access.NewSolver(places, items)
//	p, err := s.Plan(ctx, access.Query{Items: []id.Item{"pump"}, Visits: 1, Fitted: s.All()})
//
// The package knows no tasks and no calendar: when to go in is for others to say.
package access

import (
	"cmp"

	"example.com/vanlog/internal/id"
)

// Place is a part of the van that a person enters or reaches into.
type Place struct {
	ID       id.Place  `json:"id"`
	Name     string    `json:"name,omitempty"`
	Posture  string    `json:"posture,omitempty"` // stand, kneel, crawl, …
	Box      *Box      `json:"box_mm,omitempty"`
	ClosedBy []id.Item `json:"closed_by,omitempty"` // until one of these is fitted it is open floor
	Ways     []Way     `json:"ways,omitempty"`      // none: entered from outside for nothing
	// Shut says that its ways have all gone with designs that were not chosen: there is no
	// way in, unless it is open floor. Not part of the build file.
	Shut bool `json:"-"`
}

// Way is one way into a place.
type Way struct {
	From     id.Place  `json:"from,omitempty"` // none: from outside
	Through  []id.Item `json:"through,omitempty"`
	EnterMin float64   `json:"enter_min,omitempty"`
	Note     string    `json:"note,omitempty"`
}

// Item is a thing that is fitted, or will be.
type Item struct {
	ID      id.Item   `json:"id"`
	Name    string    `json:"name,omitempty"`
	Place   id.Place  `json:"place,omitempty"`   // none: always within reach unless covered
	Covers  []id.Item `json:"covers,omitempty"`  // the items that cover this one: to be opened first
	Opening *Opening  `json:"opening,omitempty"` // nil: never opened once fitted
	Blocks  []string  `json:"blocks,omitempty"`  // places and items that are shut while this one is open
	MassKg  float64   `json:"mass_kg,omitempty"`
	At      *Point    `json:"at_mm,omitempty"`
	Label   string    `json:"label,omitempty"`
	Service []Service `json:"service,omitempty"`
	RunsHot bool      `json:"runs_hot,omitempty"`
	Fitted  bool      `json:"fitted,omitempty"`
	Option  id.Option `json:"option,omitempty"`
}

// SetDefaults fills in what a file may leave out and i does not say.
func (i *Item) SetDefaults() {
	if i.Opening != nil {
		i.Opening.SetDefaults()
	}
}

// Opening says how an item is opened and refitted.
type Opening struct {
	How       string     `json:"how,omitempty"`
	OpenMin   float64    `json:"open_min,omitempty"`
	RefitMin  float64    `json:"refit_min,omitempty"`
	Persons   Persons    `json:"persons,omitzero"`
	Tools     []string   `json:"tools,omitempty"`
	SingleUse bool       `json:"single_use,omitempty"` // destroyed by opening
	Fasteners []Fastener `json:"fasteners,omitempty"`
}

// SetDefaults fills in what a file may leave out and o does not say.
func (o *Opening) SetDefaults() {
	o.Persons = cmp.Or(o.Persons, 1)
	for i := range o.Fasteners {
		o.Fasteners[i].SetDefaults()
	}
}

// Persons counts the people an opening takes; a file that leaves it out means one.
type Persons int

// IsZero reports whether p goes without saying in a file.
func (p Persons) IsZero() bool { return p == 1 }

// Fastener is what holds an item, and how tight.
type Fastener struct {
	What   string `json:"what"`
	Count  Count  `json:"count,omitzero"`
	Torque string `json:"torque,omitempty"` // as typed, see units.ParseQuantity
}

// SetDefaults fills in what a file may leave out and f does not say.
func (f *Fastener) SetDefaults() { f.Count = cmp.Or(f.Count, 1) }

// Count counts fasteners; a file that leaves it out means one.
type Count int

// IsZero reports whether c goes without saying in a file.
func (c Count) IsZero() bool { return c == 1 }

// Service is a job that an item will want in use.
type Service struct {
	What    string  `json:"what"`
	PerYear float64 `json:"per_year"`
	Minutes float64 `json:"minutes,omitempty"`
}

// Point is a position in millimetres: behind the front axle, right of the centre
// line, above the load floor.
type Point [3]float64

// Box is the space from one corner to the opposite one, in millimetres, on the
// axes of Point: x0, y0, z0, x1, y1, z1.
type Box [6]float64

// Title gives the name, or the ID of an item without one.
func (i Item) Title() string {
	if i.Name == "" {
		return string(i.ID)
	}
	return i.Name
}

// Title gives the name, or the ID of a place without one.
func (p Place) Title() string {
	if p.Name == "" {
		return string(p.ID)
	}
	return p.Name
}
