package draw

import (
	"slices"
	"unicode/utf8"
)

// label is words that are to stand in or beside something on the page.
type label struct {
	text string
	in   flat // what it names
	bold bool
	grey bool
}

// names writes the names of places and of what is asked about where there is free paper:
// what matters most chooses first.
func (v *plate) names() {
	asked := slices.DeleteFunc(slices.Clone(v.items), func(s shape) bool { return !s.selected })
	for _, s := range asked {
		if len(asked) <= mostAsked {
			v.outside(label{text: printable(s.name), in: v.spotOf(s).around(0), bold: true})
		}
	}
	for _, meant := range []bool{true, false} {
		for _, s := range v.places {
			if s.meant == meant {
				v.place(label{text: printable(s.name), in: v.onPage(s.flat), bold: s.selected, grey: !meant})
			}
		}
	}
}

// mostAsked is how many items that are asked about are named in the drawing: lines to more of
// them would hide the way, and the legend has them too.
const mostAsked = 2

// spotOf gives where an item is on the page: the circle of its last step, where it has one.
func (v *plate) spotOf(s shape) spot {
	at := v.onPage(s.flat).centre()
	for _, m := range v.marks {
		if m.on == s.on {
			at = m.c
		}
	}
	return at
}

// The sizes of type for names.
const (
	nameSize  = 3.1
	smallSize = 2.6
)

// lay is a way to set a name: at a size, in a number of lines.
type lay struct {
	size float64
	most int
}

// thin is how narrow a box on the page is a line that needs no name, in millimetres.
const thin = 3.5

// place writes the name of a place within its box. What finds no free paper there stands
// outside with a line to it, or, where the drawing is about it, over other outlines, or is
// shortened. The title of the box has it all the same.
func (v *plate) place(l label) {
	if l.grey && min(l.in.x1-l.in.x0, l.in.y1-l.in.y0) < thin || v.whole(l, overLine) || v.outside(l) {
		return
	}
	if !l.grey && v.whole(l, overWords) {
		return
	}
	short := shortened(l.text, smallSize, l.in.x1-l.in.x0-pad)
	limit := overWords
	if l.grey {
		limit = overLine // over a line, it would seem to name something else
	}
	if 2*utf8.RuneCountInString(short) > utf8.RuneCountInString(l.text) {
		v.fits(l, []string{short}, smallSize, limit)
	}
}

// whole writes a name within its box in the largest type in which all of it finds room that
// is less bad than a limit.
func (v *plate) whole(l label, limit int) bool {
	for _, how := range []lay{{nameSize, 1}, {nameSize, 3}, {smallSize, 1}, {smallSize, 4}} {
		if lines := l.set(how); len(lines) > 0 && v.fits(l, lines, how.size, limit) {
			return true
		}
	}
	return false
}

// pad is what a name keeps from the sides of its box together, in millimetres.
const pad = 0.9

// set breaks a name into lines that are as wide as the box; none where it does not go in whole.
func (l label) set(how lay) []string {
	room := l.in.x1 - l.in.x0 - pad
	lines := brokenInto(l.text, how.size, room, how.most)
	if len(lines) == 0 {
		return nil
	}
	for _, s := range lines {
		if measured(s, how.size) > room {
			return nil
		}
	}
	if wordsCut(l.text, lines) {
		return nil
	}
	return lines
}

// wordsCut reports whether lines break or shorten a word of a text.
func wordsCut(text string, lines []string) bool {
	n := 0
	for i, s := range lines {
		n += len(s)
		if i > 0 {
			n++ // the blank between them
		}
	}
	return n != len(text) || lines[len(lines)-1] != text[len(text)-len(lines[len(lines)-1]):]
}

// fits writes lines within the box of a label where that is not worse than a limit.
func (v *plate) fits(l label, lines []string, size float64, limit int) bool {
	w, h := 1.0, float64(len(lines))*size*1.15+0.6
	for _, s := range lines {
		w = max(w, measured(s, size)+0.6)
	}
	at, bad := v.ink.room(l.in.grown(-0.1), w, h, spot{l.in.x0, l.in.y0}, 1000)
	if bad >= limit {
		return false
	}
	v.write(l, lines, size, at)
	return true
}

// write prints lines of a label from the upper left corner of a field on.
func (v *plate) write(l label, lines []string, size float64, at flat) {
	attrs := plainWords
	switch {
	case l.bold:
		attrs = boldWords
	case l.grey:
		attrs = greyWords
	}
	for i, s := range lines {
		v.text(spot{at.x0 + 0.3, at.y0 + size*(1+1.15*float64(i))}, size, attrs+halo, s)
	}
	v.ink.add(at, overWords)
}

// outside writes a name above or below the drawing, with a line to what it names; not where
// the line would run through other words, or, for what the drawing is not about, be long.
func (v *plate) outside(l label) bool {
	const most = 52.0 // millimetres of a name
	text := shortened(l.text, smallSize, most)
	at, lead, ok := v.beside(l, measured(text, smallSize)+1, smallSize*1.15+0.6)
	if !ok {
		return false
	}
	v.line(lead, stroke("#ffffff", 0.8))
	v.line(lead, stroke(black, 0.2))
	v.circle(spot{lead.x1, lead.y1}, 0.4, `fill="`+black+`"`)
	v.ink.addLine(lead)
	v.write(l, []string{text}, smallSize, at)
	return true
}

// beside looks for room of a size outside the drawing, with the shortest line to what a label
// names.
func (v *plate) beside(l label, w, h float64) (best, lead flat, ok bool) {
	for _, f := range v.margins() {
		for _, end := range v.ends(l.in) {
			if l.in.area() > 0 && v.ink.under(end.around(0.5)) >= overWords {
				continue // it would seem to name a step there
			}
			at, bad := v.ink.room(f, w, h, end, 1)
			to := v.lead(at, end)
			if bad >= overWords || v.blocked(to) || l.grey && to.long() > farthest {
				continue
			}
			if !ok || to.long() < lead.long() {
				best, lead, ok = at, to, true
			}
		}
	}
	return best, lead, ok
}

// farthest is how long the line to a place may be that the drawing is not about.
const farthest = 30.0

func (f flat) long() float64 { return spot{f.x0, f.y0}.to(spot{f.x1, f.y1}) }

// blocked reports whether a line to a thing runs through words, or the circle of another.
func (v *plate) blocked(f flat) bool {
	n := int(f.long()/grain) + 1
	for i := range n {
		t := float64(i) / float64(n)
		at := spot{f.x0 + t*(f.x1-f.x0), f.y0 + t*(f.y1-f.y0)}
		if v.ink.under(at.around(0)) >= overWords {
			return true
		}
	}
	return false
}

// margins gives the strips above and below the drawing.
func (v *plate) margins() []flat {
	return []flat{
		{v.box.x0 - gutter, v.field.y0, v.box.x1 + gutter, v.box.y0 - 1.2},
		{v.box.x0 - gutter, v.box.y1 + 1.2, v.box.x1 + gutter, v.field.y1},
	}
}

// ends gives where a line to a thing may end: in its box, not at its corners.
func (v *plate) ends(in flat) []spot {
	if in.area() == 0 {
		return []spot{in.centre()}
	}
	w, h := in.x1-in.x0, in.y1-in.y0
	var out []spot
	for _, x := range []float64{0.5, 0.3, 0.7, 0.1, 0.9} {
		for _, y := range []float64{0.5, 0.15, 0.85} {
			out = append(out, spot{in.x0 + x*w, in.y0 + y*h})
		}
	}
	return out
}

// lead gives a line from words outside the drawing to what they name: to the edge of its
// circle, where it has one.
func (v *plate) lead(from flat, end spot) flat {
	start := end.within(flat{from.x0 + 1, from.y0, from.x1 - 1, from.y1})
	for _, m := range v.marks {
		if d := start.to(end); m.c.to(end) < 0.1 && d > v.r+1 {
			t := (v.r + 1) / d
			end = spot{end.x + t*(start.x-end.x), end.y + t*(start.y-end.y)}
		}
	}
	return flat{start.x, start.y, end.x, end.y}
}
