package widget

import (
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// Tone says how a row is meant. The words must say it too.
type Tone int

// The tones of a row.
const (
	Plain Tone = iota
	Quiet
	Good
	Warn
	Bad
)

// Row is a line of a list. Text and Note may be anything a person typed: they are cleaned.
type Row struct {
	ID   string // what the caller knows the row by
	Text string // on the left
	Note string // on the right, cut last
	Head bool   // a title over the rows after it; the cursor passes over it
	Tone Tone   // of the note; of a row without a note, of its text
}

// List is a list of rows, one of which is under the cursor. Only the rows that are
// seen are drawn.
type List struct {
	rows     []Row
	index    *Index // of rows, for the search; nil: not made yet
	shown    []int  // positions in rows that the search leaves
	cursor   int    // position in shown
	top      int    // position in shown of the first row seen
	height   int    // lines, as last told by Sized
	search   Line
	searched bool // typed characters go to the search
	empty    string
}

// NewList makes a list with the cursor on the first row that is no head. Where there are no
// rows it shows empty in their place.
func NewList(rows []Row, empty string) List {
	return List{height: 10, empty: empty}.WithRows(rows)
}

// Searched gives a list in which typing keeps only the rows that match (as Rank does, text,
// note and ID), heads of kept rows with them. Without heads the best match comes
// first. A line above the rows shows what was typed.
func (l List) Searched() List {
	l.searched = true
	return l.follow()
}

// WithRows gives the list with other rows; the cursor stays on the row with the same ID,
// or where it was.
func (l List) WithRows(rows []Row) List {
	was, had := l.Selected()
	l.rows, l.index = rows, nil
	l = l.searching()
	if had {
		l = l.On(was.ID)
	}
	return l.follow()
}

// Sized tells the list how many lines View will be given, so that page keys know. Without it
// a page is ten lines.
func (l List) Sized(h int) List {
	l.height = max(h, 1)
	return l.follow()
}

// On gives the list with the cursor on the row with this ID, where it is shown.
func (l List) On(id string) List {
	for i, at := range l.shown {
		if !l.rows[at].Head && l.rows[at].ID == id {
			l.cursor = i
			return l.follow()
		}
	}
	return l
}

// Selected gives the row under the cursor; false where no row is shown.
func (l List) Selected() (Row, bool) {
	if l.cursor >= len(l.shown) {
		return Row{}, false
	}
	r := l.rows[l.shown[l.cursor]]
	return r, !r.Head
}

// Typed gives the search text; empty where nothing was typed.
func (l List) Typed() string { return l.search.Text() }

// searching gives the list with the rows that the search leaves. The index is made with the
// first letter: most lists are never searched.
func (l List) searching() List {
	if q, _ := squeeze(nil, nil, l.search.Text()); len(q) == 0 {
		l.shown = make([]int, len(l.rows))
		for i := range l.shown {
			l.shown[i] = i
		}
		return l
	}
	if l.index == nil {
		l.index = indexOf(l.rows)
	}
	l.shown = l.index.Rank(l.search.Text())
	if slices.ContainsFunc(l.rows, func(r Row) bool { return r.Head }) {
		slices.Sort(l.shown)
		l.shown = withHeads(l.rows, l.shown)
	}
	return l
}

// indexOf reads the rows; heads are not found.
func indexOf(rows []Row) *Index {
	texts := make([]string, len(rows))
	for i, r := range rows {
		if !r.Head {
			texts[i] = r.Text + " " + r.ID + " " + r.Note
		}
	}
	return NewIndex(texts)
}

// withHeads puts the nearest head above each kept row in, once.
func withHeads(rows []Row, kept []int) []int {
	var out []int
	head, next := -1, 0
	for i, r := range rows {
		if r.Head {
			head = i
		}
		if next == len(kept) || kept[next] != i {
			continue
		}
		if head >= 0 {
			out = append(out, head)
		}
		out, head, next = append(out, i), -1, next+1
	}
	return out
}

// room gives the number of rows that are seen.
func (l List) room() int {
	if l.searched {
		return max(1, l.height-1)
	}
	return max(1, l.height)
}

// follow puts the cursor on a row and the top where the cursor is seen.
func (l List) follow() List {
	l.cursor = l.settle(l.cursor, 1)
	room := l.room()
	l.top = min(l.top, l.cursor)
	if l.top == l.cursor && l.top > 0 && l.rows[l.shown[l.top-1]].Head && room > 1 {
		l.top-- // a head is seen with its first row
	}
	l.top = max(l.top, l.cursor-room+1)
	l.top = max(0, min(l.top, len(l.shown)-room))
	return l
}

// settle gives the row nearest to at that is no head, looking in the direction step first.
func (l List) settle(at, step int) int {
	at = max(0, min(at, len(l.shown)-1))
	for _, d := range []int{step, -step} {
		for i := at; i >= 0 && i < len(l.shown); i += d {
			if !l.rows[l.shown[i]].Head {
				return i
			}
		}
	}
	return at
}

// Key moves the cursor (up, down, pgup, pgdown, home, end) and, in a Searched list, takes
// typed characters. Enter is Submitted where a row is under the cursor. Esc first
// empties the search, then is Cancelled. Everything else is Unused.
func (l List) Key(k Key) (List, Outcome) {
	switch k.Name {
	case "up":
		return l.move(l.cursor-1, -1), Stay
	case "down":
		return l.move(l.cursor+1, 1), Stay
	case "pgup":
		return l.move(l.cursor-l.room(), -1), Stay
	case "pgdown":
		return l.move(l.cursor+l.room(), 1), Stay
	case "home":
		return l.move(0, 1), Stay
	case "end":
		return l.move(len(l.shown)-1, -1), Stay
	case "enter":
		if _, ok := l.Selected(); ok {
			return l, Submitted
		}
		return l, Stay
	case "esc":
		if l.Typed() == "" {
			return l, Cancelled
		}
		return l.searchFor(Line{}), Stay
	}
	return l.typeKey(k)
}

func (l List) move(to, step int) List {
	l.cursor = l.settle(to, step)
	return l.follow()
}

func (l List) typeKey(k Key) (List, Outcome) {
	if !l.searched || k.Text == " " && l.Typed() == "" {
		return l, Unused
	}
	line, out := l.search.Key(k)
	if out == Unused || line.Text() == l.Typed() {
		l.search = line
		return l, out
	}
	return l.searchFor(line), Stay
}

// searchFor shows what matches, the cursor on the first.
func (l List) searchFor(line Line) List {
	was, had := l.Selected()
	l.search, l.cursor, l.top = line, 0, 0
	l = l.searching()
	if had && line.Text() == "" {
		l = l.On(was.ID)
	}
	return l.follow()
}

// View draws the list in exactly w columns and h lines. The row under the cursor has ">"
// before it and is drawn in st.Selected.
func (l List) View(st Styles, w, h int) string {
	l = l.Sized(h)
	var lines []string
	if l.searched {
		lines = append(lines, l.searchLine(st, w))
	}
	if len(l.shown) == 0 {
		lines = append(lines, l.emptyLines(st, w)...)
	}
	last := min(len(l.shown), l.top+l.room())
	for i := l.top; i < last; i++ {
		lines = append(lines, l.rowLine(st, i, last, w))
	}
	return Cells(strings.Join(lines, "\n"), w, h)
}

func (l List) searchLine(st Styles, w int) string {
	if l.Typed() == "" {
		return st.Dim.Render(Fit("Search: type a few letters", w))
	}
	found := 0
	for _, at := range l.shown {
		if !l.rows[at].Head {
			found++
		}
	}
	count := strconv.Itoa(found) + " found"
	return "Search: " + l.search.View(st, max(1, w-9-len(count)), true) + " " + st.Dim.Render(count)
}

func (l List) emptyLines(st Styles, w int) []string {
	text := l.empty
	if l.Typed() != "" {
		text = "Nothing matches. Esc shows everything again."
	}
	var lines []string
	for _, s := range Wrap(Clean(text), w) {
		lines = append(lines, st.Dim.Render(s))
	}
	return lines
}

// rowLine draws the row at shown[i]; the first and the last line seen end in an arrow where
// there is more.
func (l List) rowLine(st Styles, i, last, w int) string {
	r := l.rows[l.shown[i]]
	arrow := ""
	if i == l.top && l.top > 0 {
		arrow = "↑"
	} else if i == last-1 && last < len(l.shown) {
		arrow = "↓"
	}
	if arrow != "" && w > 4 {
		w -= 2
		arrow = " " + arrow
	}
	switch {
	case r.Head:
		return st.Strong.Render(Fit(Clean(r.Text), w)) + arrow
	case i == l.cursor:
		text, note := columns(r, w-2)
		return st.Selected.Render(Fit("> "+text+note, w)) + arrow
	}
	text, note := columns(r, w-2)
	if r.Note == "" {
		return "  " + toneStyle(st, r.Tone).Render(text) + arrow
	}
	return "  " + text + toneStyle(st, r.Tone).Render(note) + arrow
}

// columns gives the text and the note of r, in w columns together. The note gets half of
// them, and what the text leaves.
func columns(r Row, w int) (text, note string) {
	text, note = Clean(r.Text), Clean(r.Note)
	if note == "" {
		return Fit(text, w), ""
	}
	nw := min(ansi.StringWidth(note)+2, max(w/2, w-ansi.StringWidth(text)))
	return Fit(text, w-nw), Fit("  "+note, nw)
}

func toneStyle(st Styles, t Tone) lipgloss.Style {
	switch t {
	case Quiet:
		return st.Dim
	case Good:
		return st.Good
	case Warn:
		return st.Warn
	case Bad:
		return st.Bad
	}
	return st.Text
}
