package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// tab is a screen as the second line names it.
type tab struct {
	key  string
	name string
}

// tabs gives the screens in their order, by the keys that show them.
func tabs() []tab {
	var out []tab
	for i, name := range []string{"Bench", "Sequence", "Reach", "Close-in", "Daybook", "Parts", "Designs"} {
		out = append(out, tab{keyFor(screensScope, showBench-screen.Action(i)), name})
	}
	return out
}

// tabLine gives the screens, and the running clock: as much of it as there is room for.
func (m Model) tabLine() string {
	room := m.w
	if shortest := m.clockText(leastClock); shortest != "" {
		room -= leastClock + 2
	}
	left := m.tabWords("  ", true)
	if ansi.StringWidth(left) > room {
		left = m.tabWords(" ", true)
	}
	if ansi.StringWidth(left) > room {
		left = m.tabWords(" ", false)
	}
	room = max(0, m.w-ansi.StringWidth(left)-2)
	right := m.clockText(room)
	gap := max(0, m.w-ansi.StringWidth(left)-ansi.StringWidth(right))
	return widget.Fit(left+strings.Repeat(" ", gap)+m.st.Good.Render(right), m.w)
}

// tabSpans gives where the screens are named, as tabLine draws them.
func (m Model) tabSpans() []span {
	line, from := ansi.Strip(m.tabLine()), 0
	var spans []span
	for _, t := range tabs() {
		at := strings.Index(line[from:], t.key)
		if at < 0 {
			break
		}
		begin := from + at
		end := begin + len(t.key)
		if strings.HasPrefix(line[end:], " "+t.name) {
			end += 1 + len(t.name)
		}
		spans = append(spans, span{ansi.StringWidth(line[:begin]), ansi.StringWidth(line[:end]), t.key})
		from = end
	}
	return spans
}

// tabWords names the screens; without names only the one that is shown has its name.
func (m Model) tabWords(gap string, named bool) string {
	var words []string
	for i, t := range tabs() {
		switch {
		case i == m.at:
			words = append(words, m.st.Selected.Render(fmt.Sprintf("[%s %s]", t.key, t.name)))
		case named:
			words = append(words, m.st.Key.Render(t.key)+" "+t.name)
		default:
			words = append(words, m.st.Key.Render(t.key))
		}
	}
	return strings.Join(words, gap)
}

// leastClock is the room that the clock is given before the screens have their names.
const leastClock = len("clock 10h00")

// leastTitle is the least room in which the name of a task says something.
const leastTitle = 10

// clockText gives what the clock shows in at most w columns; the name of the task goes
// first where there is no room.
func (m Model) clockText(w int) string {
	if m.data.View == nil || m.data.View.Build.Clock == nil {
		return ""
	}
	c := m.data.View.Build.Clock
	text, in := "clock "+units.Minutes(max(0, m.clock()-c.Since)).String(), ""
	if _, forgotten := m.data.View.Forgotten(m.clock()); forgotten {
		text += ", past your hours?"
	}
	if c.Visits > 0 {
		in = fmt.Sprintf(" (%d in)", c.Visits)
	}
	switch room := w - len(text) - len(in) - 1; {
	case room >= leastTitle:
		return text + " " + ansi.Truncate(widget.Clean(titleOf(m.data.View, c.Task)), room, "…") + in
	case room >= -1:
		return text + in
	}
	return ansi.Truncate(text, w, "…")
}
