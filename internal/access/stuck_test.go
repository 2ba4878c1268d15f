package access_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// Where there is no way, the answer names what stands in it, and why that cannot be passed.
func TestStuck(t *testing.T) {
	bay := func(ways ...access.Way) []access.Place { return []access.Place{{ID: "bay", Ways: ways}} }
	for _, tt := range []struct {
		name   string
		places []access.Place
		items  []access.Item
		target id.Place
		cover  id.Item // an item to be reached, instead of target
		want   []access.Stuck
	}{
		{name: "glued in", places: bay(through("", 1, "wall")), items: []access.Item{fixed("wall", "")}, target: "bay",
			want: []access.Stuck{{Item: "wall", Why: "has no opening: once fitted it stays"}}},
		{name: "both ways", places: bay(through("", 1, "wall"), through("", 2, "floor")),
			items: []access.Item{fixed("wall", ""), fixed("floor", "")}, target: "bay",
			want: []access.Stuck{{Item: "wall", Why: "has no opening: once fitted it stays"},
				{Item: "floor", Why: "has no opening: once fitted it stays"}}},
		{name: "the screws of the cover are behind it", places: bay(through("", 1, "hatch")),
			items: []access.Item{panel("hatch", "bay", 1, 1)}, target: "bay",
			want: []access.Stuck{{Item: "hatch", Why: "can only be got at once it is open itself"}}},
		{name: "behind each other", items: []access.Item{panel("a", "", 1, 1, "b"), panel("b", "", 1, 1, "a"), fixed("nut", "", "a")},
			cover: "nut", want: []access.Stuck{{Item: "a", Why: "is itself behind b"}, {Item: "b", Why: "is itself behind a"}}},
		{name: "the design took the way", places: []access.Place{{ID: "bay", Shut: true}}, target: "bay",
			want: []access.Stuck{{Place: "bay", Why: "the place has no way in left"}}},
		{name: "a way through what the design took", places: bay(through("", 1, "gone")), target: "bay",
			want: []access.Stuck{{Place: "bay", Why: "the place has no way in left"}}},
		{name: "no such place", target: "attic", want: []access.Stuck{{Place: "attic", Why: "the van has no such place"}}},
		{name: "an item in no such place", items: []access.Item{fixed("nut", "attic")}, cover: "nut",
			want: []access.Stuck{{Place: "attic", Why: "the van has no such place"}}},
		{name: "the door shuts what is behind it", places: bay(through("", 1, "door")),
			items: []access.Item{blocking(panel("door", "", 1, 1), "bay")}, target: "bay",
			want: []access.Stuck{{Item: "door", Why: "opening it shuts bay, which has to be entered"}}},
		{name: "two lids that hit each other", items: []access.Item{
			blocking(panel("lid", "", 1, 1), "flap"), panel("flap", "", 1, 1), fixed("nut", "", "lid", "flap")}, cover: "nut",
			want: []access.Stuck{{Item: "flap", Why: "is shut while lid is open, which is on every way"}}},
		{name: "every choice hits another", places: []access.Place{
			{ID: "hall", Ways: []access.Way{through("", 1, "a1"), through("", 1, "a2")}},
			{ID: "bay", Ways: []access.Way{through("hall", 1, "b1"), through("hall", 1, "b2")}}},
			items: []access.Item{blocking(panel("a1", "", 1, 1), "b1", "b2"), blocking(panel("a2", "", 1, 1), "b1", "b2"),
				panel("b1", "", 1, 1), panel("b2", "", 1, 1)}, target: "bay",
			want: []access.Stuck{{Item: "a1", Why: "opening it shuts b1, and no way does without both"},
				{Item: "a2", Why: "opening it shuts b1, and no way does without both"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := access.NewSolver(tt.places, tt.items)
			q := access.Query{Fitted: s.All()}
			if tt.cover != "" {
				q.Items = []id.Item{tt.cover}
			} else {
				q.Places = []id.Place{tt.target}
			}
			_, err := s.Plan(context.Background(), q)
			var none *access.NoWayError
			if !errors.As(err, &none) || !slices.Equal(none.Stuck, tt.want) {
				t.Errorf("Plan error = %v, want %v", err, &access.NoWayError{Stuck: tt.want})
			}
			if c, ok := s.Cost(q); ok {
				t.Errorf("Cost = %v where there is no way", c)
			}
		})
	}
}
