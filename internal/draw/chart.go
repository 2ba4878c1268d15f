package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/vanlog/internal/units"
)

// Chart is the order of work, to be drawn against the calendar. Control characters are taken
// out of its words, which may be of any length. Times further than a hundred years from Now
// are drawn as if they were at that distance.
type Chart struct {
	Title   string // the heading
	Summary string // a line or two under it; may be empty

	Now    units.Instant
	Finish units.Instant // of the whole plan
	Bound  units.Instant // before which no order can finish; Finish itself where that is proven

	Rows     []ChartRow // in any order; they are drawn by their start
	Arrivals []Arrival  // in any order
	Bands    []Band     // resources whose hours are worth knowing, in the order they are drawn in
	Off      []Stretch  // days without work, shaded
}

// Stretch is a time from one minute up to another that is no longer in it.
type Stretch struct{ From, To units.Instant }

// ChartRow is a task of a Chart.
type ChartRow struct {
	ID, Name, Trade string

	Start, Finish units.Instant
	CureEnd       units.Instant // at or before Finish: nothing cures
	SlackEnd      units.Instant // when it can end at the latest; at or before its end: no slack
	Spans         []Stretch     // when it is really worked on, in order; none: from Start to Finish
	AccessShare   float64       // how much of the work is getting at things, 0 to 1
	Needs         []string      // the names of the bands that it needs
	Critical      bool          // where it ends later, so does the plan
	Milestone     bool          // a point rather than work: drawn at Finish
}

// Arrival is a part that comes.
type Arrival struct {
	Name string
	At   units.Instant // before Now: it is drawn at Now
	Late bool          // it should be there by now, or work waits for it
}

// Band is a resource and when it is there. It is drawn on the sheets on which a row needs it.
type Band struct {
	Name  string
	Spans []Stretch
}

// A sheet of the chart, in millimetres: what A4 (297 × 210) and Letter (279 × 216) both print
// on their sides within margins of 10. With the margin about it, it is 10 × 7.5 inches:
// browsers round the sizes of pages, and a rounded one would shift from sheet to sheet.
const (
	sheetWide  = 254 - 2*margin
	sheetHigh  = sheetPitch - 2*margin
	sheetPitch = 190.5
)

// ChartSVG draws the order of work as an SVG document that stands on its own. A plan that is
// too long for one sheet is cut by rows: each sheet has the rows that start next and its own
// stretch of the calendar, so that a day stays wide enough to be read. The sheets stand under
// each other, each as high as a printed page. The same input gives the same bytes.
func ChartSVG(c Chart) []byte {
	c = c.cleaned()
	sheets := c.sheets()
	high := float64(len(sheets)) * sheetPitch
	if len(sheets) == 1 {
		high = sheets[0].high() + 2*margin
	}
	doc := &paper{}
	w := sheetWide + 2*margin
	doc.open("svg", fmt.Sprintf(`xmlns="http://www.w3.org/2000/svg" version="1.1" xml:lang="en" role="img" width="%smm" height="%smm" viewBox="%s %s %s %s" font-family="sans-serif"`,
		num(w), num(high), num(-margin), num(-margin), num(w), num(high)))
	doc.named("title", c.Title)
	doc.named("desc", fmt.Sprintf("The order of work against the calendar: %d tasks on %d sheets, %s to %s. %s",
		len(c.Rows), len(sheets), dayOf(c.Now), dayOf(c.Finish), shortened(c.Summary, 1, 500)))
	doc.named("style", fmt.Sprintf("@page{size:%smm %smm;margin:0}", num(w), num(sheetPitch)))
	doc.rect(flat{-margin, -margin, w - margin, high - margin}, 0, `fill="#ffffff"`)
	for _, s := range sheets {
		s.paper = doc
		s.print()
	}
	doc.shut("svg")
	return doc.Bytes()
}

// dayOf names a day in full.
func dayOf(t units.Instant) string { return t.Format("Mon 2 Jan 2006") }

// How far times may lie apart: with more, their differences would not be numbers any more.
const (
	hundredYears = 36525 * units.Day
	mostYears    = 20 * hundredYears
)

// near moves a time to within a hundred years of now.
func (c *Chart) near(t units.Instant) units.Instant {
	return max(c.Now-hundredYears, min(c.Now+hundredYears, t))
}

// cleaned gives the chart with words that print, times that can be drawn, and its rows in order.
func (c Chart) cleaned() Chart {
	c.Title, c.Summary = printable(c.Title), printable(c.Summary)
	c.Now = max(-mostYears, min(mostYears, c.Now))
	c.Finish, c.Bound = c.near(c.Finish), c.near(c.Bound)
	c.Rows, c.Arrivals, c.Bands = slices.Clone(c.Rows), slices.Clone(c.Arrivals), slices.Clone(c.Bands)
	for i := range c.Rows {
		c.Rows[i] = c.cleanedRow(c.Rows[i])
	}
	slices.SortStableFunc(c.Rows, func(a, b ChartRow) int { return cmp.Compare(a.Start, b.Start) })
	for i, a := range c.Arrivals {
		c.Arrivals[i] = Arrival{Name: printable(a.Name), At: c.near(a.At), Late: a.Late}
	}
	slices.SortStableFunc(c.Arrivals, func(a, b Arrival) int { return cmp.Compare(a.At, b.At) })
	for i, b := range c.Bands {
		c.Bands[i] = Band{printable(b.Name), c.stretches(b.Spans, c.Now-hundredYears, c.Now+hundredYears)}
	}
	c.Off = c.stretches(c.Off, c.Now-hundredYears, c.Now+hundredYears)
	return c
}

func (c *Chart) cleanedRow(r ChartRow) ChartRow {
	r.ID, r.Name, r.Trade = printable(r.ID), printable(r.Name), printable(r.Trade)
	r.Needs = slices.Clone(r.Needs)
	for i, name := range r.Needs {
		r.Needs[i] = printable(name)
	}
	r.Start = c.near(r.Start)
	r.Finish = max(r.Start, c.near(r.Finish))
	r.CureEnd = max(r.Finish, c.near(r.CureEnd))
	r.SlackEnd = max(r.CureEnd, c.near(r.SlackEnd))
	r.Spans = c.stretches(r.Spans, r.Start, r.Finish)
	if len(r.Spans) == 0 {
		r.Spans = []Stretch{{r.Start, r.Finish}}
	}
	if math.IsNaN(r.AccessShare) {
		r.AccessShare = 0
	}
	r.AccessShare = max(0, min(1, r.AccessShare))
	return r
}

// stretches gives what lies of some stretches between two times, in order.
func (c *Chart) stretches(all []Stretch, from, to units.Instant) []Stretch {
	var out []Stretch
	for _, s := range all {
		if s.From, s.To = max(from, s.From), min(to, s.To); s.From < s.To {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Stretch) int { return cmp.Compare(a.From, b.From) })
	return out
}
