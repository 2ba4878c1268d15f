package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// The mouse does what keys do, and nothing else. It is off until it is asked for: while it
// is on, the terminal does not mark text (with shift it does).
//
// Screens know nothing of it. A click on a line moves the cursor there as the arrow keys
// would: whatever has a cursor draws ">" before its line.

// pointing tells the terminal whether the mouse is wanted.
func (m Model) pointing() tea.Cmd {
	if m.pointer {
		return tea.EnableMouseCellMotion
	}
	return nil
}

func (m Model) swapPointer() (Model, tea.Cmd) {
	m.pointer = !m.pointer
	if m.pointer {
		m.says = notice{text: "The mouse works: click a line, a screen or a key. To mark text, hold shift."}
		return m, m.pointing()
	}
	m.says = notice{text: "The mouse is off."}
	return m, tea.DisableMouse
}

// span is where a word that can be clicked stands in its line: columns from up to before to.
type span struct {
	from, to int
	key      string
}

// spanAt gives the key of the word at a column; empty where there is none.
func spanAt(spans []span, x int) string {
	for _, s := range spans {
		if s.from <= x && x < s.to {
			return s.key
		}
	}
	return ""
}

// mouse takes a turn of the wheel or a click.
func (m Model) mouse(msg tea.MouseMsg) (Model, tea.Cmd) {
	switch {
	case msg.Action != tea.MouseActionPress || m.layout().tooSmall:
		return m, nil
	case msg.Button == tea.MouseButtonWheelUp:
		return m.key(widget.Key{Name: "up"})
	case msg.Button == tea.MouseButtonWheelDown:
		return m.key(widget.Key{Name: "down"})
	case msg.Button == tea.MouseButtonLeft:
		return m.click(msg.X, msg.Y)
	}
	return m, nil
}

// click does what is under the pointer.
func (m Model) click(x, y int) (Model, tea.Cmd) {
	l := m.layout()
	body := y - headLines
	switch {
	case y == headLines-1:
		return m.press(spanAt(m.tabSpans(), x))
	case y == m.h-1:
		return m.press(spanAt(hintSpans(m.top().Scope(), m.w), x))
	case body < 0 || body >= l.bodyH || x >= l.workW || m.onlyVan && len(m.pages) == 0 && l.sideW == 0:
		return m, nil
	}
	return m.clickLine(body, l)
}

// press takes a key, if any.
func (m Model) press(key string) (Model, tea.Cmd) {
	if key == "" {
		return m, nil
	}
	return m.key(widget.Key{Name: key, Text: printable(key)})
}

// printable gives the character that a key types; empty for others.
func printable(key string) string {
	switch {
	case key == "space":
		return " "
	case len([]rune(key)) == 1:
		return key
	}
	return ""
}

// clickLine moves the cursor to line y of the work, or does enter where it is there.
func (m Model) clickLine(y int, l layout) (Model, tea.Cmd) {
	at, _ := cursorIn(m.top(), m.st, l)
	if at == y {
		return m.key(widget.Key{Name: "enter"})
	}
	key, steps := "down", walk(m.top(), m.st, l, y, "down")
	if at > y {
		key, steps = "up", walk(m.top(), m.st, l, y, "up")
	}
	var cmds []tea.Cmd
	for range steps {
		next, cmd := m.key(widget.Key{Name: key})
		m, cmds = next, append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// cursorIn gives the line of the work that the cursor is in, and its text; -1 where nothing
// has a cursor.
func cursorIn(s screen.Screen, st widget.Styles, l layout) (int, string) {
	for y, line := range strings.Split(ansi.Strip(s.View(st, l.workW, l.bodyH)), "\n") {
		if text, ok := strings.CutPrefix(line, "> "); ok {
			return y, text
		}
	}
	return -1, ""
}

// walk says how often an arrow key brings the cursor to line y; 0 where it never does. In a
// form the lines shift as the cursor goes, so there its label tells.
func walk(s screen.Screen, st widget.Styles, l layout, y int, key string) int {
	lines := strings.Split(ansi.Strip(s.View(st, l.workW, l.bodyH)), "\n")
	label := labelOf(lines[y])
	form := !takesArrows(s)
	for n := 1; n <= l.bodyH; n++ {
		s = arrow(s, key)
		at, text := cursorIn(s, st, l)
		switch {
		case at < 0 || label == "":
			return 0
		case form && labelOf(text) == label, !form && at == y:
			return n
		case !form && (at > y) == (key == "down"):
			return 0 // past it: no line that the cursor stops in
		}
	}
	return 0
}

// labelOf gives the first words of a line, up to a wider gap.
func labelOf(line string) string {
	text, _, _ := strings.Cut(strings.TrimSpace(line), "  ")
	return text
}

// takesArrows reports whether up and down are actions to a screen, not keys that it is filled
// in with.
func takesArrows(s screen.Screen) bool {
	_, ok := bound(s.Scope(), "up")
	return ok
}

// arrow gives a screen after an arrow key. What it wants done is left undone: this is only
// to see where the cursor would go.
func arrow(s screen.Screen, key string) screen.Screen {
	if next, _, used := s.Typed(widget.Key{Name: key}); used {
		return next
	}
	if a, ok := bound(s.Scope(), key); ok {
		s, _ = s.Do(a)
	}
	return s
}
