package build

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// InUseError says what still needs a record that was to be removed.
type InUseError struct {
	What string   // the record
	By   []string // what needs it
}

func (e *InUseError) Error() string {
	by, more := e.By, ""
	if len(by) > 5 {
		more = fmt.Sprintf(" and %d more", len(by)-5)
		by = by[:5]
	}
	return fmt.Sprintf("%s is still needed by %s%s", e.What, strings.Join(by, ", "), more)
}

// RemovalOf gives the edits that remove the record with key k and all that would
// dangle without it and means nothing alone (edges of a task, mentions of an item), and
// says in words what goes with it. Where something that means something alone still
// needs the record (a daybook entry its task, an item its place) it gives an
// *InUseError; ErrStale where there is no such record.
func (b Build) RemovalOf(kind Kind, k Key) (edits []Edit, also []string, err error) {
	own := b.Removing(kind, k)
	if own.Before == nil {
		return nil, nil, fmt.Errorf("remove %s: %w", kind, ErrStale)
	}
	r := removal{b: b}
	switch kind {
	case TaskKind:
		r.task(at(b.Tasks, k).ID)
	case ItemKind:
		r.item(at(b.Items, k).ID)
	case PlaceKind:
		r.place(at(b.Places, k).ID)
	case PartKind:
		r.part(at(b.Parts, k).ID)
	case ResourceKind:
		r.resource(at(b.Resources, k).ID)
	case OptionKind:
		r.option(at(b.Options, k).ID)
	case StockKind:
		r.stock(at(b.Stocks, k).ID)
	}
	if len(r.needs) > 0 {
		return nil, nil, &InUseError{What: r.what, By: r.needs}
	}
	return append(r.edits, own), r.also, nil
}

func at[T any](l List[T], k Key) T {
	row, _ := l.ByKey(k)
	return row
}

// removal gathers what removing one record takes with it.
type removal struct {
	b     Build
	what  string
	edits []Edit
	also  []string
	needs []string
}

func (r *removal) task(t id.Task) {
	r.what = fmt.Sprintf("task %q", t)
	for i, e := range r.b.Edges.Rows {
		if e.Before == t || e.After == t {
			r.edits = append(r.edits, r.b.Removing(EdgeKind, r.b.Edges.Keys[i]))
			r.also = append(r.also, fmt.Sprintf("the edge %s -> %s", e.Before, e.After))
		}
	}
	for i, c := range r.b.Cuts.Rows {
		if c.Task == t {
			c.Task = ""
			r.change(CutKind, r.b.Cuts.Keys[i], c, fmt.Sprintf("its mention by cut %s", c.ID))
		}
	}
	r.snags(func(s *daybook.Snag) bool {
		hit := s.Task == t || s.Became == t
		if s.Task == t {
			s.Task = ""
		}
		if s.Became == t {
			s.Became = ""
		}
		return hit
	})
	for _, d := range r.b.Days.Rows {
		if d.Task == t {
			r.needs = append(r.needs, fmt.Sprintf("the daybook entry of %s", d.At))
		}
	}
	if r.b.Clock != nil && r.b.Clock.Task == t {
		r.needs = append(r.needs, "the running clock")
	}
}

// snags takes the mentions of what is removed out of the snags: forget takes them out of one, and
// says whether there were any.
func (r *removal) snags(forget func(*daybook.Snag) bool) {
	for i, s := range r.b.Snags.Rows {
		if forget(&s) {
			r.change(SnagKind, r.b.Snags.Keys[i], s, fmt.Sprintf("its mention by snag %s", s.ID))
		}
	}
}

func (r *removal) change(kind Kind, k Key, row any, also string) {
	r.edits = append(r.edits, r.b.Editing(kind, k, row))
	r.also = append(r.also, also)
}

func (r *removal) item(item id.Item) {
	r.what = fmt.Sprintf("item %q", item)
	r.snags(func(s *daybook.Snag) bool {
		hit := s.Item == item
		if hit {
			s.Item = ""
		}
		return hit
	})
	for i, p := range r.b.Places.Rows {
		if next, hit := placeWithout(p, item); hit {
			r.change(PlaceKind, r.b.Places.Keys[i], next, fmt.Sprintf("its mention by place %s", p.ID))
		}
	}
	for i, other := range r.b.Items.Rows {
		covers, hit := without(other.Covers, item)
		blocks, hit2 := without(other.Blocks, string(item))
		if other.ID != item && (hit || hit2) {
			other.Covers, other.Blocks = covers, blocks
			r.change(ItemKind, r.b.Items.Keys[i], other, fmt.Sprintf("its mention by item %s", other.ID))
		}
	}
	for i, t := range r.b.Tasks.Rows {
		fits, hit := without(t.Fits, item)
		reaches, hit2 := without(t.Reaches, item)
		if hit || hit2 {
			t.Fits, t.Reaches = fits, reaches
			r.change(TaskKind, r.b.Tasks.Keys[i], t, fmt.Sprintf("its mention by task %s", t.ID))
		}
	}
}

func placeWithout(p access.Place, item id.Item) (access.Place, bool) {
	closed, hit := without(p.ClosedBy, item)
	p.ClosedBy = closed
	p.Ways = slices.Clone(p.Ways)
	for i, w := range p.Ways {
		through, hitWay := without(w.Through, item)
		p.Ways[i].Through = through
		hit = hit || hitWay
	}
	return p, hit
}

// without gives list without x, and whether x was in it.
func without[T comparable](list []T, x T) ([]T, bool) {
	if !slices.Contains(list, x) {
		return list, false
	}
	return kept(list, func(y T) bool { return y != x }), true
}

func (r *removal) place(place id.Place) {
	r.what = fmt.Sprintf("place %q", place)
	r.snags(func(s *daybook.Snag) bool {
		hit := s.Place == place
		if hit {
			s.Place = ""
		}
		return hit
	})
	for i, item := range r.b.Items.Rows {
		if item.Place == place {
			r.needs = append(r.needs, fmt.Sprintf("item %s", item.ID))
		}
		if blocks, hit := without(item.Blocks, string(place)); hit {
			item.Blocks = blocks
			r.change(ItemKind, r.b.Items.Keys[i], item, fmt.Sprintf("its mention by item %s", item.ID))
		}
	}
	for _, t := range r.b.Tasks.Rows {
		if t.Place == place {
			r.needs = append(r.needs, fmt.Sprintf("task %s", t.ID))
		}
	}
	for _, p := range r.b.Places.Rows {
		if p.ID != place && slices.ContainsFunc(p.Ways, func(w access.Way) bool { return w.From == place }) {
			r.needs = append(r.needs, fmt.Sprintf("a way into place %s", p.ID))
		}
	}
}

func (r *removal) part(part id.Part) {
	r.what = fmt.Sprintf("part %q", part)
	for i, t := range r.b.Tasks.Rows {
		if left, hit := without(t.Parts, part); hit {
			t.Parts = left
			r.change(TaskKind, r.b.Tasks.Keys[i], t, fmt.Sprintf("its mention by task %s", t.ID))
		}
	}
}

func (r *removal) resource(res id.Resource) {
	r.what = fmt.Sprintf("resource %q", res)
	for _, t := range r.b.Tasks.Rows {
		if usesResource(t, res) {
			r.needs = append(r.needs, fmt.Sprintf("task %s", t.ID))
		}
	}
}

func usesResource(t tasks.Task, res id.Resource) bool {
	if _, uses := t.Uses[res]; uses {
		return true
	}
	return t.Cure != nil && (t.Cure.While == res || slices.Contains(t.Cure.Holds, res))
}

func (r *removal) option(o id.Option) {
	r.what = fmt.Sprintf("option %q", o)
	for _, item := range r.b.Items.Rows {
		if item.Option == o {
			r.needs = append(r.needs, fmt.Sprintf("item %s", item.ID))
		}
	}
	for _, t := range r.b.Tasks.Rows {
		if t.Option == o {
			r.needs = append(r.needs, fmt.Sprintf("task %s", t.ID))
		}
	}
}

func (r *removal) stock(s id.Stock) {
	r.what = fmt.Sprintf("stock %q", s)
	for _, c := range r.b.Cuts.Rows {
		if c.Stock == s {
			r.needs = append(r.needs, fmt.Sprintf("cut %s", c.ID))
		}
	}
}
