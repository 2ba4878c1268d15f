package answer

import (
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// Derived is an edge that nobody typed: fitting Item closes in a task or a service.
type Derived struct {
	Item  id.Item `json:"item"`
	FitBy id.Task `json:"fit_by,omitempty"` // the open task that fits it, if there is one
	Closed
	Owed []Owed `json:"owed"` // proofs that should be in before
}

// DerivedEdges gives the close-in table of the whole build: every item whose fitting makes
// the way to an open task, or to a service of another item, dearer than it is with the rest
// that f names, or bars it; in the order of the items, then of what they close in. A task is
// not closed in by what it fits itself. Services are those of what is fitted now; where f is
// FittedAll or FittedNone, those of all items.
func (v *View) DerivedEdges(f Fitted) []Derived {
	d := &derived{v: v, fitted: v.inTheWay(f), fitBy: v.fitters(), rows: make([][]Derived, len(v.Live.Items))}
	for _, t := range v.Live.Tasks {
		if t.State != tasks.Finished {
			d.task(t)
		}
	}
	for _, x := range v.servicedWith(f) {
		d.services(x)
	}
	out := []Derived{}
	for _, rows := range d.rows {
		out = append(out, rows...)
	}
	return out
}

// derived is a close-in table as it is made.
type derived struct {
	v      *View
	fitted access.Set
	fitBy  map[id.Item]id.Task
	rows   [][]Derived // of each item
}

// task adds what closes in t.
func (d *derived) task(t tasks.Task) {
	owed := append([]Owed{}, d.v.owedBeforeCover(t)...)
	for _, b := range d.v.solver().Burials(d.v.query(t, d.fitted)) {
		if slices.Contains(t.Fits, b.Item) {
			continue
		}
		c := closedBy(b, 1)
		c.Task, c.Visits = t.ID, float64(t.Visits)
		d.add(b.Item, c, owed)
	}
}

// services adds what closes in the services of x.
func (d *derived) services(x access.Item) {
	if len(x.Service) == 0 {
		return
	}
	for _, b := range d.v.solver().Burials(d.v.itemQuery(x.ID, d.fitted)) {
		if b.Item == x.ID {
			continue
		}
		for _, s := range x.Service {
			c := closedBy(b, s.PerYear)
			c.Service, c.Of, c.Visits = s.What, x.ID, s.PerYear
			d.add(b.Item, c, []Owed{})
		}
	}
}

func (d *derived) add(x id.Item, c Closed, owed []Owed) {
	at := d.v.Live.ItemAt[x]
	d.rows[at] = append(d.rows[at], Derived{Item: x, FitBy: d.fitBy[x], Closed: c, Owed: owed})
}

// fitters gives the first open task that fits each item.
func (v *View) fitters() map[id.Item]id.Task {
	out := map[id.Item]id.Task{}
	for _, t := range v.Live.Tasks {
		for _, x := range t.Fits {
			if _, had := out[x]; !had && t.State != tasks.Finished {
				out[x] = t.ID
			}
		}
	}
	return out
}

// closedBy prices a burial of what is gone to so many times.
func closedBy(b access.Burial, times float64) Closed {
	c := Closed{BeforeMin: b.Without.Minutes()}
	if !b.ForGood {
		after, extra := b.With.Minutes(), (b.With-b.Without).Minutes()*times
		c.AfterMin, c.ExtraMin = &after, &extra
	}
	return c
}
