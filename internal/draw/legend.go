package draw

import (
	"fmt"
	"strconv"
	"strings"
)

// entry is a piece of the legend: a step with what it says, or a target that is no step.
type entry struct {
	step   int
	target bool
	text   string
}

// legend is what stands beneath the drawings.
type legend struct {
	entries []entry
	notes   []string
}

func newLegend(s Scene, c Caption, k *sketch) legend {
	l := legend{notes: k.missingBoxes()}
	words := map[int]string{}
	for _, t := range c.Legend {
		words[t.Step] = printable(t.Text)
	}
	selected, titles := s.selected(), s.titles()
	drawn := map[int]bool{}
	for _, m := range s.Way {
		text := words[m.Step]
		if text == "" {
			text = titles[m.Target]
		}
		l.entries = append(l.entries, entry{m.Step, selected[m.Target], text + k.unplaced(m.Target, titles)})
		drawn[m.Step] = true
	}
	for _, t := range c.Legend {
		if !drawn[t.Step] {
			l.entries = append(l.entries, entry{step: t.Step, text: printable(t.Text)})
		}
	}
	steps := s.steps()
	for _, t := range s.Selected {
		if steps[t] == "" && titles[t] != "" {
			l.entries = append(l.entries, entry{target: true, text: "Asked about: " + titles[t] + k.unplaced(t, titles)})
		}
	}
	if k.inside != nil && k.wheelbase == 0 {
		l.notes = append(l.notes, "The wheels are not drawn: the van has no wheelbase yet (wheelbase_mm).")
	}
	return l
}

// titles gives the names of everything in a scene.
func (s Scene) titles() map[Target]string {
	out := map[Target]string{}
	for _, p := range s.Places {
		out[Target{Place: p.ID}] = printable(p.Title())
	}
	for _, i := range s.Items {
		out[Target{Item: i.ID}] = printable(i.Title())
	}
	return out
}

// unplaced says of what the build does not place which field is missing, and where it is drawn.
func (k *sketch) unplaced(t Target, titles map[Target]string) string {
	_, drawn := k.at[t]
	place, guessed := k.guessed[t]
	switch {
	case guessed:
		return fmt.Sprintf(" (not placed: no at_mm; drawn in the middle of %s)", titles[Target{Place: place}])
	case drawn:
		return ""
	case t.Item != "":
		return " (not placed: neither at_mm, nor box_mm of its place)"
	}
	return " (not placed: no box_mm)"
}

// What the legend is set in, in millimetres.
const (
	textSize  = 3.3
	noteSize  = 2.8
	noteLine  = 3.7
	legendTop = 8.0 // its heading
	mostLines = 5   // of an entry
	many      = 12  // entries from which on it is set smaller
)

// size gives the size of the type: a long legend is set smaller, to leave room for the van.
func (l legend) size() float64 {
	if len(l.entries) > many {
		return noteSize
	}
	return textSize
}

// block is an entry set in lines.
type block struct {
	entry
	lines []string
	size  float64
}

func (b block) pitch() float64 { return 1.28 * b.size }

func (b block) high() float64 {
	least := 1.65 * b.size
	if b.target { // has a ring
		least = 1.95 * b.size
	}
	return max(least, float64(len(b.lines))*b.pitch()+1)
}

// columns sets the entries, in two columns where there are many.
func (l legend) columns() (cols [][]block, high float64) {
	n := 1
	if len(l.entries) > 7 {
		n = 2
	}
	room := l.columnWide(n) - 8
	var all []block
	total := 0.0
	for _, e := range l.entries {
		b := block{e, brokenInto(e.text, l.size(), room, mostLines), l.size()}
		all, total = append(all, b), total+b.high()
	}
	cols = make([][]block, n)
	at, y := 0, 0.0
	for _, b := range all {
		if y >= total/float64(n) && at < n-1 {
			at, y = at+1, 0
		}
		cols[at] = append(cols[at], b)
		y += b.high()
		high = max(high, y)
	}
	return cols, high
}

func (l legend) columnWide(n int) float64 { return (pageWide - 6*float64(n-1)) / float64(n) }

// noteLines sets the notes in lines.
func (l legend) noteLines() []string {
	var out []string
	for _, n := range l.notes {
		out = append(out, brokenInto(printable(n), noteSize, pageWide, 3)...)
	}
	return out
}

func (l legend) high() float64 {
	_, h := l.columns()
	if len(l.entries) > 0 {
		h += legendTop
	}
	return h + float64(len(l.noteLines()))*noteLine
}

// print sets the legend from a height on.
func (l legend) print(p *paper, top float64) {
	y := top
	if len(l.entries) > 0 {
		p.text(spot{0, y + 4.5}, 3.8, boldWords, "The way in, step by step")
		y += legendTop
	}
	cols, high := l.columns()
	for i, col := range cols {
		at := spot{float64(i) * (l.columnWide(len(cols)) + 6), y}
		for _, b := range col {
			b.print(p, at)
			at.y += b.high()
		}
	}
	y += high
	for _, s := range l.noteLines() {
		y += noteLine
		p.text(spot{0, y - 0.8}, noteSize, greyWords, s)
	}
}

func (b block) print(p *paper, at spot) {
	sign := spot{2.6 + at.x, at.y + 0.73*b.size}
	if b.step == 0 && b.target {
		p.ring(sign)
	} else {
		p.number(sign, 0.68*b.size, b.step, b.target)
	}
	attrs := plainWords
	if b.target {
		attrs = boldWords
	}
	for i, s := range b.lines {
		p.text(spot{at.x + 7, at.y + 1.09*b.size + b.pitch()*float64(i)}, b.size, attrs, s)
	}
}

// spoken gives the legend in one line, for those who hear the drawing.
func (l legend) spoken() string {
	var out []string
	for _, e := range l.entries {
		text := shortened(e.text, 1, 300)
		if e.step != 0 || !e.target {
			text = strconv.Itoa(e.step) + ": " + text
		}
		out = append(out, text)
	}
	return strings.Join(append(out, l.notes...), ". ")
}
