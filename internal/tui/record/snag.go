package record

import (
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// snagSheet is the form of a fault that was found.
func snagSheet(b build.Build) sheet[daybook.Snag] {
	c := choicesOf(b)
	instant := func(s string) (units.Instant, error) { return units.ParseInstant(s) }
	return sheet[daybook.Snag]{
		title: func(s daybook.Snag) string { return s.What },
		slots: []slot[daybook.Snag]{
			must(text(ask("what", "What is wrong", "in your words"), func(s *daybook.Snag) *string { return &s.What })),
			idSlot(c.snagIDs, func(s *daybook.Snag) *id.Snag { return &s.ID }),
			must(typed(ask("at", "Found", "such as 2026-03-02T08:00"), func(s *daybook.Snag) *units.Instant { return &s.At },
				func(at units.Instant) string {
					if at == 0 {
						return ""
					}
					return at.String()
				}, instant)),
			pick(ask("item", "Item", "that it is about"), c.items, func(s *daybook.Snag) *id.Item { return &s.Item }),
			pick(ask("task", "Task", "that it is about"), c.tasks, func(s *daybook.Snag) *id.Task { return &s.Task }),
			pick(ask("place", "Place", "that it is in"), c.places, func(s *daybook.Snag) *id.Place { return &s.Place }),
			pick(ask("became", "Became task", "the work that mends it; the snag is closed when that is done"), c.tasks,
				func(s *daybook.Snag) *id.Task { return &s.Became }),
			perhaps(ask("closed", "Closed", "when it was mended; empty: it is open"), func(s *daybook.Snag) **units.Instant { return &s.Closed },
				units.Instant.String, instant),
		},
		live: proposing(c.snagIDs, func(f widget.Form) string { return f.Value("what") }),
	}
}

func snagEntry(s daybook.Snag) (title, sub string) {
	state := "open"
	switch {
	case s.Closed != nil:
		state = "closed"
	case s.Became != "":
		state = "became " + string(s.Became)
	}
	return s.What, words(string(s.ID), state, string(s.Item), string(s.Task), string(s.Place))
}
