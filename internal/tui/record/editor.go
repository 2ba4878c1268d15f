// Package record has the forms in which the records of a build are made and edited.
//
// An Editor is a form over one record. Row gives the record as it now stands, for
// app.Save; only what the person changed is changed in it. What is typed is checked as it
// is typed: numbers, dates, quantities, ids that must exist, loops.
//
//	e := record.New(build.TaskKind, b, key) // key 0: a new one
//	e, out := e.Key(k)
//	if out == widget.Submitted { row, err := e.Row() … }
//
// The package saves nothing and knows no screen.
package record

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// Editor is a form over one record. It is a value.
type Editor struct {
	kind build.Kind
	key  build.Key
	form widget.Form
	// row gives the record; apart is true where the fault lies not in one field but in how
	// they go together.
	row  func(widget.Form) (row any, apart bool, err error)
	live func(widget.Form) widget.Form // what follows from what was typed; nil: nothing
}

// Kinds gives the kinds of record that can be edited here, in the order in which a
// person meets them.
func Kinds() []build.Kind {
	return []build.Kind{build.TaskKind, build.EdgeKind, build.PlaceKind, build.ItemKind, build.PartKind,
		build.ResourceKind, build.OptionKind, build.StockKind, build.CutKind, build.SnagKind, build.HeadKind}
}

// Word gives the words for a kind of record, such as "task"; the kind itself for one that
// is not edited here.
func Word(kind build.Kind) string {
	switch kind {
	case build.EdgeKind:
		return "what comes before what"
	case build.OptionKind:
		return "design option"
	case build.StockKind:
		return "bar stock"
	case build.HeadKind:
		return "build and van"
	}
	return string(kind)
}

// New makes the editor of the record of b with this key; key 0 makes a new record. The
// kinds are those of Kinds; another one panics. A key that b does not have gives a new
// record. The build itself has only one record, which any key gives.
func New(kind build.Kind, b build.Build, key build.Key) Editor { return editorOf(kind, b, key, false) }

// Copy makes the editor of a new record that is like the one with this key, under another id. The
// build itself cannot be copied: it gives its own editor.
func Copy(kind build.Kind, b build.Build, key build.Key) Editor { return editorOf(kind, b, key, true) }

// NewEdge makes the editor of a new edge between two tasks; one that is empty is asked for.
func NewEdge(b build.Build, before, after id.Task) Editor {
	s := edgeSheet(b, 0)
	s.fresh.Before, s.fresh.After = before, after
	return edit(build.EdgeKind, s, b.Edges, 0, false)
}

func editorOf(kind build.Kind, b build.Build, key build.Key, copying bool) Editor {
	switch kind {
	case build.TaskKind:
		return edit(kind, taskSheet(b), b.Tasks, key, copying)
	case build.EdgeKind:
		return edit(kind, edgeSheet(b, key), b.Edges, key, copying)
	case build.PlaceKind:
		return edit(kind, placeSheet(b), b.Places, key, copying)
	case build.ItemKind:
		return edit(kind, itemSheet(b), b.Items, key, copying)
	case build.PartKind:
		return edit(kind, partSheet(b), b.Parts, key, copying)
	case build.ResourceKind:
		return edit(kind, resourceSheet(b), b.Resources, key, copying)
	case build.OptionKind:
		return edit(kind, optionSheet(b), b.Options, key, copying)
	case build.StockKind:
		return edit(kind, stockSheet(b), b.Stocks, key, copying)
	case build.CutKind:
		return edit(kind, cutSheet(b), b.Cuts, key, copying)
	case build.SnagKind:
		return edit(kind, snagSheet(b), b.Snags, key, copying)
	case build.HeadKind:
		return edit(kind, headSheet(), build.ListOf(b.Head), 1, false)
	}
	panic(fmt.Sprintf("records of kind %q have no form", kind))
}

// NewWay makes the editor of one way into a place: the index-th, or a new one where there is
// no such. Its Row is the whole place, its Kind build.PlaceKind. It panics where b has no such
// place.
func NewWay(b build.Build, place build.Key, index int) Editor {
	p, ok := b.Places.ByKey(place)
	if !ok {
		panic(fmt.Sprintf("no place with key %d", place))
	}
	title := fmt.Sprintf("way in %d", index+1)
	if index < 0 || index >= len(p.Ways) {
		title, index = "a new way in", len(p.Ways)
		p.Ways = append(slices.Clip(p.Ways), access.Way{})
	}
	one := build.List[access.Place]{Keys: []build.Key{place}, Rows: []access.Place{p}}
	return edit(build.PlaceKind, waySheet(b, title, index), one, place, false)
}

// edit makes the editor of a record in its list, or of a copy of it.
func edit[T any](kind build.Kind, s sheet[T], in build.List[T], key build.Key, copying bool) Editor {
	old, has := in.ByKey(key)
	title := "New " + Word(kind)
	if copying && has {
		title = "A copy of " + Word(kind) + ": " + s.title(old)
		s.fresh, s.live, has = s.copied(old), nil, false
	}
	if !has {
		key, old = 0, s.fresh
	}
	if has {
		title = Word(kind) + ": " + s.title(old)
	}
	began := widget.NewForm(title, s.fields(old, has)...)
	e := Editor{kind: kind, key: key, form: began}
	e.row = func(f widget.Form) (any, bool, error) { return s.row(old, began, f) }
	if s.live != nil {
		e.live = func(f widget.Form) widget.Form { return s.live(f, !has) }
	}
	return e
}

// Today gives the editor with the day on which calendars open over empty fields. Sunday says that
// their weeks begin with it.
func (e Editor) Today(d units.Date, sunday bool) Editor {
	e.form = e.form.Today(d, sunday)
	return e
}

// Spot gives the field under the cursor where that is a position or a box in the van, with its
// label and text; an empty name where it is none.
func (e Editor) Spot() (name, label, text string, box bool) {
	name = e.form.At()
	spots := map[build.Kind][2]string{build.ItemKind: {"at", "Position"}, build.PlaceKind: {"box", "Box"}, build.HeadKind: {"inside", "Inside"}}
	if spot, ok := spots[e.kind]; ok && spot[0] == name {
		return name, spot[1], e.form.Value(name), e.kind != build.ItemKind
	}
	return "", "", "", false
}

// With gives the editor with a text in a field.
func (e Editor) With(name, text string) Editor {
	e.form = e.form.With(name, text)
	return e
}

// Kind gives the kind of the record that Row gives.
func (e Editor) Kind() build.Kind { return e.kind }

// RecordKey gives the key under which to save; 0 for a new record.
func (e Editor) RecordKey() build.Key { return e.key }

// Changed reports whether anything was changed.
func (e Editor) Changed() bool { return e.form.Changed() }

// Typing reports whether letters go into a text now, so that they are no shortcuts.
func (e Editor) Typing() bool { return e.form.Typing() }

// Key passes a key to the form. Submitted: save Row. Cancelled: forget it.
func (e Editor) Key(k widget.Key) (Editor, widget.Outcome) {
	form, out := e.form.Key(k)
	if e.live != nil {
		form = e.live(form)
	}
	trouble := ""
	if _, apart, err := e.row(form); apart {
		trouble = err.Error()
	}
	e.form = form.Trouble(trouble)
	if trouble != "" && out == widget.Submitted {
		out = widget.Stay
	}
	return e, out
}

// View draws the form in exactly w columns and h lines.
func (e Editor) View(st widget.Styles, w, h int) string { return e.form.View(st, w, h) }

// Row gives the record as the form has it: a tasks.Task for build.TaskKind and so on. The error
// names the field that is wrong.
func (e Editor) Row() (any, error) {
	if label, err := e.form.Fault(); err != nil {
		return nil, fmt.Errorf("%s: %w", label, err)
	}
	row, _, err := e.row(e.form)
	return row, err
}
