package answer

import (
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// CloseIn gives what the fitting of an item, or of all that a task fits, buries: open
// tasks, and services of what is fitted, that cost more to get at with it than without.
// A name that is both an item and a task is the item. ExtraMin is the sum over the
// tasks and over one year of the services. A *NameError where nothing has the name.
func (v *View) CloseIn(ref string) (CloseIn, error) { return v.CloseInWith(ref, FittedNow) }

// CloseInWith is CloseIn with what f names in the way besides; where that is not what is
// fitted now, the services are those of all items.
func (v *View) CloseInWith(ref string, f Fitted) (CloseIn, error) {
	var fits []id.Item
	if _, ok := v.Live.ItemAt[id.Item(ref)]; ok {
		fits = []id.Item{id.Item(ref)}
	} else if t, ok := v.task(id.Task(ref)); ok {
		fits = t.Fits
	} else {
		return CloseIn{}, &NameError{What: "item or task", Name: ref, Near: Near(ref, v.itemsAndTasks())}
	}
	return v.closeInWith(ref, fits, f), nil
}

func (v *View) itemsAndTasks() []string {
	var out []string
	for _, x := range v.Live.Items {
		out = append(out, string(x.ID))
	}
	for _, t := range v.Live.Tasks {
		out = append(out, string(t.ID))
	}
	return out
}

// CloseInBy gives what the fitting of all that t fits buries, over what is fitted now; also where
// an item has the name of t.
func (v *View) CloseInBy(t tasks.Task) CloseIn {
	return v.closeInWith(string(t.ID), t.Fits, FittedNow)
}

func (v *View) closeInWith(ref string, fits []id.Item, f Fitted) CloseIn {
	y, fitted := v.solver().Set(fits...), v.inTheWay(f)
	c := &cover{v: v, y: y, without: minus(fitted, y), with: union(fitted, y)}
	out := CloseIn{Item: ref, Closes: []Closed{}, NotProved: []Owed{}, ExtraMin: new(float64)}
	if len(fits) == 0 {
		return out
	}
	for _, t := range v.Live.Tasks {
		closed, dearer := c.task(t)
		if !dearer {
			continue
		}
		out.NotProved = append(out.NotProved, v.owedBeforeCover(t)...)
		if t.State != tasks.Finished {
			out.add(closed)
		}
	}
	for _, x := range v.servicedWith(f) {
		for _, closed := range c.services(x) {
			out.add(closed)
		}
	}
	return out
}

func (c *CloseIn) add(x Closed) {
	c.Closes = append(c.Closes, x)
	if x.ExtraMin == nil || c.ExtraMin == nil {
		c.ExtraMin = nil
		return
	}
	*c.ExtraMin += *x.ExtraMin
}

// cover is the fitting of some items y, over what is fitted now.
type cover struct {
	v             *View
	y             access.Set
	without, with access.Set
}

// task prices the covering of t, and reports whether it makes t dearer. What t fits itself
// does not close it in.
func (c *cover) task(t tasks.Task) (Closed, bool) {
	closed, dearer := c.price(c.v.query(t, c.without), c.v.query(t, c.with), 1)
	closed.Task, closed.Visits = t.ID, float64(t.Visits)
	return closed, dearer
}

// servicedWith gives the items whose services count: those that are fitted now, where that
// is asked, else all.
func (v *View) servicedWith(f Fitted) []access.Item {
	if f == FittedAll || f == FittedNone {
		return v.Live.Items
	}
	return slices.DeleteFunc(slices.Clone(v.Live.Items), func(x access.Item) bool {
		return !meets(v.solver().Set(x.ID), v.fitted())
	})
}

// services prices the covering of an item for its services, as often as they come in a year.
func (c *cover) services(item access.Item) []Closed {
	x := item.ID
	if len(item.Service) == 0 || meets(c.v.solver().Set(x), c.y) {
		return nil
	}
	var out []Closed
	for _, s := range item.Service {
		closed, dearer := c.price(c.v.itemQuery(x, c.without), c.v.itemQuery(x, c.with), s.PerYear)
		closed.Service, closed.Of, closed.Visits = s.What, x, s.PerYear
		if dearer {
			out = append(out, closed)
		}
	}
	return out
}

// price compares the way to something without and with the cover. What cannot be reached
// without it cannot be closed in by it.
func (c *cover) price(without, with access.Query, times float64) (Closed, bool) {
	before, ok := c.v.solver().Cost(without)
	if !ok {
		return Closed{}, false
	}
	after, ok := c.v.solver().Cost(with)
	return closedBy(access.Burial{Without: before, With: after, ForGood: !ok}, times), !ok || after > before
}

// hidden reports whether t, which is done, is closed in: what has been fitted since it
// was finished makes the way to it dearer. Where it is not known when it was
// finished, anything in its way counts.
func (v *View) hidden(t tasks.Task) bool {
	var since []id.Item
	for _, other := range v.Live.Tasks {
		if v.fittedSince(other, t) {
			since = append(since, other.Fits...)
		}
	}
	if t.FinishedAt == nil {
		since = v.Live.FittedNow()
	}
	if len(since) == 0 {
		return false
	}
	since = slices.DeleteFunc(slices.Clone(since), func(x id.Item) bool { return slices.Contains(t.Fits, x) })
	_, dearer := (&cover{v: v, without: minus(v.fitted(), v.solver().Set(since...)), with: v.fitted()}).task(t)
	return dearer
}

func (v *View) fittedSince(other, t tasks.Task) bool {
	return other.State == tasks.Finished && other.ID != t.ID && len(other.Fits) > 0 &&
		other.FinishedAt != nil && t.FinishedAt != nil && other.FinishedAt.At >= t.FinishedAt.At
}
