package screen

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// Sequence shows the whole order of work: a list, and beside it a chart against the
// calendar. The zero Sequence has no data yet.
type Sequence struct {
	data   Data
	bars   []bar
	cursor int
	zoom   int // index of a scale, counted from 1; 0: the finest in which everything is seen
	shift  int // columns that the chart was scrolled
}

// bar is a row of the chart.
type bar struct {
	answer.Row
	title string
	hours *calendar.Hours // nil: not known
	parts []units.Instant // when parts come that it waits for
}

// Scope is SequenceScope.
func (s Sequence) Scope() string { return SequenceScope }

// With shows other data; the cursor stays on its task.
func (s Sequence) With(d Data) Screen {
	was := s.Focus().Task
	s.data, s.bars = d, nil
	if d.View == nil || d.Seq == nil {
		return s
	}
	cal := calendar.Compile(d.View.Live.Resources)
	for _, r := range d.Seq.Tasks {
		s.bars = append(s.bars, barOf(d, cal, r))
	}
	if i := slices.IndexFunc(s.bars, func(b bar) bool { return b.ID == was }); i >= 0 {
		s.cursor = i
	}
	s.cursor = max(0, min(s.cursor, len(s.bars)-1))
	return s
}

func barOf(d Data, cal *calendar.Calendars, r answer.Row) bar {
	t := d.task(r.ID)
	b := bar{Row: r, title: widget.Clean(t.Title())}
	var names []id.Resource
	for name := range t.Uses {
		if _, ok := d.View.Live.ResourceAt[name]; !ok {
			return b
		}
		names = append(names, name)
	}
	b.hours = cal.Of(names...)
	for _, p := range t.Parts {
		if i, ok := d.View.Live.PartAt[p]; ok && d.View.Live.Parts[i].Arrived == nil {
			b.parts = append(b.parts, d.View.Live.Parts[i].ThereFrom(d.View.Now))
		}
	}
	return b
}

// Do moves along the list and the calendar.
func (s Sequence) Do(a Action) (Screen, Effect) {
	last := len(s.bars) - 1
	switch a {
	case Up:
		s.cursor--
	case Down:
		s.cursor++
	case PageUp:
		s.cursor -= max(1, s.data.Lines/2)
	case PageDown:
		s.cursor += max(1, s.data.Lines/2)
	case First:
		s.cursor = 0
	case Last:
		s.cursor = last
	case Earlier:
		s.shift -= 8
	case Later:
		s.shift += 8
	case Finer, Coarser:
		s = s.zoomed(a)
	}
	s.cursor = max(0, min(s.cursor, last))
	return s, nil
}

// zoomed goes to the next scale; from the scale that shows everything, to the one beside it.
func (s Sequence) zoomed(a Action) Sequence {
	if len(s.bars) == 0 {
		return s
	}
	if s.zoom == 0 {
		s.zoom = s.fitting(typicalChart) + 1
	}
	if a == Finer {
		s.zoom--
	} else {
		s.zoom++
	}
	s.zoom, s.shift = max(1, min(s.zoom, len(scales()))), 0
	return s
}

// Typed has no use for letters.
func (s Sequence) Typed(widget.Key) (Screen, Effect, bool) { return s, nil, false }

// Focus is the task of the selected row.
func (s Sequence) Focus() Focus {
	if s.cursor >= len(s.bars) {
		return Focus{}
	}
	return Focus{Task: s.bars[s.cursor].ID}
}

// View draws the list with its chart, and beneath them why the selected row stands there.
func (s Sequence) View(st widget.Styles, w, h int) string {
	switch {
	case s.data.View == nil:
		return notYet(st, w, h)
	case s.data.NoSeq != "":
		return widget.Cells(strings.Join(Facts(st, w, Fact{"no order", s.data.NoSeq, widget.Bad}), "\n"), w, h)
	case s.data.Seq == nil:
		return widget.Cells(st.Dim.Render(widget.Fit("Looking for the first order of work …", w)), w, h)
	case len(s.bars) == 0:
		return widget.Cells("Nothing is left to do.", w, h)
	}
	return stacked(st, w, h, s.foot(st, w), func(w, h int) string { return s.chart(st, w, h) })
}

// foot says when the selected row is worked on, and why then.
func (s Sequence) foot(st widget.Styles, w int) []string {
	b := s.bars[s.cursor]
	when := fmt.Sprintf("%s to %s, %s of work", at(b.Start), at(b.Finish), work(b.WorkMin))
	if b.AccessMin > 0 {
		when += fmt.Sprintf(", %s of it getting in", work(b.AccessMin))
	}
	if b.CureEnd > b.Finish {
		when += ", cures until " + at(b.CureEnd)
	}
	facts := []Fact{{Label: "when", Text: when}}
	for i, why := range b.Because {
		facts = append(facts, Fact{Label: []string{"because", ""}[min(i, 1)], Text: why.Text})
	}
	if len(b.Because) == 0 {
		facts = append(facts, Fact{Label: "because", Text: "nothing holds it later"})
	}
	return Facts(st, w, append(facts, s.brokenBy(b.ID)...)...)
}

func (s Sequence) brokenBy(t id.Task) []Fact {
	var facts []Fact
	for _, x := range s.data.Seq.ShouldBroken {
		if x.Before != t && x.After != t {
			continue
		}
		text := fmt.Sprintf("%s should come before %s", s.data.task(x.Before).Title(), s.data.task(x.After).Title())
		if x.ReworkMin > 0 {
			text += ": " + work(x.ReworkMin) + " of rework"
		}
		facts = append(facts, Fact{"breaks", text, widget.Warn})
	}
	return facts
}
