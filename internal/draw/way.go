package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// mark is a step of the way in on the page.
type mark struct {
	step   int
	on     Target
	of     flat // what it happens at: a point, or the box of a place
	c      spot // the middle of its circle
	target bool
}

// marksOn gives the steps that have a position, in the order of the way.
func (v *plate) marksOn(s Scene) []mark {
	selected := s.selected()
	var out []mark
	for _, m := range s.Way {
		if f, ok := v.at[m.Target]; ok {
			out = append(out, mark{step: m.Step, on: m.Target, of: v.onPage(f), target: selected[m.Target]})
		}
	}
	return out
}

// sizes gives the radius of the circles when there are n of them in a field, and the gap
// between them, where an arrow is to be seen: so many that they would fill the field are
// smaller. Each keeps others out of a disc twice its size; an eighth of the field leaves
// room to find a free spot for the last one.
func sizes(n int, field flat) (r, gap float64) {
	r, gap = 2.3, 2.4
	if n > 12 {
		r, gap = 1.95, 1
	}
	most := math.Sqrt(field.area() / 8 / math.Pi / float64(max(n, 1)))
	if half := r + gap/2; half > most {
		r, gap = r*most/half, gap*most/half
	}
	return r, gap
}

// spread sets the circles of the marks where they happen, or as near to there as they find
// room beside each other: targets first, then points, then places.
func spread(marks []mark, r, gap float64, field flat, free func(flat) bool) {
	order := make([]int, len(marks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(marks[a].rank(), marks[b].rank())
	})
	taken := crowd{pitch: 2*r + gap, at: map[[2]int][]spot{}}
	inner := field.grown(-r)
	for _, i := range order {
		marks[i].c = taken.nearest(marks[i].of.centre(), inner, func(at spot) bool { return free(at.around(r)) })
		taken.add(marks[i].c)
	}
}

func (m mark) rank() int {
	point := m.of.area() == 0
	switch {
	case m.target && point:
		return 0
	case point:
		return 1
	}
	return 2
}

// crowd is the middles of circles that keep a distance, in squares of that size.
type crowd struct {
	pitch float64
	at    map[[2]int][]spot
}

func (c crowd) square(at spot) [2]int {
	return [2]int{int(math.Floor(at.x / c.pitch)), int(math.Floor(at.y / c.pitch))}
}

func (c crowd) add(at spot) { c.at[c.square(at)] = append(c.at[c.square(at)], at) }

// clear reports whether a middle keeps its distance from all others.
func (c crowd) clear(at spot) bool {
	s := c.square(at)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, o := range c.at[[2]int{s[0] + dx, s[1] + dy}] {
				if at.to(o) < c.pitch {
					return false
				}
			}
		}
	}
	return true
}

// nearest looks in rings about a point for a free middle within a field; where there is none
// on free paper, for one that at least keeps its distance.
func (c crowd) nearest(from spot, in flat, free func(spot) bool) spot {
	from = from.within(in)
	size := math.Hypot(in.x1-in.x0, in.y1-in.y0)
	for _, ok := range []func(spot) bool{free, func(spot) bool { return true }} {
		for ring := 0.0; ring <= size; ring += c.pitch / 6 {
			n := 1 + int(12*ring/c.pitch)
			for i := range n {
				turn := 2 * math.Pi * float64(i) / float64(n)
				at := spot{from.x + ring*math.Cos(turn), from.y + ring*math.Sin(turn)}
				if at == at.within(in) && c.clear(at) && ok(at) {
					return at
				}
			}
		}
	}
	return from
}

// circles prints the numbers of the steps.
func (v *plate) circles() {
	for _, m := range v.marks {
		v.open("g", `class="step" data-step="`+strconv.Itoa(m.step)+`"`)
		v.number(m.c, v.r, m.step, m.target)
		v.shut("g")
	}
}

// number prints a step in its circle; the circle of a target is black and has a ring.
func (p *paper) number(at spot, r float64, step int, target bool) {
	fill := blue
	if target {
		fill = black
		p.circle(at, r+0.35, `fill="#ffffff" stroke="`+vermilion+`" stroke-width="0.5"`)
	}
	p.circle(at, r, `fill="`+fill+`" stroke="#ffffff" stroke-width="0.3"`)
	digits := strconv.Itoa(step)
	size := min(1.35*r, 1.75*r/(0.62*float64(len(digits))))
	p.text(spot{at.x, at.y + 0.36*size}, size, `fill="#ffffff" font-weight="bold"`+centred, digits)
}

// pointers shows where things are whose circles had to move aside.
func (v *plate) pointers() {
	for _, m := range v.marks {
		if to := m.c.within(m.of); m.of.area() > 0 || m.c.to(to) < v.r {
			continue
		}
		at := m.of.centre()
		v.line(flat{at.x, at.y, m.c.x, m.c.y}, stroke(blue, 0.25))
		v.diamond(at)
	}
}

func (p *paper) diamond(at spot) {
	const d = 0.75
	p.polyline("polygon", []spot{{at.x, at.y - d}, {at.x + d, at.y}, {at.x, at.y + d}, {at.x - d, at.y}},
		`fill="`+black+`" stroke="#ffffff" stroke-width="0.2"`)
}

// arrows joins the circles in the order of the steps.
func (v *plate) arrows() {
	for i := 1; i < len(v.marks); i++ {
		path := v.path(v.marks[i-1].c, v.marks[i].c)
		if len(path) < 2 {
			continue
		}
		v.polyline("polyline", path, stroke("#ffffff", 1.3))
		v.polyline("polyline", path, stroke(blue, 0.55)+` class="way"`)
		v.arrowhead(path)
		for j := 1; j < len(path); j++ {
			v.ink.addLine(flat{path[j-1].x, path[j-1].y, path[j].x, path[j].y})
		}
	}
}

// path leads from the edge of a circle to that of another, in a bow round the circles
// between them where one goes clear of them; nothing where the circles touch.
func (v *plate) path(a, b spot) []spot {
	d := a.to(b)
	if d < 2*v.r+0.3 {
		return nil
	}
	var straight []spot
	for _, bow := range []float64{0, 4, -4, 8, -8, 14, -14} {
		mid := spot{(a.x+b.x)/2 - bow*(b.y-a.y)/d, (a.y+b.y)/2 + bow*(b.x-a.x)/d}
		path := v.curve(a, mid, b)
		if bow == 0 {
			straight = path
		}
		if mid == mid.within(v.field) && !v.hits(path, a, b) {
			return path
		}
	}
	return straight
}

// curve gives points on the parabola from a to b that is drawn towards mid, without what
// the circles at its ends cover.
func (v *plate) curve(a, mid, b spot) []spot {
	n := int(2*a.to(b)) + 8
	var out []spot
	for i := range n + 1 {
		t := float64(i) / float64(n)
		p, q, r := (1-t)*(1-t), 2*t*(1-t), t*t
		at := spot{p*a.x + q*mid.x + r*b.x, p*a.y + q*mid.y + r*b.y}
		if at.to(a) >= v.r && at.to(b) >= v.r+0.1 {
			out = append(out, at)
		}
	}
	return out
}

// hits reports whether a path runs under another circle than those of its ends.
func (v *plate) hits(path []spot, a, b spot) bool {
	for _, at := range path {
		for _, m := range v.marks {
			if m.c != a && m.c != b && at.to(m.c) < v.r+0.3 {
				return true
			}
		}
	}
	return false
}

// arrowhead ends a path at its last point.
func (v *plate) arrowhead(path []spot) {
	tip := path[len(path)-1]
	tail := path[0]
	for _, at := range path {
		if at.to(tip) >= 1.2 {
			tail = at
		}
	}
	d := tail.to(tip)
	if d == 0 {
		return
	}
	ux, uy := (tip.x-tail.x)/d, (tip.y-tail.y)/d
	size := min(2, 2*d)
	back := spot{tip.x - size*ux, tip.y - size*uy}
	half := size * 0.42
	v.polyline("polygon", []spot{tip, {back.x - half*uy, back.y + half*ux}, {back.x + half*uy, back.y - half*ux}},
		`fill="`+blue+`" stroke="#ffffff" stroke-width="0.25"`)
}
