package draw_test

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
)

var number = rapid.OneOf(rapid.Float64(), rapid.Float64Range(-3000, 7000),
	rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e6}))

func anyBox(t *rapid.T) *access.Box {
	var b access.Box
	for i := range b {
		b[i] = number.Draw(t, "mm")
	}
	return &b
}

func anyScene(t *rapid.T) draw.Scene {
	var s draw.Scene
	if rapid.Bool().Draw(t, "van") {
		s.Vehicle = &build.Vehicle{WheelbaseMm: number.Draw(t, "wheelbase"), InsideMm: anyBox(t)}
	}
	name := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "面板", "\x1b[31mred\t", "é", "Tank bay"}))
	ids := rapid.SampledFrom([]string{"a", "b", "c"})
	for range rapid.IntRange(0, 12).Draw(t, "places") {
		s.Places = append(s.Places, access.Place{ID: id.Place(ids.Draw(t, "id")), Name: name.Draw(t, "name"), Box: anyBox(t)})
	}
	for range rapid.IntRange(0, 5).Draw(t, "items") {
		s.Items = append(s.Items, access.Item{ID: id.Item(ids.Draw(t, "id")), Name: name.Draw(t, "name"), Place: id.Place(ids.Draw(t, "place"))})
		if b := anyBox(t); rapid.Bool().Draw(t, "at") {
			s.Items[len(s.Items)-1].At = &access.Point{b[0], b[1], b[2]}
		}
	}
	for _, on := range []draw.Target{{Place: id.Place(ids.Draw(t, "on"))}, {Item: id.Item(ids.Draw(t, "on"))}} {
		s.Selected = append(s.Selected, on)
		s.Way = append(s.Way, draw.Mark{Step: rapid.IntRange(-1, 1000).Draw(t, "step"), Target: on})
	}
	return s
}

// TestAnySceneFillsItsCanvas: whatever the boxes and the names, a drawing has exactly the
// cells it was given and nothing in it moves the cursor.
func TestAnySceneFillsItsCanvas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		w, h := rapid.IntRange(-1, 200).Draw(t, "w"), rapid.IntRange(-1, 60).Draw(t, "h")
		for _, c := range []draw.Canvas{draw.Top(s, w, h), draw.Side(s, w, h)} {
			lines := c.Lines()
			if len(lines) != max(h, 0) {
				t.Fatalf("%d lines, want %d", len(lines), h)
			}
			for _, line := range lines {
				text := join(line)
				if got := ansi.StringWidth(text); got != max(w, 0) {
					t.Fatalf("line %q is %d columns wide, want %d", text, got, w)
				}
				if strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r == 0x7f }) {
					t.Fatalf("line %q has control characters", text)
				}
			}
		}
	})
}

func join(line []draw.Run) string {
	var b strings.Builder
	for _, r := range line {
		b.WriteString(r.Text)
	}
	return b.String()
}

// TestScaleIsTrue draws a single place and measures it: a column is as many millimetres
// as half a line, within a column and a line of rounding.
func TestScaleIsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		long, wide := rapid.Float64Range(500, 6000).Draw(t, "long"), rapid.Float64Range(500, 2500).Draw(t, "wide")
		s := draw.Scene{Places: []access.Place{{ID: "p", Name: "P", Box: &access.Box{0, 0, 0, long, wide, 500}}}}
		c := draw.Top(s, 90, 40)
		cols, rows := measure(c, draw.Place)
		mm := long / float64(cols-1)
		if want := wide / mm / 2; math.Abs(float64(rows-1)-want) > 1+want/float64(cols-1) {
			t.Fatalf("%v × %v mm drawn in %d × %d cells, want %.1f lines\n%s", long, wide, cols, rows, want+1, c.Text())
		}
	})
}

// measure gives the columns and lines from the first to the last cell of a class.
func measure(c draw.Canvas, class draw.Class) (cols, rows int) {
	x0, y0, x1, y1 := c.W, c.H, -1, -1
	for y := range c.H {
		for x := range c.W {
			if c.At(x, y).Class == class {
				x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
			}
		}
	}
	return x1 - x0 + 1, y1 - y0 + 1
}

// TestRightSideIsAtTheTop: with the front at the left, seen from above, the right hand of a
// driver points up the page.
func TestRightSideIsAtTheTop(t *testing.T) {
	s := draw.Scene{Vehicle: van().Vehicle, Places: []access.Place{
		{ID: "r", Name: "Right", Box: &access.Box{1000, 300, 0, 3000, 890, 500}},
		{ID: "l", Name: "Left", Box: &access.Box{1000, -890, 0, 3000, -300, 500}},
	}}
	top := draw.Top(s, 80, 20).Text()
	if r, l := strings.Index(top, "Right"), strings.Index(top, "Left"); r < 0 || l < 0 || r > l {
		t.Errorf("the right side is not above the left:\n%s", top)
	}
	if door := strings.Index(top, "sliding door"); door < 0 || door > strings.Index(top, "Right") {
		t.Errorf("the sliding door is not on the right side:\n%s", top)
	}
}

// TestTheWayAndTheSelectedAreSeen even in a small drawing.
func TestTheWayAndTheSelectedAreSeen(t *testing.T) {
	for _, size := range [][2]int{{20, 6}, {40, 10}, {66, 16}, {200, 60}} {
		c := draw.Top(inTheTankBay(), size[0], size[1])
		seen := map[draw.Class]string{}
		for _, line := range c.Lines() {
			for _, r := range line {
				seen[r.Class] += r.Text
			}
		}
		for _, step := range []string{"1,4", "2", "3"} {
			if !strings.Contains(seen[draw.Way], step) {
				t.Errorf("%v: step %s is not seen:\n%s", size, step, c.Text())
			}
		}
		if seen[draw.Selected] == "" {
			t.Errorf("%v: what is selected is not seen:\n%s", size, c.Text())
		}
	}
}

func TestHeightsAreWhatIsDrawn(t *testing.T) {
	for _, w := range []int{40, 66, 120} {
		s := draw.Scene{Vehicle: van().Vehicle}
		top, side := s.Heights(w)
		_, gotTop := measure(draw.Top(s, w, 60), draw.Outline)
		_, gotSide := measure(draw.Side(s, w, 60), draw.Outline)
		if top != gotTop || side != gotSide {
			t.Errorf("Heights(%d) = %d, %d; drawn %d, %d", w, top, side, gotTop, gotSide)
		}
	}
}

func BenchmarkTop(b *testing.B) {
	s := inTheTankBay()
	for b.Loop() {
		draw.Top(s, 66, 16)
	}
}

func BenchmarkSide(b *testing.B) {
	s := inTheTankBay()
	for b.Loop() {
		draw.Side(s, 66, 16)
	}
}
