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
	carry  *carried
	pinned map[id.Task]bool
}

// bar is a row of the chart.
type bar struct {
	answer.Row
	title string
	hours *calendar.Hours // nil: not known
	parts []units.Instant // when parts come that it waits for
}

// Scope is CarryScope while a task is moved, else SequenceScope.
func (s Sequence) Scope() string {
	if s.carry != nil {
		return CarryScope
	}
	return SequenceScope
}

// With shows other data; the cursor stays on its task.
func (s Sequence) With(d Data) Screen {
	was, to, sameBuild := s.Focus().Task, s.to(), d.View == s.data.View
	if sameBuild && d.Seq == s.data.Seq && len(s.bars) > 0 {
		s.data = d // the rows are as they were
		return s
	}
	s.data, s.bars, s.pinned = d, nil, map[id.Task]bool{}
	if d.View == nil || d.Seq == nil {
		s.carry = nil
		return s
	}
	for _, e := range d.View.Pins() {
		s.pinned[e.Before], s.pinned[e.After] = true, true
	}
	cal := calendar.Compile(d.View.Live.Resources)
	for _, r := range d.Seq.Tasks {
		s.bars = append(s.bars, barOf(d, cal, r))
	}
	if i := slices.IndexFunc(s.bars, func(b bar) bool { return b.ID == was }); i >= 0 {
		s.cursor = i
	}
	s.cursor = max(0, min(s.cursor, len(s.bars)-1))
	if s.carry != nil {
		return s.carryOn(to, sameBuild)
	}
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

// Do moves along the list and the calendar, and begins what is done with the selected task.
func (s Sequence) Do(a Action) (Screen, Effect) {
	if s.carry != nil {
		return s.doCarry(a)
	}
	switch a {
	case Earlier:
		s.shift -= 8
	case Later:
		s.shift += 8
	case Finer, Coarser:
		s = s.zoomed(a)
	case Carry:
		s = s.pickUp()
	case TogglePin, AskLate:
		return s, s.about(a)
	case SeeForecast:
		return s, ShowForecast{}
	case SeeIdle:
		return s, ShowIdle{}
	}
	s.cursor = s.moved(a)
	return s, nil
}

// moved gives where the cursor is after an action.
func (s Sequence) moved(a Action) int {
	to := s.cursor
	switch a {
	case Up:
		to--
	case Down:
		to++
	case PageUp:
		to -= max(1, s.data.Lines/2)
	case PageDown:
		to += max(1, s.data.Lines/2)
	case First:
		to = 0
	case Last:
		to = len(s.bars) - 1
	}
	return max(0, min(to, len(s.bars)-1))
}

// about gives what is wanted of the selected task.
func (s Sequence) about(a Action) Effect {
	t := s.Focus().Task
	switch {
	case t == "":
		return nil
	case a == TogglePin && s.pinned[t]:
		return UnpinTask{Task: t}
	case a == TogglePin:
		return PinTask{Task: t, Seq: s.data.Seq}
	}
	var late []id.Part
	for _, p := range s.data.task(t).Parts {
		if i, ok := s.data.View.Live.PartAt[p]; ok && s.data.View.Live.Parts[i].Arrived == nil {
			late = append(late, p)
		}
	}
	if len(late) == 0 {
		return Refuse{Text: s.data.task(t).Title() + " waits for no part. On the Parts any part can be asked about."}
	}
	return ShowLate{Parts: late}
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
	if s.carry != nil {
		return Focus{Task: s.carry.task}
	}
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
	chart := func(w, h int) string { return s.chart(st, w, h) }
	if s.carry != nil {
		return stackedTo(st, w, h, h/2, s.carryFoot(st, w), chart)
	}
	return stacked(st, w, h, s.foot(st, w), chart)
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
	facts = append(facts, s.brokenBy(b.ID)...)
	facts = append(facts, s.pins(b.ID)...)
	if b.SlackMin > 0 {
		facts = append(facts, Fact{Label: "float", Text: work(b.SlackMin) + " more work before the finish moves"})
	}
	return Facts(st, w, append(facts, s.idleBefore(b)...)...)
}

// pins names the pins of a task.
func (s Sequence) pins(t id.Task) []Fact {
	var facts []Fact
	if !s.pinned[t] {
		return nil
	}
	for _, e := range s.data.View.Pins() {
		if e.Before == t || e.After == t {
			facts = append(facts, Fact{Label: []string{"pinned", ""}[min(len(facts), 1)], Text: s.data.pinWords(e)})
		}
	}
	return facts
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
