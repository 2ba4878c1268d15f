package widget

import (
	"slices"
	"strings"
)

// Choice is a thing that can be picked, by its name or its ID.
type Choice struct{ ID, Name string }

// Picker lets a person pick one or several things by typing a few letters of their names.
type Picker struct {
	title   string
	from    []Choice
	list    List
	several bool
	chosen  []string
}

// NewPicker makes a picker; chosen are the IDs picked to begin with. A picker for several
// gives them in the order they were picked.
func NewPicker(title string, from []Choice, several bool, chosen ...string) Picker {
	p := Picker{title: title, from: from, several: several, chosen: slices.Clone(chosen)}
	p.list = NewList(p.rows(), "There is nothing to pick yet.").Searched()
	if len(chosen) > 0 {
		p.list = p.list.On(chosen[0])
	}
	return p
}

// rows gives the choices; of several the ones taken have a mark.
func (p Picker) rows() []Row {
	rows := make([]Row, len(p.from))
	for i, c := range p.from {
		rows[i] = Row{ID: c.ID, Text: c.Name, Note: c.ID, Tone: Quiet}
		if c.Name == "" || c.Name == c.ID {
			rows[i].Text, rows[i].Note = c.ID, ""
			rows[i].Tone = Plain
		}
		if p.several {
			rows[i].Text = mark(slices.Contains(p.chosen, c.ID)) + rows[i].Text
		}
	}
	return rows
}

func mark(on bool) string {
	if on {
		return "[x] "
	}
	return "[ ] "
}

// Chosen gives the IDs picked so far.
func (p Picker) Chosen() []string { return slices.Clone(p.chosen) }

// Key searches and picks. For one: enter picks the row under the cursor (Submitted). For several:
// space takes or leaves the row; enter takes it while something is typed, and is Submitted
// when nothing is. Esc first empties the search, then is Cancelled.
func (p Picker) Key(k Key) (Picker, Outcome) {
	if p.several && !k.Paste && (k.Name == "space" || k.Text == " ") {
		return p.toggle(), Stay
	}
	list, out := p.list.Key(k)
	switch {
	case out == Submitted && p.several && list.Typed() != "":
		p = p.take()
		p.list, _ = p.list.Key(Key{Name: "esc"})
		return p, Stay
	case out == Submitted && !p.several:
		row, _ := list.Selected()
		p.chosen = []string{row.ID}
	case k.Name == "enter" && p.several:
		out = Submitted // also where there is nothing to pick
	}
	p.list = list
	return p, out
}

// take picks the row under the cursor, where it is not picked yet.
func (p Picker) take() Picker {
	row, ok := p.list.Selected()
	if !ok || slices.Contains(p.chosen, row.ID) {
		return p
	}
	return p.toggle()
}

func (p Picker) toggle() Picker {
	row, ok := p.list.Selected()
	if !ok {
		return p
	}
	if slices.Contains(p.chosen, row.ID) {
		p.chosen = slices.DeleteFunc(slices.Clone(p.chosen), func(id string) bool { return id == row.ID })
	} else {
		p.chosen = append(slices.Clone(p.chosen), row.ID)
	}
	p.list = p.list.WithRows(p.rows())
	return p
}

// View draws the picker in exactly w columns and h lines.
func (p Picker) View(st Styles, w, h int) string {
	keys := "enter pick   esc back"
	if p.several {
		keys = "space take or leave   enter done   esc as it was"
	}
	if h < 4 {
		return p.list.View(st, w, h)
	}
	return strings.Join([]string{
		st.Strong.Render(Fit(Clean(p.title), w)),
		p.list.View(st, w, h-2),
		st.Dim.Render(Fit(keys, w)),
	}, "\n")
}
