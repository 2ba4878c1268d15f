package draw

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

// tag is a point of the calendar with words beside it, in one of several strips.
type tag struct {
	x       float64
	words   string
	toLeft  bool // the words stand before the point
	late    bool
	strip   int
	at      units.Instant
	attrs   string // of the upright line, for a flag
	reaches [2]float64
}

// tagSize is how far a sign reaches to each side of its point.
const tagSize = 1.4

// laid sets the tags in strips, in their order, so that none lies over another; with more
// strips than most, the rest is left out, and counted.
func laid(tags []tag, most int) (out []tag, left int) {
	for _, t := range tags {
		t.words = shortened(t.words, tinySize, gridWide/2-2*tagSize)
		t.reach()
		for t.overlaps(out) {
			t.strip++
		}
		if t.strip >= most {
			left++
			continue
		}
		out = append(out, t)
	}
	return out, left
}

// reach sets from where to where the tag prints: to the right where there is room.
func (t *tag) reach() {
	w := measured(t.words, tinySize) + tagSize + 1
	t.toLeft = t.x+w > sheetWide
	t.reaches = [2]float64{t.x - tagSize, t.x + w}
	if t.toLeft {
		t.reaches = [2]float64{t.x - w, t.x + tagSize}
	}
}

func (t *tag) overlaps(others []tag) bool {
	return slices.ContainsFunc(others, func(o tag) bool {
		return o.strip == t.strip && o.reaches[0] < t.reaches[1] && t.reaches[0] < o.reaches[1]
	})
}

// strips gives how many strips the tags take.
func strips(tags []tag) int {
	n := 0
	for _, t := range tags {
		n = max(n, t.strip+1)
	}
	return n
}

// print writes the words of a tag on a base line.
func (t tag) print(p *paper, y float64) {
	at, attrs := spot{t.x + tagSize + 0.3, y}, plainWords
	if t.toLeft {
		at.x, attrs = t.x-tagSize-0.3, attrs+` text-anchor="end"`
	}
	p.text(at, tinySize, attrs+halo, t.words)
}

// place sets the arrivals in strips.
func (s *leaf) place(arrivals []Arrival) {
	var tags []tag
	for _, a := range arrivals {
		words := a.Name + ", from " + a.At.Format("2 Jan") + ", in time"
		if a.Late {
			words = a.Name + ", from " + a.At.Format("2 Jan") + ", late"
		}
		tags = append(tags, tag{x: s.x(max(a.At, s.chart.Now)), words: words, late: a.Late, at: a.At})
	}
	s.arrivals, s.unnamed = laid(tags, mostStrips)
}

// raise sets the flags of the upright lines that are on the sheet.
func (s *leaf) raise() {
	c := s.chart
	tags := []tag{{at: c.Now, words: "now, ", attrs: stroke(vermilion, 0.5)}}
	switch {
	case c.Bound >= c.Finish:
		tags = append(tags, tag{at: c.Finish, words: "finish; no order ends sooner, ", attrs: stroke(black, 0.5)})
	default:
		tags = append(tags, tag{at: c.Bound, words: "no order can end before ", attrs: stroke(black, 0.35) + dotted},
			tag{at: c.Finish, words: "finish, ", attrs: stroke(black, 0.5)})
	}
	tags = slices.DeleteFunc(tags, func(t tag) bool { return t.at < s.from || t.at > s.to })
	for i := range tags {
		tags[i].x, tags[i].words = s.x(tags[i].at), tags[i].words+tags[i].at.Format("Mon 2 Jan 15:04")
	}
	// The last one is the highest: so the lines of the others do not cross its words.
	slices.SortStableFunc(tags, func(a, b tag) int { return cmp.Compare(b.x, a.x) })
	s.flags, _ = laid(tags, len(tags))
}

// dotted is added to a stroke.
const dotted = ` stroke-dasharray="0.5 0.9"`

// uprights draws the lines of now, the finish and the bound through the grid to their flags.
func (s *leaf) uprights(grid flat) {
	for _, t := range s.flags {
		y := grid.y1 + float64(t.strip+1)*stripHigh
		s.open("g", `class="flag"`)
		s.line(flat{t.x, grid.y0 - 1, t.x, y - 0.8}, t.attrs)
		t.print(s.paper, y-1)
		s.shut("g")
	}
}
