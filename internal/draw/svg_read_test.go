package draw_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// element is an element of a drawing, as a general XML library reads it.
type element struct {
	name   string
	attrs  map[string]string
	text   string
	within []*element
}

// parse reads a document and gives its elements in order, the root first.
func parse(t interface{ Fatalf(string, ...any) }, svg []byte) []*element {
	d := xml.NewDecoder(bytes.NewReader(svg))
	var all, open []*element
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%.2000s", err, svg)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := &element{name: tok.Name.Local, attrs: map[string]string{}, within: slices.Clone(open)}
			for _, a := range tok.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			all, open = append(all, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(tok)
			}
		}
	}
}

// num gives a number of an element; 0 where it has none.
func (e *element) num(name string) float64 {
	x, _ := strconv.ParseFloat(e.attrs[name], 64)
	return x
}

// inside gives the nearest element around e that is of a class.
func (e *element) inside(class string) *element {
	for _, o := range slices.Backward(e.within) {
		if o.attrs["class"] == class {
			return o
		}
	}
	return nil
}

// points gives the corners of what e draws.
func (e *element) points() [][2]float64 {
	switch e.name {
	case "rect":
		return [][2]float64{{e.num("x"), e.num("y")}, {e.num("x") + e.num("width"), e.num("y") + e.num("height")}}
	case "line":
		return [][2]float64{{e.num("x1"), e.num("y1")}, {e.num("x2"), e.num("y2")}}
	case "circle":
		return [][2]float64{{e.num("cx") - e.num("r"), e.num("cy") - e.num("r")}, {e.num("cx") + e.num("r"), e.num("cy") + e.num("r")}}
	case "text":
		return [][2]float64{{e.num("x"), e.num("y")}}
	case "polyline", "polygon":
		var out [][2]float64
		for _, p := range strings.Fields(e.attrs["points"]) {
			x, y, _ := strings.Cut(p, ",")
			fx, _ := strconv.ParseFloat(x, 64)
			fy, _ := strconv.ParseFloat(y, 64)
			out = append(out, [2]float64{fx, fy})
		}
		return out
	}
	return nil
}

func distance(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// disc is the circle of a step.
type disc struct {
	c [2]float64
	r float64
}

// circlesOf gives the circles of a view by the number in them; of a ring and the disc in it
// the disc, which comes last.
func circlesOf(all []*element, view string) map[string][]disc {
	found := map[*element]disc{}
	for _, e := range all {
		if g := e.inside("step"); e.name == "circle" && g != nil && g.inside("view").attrs["data-view"] == view {
			found[g] = disc{[2]float64{e.num("cx"), e.num("cy")}, e.num("r")}
		}
	}
	out := map[string][]disc{}
	for _, e := range all {
		if d, ok := found[e]; ok {
			out[e.attrs["data-step"]] = append(out[e.attrs["data-step"]], d)
		}
	}
	return out
}

// apart checks that there are n circles and that none hides the number of another.
func apart(t interface{ Fatalf(string, ...any) }, circles map[string][]disc, n int) {
	var all []disc
	for _, same := range circles {
		all = append(all, same...)
	}
	if len(all) != n {
		t.Fatalf("%d circles for %d steps", len(all), n)
	}
	for i, a := range all {
		for _, b := range all[:i] {
			if d := distance(a.c, b.c); d < a.r+b.r-0.02 {
				t.Fatalf("%d circles of radius %.2f, two of them %.2f apart", n, a.r, d)
			}
		}
	}
}

// inViewBox checks that what an element draws lies in the page.
func inViewBox(t interface{ Fatalf(string, ...any) }, root, e *element) {
	var box [4]float64
	for i, s := range strings.Fields(root.attrs["viewBox"]) {
		box[i], _ = strconv.ParseFloat(s, 64)
	}
	for _, p := range e.points() {
		x, y := p[0]-box[0], p[1]-box[1]
		if !(x >= 0 && y >= 0 && x <= box[2] && y <= box[3]) {
			t.Fatalf("a %s %v lies at %v, outside %v", e.name, e.attrs, p, box)
		}
	}
}
