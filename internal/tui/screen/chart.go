package screen

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// typicalChart is the width for which the first step of zooming is meant.
const typicalChart = 40

// scales gives the minutes that a column of the chart can stand for, finest first.
func scales() []units.Instant {
	return []units.Instant{60, 120, 240, 480, 720, units.Day, 2 * units.Day, 7 * units.Day, 14 * units.Day, 28 * units.Day, 56 * units.Day}
}

// span gives the first and the last moment of the plan.
func (s Sequence) span() (from, to units.Instant) {
	from = s.data.View.Now
	to = max(s.data.Seq.Finish, from+1)
	for _, b := range s.bars {
		from, to = min(from, b.Start), max(to, b.CureEnd)
	}
	return from, to
}

// fitting gives the index of the finest scale in which the whole plan takes at most cols columns.
func (s Sequence) fitting(cols int) int {
	from, to := s.span()
	for i, minutes := range scales() {
		if (to-align(from, minutes))/minutes < units.Instant(cols) {
			return i
		}
	}
	return len(scales()) - 1
}

// align gives the start of the column that t lies in: days begin at midnight, weeks on
// a Monday.
func align(t, minutes units.Instant) units.Instant {
	const monday = 4 * units.Day // 1970-01-05
	n := (t - monday) / minutes
	if (t-monday)%minutes < 0 {
		n--
	}
	return monday + n*minutes
}

// window is the part of the calendar that the chart shows.
type window struct {
	from, each units.Instant // of the first column, and minutes a column
	cols       int
}

func (w window) start(col int) units.Instant { return w.from + units.Instant(col)*w.each }

// window gives what is seen of the calendar: everything, where it fits, else from a little
// before the selected row.
func (s Sequence) window(cols int) window {
	i := s.zoom - 1
	if s.zoom == 0 {
		i = s.fitting(cols)
	}
	each := scales()[i]
	from, to := s.span()
	w := window{from: align(from, each), each: each, cols: cols}
	if units.Instant(cols)*each < to-w.from {
		w.from = max(w.from, align(s.barAt(s.cursor).Start, each)-units.Instant(cols/4)*each)
	}
	w.from += units.Instant(s.shift) * each
	return w
}

// mark is what a column of a row shows; later ones lie over earlier ones.
type mark byte

const (
	markNone mark = iota
	markNow
	markIdle  // the builder has no work
	markFloat // so much later it may end
	markCure
	markPause // between two days of work
	markWork
	markPart
)

func (m mark) rune() rune { return []rune{' ', '│', 'o', '┄', '░', '─', '█', 'P'}[m] }

func (m mark) style(st widget.Styles) lipgloss.Style {
	return []lipgloss.Style{st.Text, st.Place, st.Warn, st.Dim, st.Warn, st.Dim, st.Good, st.Key}[m]
}

// marks gives the columns of a row.
func (b bar) marks(w window, now units.Instant) []mark {
	out := make([]mark, w.cols)
	end := max(b.Finish, b.CureEnd)
	float := b.floatEnd(end)
	for col := range out {
		from, to := w.start(col), w.start(col+1)
		switch {
		case b.Start < to && from < b.Finish:
			out[col] = b.working(max(from, b.Start), min(to, b.Finish))
		case b.Finish < to && from < b.CureEnd:
			out[col] = markCure
		case end < to && from < float:
			out[col] = markFloat
		case from <= now && now < to:
			out[col] = markNow
		}
		for _, p := range b.parts {
			if from <= p && p < to {
				out[col] = markPart
			}
		}
	}
	return out
}

// floatEnd gives the end of the float of a row that ends, cured, at end.
func (b bar) floatEnd(end units.Instant) units.Instant {
	if b.hours == nil || b.SlackMin <= 0 {
		return end
	}
	last, ok := b.hours.Finish(b.Finish, b.SlackMin)
	if !ok {
		return end
	}
	return end + last - b.Finish
}

func (b bar) working(from, to units.Instant) mark {
	if b.hours == nil || b.hours.Count(from, to) > 0 {
		return markWork
	}
	return markPause
}

// drawMarks draws the columns of a row, one style for each run of the same mark.
func drawMarks(st widget.Styles, marks []mark) string {
	var out strings.Builder
	for i := 0; i < len(marks); {
		n := i
		for n < len(marks) && marks[n] == marks[i] {
			n++
		}
		run := strings.Repeat(string(marks[i].rune()), n-i)
		if marks[i] == markNone {
			out.WriteString(run)
		} else {
			out.WriteString(marks[i].style(st).Render(run))
		}
		i = n
	}
	return out.String()
}

// chart draws the rows around the cursor under the calendar.
func (s Sequence) chart(st widget.Styles, w, h int) string {
	title, date := max(8, min(w/3, 44)), 11
	if w < 50 {
		date = 0
	}
	win := s.window(max(1, w-title-date-1))
	lines := s.heads(st, w, title+date+1, win)
	if h < 6 {
		lines = nil
	} else if h >= 10 && len(s.data.Seq.Idle) > 0 {
		lines = append(lines, s.idleRow(st, title, date, win))
	}
	room := h - len(lines) - 1
	top := max(0, min(s.cursor-room/2, len(s.bars)-room))
	for i := top; i < min(len(s.bars), top+room); i++ {
		lines = append(lines, s.row(st, i, title, date, win))
	}
	for len(lines) < h-1 {
		lines = append(lines, "")
	}
	return widget.Cells(strings.Join(append(lines, s.legend(st, w, win)), "\n"), w, h)
}

// heads gives the lines of the calendar, and beside them, in left columns, when the plan ends.
func (s Sequence) heads(st widget.Styles, w, left int, win window) []string {
	above, below := win.header()
	seq := s.data.Seq
	ends, best := "plan ends "+seq.Finish.Format("Mon 2 Jan 2006"), "at best "+seq.BoundFinish.Format("Mon 2 Jan")
	switch {
	case seq.Proven:
		best = "proven: no order ends sooner"
	case seq.BoundFinish.Date() == seq.Finish.Date():
		best = "no order ends a day sooner"
	}
	return []string{st.Dim.Render(widget.Fit(widget.Fit("  "+ends, left)+above, w)), st.Dim.Render(widget.Fit(widget.Fit("  "+best, left)+below, w))}
}

func (s Sequence) row(st widget.Styles, i, title, date int, win window) string {
	b, mark := s.barAt(i), "  "
	if i == s.cursor {
		mark = "> "
	}
	text := widget.Fit(mark+b.title, title)
	if word := s.word(b.ID); word != "" && title > 2*len(word) {
		text = widget.Fit(mark+b.title, title-len(word)-1) + " " + word
	}
	if date > 0 {
		text += widget.Fit(" "+b.Start.Format("Mon _2 Jan"), date)
	}
	if i == s.cursor {
		text = st.Selected.Render(text)
	}
	return text + " " + drawMarks(st, b.marks(win, s.data.View.Now))
}

// word says what was done by hand with a row.
func (s Sequence) word(t id.Task) string {
	switch {
	case s.carry != nil && s.carry.task == t:
		return "moving"
	case s.pinned[t]:
		return "pinned"
	}
	return ""
}

// legend says where the cursor is, what a column is, and what the signs mean.
func (s Sequence) legend(st widget.Styles, w int, win window) string {
	column := units.Minutes(win.each).String()
	if win.each >= units.Day {
		column = count(int(win.each/units.Day), "day")
	}
	text := fmt.Sprintf("%d of %d, %s a column  █work ─pause ░cures ┄float P part │now", s.cursor+1, len(s.bars), column)
	return st.Dim.Render(widget.Fit(text, w))
}

// header gives the two lines of the calendar: months over days, or days over hours.
func (w window) header() (above, below string) {
	if w.each > 240 {
		return w.labels(month, 2), w.labels(form("2"), 1)
	}
	return w.labels(form("Mon 2 Jan"), 2), w.labels(form("15"), 1)
}

func form(f string) func(units.Instant) string {
	return func(t units.Instant) string { return t.Format(f) }
}

// month names a month; January by its year.
func month(t units.Instant) string {
	if name := t.Format("Jan"); name != "Jan" {
		return name
	}
	return t.Format("2006")
}

// labels writes the name of each column's period where it differs from the column before,
// gap blanks after the label before at least.
func (w window) labels(name func(units.Instant) string, gap int) string {
	var out strings.Builder
	last, used := "", 0
	for col := range w.cols {
		text := name(w.start(col))
		if text == last {
			continue
		}
		last = text
		if used > 0 && col < used+gap || col+len(text) > w.cols {
			continue
		}
		out.WriteString(strings.Repeat(" ", col-used) + text)
		used = col + len(text)
	}
	return out.String()
}
