package draw

import (
	"math"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// pen draws on a canvas at a scale.
type pen struct {
	Canvas
	lines      []uint8 // which ways the line in a cell leads
	taken      []bool  // cells that hold words
	mm         float64 // millimetres a column; a line of the canvas is twice that
	left, top  float64 // position of the first cell, in millimetres
	shift, low int     // first column of the drawing, and the line that ends it
}

// The ways a line leads out of a cell.
const (
	north uint8 = 1 << iota
	east
	south
	west
)

// lineRunes has the line for each set of ways out of a cell.
var lineRunes = [16]rune{
	0, '╵', '╶', '╰', '╷', '│', '╭', '├', '╴', '╯', '─', '┴', '╮', '┤', '┬', '┼',
}

// newPen makes a pen for a canvas whose last lines are kept free, at the scale at which
// f just fits. Columns at the right are kept for the word at the rear doors.
func newPen(w, h, foot int, f flat) *pen {
	c := newCanvas(w, h)
	mm := max(scaleFor(w, f), (f.y1-f.y0)/float64(max(h-foot-1, 1))/2)
	used := int(math.Round((f.x1 - f.x0) / mm))
	return &pen{
		Canvas: c, lines: make([]uint8, len(c.cells)), taken: make([]bool, len(c.cells)),
		mm: mm, left: f.x0, top: f.y0, shift: max(0, (w-3-used)/2), low: max(0, h-foot),
	}
}

// scaleFor gives the millimetres a column at which f just fits in w columns.
func scaleFor(w int, f flat) float64 { return max(1, (f.x1-f.x0)/float64(max(w-3, 1))) }

// span is a flat thing in cells.
type span struct{ x0, y0, x1, y1 int }

func (p *pen) cells4(f flat) span {
	col := func(x float64) int { return p.shift + int(math.Round((x-p.left)/p.mm)) }
	row := func(y float64) int { return int(math.Round((y - p.top) / p.mm / 2)) }
	return span{col(f.x0), row(f.y0), col(f.x1), row(f.y1)}
}

// line adds a way out of a cell to the lines there.
func (p *pen) line(x, y int, ways uint8, class Class) {
	if !p.in(x, y) || y >= p.low {
		return
	}
	i := y*p.W + x
	if p.lines[i] != 0 {
		class = max(class, p.cells[i].Class)
	}
	p.lines[i] |= ways
	p.cells[i] = Cell{lineRunes[p.lines[i]], class}
}

// box draws the outline of a span; what is flat becomes a line, what is a point a dot.
func (p *pen) box(s span, class Class) {
	for x := s.x0; x < s.x1; x++ {
		for _, y := range []int{s.y0, s.y1} {
			p.line(x, y, east, class)
			p.line(x+1, y, west, class)
		}
	}
	for y := s.y0; y < s.y1; y++ {
		for _, x := range []int{s.x0, s.x1} {
			p.line(x, y, south, class)
			p.line(x, y+1, north, class)
		}
	}
	if s.x0 == s.x1 && s.y0 == s.y1 && p.in(s.x0, s.y0) && s.y0 < p.low {
		p.set(s.x0, s.y0, Cell{'▫', class})
	}
}

// dashes draws a span in dashes that give way to everything else.
func (p *pen) dashes(s span, class Class) {
	for x := s.x0; x <= s.x1; x++ {
		p.soft(x, s.y0, '┄', class)
		p.soft(x, s.y1, '┄', class)
	}
	for y := s.y0; y <= s.y1; y++ {
		p.soft(s.x0, y, '┆', class)
		p.soft(s.x1, y, '┆', class)
	}
}

// soft sets a cell that no line passes through and no word stands in.
func (p *pen) soft(x, y int, r rune, class Class) {
	if p.in(x, y) && y < p.low && p.lines[y*p.W+x] == 0 && !p.taken[y*p.W+x] {
		p.set(x, y, Cell{r, class})
	}
}

// fill puts a texture in the free cells within a span.
func (p *pen) fill(s span, r rune, class Class) {
	for y := s.y0 + 1; y < s.y1; y++ {
		for x := s.x0 + 1; x < s.x1; x++ {
			p.soft(x, y, r, class)
		}
	}
}

// put writes words that nothing may be written over, in at most room columns.
func (p *pen) put(x, y, room int, s string, class Class) {
	if y >= p.low {
		return
	}
	for i := range p.write(x, y, room, s, class) {
		if p.in(x+i, y) {
			p.taken[y*p.W+x+i] = true
		}
	}
}

// write writes s from column x on, cut to room columns and to the canvas, and gives the
// columns used.
func (c Canvas) write(x, y, room int, s string, class Class) int {
	room = min(room, c.W-x)
	if room < 1 {
		return 0
	}
	if width(s) > room {
		s = ansi.Truncate(s, room, "…")
	}
	at := x
	for _, r := range s {
		n := width(string(r))
		if n == 0 {
			continue
		}
		c.set(at, y, Cell{r, class})
		if n > 1 {
			c.set(at+1, y, Cell{Wide, class})
		}
		at += n
	}
	return at - x
}

func width(s string) int { return ansi.StringWidth(s) }

// clean takes from a name what would move the cursor, and what cannot stand in a cell of
// its own.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == unicode.ReplacementChar || !standsAlone(r):
			return -1
		}
		return r
	}, s)
}

// standsAlone reports whether r looks the same whatever stands beside it: a mark joins the
// letter before it, half a flag or a syllable the other half.
func standsAlone(r rune) bool {
	if r < 0x7f {
		return r >= ' '
	}
	s := string(r)
	n := width(s)
	return unicode.IsPrint(r) && n > 0 && width(" "+s+" ") == n+2 && width(s+s) == 2*n
}
