package access_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// panel makes an item that opens in open minutes and refits in refit.
func panel(name id.Item, place id.Place, open, refit float64, covers ...id.Item) access.Item {
	return access.Item{ID: name, Place: place, Covers: covers, Opening: &access.Opening{OpenMin: open, RefitMin: refit}}
}

// fixed makes an item that stays once fitted.
func fixed(name id.Item, place id.Place, covers ...id.Item) access.Item {
	return access.Item{ID: name, Place: place, Covers: covers}
}

// blocking gives it with what it shuts while it is open.
func blocking(it access.Item, shuts ...string) access.Item {
	it.Blocks = shuts
	return it
}

func through(from id.Place, min float64, items ...id.Item) access.Way {
	return access.Way{From: from, EnterMin: min, Through: items}
}

// wagon is a van with a tank bay behind the bench, to be entered through the kickboard or
// from the wader locker through its back.
func wagon() ([]access.Place, []access.Item) {
	places := []access.Place{
		{ID: "aisle"},
		{ID: "locker", Ways: []access.Way{through("aisle", 1, "locker-lid")}},
		{ID: "tank-bay", ClosedBy: []id.Item{"bench"}, Ways: []access.Way{
			through("aisle", 2, "kickboard"), through("locker", 0.5, "locker-back")}},
	}
	items := []access.Item{
		panel("kickboard", "aisle", 3, 4), panel("locker-lid", "aisle", 0.5, 0.5), panel("locker-back", "locker", 2, 2),
		fixed("bench", "aisle"), panel("pump-guard", "tank-bay", 1, 1), fixed("pump", "tank-bay", "pump-guard"),
		fixed("boots", "locker"), panel("tray", "", 5, 5),
	}
	return places, items
}

func TestWagon(t *testing.T) {
	places, items := wagon()
	s := access.NewSolver(places, items)
	for _, tt := range []struct {
		name    string
		places  []id.Place
		items   []id.Item
		visits  int
		without []id.Item // not fitted
		want    float64
		steps   string
	}{
		{name: "nothing asked", want: 0},
		// The aisle is entered for nothing.
		{name: "a free place", places: []id.Place{"aisle"}, want: 0, steps: "enter aisle, at aisle"},
		// By the locker: lid 1, in 1, back 4, in 0.5: 6.5. By the kickboard: 7, in 2: 9.
		{name: "the cheaper of two ways", places: []id.Place{"tank-bay"}, want: 6.5,
			steps: "enter aisle, open locker-lid*, enter locker*, open locker-back*, enter tank-bay*, at tank-bay"},
		// Twice: by the locker 1 + 2 + 4 + 1 = 8, by the kickboard 7 + 4 = 11.
		{name: "two visits pay entries twice", places: []id.Place{"tank-bay"}, visits: 2, want: 8},
		// Without locker and its back open for the boots anyway: only bay and guard come on top: 6.5 + 2.
		{name: "the guard on top", items: []id.Item{"pump"}, want: 8.5},
		// The lid and entering the locker serve both: 6.5 and nothing more for the boots.
		{name: "shared once", places: []id.Place{"tank-bay"}, items: []id.Item{"boots"}, want: 6.5},
		// Before the bench is built the bay is open floor.
		{name: "open floor", items: []id.Item{"pump"}, without: []id.Item{"bench"}, want: 2,
			steps: "enter tank-bay*, open pump-guard*, at pump"},
		// The kickboard is not fitted yet: only entering is left of that way.
		{name: "not in the way yet", places: []id.Place{"tank-bay"}, without: []id.Item{"kickboard"}, want: 2},
		// Asked for while fitted: its place counts, itself it is not in the way.
		{name: "an item that is fitted", items: []id.Item{"bench"}, want: 0},
		// In no place and covered by nothing.
		{name: "always within reach", items: []id.Item{"tray"}, want: 0, steps: "at tray"},
		{name: "an item that the van has not", items: []id.Item{"anchor"}, want: 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fitted := slices.DeleteFunc(names(items), func(i id.Item) bool { return slices.Contains(tt.without, i) })
			p, err := s.Plan(context.Background(), access.Query{Places: tt.places, Items: tt.items, Visits: tt.visits, Fitted: s.Set(fitted...)})
			if err != nil || p.Cost != access.CostOf(tt.want) || !p.Proven {
				t.Fatalf("Plan = %v min, proven %v, %v, want %v", p.Cost.Minutes(), p.Proven, err, tt.want)
			}
			if got := unmarked(words(p)); tt.steps != "" && got != unmarked(tt.steps) {
				t.Errorf("steps %s, want %s", got, tt.steps)
			}
		})
	}
}

func names(items []access.Item) []id.Item {
	var out []id.Item
	for _, it := range items {
		out = append(out, it.ID)
	}
	return out
}

// words writes the steps in a line; a star marks what there is no way round, a number
// how often it is paid.
func words(p access.Plan) string {
	var out []string
	for _, s := range p.Steps {
		w := fmt.Sprintf("%s %s%s", s.Do, s.Place, s.Item)
		if s.Times > 1 && s.Do == access.Enter {
			w += fmt.Sprintf(" x%d", s.Times)
		}
		if s.NoWayRound {
			w += "*"
		}
		out = append(out, w)
	}
	return strings.Join(out, ", ")
}

func unmarked(steps string) string { return strings.ReplaceAll(steps, "*", "") }

// One way through a hatch whose screws are got at from the cellar, which is entered
// once for them; the attic is entered at each of three visits: 4 + (1 + 1) + 3 × 2 = 12.
func TestOnceAndForVisits(t *testing.T) {
	places := []access.Place{
		{ID: "aisle"}, {ID: "cellar", Ways: []access.Way{through("aisle", 4)}},
		{ID: "attic", Ways: []access.Way{through("aisle", 2, "hatch")}},
	}
	items := []access.Item{panel("hatch", "cellar", 1, 1)}
	s := access.NewSolver(places, items)
	p, err := s.Plan(context.Background(), access.Query{Places: []id.Place{"attic"}, Visits: 3, Fitted: s.All()})
	if err != nil || p.Cost != 12*access.Minute {
		t.Fatalf("Plan = %v, %v", p.Cost.Minutes(), err)
	}
	if got, want := words(p), "enter aisle x3*, enter cellar*, open hatch*, enter attic x3*, at attic"; got != want {
		t.Errorf("steps %s, want %s", got, want)
	}
	hatch := p.Steps[2]
	if hatch.Cost != access.Minute || hatch.Refit != access.Minute || p.Steps[3].From != "aisle" {
		t.Errorf("steps %+v", p.Steps)
	}
}

// The same place is entered once through the crawl way (5) to free the door, and by the
// door for the ten visits: 5 + 1 + 10 × 0.5 = 11; crawling each time would be 50.
func TestEnteredBothWays(t *testing.T) {
	places := []access.Place{{ID: "bay", Ways: []access.Way{through("", 5), through("", 0.5, "door")}}}
	items := []access.Item{panel("door", "bay", 0.5, 0.5)}
	s := access.NewSolver(places, items)
	p, err := s.Plan(context.Background(), access.Query{Places: []id.Place{"bay"}, Visits: 10, Fitted: s.All()})
	if got, want := words(p), "enter bay*, open door, enter bay x10*, at bay"; err != nil || got != want || p.Cost != 11*access.Minute {
		t.Errorf("Plan = %v min, %s, %v, want 11, %s", p.Cost.Minutes(), got, err, want)
	}
}

// The aisle is entered for the hatch, and at each visit on the way to the bay. As that
// costs nothing it is said once.
func TestFreePlaceIsEnteredOnce(t *testing.T) {
	places := []access.Place{{ID: "aisle"}, {ID: "attic", Ways: []access.Way{through("", 1, "hatch")}},
		{ID: "bay", Ways: []access.Way{through("aisle", 1)}}}
	s := access.NewSolver(places, []access.Item{panel("hatch", "aisle", 1, 1)})
	p, err := s.Plan(context.Background(), access.Query{Places: []id.Place{"attic", "bay"}, Visits: 2, Fitted: s.All()})
	want := "enter aisle x2*, open hatch*, enter attic x2*, enter bay x2*, at attic, at bay"
	if got := words(p); err != nil || got != want || p.Cost != 6*access.Minute {
		t.Errorf("Plan = %v min, %s, %v, want 6, %s", p.Cost.Minutes(), got, err, want)
	}
}

// Ties: all plans cost 4. One opening (d) beats two (a and b); of the single ones c
// comes before d.
func TestTies(t *testing.T) {
	items := []access.Item{panel("d", "", 2, 2), panel("b", "", 1, 1), panel("a", "", 1, 1), panel("c", "", 3, 1)}
	bay := access.Place{ID: "bay", Ways: []access.Way{through("", 0, "a", "b"), through("", 0, "d"), through("", 0, "c")}}
	s := access.NewSolver([]access.Place{bay}, items)
	p, err := s.Plan(context.Background(), access.Query{Places: []id.Place{"bay"}, Fitted: s.All()})
	if got := words(p); err != nil || got != "open c, enter bay*, at bay" {
		t.Errorf("%s, %v", got, err)
	}
}

// The drawer opened (2) shuts the footwell, so the way through it is no use for what is
// in the footwell; the flap (6) is dearer, but leaves it open.
func TestBlocks(t *testing.T) {
	places := []access.Place{
		{ID: "footwell", Ways: []access.Way{through("", 1)}},
		{ID: "niche", Ways: []access.Way{through("", 0, "drawer"), through("", 0, "flap")}},
	}
	items := []access.Item{blocking(panel("drawer", "", 1, 1), "footwell"), panel("flap", "", 3, 3)}
	s := access.NewSolver(places, items)
	for _, tt := range []struct {
		places []id.Place
		want   float64
	}{{[]id.Place{"niche"}, 2}, {[]id.Place{"niche", "footwell"}, 7}} {
		if c, ok := s.Cost(access.Query{Places: tt.places, Fitted: s.All()}); !ok || c != access.CostOf(tt.want) {
			t.Errorf("%v: Cost = %v, %v, want %v", tt.places, c.Minutes(), ok, tt.want)
		}
	}
}

func TestCostOf(t *testing.T) {
	for _, tt := range []struct {
		min  float64
		want access.Cost
	}{
		{0, 0}, {1.5, 1_500_000}, {0.1, 100_000}, {1.0 / 3, 333_333}, {2.0 / 3, 666_667},
		{-1, 0}, {math.NaN(), 0}, {math.Inf(1), 100_000_000 * access.Minute},
	} {
		if got := access.CostOf(tt.min); got != tt.want {
			t.Errorf("CostOf(%v) = %d, want %d", tt.min, got, tt.want)
		}
	}
	for c, want := range map[access.Cost]int{0: 0, 1: 1, access.Minute: 1, access.Minute + 1: 2} {
		if got := c.Ceil(); got != want {
			t.Errorf("Cost(%d).Ceil() = %d, want %d", c, got, want)
		}
	}
}

// A context that ends before the proof gives the best plan found by then with a bound that
// holds, or its own error; never that there is no way.
func TestContextEnds(t *testing.T) {
	places, items := tangle(60)
	s := access.NewSolver(places, items)
	q := access.Query{Places: []id.Place{"end"}, Fitted: s.All()}
	s.SetPatience(500)
	cheapest, ok := s.Cost(q)
	for _, after := range []time.Duration{-time.Second, 20 * time.Millisecond, 100 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), after)
		p, err := s.Plan(ctx, q)
		cancel()
		switch {
		case err != nil && !errors.Is(err, context.DeadlineExceeded):
			t.Errorf("%v: %v", after, err)
		case err == nil && (p.Bound > p.Cost || p.Proven != (p.Bound == p.Cost) || ok && p.Bound > cheapest):
			t.Errorf("%v: cost %d, bound %d, proven %v; there is a way for %d", after, p.Cost, p.Bound, p.Proven, cheapest)
		case err == nil:
			checkTangle(t, items, p)
		}
	}
}

// checkTangle checks that a plan opens a panel for each door and none that another shuts.
func checkTangle(t *testing.T, items []access.Item, p access.Plan) {
	t.Helper()
	open := map[string]bool{}
	for _, s := range p.Steps {
		if s.Do == access.Open {
			open[string(s.Item)] = true
		}
	}
	for _, it := range items {
		if open[string(it.ID)] && slices.ContainsFunc(it.Blocks, func(z string) bool { return open[z] && z != string(it.ID) }) {
			t.Errorf("%s is open with one of %v", it.ID, it.Blocks)
		}
	}
	if len(open) != len(items)/3 {
		t.Errorf("%d panels opened for %d doors", len(open), len(items)/3)
	}
}

// tangle makes a place behind n doors, each to be passed by one of three panels, where
// panels of doors near each other shut each other out.
func tangle(n int) ([]access.Place, []access.Item) {
	var items []access.Item
	var places []access.Place
	from := id.Place("")
	for i := range n {
		var ways []access.Way
		for j := range 3 {
			name := id.Item(fmt.Sprintf("p%02d-%d", i, j))
			it := panel(name, "", float64(1+(i*7+j*5)%11), 1)
			for k := 1; k <= 2; k++ {
				it.Blocks = append(it.Blocks, fmt.Sprintf("p%02d-%d", (i+k*k)%n, (i*k+j*(k+1)+k)%3))
			}
			items, ways = append(items, it), append(ways, through(from, 0, name))
		}
		from = id.Place(fmt.Sprintf("room%02d", i))
		if i == n-1 {
			from = "end"
		}
		places = append(places, access.Place{ID: from, Ways: ways})
	}
	return places, items
}
