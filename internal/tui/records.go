package tui

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// wayKind stands for the ways into places, which are edited one by one and saved with
// their place.
const wayKind build.Kind = "way"

func wordOf(kind build.Kind) string {
	if kind == wayKind {
		return "way"
	}
	return record.Word(kind)
}

// kindsPage lets a person choose a kind of record.
type kindsPage struct{ list widget.List }

func newKinds() kindsPage {
	var rows []widget.Row
	for _, kind := range record.Kinds() {
		rows = append(rows, widget.Row{ID: string(kind), Text: wordOf(kind)})
		if kind == build.PlaceKind {
			rows = append(rows, widget.Row{ID: string(wayKind), Text: "way into a place"})
		}
	}
	return kindsPage{widget.NewList(rows, "")}
}

func (p kindsPage) Scope() string                  { return kindsScope }
func (p kindsPage) With(screen.Data) screen.Screen { return p }

// Typed has no use for letters.
func (p kindsPage) Typed(widget.Key) (screen.Screen, screen.Effect, bool) { return p, nil, false }

// Do moves, opens the records of a kind, or closes the page.
func (p kindsPage) Do(a screen.Action) (screen.Screen, screen.Effect) {
	if k, ok := listKey(a); ok {
		p.list, _ = p.list.Key(k)
		return p, nil
	}
	row, ok := p.list.Selected()
	switch {
	case a == screen.Back:
		return p, closePage{}
	case a == screen.Enter && ok:
		return p, openPage{newRecords(build.Kind(row.ID))}
	}
	return p, nil
}

// View draws the kinds.
func (p kindsPage) View(st widget.Styles, w, h int) string {
	return titled(st, "Edit which records?", p.list, w, h)
}

// recordsPage lists the records of a kind; letters search.
type recordsPage struct {
	kind  build.Kind
	build build.Build
	list  widget.List
}

func newRecords(kind build.Kind) recordsPage {
	return recordsPage{kind: kind, list: widget.NewList(nil, "").Searched()}
}

// newRow is the ID of the row that makes a new record.
const newRow = "new"

func (p recordsPage) Scope() string { return recordsScope }

// With lists the records of other data.
func (p recordsPage) With(d screen.Data) screen.Screen {
	if d.View == nil {
		return p
	}
	p.build, p.list = d.View.Build, p.list.Sized(d.Lines-1)
	if p.kind == wayKind {
		p.list = p.list.WithRows(wayRows(p.build))
		return p
	}
	var rows []widget.Row
	if p.kind != build.HeadKind {
		rows = append(rows, widget.Row{ID: newRow, Text: "+ new " + wordOf(p.kind)})
	}
	for _, e := range record.Lists(p.build, p.kind) {
		rows = append(rows, widget.Row{ID: strconv.FormatUint(uint64(e.Key), 10), Text: e.Title, Note: e.Subtitle, Tone: widget.Quiet})
	}
	p.list = p.list.WithRows(rows)
	return p
}

// wayRows lists the ways into each place. The ID of a row is the key of the place and the
// number of the way.
func wayRows(b build.Build) []widget.Row {
	var rows []widget.Row
	for i, p := range b.Places.Rows {
		key := strconv.FormatUint(uint64(b.Places.Keys[i]), 10)
		rows = append(rows, widget.Row{Head: true, Text: "Into " + p.Title()})
		for n, w := range p.Ways {
			rows = append(rows, widget.Row{ID: key + " " + strconv.Itoa(n), Text: wayWords(w),
				Note: fmt.Sprintf("%.4g min", w.EnterMin), Tone: widget.Quiet})
		}
		rows = append(rows, widget.Row{ID: key + " " + strconv.Itoa(len(p.Ways)), Text: "+ new way into " + p.Title()})
	}
	return rows
}

// wayWords says which way a way is.
func wayWords(w access.Way) string {
	text := "from outside"
	if w.From != "" {
		text = "from " + string(w.From)
	}
	if len(w.Through) > 0 {
		text += " through " + joined(w.Through)
	}
	return text
}

func joined[S ~string](names []S) string {
	words := make([]string, len(names))
	for i, n := range names {
		words[i] = string(n)
	}
	return strings.Join(words, ", ")
}

// Typed searches.
func (p recordsPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	if _, ok := bound(recordsScope, k.Name); ok && !k.Paste && k.Name != "home" && k.Name != "end" {
		return p, nil, false
	}
	list, out := p.list.Key(k)
	p.list = list
	return p, nil, out != widget.Unused
}

// Do moves, edits, makes, asks to remove, or closes the page.
func (p recordsPage) Do(a screen.Action) (screen.Screen, screen.Effect) {
	if k, ok := listKey(a); ok {
		p.list, _ = p.list.Key(k)
		return p, nil
	}
	row, ok := p.list.Selected()
	switch {
	case a == screen.Back && p.list.Typed() != "":
		p.list, _ = p.list.Key(widget.Key{Name: "esc"})
	case a == screen.Back:
		return p, closePage{}
	case a == newRecord && p.kind != wayKind:
		return p, openEditor{record.New(p.kind, p.build, 0)}
	case a == screen.Enter && ok, a == newRecord && ok:
		return p, p.edit(row.ID)
	case a == copyRecord && ok && row.ID != newRow && p.kind != wayKind:
		return p, openEditor{record.Copy(p.kind, p.build, keyOfRow(row.ID))}
	case a == removeRecord && ok:
		return p, p.remove(row)
	}
	return p, nil
}

// place takes the ID of a way's row apart.
func place(rowID string) (key build.Key, way int) {
	k, n, _ := strings.Cut(rowID, " ")
	return keyOfRow(k), atoi(n)
}

func keyOfRow(rowID string) build.Key {
	n, _ := strconv.ParseUint(rowID, 10, 64)
	return build.Key(n)
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

func (p recordsPage) edit(rowID string) screen.Effect {
	switch {
	case p.kind == wayKind:
		key, n := place(rowID)
		return openEditor{record.NewWay(p.build, key, n)}
	case rowID == newRow:
		return openEditor{record.New(p.kind, p.build, 0)}
	}
	return openEditor{record.New(p.kind, p.build, keyOfRow(rowID))}
}

func (p recordsPage) remove(row widget.Row) screen.Effect {
	switch {
	case p.kind == wayKind:
		key, n := place(row.ID)
		return askWay{key, n}
	case row.ID == newRow:
		return nil
	case p.kind == build.HeadKind:
		return sayWrong{"the build itself cannot be removed"}
	}
	return askRemoval{p.kind, keyOfRow(row.ID), row.Text}
}

// View draws the records.
func (p recordsPage) View(st widget.Styles, w, h int) string {
	return titled(st, "Records: "+wordOf(p.kind), p.list, w, h)
}

// editorOfSelected opens the record of what is selected on the screen.
func (m Model) editorOfSelected() screen.Effect {
	if m.data.View == nil {
		return nil
	}
	b, f := m.data.View.Build, m.focus()
	if k := keyWhere(b.Parts, func(i int) bool { return f.Part != "" && b.Parts.Rows[i].ID == f.Part }); k > 0 {
		return openEditor{record.New(build.PartKind, b, k)}
	}
	if k := keyWhere(b.Tasks, func(i int) bool { return f.Task != "" && b.Tasks.Rows[i].ID == f.Task }); k > 0 {
		return openEditor{record.New(build.TaskKind, b, k)}
	}
	if len(f.Targets) == 0 {
		return sayWrong{"nothing is selected"}
	}
	name := f.Targets[0]
	if k := keyWhere(b.Items, func(i int) bool { return b.Items.Rows[i].ID == id.Item(name) }); k > 0 {
		return openEditor{record.New(build.ItemKind, b, k)}
	}
	k := keyWhere(b.Places, func(i int) bool { return b.Places.Rows[i].ID == id.Place(name) })
	return openEditor{record.New(build.PlaceKind, b, k)}
}

// edgeOfSelected asks what the selected task comes after, or before.
func (m Model) edgeOfSelected(after bool) screen.Effect {
	if m.data.View == nil {
		return nil
	}
	t := m.focus().Task
	switch {
	case t == "":
		return sayWrong{"no task is selected that could come before or after another"}
	case after:
		return openEditor{record.NewEdge(m.data.View.Build, "", t)}
	}
	return openEditor{record.NewEdge(m.data.View.Build, t, "")}
}

// keyWhere gives the key of the first row that is; 0 for none.
func keyWhere[T any](l build.List[T], is func(i int) bool) build.Key {
	for i, k := range l.Keys {
		if is(i) {
			return k
		}
	}
	return 0
}

// focusTitle gives the title of what is selected.
func (m Model) focusTitle() string {
	f := m.focus()
	if f.Task != "" {
		return titleOf(m.data.View, f.Task)
	}
	return "What can be done here"
}
