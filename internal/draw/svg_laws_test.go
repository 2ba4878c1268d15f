package draw_test

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
)

// hostile are words that could break a document.
var hostile = rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
	"", `<script>alert("x")</script>`, `"><svg onload='a&b'`, "]]>", "&amp;&#0;", "\x00\x01\x1b[31m\u009f\u202e\ufffe\uffff\ufffd", "a\tb\r\nc",
	"\xff\xfe not UTF-8", "水泵后面的检修面板和过滤器", "e\u0301clair", strings.Repeat("x", 10000), strings.Repeat("long words ", 900),
}))

func anyCaption(t *rapid.T) draw.Caption {
	c := draw.Caption{Title: hostile.Draw(t, "title"), Summary: hostile.Draw(t, "summary"), Cautions: rapid.SliceOfN(hostile, 0, 9).Draw(t, "cautions")}
	for range rapid.IntRange(0, 30).Draw(t, "legend") {
		c.Legend = append(c.Legend, draw.StepText{Step: rapid.IntRange(0, 40).Draw(t, "step"), Text: hostile.Draw(t, "text")})
	}
	return c
}

func hostileScene(t *rapid.T) draw.Scene {
	s := anyScene(t)
	for i := range s.Places {
		s.Places[i].Name = hostile.Draw(t, "place")
	}
	for i := range s.Items {
		s.Items[i].Name = hostile.Draw(t, "item")
	}
	for i := range s.Way {
		s.Way[i].Step = i + 1
	}
	return s
}

// TestAnySceneMakesADocument: whatever the boxes and the words, the document is well-formed,
// draws nothing outside its viewBox, holds nothing that runs or is fetched, has each step that
// has a position once a view, and is the same each time.
func TestAnySceneMakesADocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, c := hostileScene(t), anyCaption(t)
		svg := draw.ReachSVG(s, c)
		if !bytes.Equal(svg, draw.ReachSVG(s, c)) {
			t.Fatal("the same scene gives other bytes")
		}
		if !utf8.Valid(svg) {
			t.Fatal("not UTF-8")
		}
		all := parse(t, svg)
		if all[0].name != "svg" || all[1].name != "title" || all[2].name != "desc" {
			t.Fatalf("the document begins with %s, %s, %s", all[0].name, all[1].name, all[2].name)
		}
		for _, e := range all {
			harmless(t, e)
			inViewBox(t, all[0], e)
			onThePage(t, all[0], e)
		}
		want := positioned(s)
		for _, view := range []string{"top", "side"} {
			got := circlesOf(all, view)
			apart(t, got, len(want))
			for _, step := range want {
				if len(got[strconv.Itoa(step)]) != 1 {
					t.Fatalf("%s: step %d is drawn %d times", view, step, len(got[strconv.Itoa(step)]))
				}
			}
		}
	})
}

// harmless checks an element against the few that the drawings need.
func harmless(t *rapid.T, e *element) {
	if !slices.Contains([]string{"svg", "title", "desc", "g", "rect", "line", "circle", "polyline", "polygon", "text"}, e.name) {
		t.Fatalf("a %s is in the document", e.name)
	}
	for name, value := range e.attrs {
		if strings.HasPrefix(name, "on") || strings.Contains(name, "href") || strings.Contains(value, "url(") {
			t.Fatalf("%s of a %s is %q", name, e.name, value)
		}
	}
	for _, r := range e.text {
		if r == utf8.RuneError || r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e {
			t.Fatalf("%q has %U in it", e.text, r)
		}
	}
}

// onThePage checks that words outside the views are not longer than the page. Half the size
// of the type a letter is less than any sans-serif type takes where none of the narrow ones is
// in it, from memory; lines with those are left out.
func onThePage(t *rapid.T, root, e *element) {
	if e.name != "text" || e.inside("view") != nil || e.attrs["text-anchor"] != "" || strings.ContainsAny(e.text, "ijltfr. ") {
		return
	}
	wide, _ := strconv.ParseFloat(strings.Fields(root.attrs["viewBox"])[2], 64)
	if end := e.num("x") + 0.5*e.num("font-size")*float64(utf8.RuneCountInString(e.text)); end > wide {
		t.Fatalf("a line of words ends at %.0f mm of %.0f: %q", end, wide, e.text)
	}
}

// positioned gives the steps whose things have a position: slowly, from the scene alone.
func positioned(s draw.Scene) []int {
	whole := func(numbers []float64) bool { return !slices.ContainsFunc(numbers, math.IsNaN) }
	placed := map[string]bool{}
	for _, p := range s.Places {
		placed[string(p.ID)] = placed[string(p.ID)] || p.Box != nil && whole(p.Box[:])
	}
	var out []int
	for _, m := range s.Way {
		at := m.Item == "" && placed[string(m.Place)]
		for _, i := range s.Items {
			at = at || i.ID == m.Item && (i.At != nil && whole(i.At[:]) || placed[string(i.Place)])
		}
		if at {
			out = append(out, m.Step)
		}
	}
	return out
}

// anyWay is a real van with a random way through it.
func anyWay(t *rapid.T) draw.Scene {
	s := van()
	in := *s.Vehicle.InsideMm
	for i := range rapid.IntRange(1, 24).Draw(t, "steps") {
		on := draw.Target{Place: rapid.SampledFrom(s.Places[:8]).Draw(t, "place").ID}
		if rapid.Bool().Draw(t, "item") {
			x := access.Item{ID: id.Item("x" + strconv.Itoa(i)), Name: "Panel", Place: on.Place, At: &access.Point{
				rapid.Float64Range(in[0], in[3]).Draw(t, "x"), rapid.Float64Range(in[1], in[4]).Draw(t, "y"), rapid.Float64Range(in[2], in[5]).Draw(t, "z")}}
			on = draw.Target{Item: x.ID}
			s.Items = append(s.Items, x)
		}
		s.Way = append(s.Way, draw.Mark{Step: i + 1, Target: on})
	}
	s.Selected = []draw.Target{s.Way[len(s.Way)-1].Target}
	return s
}

// TestNamesAreNotPrintedOverEachOther: no words of a view lie on other words or on a circle.
// Half the size of the type a letter is less than any sans-serif type takes on average for
// such names, from memory.
func TestNamesAreNotPrintedOverEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyWay(t)
		all := parse(t, draw.ReachSVG(s, caption()))
		for _, e := range all {
			inViewBox(t, all[0], e)
		}
		for _, view := range []string{"top", "side"} {
			circles := circlesOf(all, view)
			apart(t, circles, len(s.Way))
			fields := printed(all, view)
			for step, same := range circles {
				for _, d := range same {
					half := 0.7 * d.r
					fields = append(fields, field{d.c[0] - half, d.c[1] - half, d.c[0] + half, d.c[1] + half, "circle " + step})
				}
			}
			for i, a := range fields {
				for _, b := range fields[:i] {
					if min(a.x1, b.x1) > max(a.x0, b.x0) && min(a.y1, b.y1) > max(a.y0, b.y0) {
						t.Fatalf("%s: %q lies on %q", view, a.what, b.what)
					}
				}
			}
		}
	})
}

// field is what something takes of the page.
type field struct {
	x0, y0, x1, y1 float64
	what           string
}

// printed gives the fields of the words of a view that stand upright and are no numbers of steps.
func printed(all []*element, view string) []field {
	var out []field
	for _, e := range all {
		g := e.inside("view")
		if e.name != "text" || g == nil || g.attrs["data-view"] != view || e.attrs["transform"] != "" || e.inside("step") != nil {
			continue
		}
		x, y, size := e.num("x"), e.num("y"), e.num("font-size")
		out = append(out, field{x, y - 0.7*size, x + 0.5*size*float64(utf8.RuneCountInString(e.text)), y, e.text})
	}
	return out
}

// TestLegendLosesNoWords: a legend of ordinary length has every word, in order.
func TestLegendLosesNoWords(t *testing.T) {
	word := rapid.StringMatching(`[a-zA-ZäöüéА-я0-9×·&<]{1,14}`)
	rapid.Check(t, func(t *rapid.T) {
		c := draw.Caption{}
		var want []string
		for i := range rapid.IntRange(3, 30).Draw(t, "steps") {
			text := strings.Join(rapid.SliceOfN(word, 1, 16).Draw(t, "words"), " ")
			c.Legend, want = append(c.Legend, draw.StepText{Step: i + 1, Text: text}), append(want, text)
		}
		got := "" // with nothing drawn: the legend is the same
		for _, e := range parse(t, draw.ReachSVG(draw.Scene{}, c)) {
			if e.name == "text" && e.inside("view") == nil {
				got += e.text + " "
			}
		}
		for _, text := range want {
			if !strings.Contains(got, text) {
				t.Fatalf("%q is not in the legend:\n%s", text, got)
			}
		}
	})
}
