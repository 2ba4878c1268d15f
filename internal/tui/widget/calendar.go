package widget

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/units"
)

// Calendar lets a person pick a day from the month that it lies in.
type Calendar struct {
	title  string
	at     units.Date
	sunday bool // weeks begin with it
}

// NewCalendar makes a calendar that stands on a day. Sunday says with which day weeks begin.
func NewCalendar(title string, at units.Date, sunday bool) Calendar {
	return Calendar{title: title, at: at, sunday: sunday}
}

// Day gives the day under the cursor.
func (c Calendar) Day() units.Date { return c.at }

// Key moves by days, weeks (up, down), months (pgup, pgdown) and to the ends of the month (home, end);
// enter is Submitted, esc Cancelled.
func (c Calendar) Key(k Key) (Calendar, Outcome) {
	switch k.Name {
	case "left":
		c.at--
	case "right":
		c.at++
	case "up":
		c.at -= 7
	case "down":
		c.at += 7
	case "pgup":
		c.at = c.month(-1)
	case "pgdown":
		c.at = c.month(1)
	case "home":
		c.at = firstOf(c.at)
	case "end":
		c.at = firstOf(firstOf(c.at)+31) - 1
	case "enter":
		return c, Submitted
	case "esc":
		return c, Cancelled
	default:
		return c, Unused
	}
	return c, Stay
}

// firstOf gives the first day of the month that d lies in.
func firstOf(d units.Date) units.Date {
	for d.Format("2") != "1" {
		d--
	}
	return d
}

// month gives the same day of a month before or after, or the last that it has.
func (c Calendar) month(by int) units.Date {
	first, day := firstOf(c.at), int(c.at-firstOf(c.at))
	next := firstOf(first - 1)
	if by > 0 {
		next = firstOf(first + 31)
	}
	last := firstOf(next+31) - 1
	return min(next+units.Date(day), last)
}

// View draws the month in exactly w columns and h lines; the day under the cursor stands in brackets.
func (c Calendar) View(st Styles, w, h int) string {
	names := []string{"Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"}
	if c.sunday {
		names = append([]string{"Su"}, names[:6]...)
	}
	lines := []string{st.Strong.Render(Fit(Clean(c.title), w)), Fit(c.at.Format("January 2006")+"   "+c.at.String(), w), st.Dim.Render(Fit(" "+strings.Join(names, "  "), w))}
	first := firstOf(c.at)
	from := first - units.Date(c.column(first))
	for week := from; week <= firstOf(first+31)-1; week += 7 {
		lines = append(lines, c.week(st, week, first, w))
	}
	lines = append(lines, "", st.Dim.Render(Fit("arrows day and week   pgup/pgdn month   enter pick   esc back", w)))
	return Cells(strings.Join(lines, "\n"), w, h)
}

// column gives the place of a day in its week.
func (c Calendar) column(d units.Date) int {
	if c.sunday {
		return (d.Weekday() + 1) % 7
	}
	return d.Weekday()
}

// week draws seven days; those of other months are left out.
func (c Calendar) week(st Styles, from, first units.Date, w int) string {
	line := ""
	for d := from; d < from+7; d++ {
		text := fmt.Sprintf(" %2s ", d.Format("2"))
		switch {
		case firstOf(d) != first:
			text = "    "
		case d == c.at:
			text = st.Selected.Render(fmt.Sprintf("[%2s]", d.Format("2")))
		}
		line += text
	}
	return Fit(line, w)
}
