package draw

import "slices"

// plate is one view on the page.
type plate struct {
	*paper
	*sketch
	name   string
	field  flat    // where it may print
	box    flat    // where what the view shows lies in that
	mm     float64 // of the van to a millimetre of the page
	origin spot    // the corner of the box, in the van
	ink    *ink
	marks  []mark
	r      float64 // of the circles
}

// What a plate keeps free about its box, in millimetres: for names that stand outside it.
const (
	gutter = 9.0 // at the left and at the right
	strip  = 7.5 // above and below
)

func newPlate(p *paper, k *sketch, name string, top, mm float64, extent flat) *plate {
	w, h := (extent.x1-extent.x0)/mm, (extent.y1-extent.y0)/mm
	left := (pageWide - w) / 2
	v := &plate{paper: p, sketch: k, name: name, mm: mm, origin: spot{extent.x0, extent.y0},
		field: flat{0, top, pageWide, top + h + 2*strip},
		box:   flat{left, top + strip, left + w, top + strip + h}}
	v.ink = newInk(v.field)
	return v
}

func (v *plate) x(mm float64) float64 { return v.box.x0 + (mm-v.origin.x)/v.mm }
func (v *plate) y(mm float64) float64 { return v.box.y0 + (mm-v.origin.y)/v.mm }

func (v *plate) onPage(f flat) flat { return flat{v.x(f.x0), v.y(f.y0), v.x(f.x1), v.y(f.y1)} }

// print draws the view.
func (v *plate) print(s Scene) {
	v.open("g", `class="view" data-view="`+v.name+`"`)
	v.van()
	v.compass()
	v.boxes()
	v.dots()
	v.rings()
	v.marks = v.marksOn(s)
	field := v.box.grown(4)
	r, gap := sizes(len(v.marks), field)
	v.r = r
	spread(v.marks, r, gap, field, func(f flat) bool { return v.ink.under(f) < overWords })
	for _, m := range v.marks {
		v.ink.add(m.c.around(v.r+0.4), overWords)
	}
	v.pointers()
	v.arrows()
	v.names()
	v.circles()
	v.shut("g")
}

// van draws what the van is without its fittings.
func (v *plate) van() {
	if v.inside == nil {
		return
	}
	in, cab := v.onPage(*v.inside), v.onPage(v.cab())
	v.tyres()
	w, h := cab.x1-cab.x0, cab.y1-cab.y0
	nose := []spot{{cab.x1, cab.y0}, {cab.x0 + 0.18*w, cab.y0}, {cab.x0, cab.y0 + 0.2*h},
		{cab.x0, cab.y1 - 0.2*h}, {cab.x0 + 0.18*w, cab.y1}, {cab.x1, cab.y1}}
	if v.view == fromTheLeft {
		nose = []spot{{cab.x1, cab.y0}, {cab.x0 + 0.75*w, cab.y0}, {cab.x0 + 0.4*w, cab.y0 + 0.5*h},
			{cab.x0, cab.y0 + 0.68*h}, {cab.x0, cab.y1}, {cab.x1, cab.y1}}
	}
	v.polyline("polyline", nose, stroke(faint, 0.5)+` stroke-linejoin="round"`)
	v.rect(in, 0.8, stroke(faint, 0.5))
	v.ink.addOutline(in)
	v.doors(in)
}

// treads is how wide a tyre is, in millimetres: common practice, no source.
const treads = 220

// tyres draws the wheels: from above beneath the sides of the load space.
func (v *plate) tyres() {
	if v.view == fromTheLeft {
		for _, f := range v.wheels() {
			at := v.onPage(f)
			r := (at.x1 - at.x0) / 2
			v.circle(at.centre(), r, `class="wheel" fill="#e6e6e6" stroke="`+faint+`" stroke-width="0.5"`)
			v.circle(at.centre(), r/2, stroke(faint, 0.3))
		}
		return
	}
	if v.wheelbase == 0 {
		return
	}
	for _, x := range []float64{0, v.wheelbase} {
		for _, y := range []float64{v.inside.y0, v.inside.y1 - treads} {
			f := v.onPage(flat{x - wheel/2, y, x + wheel/2, y + treads})
			v.rect(f, 0.8, `class="wheel" fill="#e6e6e6" stroke="`+faint+`" stroke-width="0.3"`)
		}
	}
}

// doors draws thick lines where the doors are: the sliding door is on the right side, which
// is the upper one from above, and not seen from the left.
func (v *plate) doors(in flat) {
	const thick = `class="door" stroke="` + black + `" stroke-width="1.1"`
	v.line(flat{in.x1 + 0.6, in.y0 + 1, in.x1 + 0.6, in.y1 - 1}, thick)
	if v.view == fromTheLeft {
		return
	}
	from := v.inside.x0 + doorFrom
	x0, x1 := min(v.x(from), in.x1), min(v.x(from+doorWide), in.x1)
	v.line(flat{x0, in.y0 - 0.6, x1, in.y0 - 0.6}, thick)
	v.word(spot{x0, in.y0 - 2}, 2.8, "sliding door")
}

// word prints words that are in every drawing.
func (v *plate) word(at spot, size float64, s string) {
	v.text(at, size, greyWords, s)
	v.ink.add(flat{at.x, at.y - size, at.x + measured(s, size), at.y + 0.3*size}, overWords)
}

// compass names the sides of the drawing.
func (v *plate) compass() {
	y := (v.box.y0 + v.box.y1) / 2
	v.upright(spot{v.box.x0 - 3, y}, "front")
	rear := "rear"
	if v.inside != nil {
		rear = "rear, doors"
	}
	v.upright(spot{v.box.x1 + 5, y}, rear)
	if v.view == fromAbove {
		v.word(spot{v.box.x0, v.box.y0 - 2}, 2.8, "right side")
		v.word(spot{v.box.x0, v.box.y1 + 4}, 2.8, "left side")
	}
}

// upright prints a word from the bottom to the top, its middle at a point.
func (v *plate) upright(at spot, s string) {
	half := measured(s, 3) / 2
	v.text(at, 3, greyWords+centred+` transform="rotate(-90 `+num(at.x)+` `+num(at.y)+`)"`, s)
	v.ink.add(flat{at.x - 3, at.y - half, at.x + 1, at.y + half}, overWords)
}

// boxes draws the places: first the tint of those that the drawing is about, then all outlines.
func (v *plate) boxes() {
	for _, s := range slices.Backward(v.places) {
		if s.meant {
			v.rect(v.onPage(s.flat), 0, `fill="`+pale+`"`)
		}
	}
	for _, s := range slices.Backward(v.places) {
		f := v.onPage(s.flat)
		attrs := stroke(faint, 0.3)
		switch {
		case s.selected:
			v.hatch(f)
			attrs = stroke(vermilion, 0.9)
		case s.meant:
			attrs = stroke(black, 0.5)
		}
		if s.beyond || s.behind {
			attrs += dashed
		}
		v.open("g", `class="place"`)
		v.named("title", printable(s.name))
		v.rect(f, 0, attrs)
		v.shut("g")
		v.ink.addOutline(f)
	}
}

// hatch fills a target with lines that rise to the right.
func (v *plate) hatch(f flat) {
	const apart = 2.2
	w, h := f.x1-f.x0, f.y1-f.y0
	for d := apart; d < w+h; d += apart {
		// The line x+y = d, from the left or lower edge to the upper or right one.
		a := spot{f.x0 + max(0, d-h), f.y0 + min(d, h)}
		b := spot{f.x0 + min(d, w), f.y0 + max(0, d-w)}
		v.line(flat{a.x, a.y, b.x, b.y}, stroke(vermilion, 0.2))
	}
}

// dots draws the items that are fitted and not on the way.
func (v *plate) dots() {
	for _, s := range v.items {
		if !s.selected && s.steps == "" {
			at := v.onPage(s.flat).centre()
			v.open("g", `class="item"`)
			v.named("title", printable(s.name))
			v.rect(at.around(0.45), 0, `fill="`+faint+`"`)
			v.shut("g")
		}
	}
}

// rings marks the items that are asked about and have no step.
func (v *plate) rings() {
	for _, it := range v.items {
		if !it.selected || it.steps != "" {
			continue
		}
		at := v.onPage(it.flat).centre()
		v.open("g", `class="target"`)
		v.named("title", printable(it.name))
		v.ring(at)
		v.shut("g")
		v.ink.add(at.around(1.8), overWords)
	}
}

func (p *paper) ring(at spot) {
	p.circle(at, 1.6, `fill="#ffffff" stroke="`+vermilion+`" stroke-width="0.5"`)
	p.circle(at, 0.8, `fill="`+black+`"`)
}

// scaleBar prints how long a metre is, ending at a point.
func (v *plate) scaleBar(end spot) {
	bar := flat{end.x - 1000/v.mm, end.y, end.x, end.y}
	v.line(bar, `stroke="`+black+`" stroke-width="0.6"`)
	for _, x := range []float64{bar.x0, bar.x1} {
		v.line(flat{x, end.y - 1, x, end.y + 1}, `stroke="`+black+`" stroke-width="0.4"`)
	}
	v.text(spot{bar.x0 - 1.5, end.y + 1}, 2.8, greyWords+` text-anchor="end"`, "1 m")
}
