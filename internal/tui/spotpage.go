package tui

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// setField puts a text into a field of the form below.
type setField struct{ name, text string }

func (setField) Effect() {}

// spotPage sets a position, or a box, on the drawing of the van with the arrow keys.
type spotPage struct {
	field   string
	title   string
	vehicle *build.Vehicle
	places  []access.Place
	from    [3]float64 // mm: behind the front axle, right of the middle, above the load floor
	to      [3]float64 // the other corner of a box
	box     bool
	part    int // of a box: what moves, see parts
	step    float64
	side    bool // seen from the left side, else from above
}

// What moves of a box.
const (
	wholeBox = iota
	firstCorner
	secondCorner
)

// spotSize is how large a box begins, in mm.
const spotSize = 500

// newSpotPage begins where the text of a field says, else in the middle of the load space.
func newSpotPage(b build.Build, field, title, text string, box bool) spotPage {
	p := spotPage{field: field, title: title, vehicle: b.Head.Vehicle, places: b.Places.Rows, box: box, step: 100}
	var mm []float64
	for _, word := range strings.Fields(text) {
		if v, err := strconv.ParseFloat(word, 64); err == nil {
			mm = append(mm, v)
		}
	}
	switch {
	case box && len(mm) == 6:
		copy(p.from[:], mm[:3])
		copy(p.to[:], mm[3:])
	case !box && len(mm) == 3:
		copy(p.from[:], mm)
	default:
		if v := b.Head.Vehicle; v != nil && v.InsideMm != nil {
			for i := range p.from {
				p.from[i] = math.Round((v.InsideMm[i]+v.InsideMm[i+3])/20) * 10
			}
		}
		for i := range p.to {
			p.to[i] = p.from[i] + spotSize
		}
	}
	return p
}

func (p spotPage) Scope() string                                   { return formScope }
func (p spotPage) Do(screen.Action) (screen.Screen, screen.Effect) { return p, nil }
func (p spotPage) With(screen.Data) screen.Screen                  { return p }

// Typed moves the spot; enter takes it, esc leaves the field as it was.
func (p spotPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	up := 1 // the axis of up and down: right of the middle, seen from above with the front on the left
	if p.side {
		up = 2
	}
	switch k.Name {
	case "left":
		p = p.move(0, -p.step)
	case "right":
		p = p.move(0, p.step)
	case "up":
		p = p.move(up, p.step)
	case "down":
		p = p.move(up, -p.step)
	case "tab":
		p.side = !p.side
	case "space":
		if p.box {
			p.part = (p.part + 1) % 3
		}
	case "+":
		p.step = min(p.step*10, 1000)
	case "-":
		p.step = max(p.step/10, 1)
	case "enter":
		return p, closeThen{setField{p.field, p.text()}}, true
	case "esc":
		return p, closePage{}, true
	}
	return p, nil, true
}

// farthest is how far from the front axle a spot can lie, in mm.
const farthest = 20_000

// move moves what moves along an axis; a box keeps its corners the right way round.
func (p spotPage) move(axis int, by float64) spotPage {
	within := func(v float64) float64 { return max(-farthest, min(v, farthest)) }
	if !p.box || p.part != secondCorner {
		p.from[axis] = within(p.from[axis] + by)
	}
	if p.box && p.part != firstCorner {
		p.to[axis] = within(p.to[axis] + by)
	}
	if p.box && p.from[axis] > p.to[axis] {
		if p.part == firstCorner {
			p.from[axis] = p.to[axis]
		} else {
			p.to[axis] = p.from[axis]
		}
	}
	return p
}

// text gives the spot as its field has it.
func (p spotPage) text() string {
	mm := p.from[:]
	if p.box {
		mm = append(mm[:3:3], p.to[:]...)
	}
	words := make([]string, len(mm))
	for i, v := range mm {
		words[i] = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strings.Join(words, " ")
}

// here is the name of the spot in the drawing.
const here = "here"

func (p spotPage) scene() draw.Scene {
	s := draw.Scene{Vehicle: p.vehicle, Places: p.places}
	if p.box {
		box := access.Box{p.from[0], p.from[1], p.from[2], p.to[0], p.to[1], p.to[2]}
		s.Places = append(s.Places[:len(s.Places):len(s.Places)], access.Place{ID: here, Name: p.title, Box: &box})
		s.Selected = []draw.Target{{Place: here}}
		return s
	}
	at := access.Point(p.from)
	s.Items = []access.Item{{ID: here, Name: p.title, At: &at}}
	s.Selected = []draw.Target{{Item: here}}
	return s
}

// View draws the van with the spot in it, what it is in millimetres, and what the keys do.
func (p spotPage) View(st widget.Styles, w, h int) string {
	seen := "from above"
	if p.side {
		seen = "from the left side"
	}
	lines := []string{st.Strong.Render(widget.Fit(widget.Clean(p.title)+", seen "+seen, w)), widget.Fit(p.words(), w)}
	keys := "arrows move   + - farther, finer   tab other side   enter take   esc back"
	if p.box {
		keys = "arrows move   space what moves   + - farther, finer   tab other side   enter take   esc back"
	}
	room := max(1, h-len(lines)-1)
	drawn := draw.Top(p.scene(), w, room)
	if p.side {
		drawn = draw.Side(p.scene(), w, room)
	}
	body := widget.Cells(canvasLines(st, drawn), w, room)
	return widget.Cells(strings.Join(append(lines, body, st.Dim.Render(widget.Fit(keys, w))), "\n"), w, h)
}

// words says where the spot is, and by how much it moves.
func (p spotPage) words() string {
	if !p.box {
		return fmt.Sprintf("x %g  y %g  z %g mm; moves by %g", p.from[0], p.from[1], p.from[2], p.step)
	}
	moves := []string{"all of it", "the first corner", "the second corner"}[p.part]
	return fmt.Sprintf("x %g to %g  y %g to %g  z %g to %g mm; %s moves by %g",
		p.from[0], p.to[0], p.from[1], p.to[1], p.from[2], p.to[2], moves, p.step)
}
