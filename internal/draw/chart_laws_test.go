package draw_test

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/units"
)

// anyTime is most often near a day, and sometimes anywhere.
func anyTime(t *rapid.T) units.Instant {
	near := rapid.Int64Range(0, 90*24*60)
	return clock("2026-03-02T08:00") + units.Instant(rapid.OneOf(near, near, near, rapid.Int64Range(-1e8, 1e8)).Draw(t, "time"))
}

func anyStretches(t *rapid.T) []draw.Stretch {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Stretch { return draw.Stretch{From: anyTime(t), To: anyTime(t)} }), 0, 4).Draw(t, "stretches")
}

// anyChart has rows of any length in any order, with words from a generator.
func anyChart(t *rapid.T, words *rapid.Generator[string], at func(*rapid.T) units.Instant) draw.Chart {
	c := draw.Chart{Title: words.Draw(t, "title"), Summary: words.Draw(t, "summary"),
		Now: at(t), Finish: at(t), Bound: at(t), Off: anyStretches(t)}
	for i := range rapid.IntRange(0, 60).Draw(t, "rows") {
		c.Rows = append(c.Rows, draw.ChartRow{ID: "t" + strconv.Itoa(i), Name: words.Draw(t, "name"), Trade: words.Draw(t, "trade"),
			Start: at(t), Finish: at(t), CureEnd: at(t), SlackEnd: at(t), Spans: anyStretches(t), AccessShare: rapid.Float64().Draw(t, "share"),
			Critical: rapid.Bool().Draw(t, "critical"), Milestone: rapid.Bool().Draw(t, "milestone"), Needs: []string{"B"}})
	}
	for range rapid.IntRange(0, 12).Draw(t, "arrivals") {
		c.Arrivals = append(c.Arrivals, draw.Arrival{Name: words.Draw(t, "part"), At: at(t), Late: rapid.Bool().Draw(t, "late")})
	}
	for range rapid.IntRange(0, 12).Draw(t, "bands") {
		c.Bands = append(c.Bands, draw.Band{Name: rapid.OneOf(words, rapid.Just("B")).Draw(t, "band"), Spans: anyStretches(t)})
	}
	return c
}

// TestAnyChartMakesADocument: whatever the times and the words, the document is well-formed,
// draws nothing outside its viewBox, holds nothing that runs or is fetched, has each task
// once, each part that comes at most once, and is the same each time.
func TestAnyChartMakesADocument(t *testing.T) {
	wild := func(t *rapid.T) units.Instant {
		return rapid.OneOf(rapid.Custom(anyTime), rapid.Map(rapid.Int64(), func(n int64) units.Instant { return units.Instant(n) })).Draw(t, "at")
	}
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t, hostile, wild)
		if len(c.Rows) > 0 {
			c.Rows[0].AccessShare = rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1}).Draw(t, "odd share")
		}
		svg := draw.ChartSVG(c)
		if !bytes.Equal(svg, draw.ChartSVG(c)) {
			t.Fatal("the same chart gives other bytes")
		}
		if !utf8.Valid(svg) || bytes.Contains(svg, []byte("NaN")) || bytes.Contains(svg, []byte("Inf\"")) {
			t.Fatal("not UTF-8, or a number that is none")
		}
		all := parse(t, svg)
		for _, e := range all {
			switch {
			case e.name == "style" && e.text == "@page{size:254mm 190.5mm;margin:0}":
			default:
				harmless(t, e)
			}
			inViewBox(t, all[0], e)
			onThePage(t, all[0], e)
		}
		eachOnce(t, c, all)
	})
}

// eachOnce checks that every row is there once; slowly, by name.
func eachOnce(t *rapid.T, c draw.Chart, all []*element) {
	seen, arrivals := map[string]int{}, 0
	for _, e := range all {
		switch e.attrs["class"] {
		case "row":
			seen[e.attrs["data-task"]]++
		case "arrival":
			arrivals++
		}
	}
	for _, r := range c.Rows {
		if seen[r.ID] != 1 {
			t.Fatalf("%s is there %d times", r.ID, seen[r.ID])
		}
	}
	if len(seen) != len(c.Rows) {
		t.Fatalf("%d rows of %d", len(seen), len(c.Rows))
	}
	if least := min(len(c.Arrivals), 10); arrivals > len(c.Arrivals) || arrivals < least {
		t.Fatalf("%d parts of %d", arrivals, len(c.Arrivals))
	}
}

// fieldOf gives where words stand: at least half the size of the type a letter, as for the way in.
func fieldOf(e *element) field {
	x, y, size := e.num("x"), e.num("y"), e.num("font-size")
	w := 0.45 * size * float64(utf8.RuneCountInString(e.text))
	switch e.attrs["text-anchor"] {
	case "end":
		x -= w
	case "middle":
		x -= w / 2
	}
	return field{x, y - 0.7*size, x + w, y, e.text}
}

// TestChartWordsAreNotPrintedOverEachOther: no words of a sheet lie on other words, and none
// of a row lie on its bars.
func TestChartWordsAreNotPrintedOverEachOther(t *testing.T) {
	words := rapid.StringMatching(`[A-Z][a-z]{3,12}( [a-z]{2,9}){0,9}`)
	near := func(t *rapid.T) units.Instant {
		return clock("2026-03-02T00:00") + units.Instant(rapid.IntRange(0, 90*24*60).Draw(t, "at"))
	}
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t, words, near)
		all := parse(t, draw.ChartSVG(c))
		var printed []field
		for _, e := range all {
			if e.name == "text" && e.text != "" {
				printed = append(printed, fieldOf(e))
			}
			if e.attrs["class"] == "row" {
				apartInRow(t, in(all, e))
			}
		}
		slices.SortFunc(printed, func(a, b field) int { return int(math.Copysign(1, a.y0-b.y0)) })
		for i, a := range printed {
			for _, b := range printed[i+1:] {
				if b.y0 >= a.y1 {
					break
				}
				if a.x0 < b.x1 && b.x0 < a.x1 {
					t.Fatalf("%q lies on %q", a.what, b.what)
				}
			}
		}
	})
}

// apartInRow checks that the note of a row, which is its last words, lies beside all bars.
func apartInRow(t *rapid.T, row []*element) {
	for _, e := range row {
		if e.name != "text" || e.num("x") < 92 { // not in the columns, which end there
			continue
		}
		note := fieldOf(e)
		for _, o := range row {
			if o.name != "rect" {
				continue
			}
			p := o.points()
			if p[0][0] < note.x1 && note.x0 < p[1][0] {
				t.Fatalf("%q from %.1f to %.1f lies on a bar from %.1f to %.1f", e.text, note.x0, note.x1, p[0][0], p[1][0])
			}
		}
	}
}
