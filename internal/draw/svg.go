package draw

import "fmt"

// Caption is the words that go with a drawing on paper. Control characters are taken out
// of them; they may be of any length.
type Caption struct {
	Title    string     // the heading, such as "The way to the pump board"
	Summary  string     // a line under the heading: minutes, persons, tools; may be empty
	Cautions []string   // what to mind, under it; may be empty
	Legend   []StepText // what to do at each step, in the order of the steps
}

// StepText is a line of the legend: what is done at the step of that number.
type StepText struct {
	Step int // as in Mark; numbers start from 1
	Text string
}

// The page, in millimetres: what A4 (210 × 297) and Letter (216 × 279) both print within
// margins of 10.
const (
	pageWide = 184.0
	pageHigh = 249.0
	margin   = 3.0
)

// ReachSVG draws the scene with its way in as an SVG document that stands on its own: the van
// from above and, beneath it at the same scale, from its left side, the steps of s.Way as
// numbered circles joined by arrows, and the legend under them. s.Items is what is to be seen
// fitted besides what the way names. It fits A4 and Letter paper: only with a legend that
// takes more than half a page does the whole get smaller. The same input gives the same bytes.
func ReachSVG(s Scene, c Caption) []byte {
	c.Title, c.Summary = printable(c.Title), printable(c.Summary)
	views := []*sketch{newSketch(s, fromAbove), newSketch(s, fromTheLeft)}
	l := newLegend(s, c, views[0])
	body := &paper{}
	y := body.heading(c)
	if views[0].empty() {
		y = body.nothing(y, views[0])
		l.notes = nil // they are in the drawing's place
	} else {
		y = body.views(s, views, y, pageHigh-l.high())
	}
	l.print(body, y)
	high := max(y+l.high()+1, 100)
	doc := &paper{}
	doc.open("svg", page(high))
	doc.named("title", c.Title)
	doc.named("desc", "The van from above and from its left side, to the same scale, with the way in. "+
		shortened(c.Summary, 1, 500)+" "+l.spoken())
	doc.rect(flat{0, 0, pageWide, high}.grown(margin), 0, `fill="#ffffff"`)
	doc.Write(body.Bytes())
	doc.shut("svg")
	return doc.Bytes()
}

// page gives the attributes of a document of a height: on paper it is never higher than a page.
func page(high float64) string {
	w, h := pageWide+2*margin, high+2*margin
	part := min(1, (pageHigh+2*margin)/h)
	return fmt.Sprintf(`xmlns="http://www.w3.org/2000/svg" version="1.1" xml:lang="en" role="img" width="%smm" height="%smm" viewBox="%s %s %s %s" font-family="sans-serif"`,
		num(part*w), num(part*h), num(-margin), num(-margin), num(w), num(h))
}

// heading prints the title and the summary, and gives where they end.
func (p *paper) heading(c Caption) float64 {
	y := 1.0
	for _, s := range brokenInto(c.Title, 5.2, pageWide, 2) {
		y += 6
		p.text(spot{0, y}, 5.2, boldWords, s)
	}
	for _, s := range brokenInto(c.Summary, textSize, pageWide, 3) {
		y += 5
		p.text(spot{0, y}, textSize, plainWords, s)
	}
	for _, caution := range c.cautions() {
		for _, s := range brokenInto("Caution: "+caution, textSize, pageWide, 2) {
			y += 5
			p.text(spot{0, y}, textSize, boldWords, s)
		}
	}
	return y + 2
}

// mostCautions is how many cautions have room on the page.
const mostCautions = 6

// cautions gives the cautions as they are printed: what has no room is counted.
func (c Caption) cautions() []string {
	var out []string
	for _, s := range c.Cautions {
		if s = printable(s); s != "" {
			out = append(out, s)
		}
	}
	if more := len(out) - mostCautions; more > 0 {
		out = append(out[:mostCautions], fmt.Sprintf("and %d more, see vanlog reach", more))
	}
	return out
}

// nothing prints what is missing where there is nothing to draw.
func (p *paper) nothing(y float64, k *sketch) float64 {
	lines := []string{"There is nothing to draw yet."}
	for _, s := range k.missingBoxes() {
		lines = append(lines, brokenInto(printable(s), textSize, pageWide-12, 3)...)
	}
	high := 10 + 5*float64(len(lines))
	p.rect(flat{0.5, y, pageWide - 0.5, y + high}, 1, stroke(faint, 0.4))
	for i, s := range lines {
		p.text(spot{6, y + 8 + 5*float64(i)}, textSize, plainWords, s)
	}
	return y + high + 4
}

// What stands about the views, in millimetres.
const (
	viewHead  = 5.5 // the heading of a view
	keyHigh   = 7.0 // the key beneath them
	leastHigh = 80.0
	// leastScale is how many times smaller than the van a drawing is at least.
	leastScale = 10.0
)

// views prints both views between two heights, at the same scale and in the same columns,
// and the key; and gives where they end.
func (p *paper) views(s Scene, views []*sketch, from, to float64) float64 {
	above, left := views[0].extent(), views[1].extent()
	above.x0, above.x1 = min(above.x0, left.x0), max(above.x1, left.x1)
	left.x0, left.x1 = above.x0, above.x1
	room := max(leastHigh, to-from-2*(viewHead+2*strip)-keyHigh)
	mm := max(leastScale, (above.x1-above.x0)/(pageWide-2*gutter), (above.y1-above.y0+left.y1-left.y0)/room)
	y := from
	for i, extent := range []flat{above, left} {
		p.text(spot{0, y + 4}, 3.8, boldWords, []string{"From above", "From the left side"}[i])
		v := newPlate(p, views[i], []string{"top", "side"}[i], y+viewHead, mm, extent)
		if i == 0 {
			v.scaleBar(spot{pageWide, y + 3})
		}
		v.print(s)
		y = v.field.y1
		if i == 1 {
			v.key(y)
		}
	}
	return y + keyHigh
}

// key says what the signs mean.
func (v *plate) key(y float64) {
	y += 3
	x := 0.0
	say := func(wide float64, s string) {
		v.text(spot{x + wide + 1.2, y + 1}, smallSize, greyWords, s)
		x += wide + 1.2 + measured(s, smallSize) + 4
	}
	v.number(spot{x + 2, y}, 1.8, 1, false)
	say(4, "step")
	v.number(spot{x + 2, y}, 1.8, 2, true)
	say(4, "what is asked for")
	v.line(flat{x, y, x + 7, y}, stroke(black, 0.4)+dashed)
	say(7, "overhead, or in the right half")
	v.line(flat{x, y, x + 7, y}, `stroke="`+black+`" stroke-width="1.1"`)
	say(7, "door")
	v.diamond(spot{x + 1, y})
	say(2, "where exactly")
}
