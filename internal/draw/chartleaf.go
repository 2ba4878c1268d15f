package draw

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/units"
)

// leaf is a sheet of the chart: some rows and the stretch of the calendar that they are in.
type leaf struct {
	*paper
	chart      *Chart
	rows       []ChartRow
	from, to   units.Instant // the whole days that are drawn
	arrivals   []tag         // in strips
	bands      []Band
	flags      []tag // what stands at the ends of the upright lines
	unnamed    int   // arrivals for which there is no strip left
	number, of int
	top        float64
}

// What a sheet is made of, from the top, in millimetres.
const (
	headHigh   = 15.0
	axisHigh   = 11.0
	stripHigh  = 3.6 // of arrivals, and of flags
	bandHigh   = 3.4
	rowHigh    = 4.5
	legendHigh = 10.0

	idWide    = 9.0
	nameWide  = 63.5
	tradeWide = 19.5
	gridLeft  = idWide + nameWide + tradeWide
	gridWide  = sheetWide - gridLeft

	mostBands  = 8
	mostStrips = 10
)

// The sizes of the type on a chart, in millimetres: 2.3 is six and a half points.
const (
	rowSize  = 2.6
	tinySize = 2.3
)

// manyRows is how many rows are drawn without headings.
const manyRows = 24

// sheets cuts the chart.
func (c *Chart) sheets() []*leaf {
	var out []*leaf
	for at := 0; at < len(c.Rows) || len(out) == 0; {
		n := c.fill(at)
		out = append(out, c.sheet(at, n))
		at += n
	}
	for i, s := range out {
		s.number, s.of, s.top = i+1, len(out), float64(i)*sheetPitch
	}
	return out
}

// fill gives how many rows from one on go on a sheet. It ends with a week where that leaves
// less than a fifth of it empty.
func (c *Chart) fill(at int) int {
	n := 1
	for at+n < len(c.Rows) && c.sheet(at, n+1).high() <= sheetHigh {
		n++
	}
	if at+n >= len(c.Rows) {
		return len(c.Rows) - at
	}
	for k := n; k > n*4/5; k-- {
		if c.newWeek(at + k) {
			return k
		}
	}
	return n
}

// newWeek reports whether a row starts in another week than the one before it.
func (c *Chart) newWeek(i int) bool {
	return monday(c.Rows[i].Start) != monday(c.Rows[i-1].Start)
}

func monday(t units.Instant) units.Instant {
	d := t.Date()
	return (d - units.Date(d.Weekday())).Start()
}

// sheet gives n rows from one on, with the calendar that they need.
func (c *Chart) sheet(at, n int) *leaf {
	s := &leaf{chart: c, rows: c.Rows[at:min(len(c.Rows), at+n)]}
	first, last := at == 0, at+n >= len(c.Rows)
	s.span(first, last)
	s.place(c.own(at, n, first, last))
	for _, b := range c.Bands {
		if s.needs(b) && len(s.bands) < mostBands {
			s.bands = append(s.bands, b)
		}
	}
	s.raise()
	return s
}

func (s *leaf) needs(b Band) bool {
	return slices.ContainsFunc(s.rows, func(r ChartRow) bool { return slices.Contains(r.Needs, b.Name) })
}

// How much of the calendar a sheet has: cures that end later are cut off, and now is not
// there where the work begins much later.
const (
	curesWithin = 8 * 7 * units.Day
	nowWithin   = 10 * units.Day
)

// span sets the days that are drawn.
func (s *leaf) span(first, last bool) {
	now, finish := s.chart.Now, s.chart.Finish
	if len(s.rows) == 0 {
		s.from, s.to = now.Date().Start(), max(now, finish).Date().Start()+units.Day
		return
	}
	s.from, s.to = s.rows[0].Start, s.rows[0].Finish
	for _, r := range s.rows {
		s.to = max(s.to, r.Finish)
	}
	cured := s.to
	for _, r := range s.rows {
		cured = max(cured, r.CureEnd)
	}
	s.to = max(s.to, min(cured, s.from+curesWithin))
	if first && now < s.from && s.from-now <= nowWithin {
		s.from = now
	}
	if last {
		s.to = max(s.to, finish)
	}
	s.from = s.from.Date().Start()
	s.to = max((s.to-1).Date().Start(), s.from) + units.Day
}

// own gives the arrivals of a sheet: those until the next one begins, so that each is there once.
func (c *Chart) own(at, n int, first, last bool) []Arrival {
	var out []Arrival
	for _, a := range c.Arrivals {
		t := max(a.At, c.Now)
		if (first || t >= c.Rows[at].Start) && (last || t < c.Rows[at+n].Start) {
			out = append(out, a)
		}
	}
	return out
}

// within gives what is seen of some stretches.
func (s *leaf) within(all []Stretch) []Stretch { return s.chart.stretches(all, s.from, s.to) }

// x gives where a time is on the sheet, at an edge where it is not on it.
func (s *leaf) x(t units.Instant) float64 {
	t = max(s.from, min(s.to, t))
	return gridLeft + gridWide*float64(t-s.from)/float64(s.to-s.from)
}

// dayWide is how wide a day is.
func (s *leaf) dayWide() float64 { return gridWide * float64(units.Day) / float64(s.to-s.from) }

// headings reports whether the rows stand under the weeks in which they start.
func (s *leaf) headings() bool { return len(s.chart.Rows) > manyRows }

// heads reports whether a row has a heading over it.
func (s *leaf) heads(i int) bool {
	return s.headings() && (i == 0 || monday(s.rows[i].Start) != monday(s.rows[i-1].Start))
}

func (s *leaf) lanesHigh() float64 {
	h := float64(strips(s.arrivals))*stripHigh + float64(len(s.bands))*bandHigh
	if h > 0 {
		h += 1.5
	}
	return h
}

func (s *leaf) rowsHigh() float64 {
	n := max(1, len(s.rows))
	for i := range s.rows {
		if s.heads(i) {
			n++
		}
	}
	return float64(n) * rowHigh
}

func (s *leaf) high() float64 {
	return headHigh + axisHigh + s.lanesHigh() + s.rowsHigh() + float64(strips(s.flags))*stripHigh + 1 + legendHigh
}

// print draws the sheet.
func (s *leaf) print() {
	s.open("g", `class="sheet"`)
	s.heading()
	grid := flat{gridLeft, s.top + headHigh + axisHigh, sheetWide, 0}
	rows := grid.y0 + s.lanesHigh()
	grid.y1 = rows + s.rowsHigh()
	s.shade(grid)
	s.axis(grid)
	s.uprights(grid)
	s.lanes(grid)
	s.table(rows)
	s.rect(flat{gridLeft, s.top + headHigh, sheetWide, grid.y1}, 0, stroke(faint, 0.3))
	s.key(grid.y1 + float64(strips(s.flags))*stripHigh + 1)
	s.shut("g")
}

// heading prints the title, the summary and which sheet it is.
func (s *leaf) heading() {
	which := fmt.Sprintf("%s to %s", dayOf(s.from), dayOf(s.to-1))
	if s.of > 1 {
		which = fmt.Sprintf("sheet %d of %d: %s", s.number, s.of, which)
	}
	wide := measured(which, noteSize)
	s.text(spot{0, s.top + 5}, 4.6, boldWords, shortened(s.chart.Title, 4.6, sheetWide-wide-6))
	s.text(spot{sheetWide, s.top + 5}, noteSize, plainWords+` text-anchor="end"`, which)
	for i, words := range brokenInto(s.chart.Summary, noteSize, sheetWide, 2) {
		s.text(spot{0, s.top + 9.3 + noteLine*float64(i)}, noteSize, greyWords, words)
	}
}

// table prints the rows from a height on.
func (s *leaf) table(y float64) {
	if len(s.rows) == 0 {
		s.text(spot{0, y + 3.2}, noteSize, plainWords, "Nothing is left to do.")
	}
	for i, r := range s.rows {
		if s.heads(i) {
			s.week(monday(r.Start), y)
			y += rowHigh
		}
		s.row(r, y)
		y += rowHigh
	}
}

// week prints the heading of the rows that start in a week.
func (s *leaf) week(t units.Instant, y float64) {
	_, n := t.Date().ISOWeek()
	s.rect(flat{0, y, gridLeft, y + rowHigh}, 0, `fill="#e6e6e6"`)
	s.line(flat{0, y, sheetWide, y}, stroke(faint, 0.25))
	s.text(spot{1, y + 3.2}, rowSize, boldWords, fmt.Sprintf("Week %d, from %s", n, dayOf(t)))
}
