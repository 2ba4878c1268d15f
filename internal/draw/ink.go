package draw

import "math"

// spot is a point on the page or in a view, in millimetres.
type spot struct{ x, y float64 }

func (a spot) to(b spot) float64 { return math.Hypot(b.x-a.x, b.y-a.y) }

func (a spot) around(r float64) flat { return flat{a.x - r, a.y - r, a.x + r, a.y + r} }

// within moves a point into a field.
func (a spot) within(f flat) spot {
	return spot{max(f.x0, min(f.x1, a.x)), max(f.y0, min(f.y1, a.y))}
}

func (f flat) centre() spot { return spot{(f.x0 + f.x1) / 2, (f.y0 + f.y1) / 2} }

func (f flat) grown(by float64) flat { return flat{f.x0 - by, f.y0 - by, f.x1 + by, f.y1 + by} }

// ink remembers what has been printed in a part of the page, so that words find free paper.
type ink struct {
	on    flat
	w, h  int
	cells []int // how bad it is to print over each cell
	sums  []int // of all cells above and to the left
	stale bool  // the sums are out of date
}

// grain is the size of a cell of ink, in millimetres.
const grain = 0.5

// How bad it is to print over something.
const (
	overLine  = 1       // an outline: it can be done
	overWords = 1 << 20 // words, or a number: it can not
)

func newInk(on flat) *ink {
	w, h := int((on.x1-on.x0)/grain)+1, int((on.y1-on.y0)/grain)+1
	return &ink{on: on, w: w, h: h, cells: make([]int, w*h), sums: make([]int, (w+1)*(h+1))}
}

// span gives the cells that a field touches.
func (k *ink) span(f flat) span {
	col := func(x float64) int { return max(0, min(k.w-1, int(math.Floor((x-k.on.x0)/grain)))) }
	row := func(y float64) int { return max(0, min(k.h-1, int(math.Floor((y-k.on.y0)/grain)))) }
	return span{col(f.x0), row(f.y0), col(f.x1), row(f.y1)}
}

func (k *ink) add(f flat, how int) {
	s := k.span(f)
	for y := s.y0; y <= s.y1; y++ {
		for x := s.x0; x <= s.x1; x++ {
			k.cells[y*k.w+x] = max(k.cells[y*k.w+x], how)
		}
	}
	k.stale = true
}

// addLine adds a straight line.
func (k *ink) addLine(f flat) {
	a, b := spot{f.x0, f.y0}, spot{f.x1, f.y1}
	n := int(a.to(b)/grain) + 1
	for i := range n + 1 {
		t := float64(i) / float64(n)
		k.add(spot{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}.around(0), overLine)
	}
}

func (k *ink) addOutline(f flat) {
	k.add(flat{f.x0, f.y0, f.x1, f.y0}, overLine)
	k.add(flat{f.x0, f.y1, f.x1, f.y1}, overLine)
	k.add(flat{f.x0, f.y0, f.x0, f.y1}, overLine)
	k.add(flat{f.x1, f.y0, f.x1, f.y1}, overLine)
}

// under tells how bad it is to print over a field; overWords or more means that it can not be.
func (k *ink) under(f flat) int {
	if f.x0 < k.on.x0 || f.y0 < k.on.y0 || f.x1 > k.on.x1 || f.y1 > k.on.y1 {
		return overWords
	}
	if k.stale {
		k.sumUp()
	}
	s, w := k.span(f), k.w+1
	return k.sums[(s.y1+1)*w+s.x1+1] - k.sums[s.y0*w+s.x1+1] - k.sums[(s.y1+1)*w+s.x0] + k.sums[s.y0*w+s.x0]
}

func (k *ink) sumUp() {
	k.stale = false
	w := k.w + 1
	for y := range k.h {
		row := 0
		for x := range k.w {
			row += k.cells[y*k.w+x]
			k.sums[(y+1)*w+x+1] = k.sums[y*w+x+1] + row
		}
	}
}

// room looks for a free field of a size within another, near to a point, and tells how bad
// it is: overWords where there is none. To print over a cell of lines is as bad as to be so
// many millimetres further away.
func (k *ink) room(in flat, w, h float64, near spot, millimetres float64) (best flat, bad int) {
	worst := math.Inf(1)
	bad = overWords
	for y := in.y0; y+h <= in.y1; y += 2 * grain {
		for x := in.x0; x+w <= in.x1; x += grain {
			f := flat{x, y, x + w, y + h}
			n := k.under(f)
			if how := f.centre().to(near) + millimetres*float64(n); n < overWords && how < worst {
				best, bad, worst = f, n, how
			}
		}
	}
	return best, bad
}
