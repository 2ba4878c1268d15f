package screen

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// anyEdges draws what a few items close in; some of it is not in the build.
func anyEdges(t *rapid.T) []answer.Derived {
	fitters := map[id.Item]id.Task{}
	for _, x := range []id.Item{"bench-panel", "grinder", "floor", "pump", "gone"} {
		fitters[x] = rapid.SampledFrom([]id.Task{"", "fit-panel", "fit-grinder", "glue-floor", "gone"}).Draw(t, "fitter")
	}
	items := []id.Item{"bench-panel", "grinder", "floor", "pump", "gone"}
	edges := make([]answer.Derived, rapid.IntRange(0, 12).Draw(t, "edges"))
	for i := range edges {
		e := &edges[i]
		e.Item = rapid.SampledFrom(items).Draw(t, "item")
		e.FitBy, e.BeforeMin, e.Visits = fitters[e.Item], float64(i), rapid.Float64Range(0, 60).Draw(t, "visits")
		if rapid.Bool().Draw(t, "service") {
			e.Service, e.Of = "rinse", rapid.SampledFrom(items).Draw(t, "of")
		} else {
			e.Task = rapid.SampledFrom([]id.Task{"run-cable", "mount-pump", "gone"}).Draw(t, "task")
		}
		if rapid.Bool().Draw(t, "reachable") {
			extra := rapid.Float64Range(0, 500).Draw(t, "extra")
			e.AfterMin, e.ExtraMin = &extra, &extra
		}
	}
	return edges
}

// TestEveryEdgeIsBehindItsItemOnce, in the order of the plan, and its price is in the sum.
func TestEveryEdgeIsBehindItsItemOnce(t *testing.T) {
	d := workshop(t)
	start := map[id.Task]units.Instant{}
	for _, r := range d.Seq.Tasks {
		start[r.ID] = r.Start
	}
	rapid.Check(t, func(t *rapid.T) {
		d.Closes = &Closes{Edges: anyEdges(t)}
		seen := map[float64]int{}
		for i, c := range coversOf(d) {
			minutes, barred := 0.0, 0
			for _, e := range c.edges {
				if e.Item != c.item {
					t.Fatalf("an edge of %s is behind %s", e.Item, c.item)
				}
				seen[e.BeforeMin]++
				if e.ExtraMin == nil {
					barred++
				} else {
					minutes += *e.ExtraMin
				}
			}
			if p := priceOf(c.edges); p.barred != barred || abs(p.once+p.yearly-minutes) > 1e-6 {
				t.Errorf("%s costs %+v, want %v min and %d barred", c.item, p, minutes, barred)
			}
			if when, planned := start[c.fitBy]; planned != (c.when != nil) || planned && *c.when != when {
				t.Errorf("%s is fitted at %v, want %v", c.item, c.when, when)
			}
			if all := coversOf(d); i > 0 && sooner(all[i-1], c) > 0 {
				t.Errorf("%s stands before %s", all[i-1].item, c.item)
			}
		}
		for i := range d.Closes.Edges {
			if seen[float64(i)] != 1 {
				t.Errorf("edge %d is there %d times", i, seen[float64(i)])
			}
		}
	})
}

func abs(f float64) float64 { return max(f, -f) }

// TestCloseInTakesAnyAnswer: whatever is closed in, at any size, after any actions, the view
// has exactly its size and what is selected is an item of the list.
func TestCloseInTakesAnyAnswer(t *testing.T) {
	d := workshop(t)
	rapid.Check(t, func(t *rapid.T) {
		d.Closes = &Closes{Edges: anyEdges(t), Stale: rapid.Bool().Draw(t, "stale")}
		s := CloseIn{}.With(d)
		for range rapid.IntRange(0, 12).Draw(t, "actions") {
			s, _ = s.Do(Action(rapid.IntRange(int(Up), int(SwapLearned)).Draw(t, "action")))
			if rapid.Bool().Draw(t, "other data") {
				d.Closes = &Closes{Edges: anyEdges(t), Owed: map[id.Item][]answer.Owed{"floor": {{Task: "gone", Check: "x"}}}}
				s = s.With(d)
			}
		}
		w, h := rapid.IntRange(1, 130).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		lines := strings.Split(s.View(styles(), w, h), "\n")
		if len(lines) != h {
			t.Fatalf("%d lines, want %d", len(lines), h)
		}
		for _, line := range lines {
			if got := ansi.StringWidth(line); got != w {
				t.Fatalf("a line is %d wide, want %d: %q", got, w, line)
			}
		}
		for _, name := range selected(s).Targets {
			if s.Scope() == CoverScope && !slices.ContainsFunc(d.Closes.Edges, func(e answer.Derived) bool { return string(e.Item) == name }) {
				t.Errorf("%s is selected, which closes nothing in", name)
			}
		}
	})
}

// TestScrolledFactsSayThatThereIsMore: never more lines than there is room for; the first
// fact is the one that was scrolled to; the last line says so where some are not seen.
func TestScrolledFactsSayThatThereIsMore(t *testing.T) {
	for n := range 8 {
		var facts []Fact
		for i := range n {
			facts = append(facts, Fact{Text: fmt.Sprintf("fact %d", i)})
		}
		for top := range n + 1 {
			for h := 2; h < 8; h++ {
				lines := scrolledFacts(styles(), 20, h, facts, top)
				left := n - top
				if len(lines) != min(left, h) || left > 0 && !strings.HasPrefix(lines[0], fmt.Sprintf("fact %d", top)) {
					t.Errorf("%d facts from %d in %d lines: %q", n, top, h, lines)
				}
				if more := left > h; more != (len(lines) > 0 && strings.Contains(lines[len(lines)-1], "more")) {
					t.Errorf("%d facts from %d in %d lines end in %q", n, top, h, lines)
				}
			}
		}
	}
}

func TestWhatSearches(t *testing.T) {
	for _, tt := range []struct {
		k     widget.Key
		typed string
		want  bool
	}{
		{widget.Key{Name: "a", Text: "a"}, "", true},
		{widget.Key{Name: "4", Text: "4"}, "", false},
		{widget.Key{Name: "4", Text: "4"}, "m", true},
		{widget.Key{Name: "7", Text: "7"}, "", true},
		{widget.Key{Text: "4", Paste: true}, "", true},
		{widget.Key{Name: "space", Text: " "}, "m", false},
		{widget.Key{Name: "?", Text: "?"}, "m", false},
		{widget.Key{Name: "backspace"}, "", false},
		{widget.Key{Name: "backspace"}, "m", true},
		{widget.Key{Name: "enter"}, "m", false},
		{widget.Key{Name: "home"}, "m", false},
	} {
		if got := searches(tt.k, tt.typed); got != tt.want {
			t.Errorf("searches(%+v, %q) = %v, want %v", tt.k, tt.typed, got, tt.want)
		}
	}
}
