package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// View draws everything in exactly the cells of the terminal.
func (m Model) View() string {
	l := m.layout()
	switch {
	case m.w < 1 || m.h < 1:
		return "…" // the size comes with the first message
	case l.tooSmall:
		text := fmt.Sprintf("vanlog needs at least %d columns and %d lines; this terminal has %d and %d.", leastW, leastH, m.w, m.h)
		return widget.Cells(strings.Join(widget.Wrap(text, m.w), "\n"), m.w, m.h)
	}
	return strings.Join([]string{
		m.topLine(), m.tabLine(), m.body(l), m.messageLine(l), bottomLine(m.st, m.top().Scope(), m.w),
	}, "\n")
}

func (m Model) body(l layout) string {
	if l.sideW == 0 && m.onlyVan && len(m.pages) == 0 {
		return widget.Cells(m.side.drawn, l.workW, l.bodyH)
	}
	work := m.top().View(m.st, l.workW, l.bodyH)
	if l.sideW == 0 {
		return work
	}
	return beside(m.st, work, widget.Cells(m.side.drawn, l.sideW, l.bodyH), l.bodyH)
}

// topLine gives the build, its day, when it will be finished, and the hours of today.
func (m Model) topLine() string {
	if m.data.View == nil {
		return m.st.Strong.Render(widget.Fit("vanlog", m.w))
	}
	b := m.data.View.Build
	name := widget.Clean(b.Head.Name)
	if name == "" {
		name = "a build without a name"
	}
	rest := "   " + strings.Join([]string{m.dayOfBuild(), m.finish(), m.today()}, "   ")
	room := max(10, m.w-ansi.StringWidth(rest))
	return widget.Fit(m.st.Strong.Render(ansi.Truncate(name, room, "…"))+rest, m.w)
}

func (m Model) dayOfBuild() string {
	days := m.data.View.Build.Days.Rows
	if len(days) == 0 {
		return "not begun"
	}
	return fmt.Sprintf("day %d", max(1, int(m.clock().Date()-days[0].At.Date())+1))
}

// expected gives when the build will be done: as likely as not, and four times in five.
func (m Model) expected() string {
	f := m.data.Forecast
	from, to := f.P50.Format("2 Jan 2006"), f.P80.Format("2 Jan 2006")
	if f.P50.Date() == f.P80.Date() {
		from = ""
	} else {
		from = strings.TrimSuffix(from, f.P80.Format(" 2006")) + " to "
	}
	text := "expected " + from + to + " (P50 to P80)"
	if m.data.Aged {
		text += " …"
	}
	return text
}

// finish gives when the build is expected to be done; until that is known, when the plan ends,
// and before when no order can.
func (m Model) finish() string {
	seq := m.data.Seq
	switch {
	case m.data.NoSeq != "":
		return "no order of work, see 2"
	case seq == nil:
		return "planning …"
	case len(seq.Tasks) == 0:
		return "all done"
	case m.data.Forecast != nil:
		return m.expected()
	}
	finish, bound := seq.Finish.Format("Mon 2 Jan 2006"), seq.BoundFinish.Format("Mon 2 Jan 2006")
	switch {
	case seq.Proven:
		return "plan ends " + finish + ", proven"
	case seq.BoundFinish.Date() == seq.Finish.Date():
		return "plan ends " + finish + ", no day sooner"
	}
	return "plan ends " + finish + ", at best " + strings.TrimSuffix(bound, seq.Finish.Format(" 2006"))
}

func (m Model) today() string {
	v := m.data.View
	minutes := logged(v.Build.Days.Rows, m.clock().Date())
	if c := v.Build.Clock; c != nil {
		minutes += max(0, int(m.clock()-max(c.Since, m.clock().Date().Start())))
	}
	return "today " + units.Minutes(minutes).String()
}

// logged gives the minutes that the daybook has for a day.
func logged(days []daybook.Entry, d units.Date) int {
	sum := 0
	for i := len(days) - 1; i >= 0 && days[i].At.Date() >= d-1; i-- { // an entry is a day long at most
		begin, end := max(days[i].At, d.Start()), min(days[i].End(), (d+1).Start())
		sum += max(0, int(end-begin))
	}
	return sum
}

func titleOf(v *answer.View, t id.Task) string {
	if i, ok := v.Live.TaskAt[t]; ok {
		return v.Live.Tasks[i].Title()
	}
	return string(t)
}

// messageLines gives what there is to say, in as many lines as it takes.
func (m Model) messageLines() []string {
	var lines []string
	for _, s := range strings.Split(m.says.text, "\n") {
		lines = append(lines, widget.Wrap("! "+widget.Clean(s), m.w)...)
	}
	return lines
}

// messageLine gives the last change and how to take it back, or what went wrong; at the right
// how far a search has come.
func (m Model) messageLine(l layout) string {
	if m.says.bad {
		lines := m.messageLines()
		if len(lines) > l.messageH {
			lines = append(lines[:l.messageH-1:l.messageH-1], fmt.Sprintf("! and %d lines more", len(lines)-l.messageH+1))
		}
		for i, s := range lines {
			lines[i] = m.st.Bad.Render(s)
		}
		return widget.Cells(strings.Join(lines, "\n"), m.w, l.messageH)
	}
	left, right := widget.Clean(m.says.text), m.progressText()
	if m.leaving {
		left = "Leaving as soon as everything is written …"
	}
	undo := ""
	if k := keyHere(m.top().Scope(), takeBack); m.says.undo && k != "" {
		undo = "   undo: " + k
	}
	room := max(0, m.w-ansi.StringWidth(right)-1-len(undo))
	left = ansi.Truncate(left, room, "…") + m.st.Key.Render(undo)
	gap := max(1, m.w-ansi.StringWidth(left)-ansi.StringWidth(right))
	return widget.Fit(left+strings.Repeat(" ", gap)+right, m.w)
}
