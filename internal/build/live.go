package build

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// Live is a build with its design choices resolved: what bears an option that is not
// chosen is gone, and so are ways through such items (a place with no way left is
// Shut), edges of such tasks, and mentions of such items. A build without resources has
// the default builder.
type Live struct {
	Resources []calendar.Resource
	Places    []access.Place
	Items     []access.Item
	Parts     []parts.Part
	Tasks     []tasks.Task
	Edges     []deps.Edge

	TaskAt     map[id.Task]int
	ItemAt     map[id.Item]int
	PlaceAt    map[id.Place]int
	PartAt     map[id.Part]int
	ResourceAt map[id.Resource]int
}

// Live resolves the design choices of b.
func (b Build) Live() Live {
	l := Live{Resources: b.Resources.Rows, Parts: b.Parts.Rows}
	if len(l.Resources) == 0 {
		l.Resources = []calendar.Resource{calendar.DefaultBuilder()}
	}
	l.ResourceAt = indexOf(l.Resources, func(r calendar.Resource) id.Resource { return r.ID })
	l.PartAt = indexOf(l.Parts, func(p parts.Part) id.Part { return p.ID })
	l.PlaceAt = indexOf(b.Places.Rows, func(p access.Place) id.Place { return p.ID })
	l.liveRows(b)
	return l
}

// liveRows fills in what depends on the options.
func (l *Live) liveRows(b Build) {
	gone := map[id.Option]bool{}
	for _, o := range b.Options.Rows {
		gone[o.ID] = !o.Chosen
	}
	l.Items = kept(b.Items.Rows, func(i access.Item) bool { return !gone[i.Option] })
	l.ItemAt = indexOf(l.Items, func(i access.Item) id.Item { return i.ID })
	l.Tasks = kept(b.Tasks.Rows, func(t tasks.Task) bool { return !gone[t.Option] })
	l.TaskAt = indexOf(l.Tasks, func(t tasks.Task) id.Task { return t.ID })
	for i := range l.Items {
		l.Items[i].Covers = kept(l.Items[i].Covers, l.hasItem)
		l.Items[i].Blocks = kept(l.Items[i].Blocks, l.hasThing)
	}
	for i := range l.Tasks {
		l.Tasks[i].Fits = kept(l.Tasks[i].Fits, l.hasItem)
		l.Tasks[i].Reaches = kept(l.Tasks[i].Reaches, l.hasItem)
	}
	for _, p := range b.Places.Rows {
		l.Places = append(l.Places, l.livePlace(p))
	}
	l.Edges = kept(b.Edges.Rows, func(e deps.Edge) bool { return l.hasTask(e.Before) && l.hasTask(e.After) })
}

func (l *Live) livePlace(p access.Place) access.Place {
	closers := len(p.ClosedBy)
	p.ClosedBy = kept(p.ClosedBy, l.hasItem)
	if closers > 0 && len(p.ClosedBy) == 0 { // nothing of this design ever closes it: open floor
		p.Ways = nil
		return p
	}
	ways := kept(p.Ways, func(w access.Way) bool {
		return !slices.ContainsFunc(w.Through, func(i id.Item) bool { return !l.hasItem(i) })
	})
	p.Shut = len(ways) == 0 && len(p.Ways) > 0
	p.Ways = ways
	return p
}

func (l *Live) hasItem(i id.Item) bool { _, ok := l.ItemAt[i]; return ok }

func (l *Live) hasTask(t id.Task) bool { _, ok := l.TaskAt[t]; return ok }

func (l *Live) hasThing(name string) bool {
	_, place := l.PlaceAt[id.Place(name)]
	return place || l.hasItem(id.Item(name))
}

// Choose gives b with option o chosen in its choice.
func (b Build) Choose(o id.Option) (Build, error) {
	at := slices.IndexFunc(b.Options.Rows, func(r Option) bool { return r.ID == o })
	if at < 0 {
		return b, fmt.Errorf("no option %q", o)
	}
	rows := slices.Clone(b.Options.Rows)
	for i := range rows {
		if rows[i].Choice == rows[at].Choice {
			rows[i].Chosen = i == at
		}
	}
	b.Options.Rows = rows
	return b, nil
}

// FittedNow gives the items that are fitted: those marked so, and those that finished
// tasks fit, in the order of the items.
func (l Live) FittedNow() []id.Item {
	fitted := map[id.Item]bool{}
	for _, t := range l.Tasks {
		for _, i := range t.Fits {
			fitted[i] = fitted[i] || t.State == tasks.Finished
		}
	}
	var out []id.Item
	for _, i := range l.Items {
		if i.Fitted || fitted[i.ID] {
			out = append(out, i.ID)
		}
	}
	return out
}

// kept gives a new list of the rows for which keep holds; nil where there are none.
func kept[T any](rows []T, keep func(T) bool) []T {
	var out []T
	for _, r := range rows {
		if keep(r) {
			out = append(out, r)
		}
	}
	return out
}

func indexOf[T any, K comparable](rows []T, name func(T) K) map[K]int {
	at := make(map[K]int, len(rows))
	for i, r := range rows {
		at[name(r)] = i
	}
	return at
}
