package build

import (
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// Carrying gives the edits that carry another name of a record through everything that names
// it, where row, a record of kind to be saved under key k, has another id than the record that is there. Row
// itself is not among them. None where the id stays, or the kind has none.
func (b Build) Carrying(kind Kind, k Key, row any) []Edit {
	old, now := idOf(b.rowAt(kind, k)), idOf(row)
	if old == "" || now == "" || old == now {
		return nil
	}
	c := carrier{b: b, kind: kind, key: k, old: old, now: now}
	switch kind {
	case TaskKind:
		c.task()
	case ItemKind:
		c.item()
	case PlaceKind:
		c.place()
	case PartKind:
		c.part()
	case ResourceKind:
		c.resource()
	case OptionKind:
		c.option()
	case StockKind:
		c.stock()
	}
	return c.edits
}

// rowAt gives the record with key k of a kind whose records have ids; nil for none.
func (b Build) rowAt(kind Kind, k Key) any {
	switch kind {
	case TaskKind:
		return at(b.Tasks, k)
	case ItemKind:
		return at(b.Items, k)
	case PlaceKind:
		return at(b.Places, k)
	case PartKind:
		return at(b.Parts, k)
	case ResourceKind:
		return at(b.Resources, k)
	case OptionKind:
		return at(b.Options, k)
	case StockKind:
		return at(b.Stocks, k)
	}
	return nil
}

func idOf(row any) string {
	switch r := row.(type) {
	case tasks.Task:
		return string(r.ID)
	case access.Item:
		return string(r.ID)
	case access.Place:
		return string(r.ID)
	case parts.Part:
		return string(r.ID)
	case calendar.Resource:
		return string(r.ID)
	case Option:
		return string(r.ID)
	case cutlist.Stock:
		return string(r.ID)
	}
	return ""
}

// carrier gathers the edits that one name takes the place of another by.
type carrier struct {
	b        Build
	kind     Kind // of the record
	key      Key
	old, now string
	edits    []Edit
}

// through edits the records of a list that name the record: change does it to one, and says whether it
// does.
func through[T any](c *carrier, kind Kind, l List[T], change func(*T) bool) {
	for i, row := range l.Rows {
		if own := kind == c.kind && l.Keys[i] == c.key; !own && change(&row) {
			c.edits = append(c.edits, c.b.Editing(kind, l.Keys[i], row))
		}
	}
}

// swap puts the new name in the place of the old.
func swap[S ~string](c *carrier, name *S) bool {
	if string(*name) != c.old {
		return false
	}
	*name = S(c.now)
	return true
}

// swapIn is swap in a list, which is not written to: another build may share it.
func swapIn[S ~string](c *carrier, names *[]S) bool {
	i := slices.Index(*names, S(c.old))
	if i < 0 {
		return false
	}
	*names = slices.Clone(*names)
	for i := range *names {
		swap(c, &(*names)[i])
	}
	return true
}

// changed reports whether anything was changed; all arguments are worked out.
func changed(each ...bool) bool { return slices.Contains(each, true) }

func (c *carrier) task() {
	through(c, EdgeKind, c.b.Edges, func(e *deps.Edge) bool { return changed(swap(c, &e.Before), swap(c, &e.After)) })
	through(c, CutKind, c.b.Cuts, func(x *cutlist.Cut) bool { return swap(c, &x.Task) })
	through(c, DayKind, c.b.Days, func(e *daybook.Entry) bool { return swap(c, &e.Task) })
	through(c, SnagKind, c.b.Snags, func(s *daybook.Snag) bool { return changed(swap(c, &s.Task), swap(c, &s.Became)) })
	if clock := c.b.Clock; clock != nil && string(clock.Task) == c.old {
		next := *clock
		next.Task = id.Task(c.now)
		c.edits = append(c.edits, c.b.Editing(ClockKind, 1, next))
	}
}

func (c *carrier) item() {
	isPlace := slices.ContainsFunc(c.b.Places.Rows, func(p access.Place) bool { return string(p.ID) == c.old })
	through(c, PlaceKind, c.b.Places, func(p *access.Place) bool {
		hit := swapIn(c, &p.ClosedBy)
		p.Ways = slices.Clone(p.Ways)
		for i := range p.Ways {
			hit = swapIn(c, &p.Ways[i].Through) || hit
		}
		return hit
	})
	through(c, ItemKind, c.b.Items, func(x *access.Item) bool {
		return changed(swapIn(c, &x.Covers), !isPlace && swapIn(c, &x.Blocks))
	})
	through(c, TaskKind, c.b.Tasks, func(t *tasks.Task) bool { return changed(swapIn(c, &t.Fits), swapIn(c, &t.Reaches)) })
	through(c, SnagKind, c.b.Snags, func(s *daybook.Snag) bool { return swap(c, &s.Item) })
}

func (c *carrier) place() {
	isItem := slices.ContainsFunc(c.b.Items.Rows, func(x access.Item) bool { return string(x.ID) == c.old })
	through(c, PlaceKind, c.b.Places, func(p *access.Place) bool {
		hit := false
		p.Ways = slices.Clone(p.Ways)
		for i := range p.Ways {
			hit = swap(c, &p.Ways[i].From) || hit
		}
		return hit
	})
	through(c, ItemKind, c.b.Items, func(x *access.Item) bool {
		return changed(swap(c, &x.Place), !isItem && swapIn(c, &x.Blocks))
	})
	through(c, TaskKind, c.b.Tasks, func(t *tasks.Task) bool { return swap(c, &t.Place) })
	through(c, SnagKind, c.b.Snags, func(s *daybook.Snag) bool { return swap(c, &s.Place) })
}

func (c *carrier) part() {
	through(c, TaskKind, c.b.Tasks, func(t *tasks.Task) bool { return swapIn(c, &t.Parts) })
}

func (c *carrier) resource() {
	through(c, TaskKind, c.b.Tasks, func(t *tasks.Task) bool {
		hit := false
		if n, uses := t.Uses[id.Resource(c.old)]; uses {
			next := tasks.Uses{}
			for name, units := range t.Uses {
				next[name] = units
			}
			delete(next, id.Resource(c.old))
			next[id.Resource(c.now)] = n
			t.Uses, hit = next, true
		}
		if t.Cure != nil {
			cure := *t.Cure
			if changed(swap(c, &cure.While), swapIn(c, &cure.Holds)) {
				t.Cure, hit = &cure, true
			}
		}
		return hit
	})
}

func (c *carrier) option() {
	through(c, ItemKind, c.b.Items, func(x *access.Item) bool { return swap(c, &x.Option) })
	through(c, TaskKind, c.b.Tasks, func(t *tasks.Task) bool { return swap(c, &t.Option) })
}

func (c *carrier) stock() {
	through(c, CutKind, c.b.Cuts, func(x *cutlist.Cut) bool { return swap(c, &x.Stock) })
}
