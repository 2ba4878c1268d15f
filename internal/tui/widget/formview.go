package widget

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// View draws the form in exactly w columns and h lines, scrolled to the cursor.
func (f Form) View(st Styles, w, h int) string {
	switch {
	case f.asking != nil:
		return f.asking.View(st, w, h)
	case f.picker != nil:
		return f.picker.View(st, w, h)
	case f.days != nil:
		return f.days.View(st, w, h)
	}
	head, room := f.head(st, w, h), f.room(w, h)
	body, owner := f.body(st, w)
	top := f.top(owner, room)
	foot := f.foot(st, w, h, top+room < len(body))
	body = body[top:min(len(body), top+room)]
	for len(body) < room {
		body = append(body, "")
	}
	return Cells(strings.Join(slices.Concat(head, body, foot), "\n"), w, h)
}

// top gives the first line of the body that is seen: the first of all as long as the field
// under the cursor is then seen with it. owner has the field of each line.
func (f Form) top(owner []int, room int) int {
	from := max(0, slices.Index(owner, f.at))
	to := from
	for to < len(owner) && owner[to] == f.at {
		to++
	}
	return min(from, max(0, to-room))
}

func (f Form) head(st Styles, w, h int) []string {
	if h < 4 {
		return nil
	}
	return []string{st.Strong.Render(Fit(Clean(f.title), w))}
}

// room gives the lines that are left for the fields.
func (f Form) room(w, h int) int {
	return max(0, h-len(f.head(Styles{}, w, h))-len(f.foot(Styles{}, w, h, false)))
}

// foot says what is wrong with the whole, and what the keys do here; more says that there
// are fields further down.
func (f Form) foot(st Styles, w, h int, more bool) []string {
	var lines []string
	if f.trouble != "" {
		for _, s := range Wrap("! "+Clean(f.trouble), w) {
			lines = append(lines, st.Bad.Render(s))
		}
		lines = lines[:min(len(lines), max(1, h/3))]
	}
	if h >= 6 {
		keys := f.keys()
		if more {
			keys = "↓ more   " + keys
		}
		lines = append(lines, st.Dim.Render(Fit(keys, w)))
	}
	return lines
}

// keys says what the keys do in the field under the cursor.
func (f Form) keys() string {
	if f.at >= len(f.fields) {
		return "esc back"
	}
	e := f.fields[f.at]
	var here string
	switch e.Asks {
	case Choose, YesNo:
		here = "left/right change   "
	case Pick, PickSeveral:
		here = "enter pick   backspace none   "
	case Lines:
		here = "enter next line   "
	}
	if e.isText() && len(e.From) > 0 {
		here += "ctrl+p put a name in   "
	}
	if e.IsDay {
		here += "ctrl+p calendar   "
	}
	return here + "up/down field   ctrl+s save   esc back"
}

// body draws all fields, and says for each line which field it belongs to.
func (f Form) body(st Styles, w int) (lines []string, owner []int) {
	lw := f.labelWidth(w)
	for i, e := range f.fields {
		lines = append(lines, f.field(st, e, i == f.at, lw, w)...)
		for len(owner) < len(lines) {
			owner = append(owner, i)
		}
	}
	return lines, owner
}

func (f Form) labelWidth(w int) int {
	widest := 0
	for _, e := range f.fields {
		widest = max(widest, ansi.StringWidth(Clean(e.Label)))
	}
	return min(widest, w/3)
}

// field draws a field: its label and value, and beneath it the hint where it has the
// cursor, and what is wrong.
func (f Form) field(st Styles, e entry, on bool, lw, w int) []string {
	label := "  " + Fit(Clean(e.Label), lw) + "  "
	if on {
		label = st.Strong.Render("> " + Fit(Clean(e.Label), lw) + "  ")
	}
	indent := strings.Repeat(" ", lw+4)
	var lines []string
	for i, v := range e.shownValue(st, on, w-lw-4) {
		if i == 0 {
			lines = append(lines, label+v)
		} else {
			lines = append(lines, indent+v)
		}
	}
	if err := e.fault(f.tried || e.touched && !on); err != nil {
		for _, s := range Wrap("! "+Clean(err.Error()), w-lw-4) {
			lines = append(lines, indent+st.Bad.Render(s))
		}
	}
	if on && e.Hint != "" {
		for _, s := range Wrap(Clean(e.Hint), w-lw-4) {
			lines = append(lines, indent+st.Dim.Render(s))
		}
	}
	return lines
}

// shownValue draws the value in lines of at most w columns.
func (e entry) shownValue(st Styles, on bool, w int) []string {
	switch {
	case e.Asks == Text || e.Asks == Lines:
		return e.shownText(st, on, w)
	case e.Asks == Pick || e.Asks == PickSeveral:
		return e.shownPicks(st, on, w)
	case on:
		return []string{st.Selected.Render("< " + Clean(e.Value) + " >")}
	}
	return []string{Clean(e.Value)}
}

func (e entry) shownText(st Styles, on bool, w int) []string {
	if e.Locked {
		return []string{st.Dim.Render(Fit(Clean(e.value())+" (fixed)", w))}
	}
	b := e.typed
	if !on {
		var lines []string
		for _, s := range strings.Split(e.value(), "\n") {
			lines = append(lines, Fit(Clean(s), w))
		}
		return lines
	}
	var lines []string
	for _, s := range b.above {
		lines = append(lines, Fit(Clean(s), w))
	}
	lines = append(lines, b.line.View(st, w, true))
	for _, s := range b.below {
		lines = append(lines, Fit(Clean(s), w))
	}
	return lines
}

// shownPicks draws what was picked by name, and by ID where that says more.
func (e entry) shownPicks(st Styles, on bool, w int) []string {
	var lines []string
	for _, id := range strings.Fields(e.Value) {
		lines = append(lines, Fit(Clean(e.choiceName(id)), w))
	}
	if len(lines) == 0 {
		lines = []string{st.Dim.Render("none")}
	}
	if on {
		lines[0] = st.Selected.Render(ansi.Strip(lines[0]))
	}
	return lines
}

func (e entry) choiceName(id string) string {
	for _, c := range e.From {
		if c.ID == id && c.Name != "" && c.Name != id {
			return fmt.Sprintf("%s (%s)", c.Name, id)
		}
	}
	return id
}
