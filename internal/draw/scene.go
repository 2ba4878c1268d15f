// Package draw draws the van in characters, and as an SVG document for paper: the load space,
// the places in it, the items, what is selected and the way in to it, to scale.
//
// Top looks down on it, with the front at the left and so its right side, where the sliding
// door is, at the top. Side looks at it from its left side, which is the lower edge of Top:
// front at the left again, floor at the bottom, a place in the same columns in both. A drawing is a Canvas of cells; looks and colours
// are for the screens to give. A cell is taken to be twice as high as it is wide. ReachSVG
// sets both views on a page. The package answers no questions: the way in is handed to it.
package draw

import (
	"fmt"
	"math"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
)

// Target is a place or an item; one of the two is set.
type Target struct {
	Place id.Place
	Item  id.Item
}

// Mark is a step of the way in, drawn as its number at a place or an item.
type Mark struct {
	Step int // 1, 2, 3, …
	Target
}

// Scene is what a drawing shows. Vehicle may be nil: the drawing then says what is missing.
// Where something is selected or on the way, layers that lie over other places and have
// nothing to do with it, such as a wall seen from the side, are left out.
type Scene struct {
	Vehicle  *build.Vehicle
	Places   []access.Place
	Items    []access.Item
	Selected []Target
	Way      []Mark
}

// Top draws the scene from above in w columns and h lines, to scale. What is too small for
// its name has the number of its step, or a letter, that is explained beneath; items that are
// selected are in brackets. Steps that fall on one cell move aside. Where there is nothing to draw, the
// canvas says in words which fields are missing.
func Top(s Scene, w, h int) Canvas { return s.draw(fromAbove, w, h) }

// Side draws the scene from its left side in the same way, with the floor and the wheels below.
func Side(s Scene, w, h int) Canvas { return s.draw(fromTheLeft, w, h) }

// Heights gives the lines that Top and Side can fill at a width of w columns; a line or two
// for what is said beneath come on top of that. 0 where there is nothing to draw.
func (s Scene) Heights(w int) (top, side int) {
	return s.height(fromAbove, w), s.height(fromTheLeft, w)
}

func (s Scene) height(v view, w int) int {
	k := newSketch(s, v)
	if k.empty() {
		return 0
	}
	f := k.extent()
	return int(math.Round((f.y1-f.y0)/scaleFor(w, f)/2)) + 1
}

// draw makes the drawing twice where names have to go beneath it: to see how many lines
// they take, and in what these leave.
func (s Scene) draw(v view, w, h int) Canvas {
	k := newSketch(s, v)
	if k.empty() {
		c := newCanvas(w, h)
		c.writeLines(0, flow(k.missing(), w))
		return c
	}
	foot := 0
	c, notes := k.on(w, h, foot)
	if most := max(1, h/4); len(notes) > 0 && h > 1 {
		foot = min(most, len(flow(notes, w)))
		c, notes = k.on(w, h, foot)
	}
	lines := flow(notes, w)
	if len(lines) > foot && foot > 0 {
		lines[foot-1] += " …"
	}
	c.writeLines(h-foot, lines)
	return c
}

// missing says which fields would have to be filled in to draw more.
func (k *sketch) missing() []string { return append(k.missingBoxes(), k.lost...) }

// missingBoxes says what of the van as such has no box.
func (k *sketch) missingBoxes() []string {
	var out []string
	if k.inside == nil {
		out = append(out, "The inside of the van has no box yet (inside_mm).")
	}
	if len(k.places) == 0 {
		out = append(out, "No place has a box yet (box_mm).")
	}
	return out
}

// flow sets notes one after another in lines of at most w columns.
func flow(notes []string, w int) []string {
	var lines []string
	for _, n := range notes {
		last := len(lines) - 1
		if last >= 0 && width(lines[last])+2+width(n) <= w {
			lines[last] += "  " + n
		} else {
			lines = append(lines, wrapped(n, w)...)
		}
	}
	return lines
}

// wrapped breaks a note at blanks, so that lines have at most w columns where words allow.
func wrapped(s string, w int) []string {
	lines := []string{""}
	for _, word := range strings.Fields(s) {
		last := len(lines) - 1
		switch {
		case lines[last] == "":
			lines[last] = word
		case width(lines[last])+1+width(word) <= w:
			lines[last] += " " + word
		default:
			lines = append(lines, word)
		}
	}
	return lines
}

func (c Canvas) writeLines(y int, lines []string) {
	for i, s := range lines {
		c.write(0, y+i, c.W, s, Label)
	}
}

// lostNote says why something selected is not in the drawing.
func lostNote(title, field string) string {
	return fmt.Sprintf("%s is not drawn: it has no %s.", clean(title), field)
}
