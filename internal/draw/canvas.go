package draw

import "strings"

// Class says what a cell of a drawing shows, so that a screen can give it a look. Each
// class can also be told by its signs, without colours.
type Class uint8

// The classes of cells.
const (
	Blank    Class = iota // nothing
	Outline               // the load space, the cab, wheels, doors
	Place                 // the outline of a place
	Item                  // an item: "•"
	Label                 // a name, or the letter that stands for it beneath the drawing
	Selected              // what is asked about: a place is filled with "░", an item is in brackets
	Way                   // the number of a step on the way in
)

// Cell is one column of a line. Rune 0 is a blank; the column after a rune that takes two is
// taken up by it and has the rune Wide.
type Cell struct {
	Rune  rune
	Class Class
}

// Wide stands in the second column of a rune that is two columns wide.
const Wide rune = -1

// Run is a piece of a line in one class.
type Run struct {
	Text  string
	Class Class
}

// Canvas is a drawing of W columns and H lines.
type Canvas struct {
	W, H  int
	cells []Cell // line by line
}

func newCanvas(w, h int) Canvas {
	w, h = max(w, 0), max(h, 0)
	return Canvas{W: w, H: h, cells: make([]Cell, w*h)}
}

func (c Canvas) in(x, y int) bool { return x >= 0 && y >= 0 && x < c.W && y < c.H }

// At gives the cell in column x of line y; a blank outside the canvas.
func (c Canvas) At(x, y int) Cell {
	if !c.in(x, y) {
		return Cell{}
	}
	return c.cells[y*c.W+x]
}

// set puts a cell in, and takes away what it leaves of a rune two columns wide.
func (c Canvas) set(x, y int, cell Cell) {
	if !c.in(x, y) {
		return
	}
	if cell.Rune != Wide && c.At(x, y).Rune == Wide {
		c.cells[y*c.W+x-1].Rune = 0 // half of it is no rune
	}
	if c.At(x+1, y).Rune == Wide {
		c.cells[y*c.W+x+1].Rune = 0
	}
	c.cells[y*c.W+x] = cell
}

// Lines gives every line as runs of one class; the runs of a line are W columns wide together.
func (c Canvas) Lines() [][]Run {
	lines := make([][]Run, c.H)
	for y := range lines {
		lines[y] = runs(c.cells[y*c.W : (y+1)*c.W])
	}
	return lines
}

func runs(cells []Cell) []Run {
	var out []Run
	var text strings.Builder
	for i, cell := range cells {
		writeCell(&text, cell)
		if i+1 == len(cells) || cells[i+1].Class != cell.Class {
			out = append(out, Run{text.String(), cell.Class})
			text.Reset()
		}
	}
	return out
}

func writeCell(b *strings.Builder, c Cell) {
	switch c.Rune {
	case 0:
		b.WriteByte(' ')
	case Wide:
	default:
		b.WriteRune(c.Rune)
	}
}

// Text gives the drawing as H plain lines without blanks at their ends.
func (c Canvas) Text() string {
	lines := make([]string, c.H)
	var b strings.Builder
	for y := range lines {
		b.Reset()
		for _, cell := range c.cells[y*c.W : (y+1)*c.W] {
			writeCell(&b, cell)
		}
		lines[y] = strings.TrimRight(b.String(), " ")
	}
	return strings.Join(lines, "\n")
}
