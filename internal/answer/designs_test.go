package answer

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
)

// A lid on a pump that is cleaned 12 times a year: screwed it is 1 h to make and 5 minutes to
// lift out and back, latched 4 h and 1 minute. 180 minutes more, 48 a year saved.
const lids = `
"options": [{"id": "screws", "choice": "lid", "name": "Screws", "chosen": true}, {"id": "latch", "choice": "lid", "name": "Latch"},
	{"id": "red", "choice": "colour", "chosen": true}, {"id": "none", "choice": "colour"}],
"items": [{"id": "lid-s", "option": "screws", "mass_kg": 2, "opening": {"open_min": 2, "refit_min": 3}},
	{"id": "lid-l", "option": "latch", "mass_kg": 3.5, "opening": {"open_min": 1}},
	{"id": "pump", "covers": ["lid-s", "lid-l"], "service": [{"what": "clean", "per_year": 12}]}],
"tasks": [{"id": "make-s", "hours": 1, "fits": ["lid-s"], "option": "screws"}, {"id": "make-l", "hours": 4, "fits": ["lid-l"], "option": "latch"},
	{"id": "paint", "hours": 1, "option": "red"}]`

func TestDesigns(t *testing.T) {
	v := viewOf(t, monday, lids)
	got, err := v.Designs(t.Context(), "lid", plan.Options{})
	want := Designs{Choice: "lid",
		Options: []Design{
			{ID: "screws", Name: "Screws", Chosen: true, MinutesPerYear: 60, Unreachable: []id.Item{}, WorkMin: 120, Proven: true, MassKg: 2, Unweighed: 1,
				Finish: at(t, "2026-03-02T10:00"), BoundFinish: at(t, "2026-03-02T10:00"), Worst: &WorstReach{Item: "pump", Min: 5}},
			{ID: "latch", Name: "Latch", MinutesPerYear: 12, Unreachable: []id.Item{}, WorkMin: 300, Proven: true, MassKg: 3.5, Unweighed: 1,
				Finish: at(t, "2026-03-02T14:00"), BoundFinish: at(t, "2026-03-02T14:00"), Worst: &WorstReach{Item: "pump", Min: 1}}},
		BreakEven: []BreakEven{{Dearer: "latch", Cheaper: "screws", MoreMin: 180, SavedPerYear: 48, Years: ptr(3.75)}}}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("lids (-want +got), %v:\n%s", err, diff)
	}
	if !v.Build.Options.Rows[0].Chosen {
		t.Error("the build itself has been changed")
	}
	got, err = v.Designs(t.Context(), "colour", plan.Options{})
	if err != nil || len(got.BreakEven) != 1 || got.BreakEven[0].Years != nil || got.BreakEven[0].Dearer != "red" {
		t.Errorf("paint costs time and saves nothing: %+v, %v", got.BreakEven, err)
	}
}

func TestDesignsErrors(t *testing.T) {
	v := viewOf(t, monday, lids)
	var name *NameError
	if _, err := v.Designs(t.Context(), "led", plan.Options{}); !errors.As(err, &name) || !cmp.Equal(name.Near, []string{"lid"}) {
		t.Errorf("an unknown choice: %v, %+v", err, name)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := v.Designs(ctx, "lid", plan.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("broken off: %v", err)
	}
}

func TestDesignsWithoutAnOrder(t *testing.T) {
	v := viewOf(t, monday, `"options": [{"id": "a", "choice": "c", "chosen": true}, {"id": "b", "choice": "c"}, {"id": "d", "choice": "c"}],
		"tasks": [{"id": "quick", "hours": 1, "option": "a"}, {"id": "slow", "hours": 40, "not_after": "2026-03-03", "option": "b"},
			{"id": "done", "hours": 1, "state": "finished", "option": "d"}]`)
	got, err := v.Designs(t.Context(), "c", plan.Options{})
	if err != nil || len(got.Options) != 3 || len(got.BreakEven) != 0 {
		t.Fatalf("%+v, %v", got, err)
	}
	for i, want := range []string{"", "slow", "nothing is left"} {
		if d := got.Options[i]; !strings.Contains(d.NoOrder, want) || (d.NoOrder == "") != (d.Finish != 0) {
			t.Errorf("%s: no order because %q, finish %v", d.ID, d.NoOrder, d.Finish)
		}
	}
	text, err := build.Encode(got.Options[1])
	if err != nil || strings.Contains(string(text), `finish":`) {
		t.Errorf("a finish that is none is written: %s, %v", text, err)
	}
}

func TestBreakEven(t *testing.T) {
	design := func(name string, work int, year float64, shut ...id.Item) Design {
		return Design{ID: id.Option(name), WorkMin: work, MinutesPerYear: year, Unreachable: shut}
	}
	for _, tt := range []struct {
		name   string
		a, b   Design
		dearer id.Option
		years  *float64
	}{
		{"pays back", design("a", 160, 10), design("b", 100, 40), "a", ptr(2)},
		{"the other way round", design("a", 100, 40), design("b", 160, 10), "b", ptr(2)},
		{"never", design("a", 160, 40), design("b", 100, 10), "a", nil},
		{"saves nothing", design("a", 160, 10), design("b", 100, 10), "a", nil},
		{"as much work", design("a", 100, 40), design("b", 100, 10), "b", ptr(0)},
		{"the same", design("a", 100, 10), design("b", 100, 10), "a", ptr(0)},
		{"reaches less", design("a", 160, 10), design("b", 100, 0, "pump"), "a", nil},
	} {
		got := breakEven(tt.a, tt.b)
		if got.Dearer != tt.dearer || !cmp.Equal(got.Years, tt.years) || (got.Unequal != "") != (len(tt.b.Unreachable) > 0) {
			t.Errorf("%s: %+v, want %s after %v years", tt.name, got, tt.dearer, tt.years)
		}
	}
}
