package draw_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

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

// TestEveryStepIsReadOnce: on an ordinary screen each step of a way stands in the drawing
// once, with something between it and the next, and what is on the way is named whole.
func TestEveryStepIsReadOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyWay(t)
		w := rapid.SampledFrom([]int{80, 120}).Draw(t, "columns")
		top, side := s.Heights(w)
		for name, c := range map[string]draw.Canvas{"top": draw.Top(s, w, top*4/3+6), "side": draw.Side(s, w, side*4/3+6)} {
			seen := map[string]int{}
			for _, line := range c.Lines() {
				for _, r := range line {
					if r.Class == draw.Way || r.Class == draw.Selected {
						for _, step := range strings.FieldsFunc(r.Text, func(r rune) bool { return r < '0' || r > '9' }) {
							seen[step]++
						}
					}
				}
			}
			for _, m := range s.Way {
				if n := seen[strconv.Itoa(m.Step)]; n != 1 {
					t.Fatalf("%s: step %d is seen %d times:\n%s", name, m.Step, n, c.Text())
				}
				for _, p := range s.Places {
					if p.ID == m.Place && !strings.Contains(strings.Join(strings.Fields(c.Text()), " "), p.Name) {
						t.Fatalf("%s: %s of step %d is not named whole:\n%s", name, p.Name, m.Step, c.Text())
					}
				}
			}
		}
	})
}

// TestNamesRunOverNoLines draws a way twice, the second time with names that are not seen:
// where a name stands in the first, there is no line in the second. The roof rack is no
// higher than a line from the left, and has its name on it.
func TestNamesRunOverNoLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		named := anyWay(t)
		bare := named
		bare.Places, bare.Items = slices.Clone(named.Places), slices.Clone(named.Items)
		for i := range bare.Places {
			bare.Places[i].Name = "\u200b"
		}
		for i := range bare.Items {
			bare.Items[i].Name = "\u200b"
		}
		for _, view := range []func(draw.Scene, int, int) draw.Canvas{draw.Top, draw.Side} {
			a, b := view(named, 120, 60), view(bare, 120, 60)
			for y := range 45 { // the notes are beneath
				for x := range a.W {
					c, under := a.At(x, y), b.At(x, y)
					if unicode.IsLetter(c.Rune) && c.Class == draw.Label && under.Class == draw.Place && strings.ContainsRune("─│┼├┤┬┴", under.Rune) && !signOrRoof(a, x, y) {
						t.Fatalf("a name runs over a line in column %d of line %d:\n%s\n%s", x, y, a.Text(), b.Text())
					}
				}
			}
		}
	})
}

// signOrRoof reports whether a letter stands alone, or in the name of the roof rack.
func signOrRoof(c draw.Canvas, x, y int) bool {
	alone := !unicode.IsLetter(c.At(x-1, y).Rune) && !unicode.IsLetter(c.At(x+1, y).Rune)
	line := strings.Split(c.Text(), "\n")[y]
	return alone || strings.Contains(line, "Roof rack")
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
