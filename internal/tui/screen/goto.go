package screen

import (
	"slices"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
)

// Shows reports whether a task is in the order of work that the Sequence shows.
func (s Sequence) Shows(t id.Task) bool {
	return slices.ContainsFunc(s.bars, func(b bar) bool { return b.ID == t })
}

// On gives the Sequence with the cursor on a task, where it shows it.
func (s Sequence) On(t id.Task) Sequence {
	if i := slices.IndexFunc(s.bars, func(b bar) bool { return b.ID == t }); i >= 0 && s.carry == nil {
		s.cursor = i
	}
	return s
}

// On gives the Daybook, unfiltered, with the cursor on an entry.
func (b Daybook) On(k build.Key) Daybook {
	b.filter.Words, b.filter.Task, b.filter.Place, b.filter.Item, b.filter.From, b.filter.To = "", "", "", "", nil, nil
	b = b.With(b.data).(Daybook)
	b.list = b.list.On(rowID(k))
	return b
}

// On gives the Parts with the cursor on a part.
func (s Parts) On(p id.Part) Parts {
	s.late = nil
	s.list = s.list.On(string(p))
	return s
}

// To gives Reach asking for the way to an item or a place, and the question.
func (r Reach) To(name string) (Screen, Effect) { return r.forget().ask([]string{name}) }
