package draw

import (
	"fmt"
	"math"
	"strings"

	"example.com/vanlog/internal/units"
)

// What a row is drawn with, in millimetres.
const (
	barTop    = 0.9 // below the top of the row
	barHigh   = 2.7
	leastBar  = 0.6 // the width of the shortest bar
	leastGap  = 0.3 // shorter pauses are not drawn
	amber     = "#e69f00"
	sky       = "#56b4e9"
	milestone = 1.6
)

func (r ChartRow) worked() (min units.Instant) {
	for _, s := range r.Spans {
		min += s.To - s.From
	}
	return min
}

// slack gives the slack in words; empty where there is none.
func (r ChartRow) slack() string {
	n := r.SlackEnd - r.CureEnd
	switch {
	case n >= units.Day:
		return fmt.Sprintf("slack %d d", n/units.Day)
	case n > 0:
		return "slack " + units.Minutes(n).String()
	}
	return ""
}

// startForm is how the start of a row is written beside it: without what the axis says.
func (s *leaf) startForm() string {
	if s.dayWide() > 1.2 {
		return "Mon 2 15:04"
	}
	return "Mon 2 Jan 2006 15:04"
}

// note is what stands beside the bar: when it starts, how long it takes, and what is to be known.
func (r ChartRow) note(startForm string) []string {
	words := []string{r.Start.Format(startForm)}
	if r.Milestone {
		words = append(words, "milestone")
	} else {
		words = append(words, units.Minutes(r.worked()).String())
	}
	if r.AccessShare >= leastShare {
		words = append(words, fmt.Sprintf("way in %.0f %%", 100*r.AccessShare))
	}
	if r.Critical {
		words = append(words, "critical")
	} else if s := r.slack(); s != "" {
		words = append(words, s)
	}
	if r.CureEnd > r.Finish {
		words = append(words, "cured "+r.CureEnd.Format("Mon 2 Jan"))
	}
	return words
}

// leastShare is the least share of the way in that is worth drawing.
const leastShare = 0.08

// row prints a row from a height on.
func (s *leaf) row(r ChartRow, y float64) {
	note := r.note(s.startForm())
	s.open("g", `class="row" data-task="`+escaped(r.ID)+`"`)
	s.named("title", fmt.Sprintf("%s %s (%s): %s to %s; %s", r.ID, r.Name, r.Trade,
		r.Start.Format("Mon 2 Jan 2006 15:04"), r.Finish.Format("Mon 2 Jan 2006 15:04"), strings.Join(note, ", ")))
	s.line(flat{0, y + rowHigh, sheetWide, y + rowHigh}, stroke("#d9d9d9", 0.12))
	base := y + 3.2
	s.text(spot{0, base}, rowSize, boldWords, shortened(r.ID, rowSize, idWide-1))
	s.text(spot{idWide, base}, rowSize, plainWords, shortened(r.Name, rowSize, nameWide-1.5))
	s.text(spot{idWide + nameWide, base}, tinySize, greyWords, shortened(r.Trade, tinySize, tradeWide-1))
	from, to := s.bars(r, y)
	s.beside(note, from, to, base-0.2)
	s.shut("g")
}

// beside prints the note after the bar, or before it where it does not go in after it; where
// neither, as many of its words as go in where there is more room.
func (s *leaf) beside(note []string, from, to, y float64) {
	const gap = 1.3
	after, before := sheetWide-to-gap, from-gap-gridLeft
	words := fitting(note, max(after, before))
	switch {
	case words == "":
	case measured(words, tinySize) <= after:
		s.text(spot{to + gap, y}, tinySize, greyWords+halo, words)
	default:
		s.text(spot{from - gap, y}, tinySize, greyWords+halo+` text-anchor="end"`, words)
	}
}

// fitting gives the first of some words that go into a room together.
func fitting(words []string, room float64) string {
	for n := len(words); n > 0; n-- {
		if s := strings.Join(words[:n], ", "); measured(s, tinySize) <= room {
			return s
		}
	}
	return ""
}

// bars draws the marks of a row, and gives from where to where they reach.
func (s *leaf) bars(r ChartRow, y float64) (from, to float64) {
	box := flat{s.x(r.Start), y + barTop, s.x(r.Finish), y + barTop + barHigh}
	box.x0, box.x1 = widened(box.x0, box.x1)
	from, to = box.x0, box.x1
	if r.Milestone {
		at := spot{s.x(r.Finish), (box.y0 + box.y1) / 2}.within(flat{gridLeft + milestone, 0, sheetWide - milestone, math.Inf(1)})
		s.sign(at, milestone, black, black)
		from, to = min(from, at.x-milestone), max(to, at.x+milestone)
	} else {
		s.work(r, box)
	}
	if r.CureEnd > r.Finish {
		to = max(to, s.cure(flat{box.x1, box.y0 + 0.4, s.x(r.CureEnd), box.y1 - 0.4}, r.CureEnd > s.to))
	}
	if r.SlackEnd > r.CureEnd && to < sheetWide {
		to = s.slackLine(to, (box.y0+box.y1)/2, r.SlackEnd)
	}
	return from, to
}

// widened makes a bar as wide as can be seen, within the grid.
func widened(x0, x1 float64) (float64, float64) {
	x1 = max(x1, x0+leastBar)
	if x1 > sheetWide {
		return sheetWide - max(leastBar, sheetWide-x0), sheetWide
	}
	return x0, x1
}

// work draws the work: a line from the start to the finish, and bars where it is done.
func (s *leaf) work(r ChartRow, box flat) {
	mid := (box.y0 + box.y1) / 2
	s.line(flat{box.x0, mid, box.x1, mid}, stroke(blue, 0.3))
	attrs := `class="work" fill="` + blue + `"`
	if r.Critical {
		attrs += ` stroke="` + black + `" stroke-width="0.45"`
	}
	pieces := s.pieces(r.Spans, box)
	for _, f := range pieces {
		s.rect(f, 0, attrs)
	}
	first := pieces[0]
	if r.AccessShare >= leastShare && first.x1-first.x0 > 2*leastBar { // else only the note says it
		x1 := min(max(s.x(r.reached()), first.x0+leastBar), box.x1)
		s.rect(flat{first.x0, box.y0 + 0.5, x1, mid}, 0, `class="access" fill="#ffffff"`)
	}
}

// reached gives when the share of the way in is over.
func (r ChartRow) reached() units.Instant {
	left := units.Instant(math.Round(r.AccessShare * float64(r.worked())))
	for _, s := range r.Spans {
		if n := s.To - s.From; left > n {
			left -= n
		} else {
			return s.From + left
		}
	}
	return r.Finish
}

// pieces gives the bars of stretches of work; those that nearly touch are one.
func (s *leaf) pieces(spans []Stretch, box flat) []flat {
	var out []flat
	for _, span := range spans {
		f := flat{s.x(span.From), box.y0, s.x(span.To), box.y1}
		f.x0, f.x1 = widened(f.x0, f.x1)
		if n := len(out); n > 0 && f.x0 < out[n-1].x1+leastGap {
			out[n-1].x1 = max(out[n-1].x1, f.x1)
			continue
		}
		out = append(out, f)
	}
	return out
}

// cure draws what cures, hatched, and gives where it ends. It has no end where it is cut off.
func (s *leaf) cure(f flat, cut bool) float64 {
	f.x1 = min(sheetWide, max(f.x1, f.x0+leastBar))
	if f.x1 <= f.x0 {
		return f.x1
	}
	s.rect(f, 0, `class="cure" fill="#ffffff" stroke="`+black+`" stroke-width="0.2"`)
	mid := (f.y0 + f.y1) / 2
	s.line(flat{f.x0, mid, f.x1, mid}, `stroke="`+amber+`" stroke-width="`+num(f.y1-f.y0)+`" stroke-dasharray="0.35 0.55"`)
	if cut {
		s.arrowAt(mid)
	}
	return f.x1
}

// slackLine draws the slack from a point on: a thin line with a tick, or an arrow where it goes on.
func (s *leaf) slackLine(from, y float64, until units.Instant) float64 {
	x := max(from, s.x(until))
	s.line(flat{from, y, x, y}, `class="slack" `+stroke(grey, 0.25))
	if until > s.to {
		s.arrowAt(y)
	} else {
		s.line(flat{x, y - 0.9, x, y + 0.9}, stroke(grey, 0.35))
	}
	return x
}

// arrowAt draws the tip of what goes on after the sheet.
func (s *leaf) arrowAt(y float64) {
	s.polyline("polygon", []spot{{sheetWide - 1.4, y - 0.8}, {sheetWide, y}, {sheetWide - 1.4, y + 0.8}}, `fill="`+grey+`"`)
}

// sign draws a square that stands on a corner.
func (p *paper) sign(at spot, r float64, fill, line string) {
	p.polyline("polygon", []spot{{at.x - r, at.y}, {at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}},
		`fill="`+fill+`" stroke="`+line+`" stroke-width="0.25"`)
}
