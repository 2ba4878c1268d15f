package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
)

func caption() draw.Caption {
	return draw.Caption{Title: "The way to the water pump", Summary: "4.5 min, 1 person, tools: T25 driver", Legend: []draw.StepText{
		{Step: 1, Text: "reach into the spice shelf, 0.5 min"},
		{Step: 2, Text: "open the heater: lift out, 1.5 min, 4 × M6 screw"},
		{Step: 3, Text: "there: water pump"},
	}}
}

func TestReachSVGGolden(t *testing.T) {
	golden(t, "testdata/way.svg.golden", strings.TrimSuffix(string(draw.ReachSVG(longWay(), draw.Caption{Title: "The way to three things"})), "\n"))
	golden(t, "testdata/pump.svg.golden", strings.TrimSuffix(string(draw.ReachSVG(atThePump(), caption())), "\n"))
}

// texts gives all words of a document, those that are read out too.
func texts(svg []byte, t *testing.T) string {
	var out []string
	for _, e := range parse(t, svg) {
		out = append(out, e.text)
	}
	return strings.Join(out, "\n")
}

func TestReachSVGSaysWhatIsMissing(t *testing.T) {
	noWheels := van()
	noWheels.Vehicle = &build.Vehicle{InsideMm: van().Vehicle.InsideMm}
	noVan := van()
	noVan.Vehicle = nil
	for _, tt := range []struct {
		name  string
		scene draw.Scene
		want  []string
	}{
		{"nothing at all", draw.Scene{}, []string{"nothing to draw", "inside_mm", "box_mm"}},
		{"no load space", noVan, []string{"inside_mm"}},
		{"no wheelbase", noWheels, []string{"wheelbase_mm"}},
		{"no places", draw.Scene{Vehicle: van().Vehicle}, []string{"box_mm"}},
		{"an item in no place with a box, an item in the middle of its place", atThePump(),
			[]string{"Spare fuses (not placed: neither at_mm, nor box_mm of its place)", "(not placed: no at_mm; drawn in the middle of Garage under the bed)"}},
	} {
		got := strings.ReplaceAll(texts(draw.ReachSVG(tt.scene, draw.Caption{Title: "T"}), t), "\n", " ")
		for _, want := range tt.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s: %q is not said in\n%s", tt.name, want, got)
			}
		}
	}
}

func TestReachSVGNamesTheSides(t *testing.T) {
	got := parse(t, draw.ReachSVG(atThePump(), caption()))
	for _, want := range []string{"front", "rear, doors", "right side", "left side", "sliding door", "From above", "From the left side"} {
		if !slices.ContainsFunc(got, func(e *element) bool { return e.text == want }) {
			t.Errorf("%q is not in the drawing", want)
		}
	}
	for class, want := range map[string]int{"wheel": 6, "door": 3} {
		n := 0
		for _, e := range got {
			if e.attrs["class"] == class {
				n++
			}
		}
		if n != want {
			t.Errorf("%d of class %s, want %d", n, class, want)
		}
	}
}

// TestReachSVGFitsThePaper: A4 is 210 × 297 mm (ISO 216), Letter 216 × 279 mm (ANSI Y14.1);
// browsers leave 10 mm at each edge, common practice, no source.
func TestReachSVGFitsThePaper(t *testing.T) {
	long := caption()
	for i := range 60 {
		long.Cautions = append(long.Cautions, strings.Repeat("mind the sharp edge ", 40))
		long.Legend = append(long.Legend, draw.StepText{Step: i + 4, Text: strings.Repeat("undo the cam screws ", 20)})
	}
	for _, c := range []draw.Caption{caption(), long, {}} {
		root := parse(t, draw.ReachSVG(atThePump(), c))[0]
		w, _ := strconv.ParseFloat(strings.TrimSuffix(root.attrs["width"], "mm"), 64)
		h, _ := strconv.ParseFloat(strings.TrimSuffix(root.attrs["height"], "mm"), 64)
		if w <= 0 || h <= 0 || w > 190 || h > 259 {
			t.Errorf("the page is %v × %v mm", w, h)
		}
		var box [4]float64
		for i, s := range strings.Fields(root.attrs["viewBox"]) {
			box[i], _ = strconv.ParseFloat(s, 64)
		}
		if math.Abs(w/h-box[2]/box[3]) > 0.001 {
			t.Errorf("the page of %v × %v mm stretches the drawing of %v", w, h, box)
		}
	}
}

// TestReachSVGLegend: every step that is in the way or in the caption is in the legend, one
// without words by the name of what it is at.
func TestReachSVGLegend(t *testing.T) {
	c := caption()
	c.Legend = append(c.Legend[1:], draw.StepText{Step: 9, Text: "have a cup of tea"})
	got := texts(draw.ReachSVG(atThePump(), c), t)
	for _, want := range []string{"Spice shelf", "open the heater: lift out, 1.5 min, 4 × M6 screw", "there: water pump", "have a cup of tea"} {
		if !strings.Contains(strings.ReplaceAll(got, "\n", " "), want) {
			t.Errorf("the legend does not say %q:\n%s", want, got)
		}
	}
}

// TestReachSVGCautions: what to mind is on the page, above the drawing; of a great many the first
// six, and how many there are besides.
func TestReachSVGCautions(t *testing.T) {
	c := caption()
	for i := range 9 {
		c.Cautions = append(c.Cautions, fmt.Sprintf("board %d takes 2 people", i+1))
	}
	got := texts(draw.ReachSVG(atThePump(), c), t)
	for want, is := range map[string]bool{"Caution: board 1 takes 2 people\n": true, "Caution: board 6 takes 2 people\n": true,
		"board 7": false, "and 3 more, see vanlog reach": true} {
		if strings.Contains(got, want) != is {
			t.Errorf("the page says %q: %v, want %v:\n%s", want, !is, is, got)
		}
	}
	if strings.Index(got, "Caution: board 1") > strings.Index(got, "From above") {
		t.Error("the cautions come after the drawing")
	}
}

// luminance is the relative luminance of WCAG 2.1 (https://www.w3.org/TR/WCAG21/#dfn-relative-luminance).
func luminance(t *testing.T, colour string) float64 {
	n, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if err != nil || len(colour) != 7 {
		t.Fatalf("colour %q", colour)
	}
	l := 0.0
	for i, part := range []float64{0.0722, 0.7152, 0.2126} {
		c := float64(n>>(8*i)&255) / 255
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		l += part * c
	}
	return l
}

// TestReachSVGContrast: words have at least 4.5 to 1 (WCAG 2.1, 1.4.3), dark ones on white and
// on the lightest tint, white ones on the circle they stand in.
func TestReachSVGContrast(t *testing.T) {
	ratio := func(a, b string) float64 {
		x, y := luminance(t, a), luminance(t, b)
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	if r := ratio("#ffffff", "#000000"); math.Abs(r-21) > 0.01 {
		t.Fatalf("black on white is %v to 1, want 21", r)
	}
	circle := ""
	for _, e := range parse(t, draw.ReachSVG(atThePump(), caption())) {
		if e.name == "circle" {
			circle = e.attrs["fill"]
		}
		if e.name != "text" {
			continue
		}
		for _, ground := range []string{"#ffffff", "#dcebf5"} {
			if e.attrs["fill"] == "#ffffff" {
				ground = circle
			}
			if r := ratio(e.attrs["fill"], ground); r < 4.5 {
				t.Errorf("%q is printed in %s on %s: %.1f to 1", e.text, e.attrs["fill"], ground, r)
			}
		}
	}
}

// TestReachSVGColours: besides greys and the tint of the way, the palette of Okabe and Ito
// (https://jfly.uni-koeln.de/color/).
func TestReachSVGColours(t *testing.T) {
	palette := []string{"none", "#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7", "#dcebf5"}
	for _, e := range parse(t, draw.ReachSVG(atThePump(), caption())) {
		for _, name := range []string{"fill", "stroke"} {
			c, ok := e.attrs[name]
			grey := len(c) == 7 && c[1:3] == c[3:5] && c[3:5] == c[5:7]
			if ok && !grey && !slices.Contains(palette, c) {
				t.Errorf("%s of a %s is %s", name, e.name, c)
			}
		}
	}
}

// TestReachSVGTargets: what is asked about is told by its shape: a ring about a number or a
// point, a hatched place.
func TestReachSVGTargets(t *testing.T) {
	rings := func(s draw.Scene) (n int) {
		for _, e := range parse(t, draw.ReachSVG(s, caption())) {
			if e.name == "circle" && e.attrs["stroke"] == "#d55e00" && e.inside("view") != nil {
				n++
			}
		}
		return n
	}
	none := rings(van())
	if got := rings(atThePump()) - none; got != 2 {
		t.Errorf("%d rings about the pump, want one a view", got)
	}
	noStep := van()
	noStep.Selected = []draw.Target{{Item: "pump"}}
	if got := rings(noStep) - none; got != 2 {
		t.Errorf("%d rings about a pump without a step, want one a view", got)
	}
	hatched := 0
	for _, e := range parse(t, draw.ReachSVG(inTheTankBay(), caption())) {
		if e.name == "line" && e.attrs["stroke"] == "#d55e00" {
			hatched++
		}
	}
	if hatched < 10 {
		t.Errorf("the tank bay is hatched with %d lines in two views", hatched)
	}
}

// TestReachSVGNamesPointAtTheirOwn: of two things at one point that are asked about, the
// line from the name of each ends nearest to its own circle.
func TestReachSVGNamesPointAtTheirOwn(t *testing.T) {
	s := longWay()
	s.Selected = s.Selected[:2] // the pump, step 6, and the filter, step 7
	all := parse(t, draw.ReachSVG(s, caption()))
	for _, view := range []string{"top", "side"} {
		circles := circlesOf(all, view)
		for i, e := range all {
			own := map[string]string{"Water pump": "6", "Water filter with its bracket and ho…": "7"}[e.text]
			if g := e.inside("view"); e.name != "text" || own == "" || g == nil || g.attrs["data-view"] != view {
				continue
			}
			dot := all[i-1] // a line ends in a dot, then comes the name
			at := [2]float64{dot.num("cx"), dot.num("cy")}
			for step, c := range circles {
				if step != own && distance(at, c[0].c) <= distance(at, circles[own][0].c) {
					t.Errorf("%s: the line from %q ends nearer to step %s than to %s", view, e.text, step, own)
				}
			}
		}
	}
}

// TestReachSVGArrows: in each view a line leads from the edge of every circle to that of the next.
func TestReachSVGArrows(t *testing.T) {
	got := parse(t, draw.ReachSVG(atThePump(), caption()))
	for _, view := range []string{"top", "side"} {
		centres := circlesOf(got, view)
		var ways []*element
		for _, e := range got {
			if e.attrs["class"] == "way" && e.inside("view").attrs["data-view"] == view {
				ways = append(ways, e)
			}
		}
		if len(ways) != 2 {
			t.Fatalf("%s: %d lines join 3 circles", view, len(ways))
		}
		for i, e := range ways {
			p := e.points()
			from, to := centres[strconv.Itoa(i+1)][0], centres[strconv.Itoa(i+2)][0]
			if d := distance(p[0], from.c); math.Abs(d-from.r) > 0.6 {
				t.Errorf("%s: line %d begins %.2f mm from its circle of %.2f", view, i+1, d, from.r)
			}
			if d := distance(p[len(p)-1], to.c); math.Abs(d-to.r) > 0.8 {
				t.Errorf("%s: line %d ends %.2f mm from its circle of %.2f", view, i+1, d, to.r)
			}
		}
	}
}

// TestReachSVGIsToScale: a place has the same columns in both views, and is as many millimetres
// long as high.
func TestReachSVGIsToScale(t *testing.T) {
	boxes := map[string]access.Box{}
	for _, p := range van().Places {
		if p.Box != nil {
			boxes[p.Name] = *p.Box
		}
	}
	seen := map[string]map[string]*element{"top": {}, "side": {}}
	name := ""
	for _, e := range parse(t, draw.ReachSVG(draw.Scene{Vehicle: van().Vehicle, Places: van().Places}, caption())) {
		if e.inside("place") == nil {
			continue
		}
		if e.name == "title" {
			name = e.text
		} else if e.name == "rect" {
			seen[e.inside("view").attrs["data-view"]][name] = e
		}
	}
	for name, b := range boxes {
		top, side := seen["top"][name], seen["side"][name]
		if top == nil || side == nil {
			t.Errorf("%s is not in both views", name)
			continue
		}
		if top.attrs["x"] != side.attrs["x"] || top.attrs["width"] != side.attrs["width"] {
			t.Errorf("%s is in other columns from above and from the left", name)
		}
		mm := (b[3] - b[0]) / top.num("width")
		for view, size := range map[*element]float64{top: b[4] - b[1], side: b[5] - b[2]} {
			if got := view.num("height") * mm; math.Abs(got-size) > 0.02*mm+0.01*size {
				t.Errorf("%s: %.0f mm drawn as %.0f", name, size, got)
			}
		}
	}
}

func TestReachSVGSameBytes(t *testing.T) {
	want := draw.ReachSVG(inTheTankBay(), caption())
	for range 5 {
		if !bytes.Equal(want, draw.ReachSVG(inTheTankBay(), caption())) {
			t.Fatal("the same scene gives other bytes")
		}
	}
}

// crowded has n items at one point, each a step.
func crowded(n int) draw.Scene {
	s := van()
	for i := range n {
		x := access.Item{ID: id.Item("x" + strconv.Itoa(i)), Place: "tank-bay", At: &access.Point{3000, 500, 300}}
		s.Items = append(s.Items, x)
		s.Way = append(s.Way, draw.Mark{Step: i + 1, Target: draw.Target{Item: x.ID}})
	}
	return s
}

func TestReachSVGSpreadsWhatCoincides(t *testing.T) {
	for _, n := range []int{2, 7, 24, 100, 400} {
		all := parse(t, draw.ReachSVG(crowded(n), draw.Caption{}))
		for _, e := range all {
			inViewBox(t, all[0], e)
		}
		for _, view := range []string{"top", "side"} {
			apart(t, circlesOf(all, view), n)
		}
	}
}

func BenchmarkReachSVG(b *testing.B) {
	s, c := atThePump(), caption()
	for b.Loop() {
		draw.ReachSVG(s, c)
	}
}
