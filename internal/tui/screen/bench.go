package screen

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// Bench answers: what now? What can be worked on stands in the order of the plan, grouped by
// place; beneath it what waits, and for what. The zero Bench has no data yet.
type Bench struct {
	data Data
	list widget.List
	can  map[id.Task]int // position in Today.Can
	wait map[id.Task]int // position in Today.Cannot
	hand answer.TodayOptions
}

// Scope is BenchScope.
func (b Bench) Scope() string { return BenchScope }

// With shows other data.
func (b Bench) With(d Data) Screen {
	b.data = d
	if d.View == nil || d.Today == nil {
		return b
	}
	b.can, b.wait = map[id.Task]int{}, map[id.Task]int{}
	for i, c := range d.Today.Can {
		b.can[c.ID] = i
	}
	for i, c := range d.Today.Cannot {
		b.wait[c.ID] = i
	}
	b.list = b.list.WithRows(b.rows()).Sized(d.Lines)
	return b
}

func (b Bench) rows() []widget.Row {
	today := b.data.Today
	if b.hand.Hours > 0 {
		return b.fitting()
	}
	var places []id.Place
	byPlace := map[id.Place][]widget.Row{}
	for _, c := range today.Can {
		if !slices.Contains(places, c.Place) {
			places = append(places, c.Place)
		}
		byPlace[c.Place] = append(byPlace[c.Place], b.workable(c))
	}
	var rows []widget.Row
	for _, p := range places {
		rows = append(rows, widget.Row{Head: true, Text: "Workable: " + b.placeTitle(p)})
		rows = append(rows, byPlace[p]...)
	}
	if len(today.Cannot) > 0 {
		rows = append(rows, widget.Row{Head: true, Text: fmt.Sprintf("Waiting, until when and for what (%d)", len(today.Cannot))})
	}
	for _, c := range today.Cannot {
		rows = append(rows, b.waiting(c))
	}
	return rows
}

func (b Bench) placeTitle(p id.Place) string {
	if p == "" {
		return "anywhere"
	}
	return b.data.thing(string(p))
}

func (b Bench) workable(c answer.Can) widget.Row {
	row := widget.Row{ID: string(c.ID), Text: b.data.task(c.ID).Title(), Note: work(c.LeftMin) + " left"}
	if b.data.running(c.ID) {
		row.Text, row.Tone = "[clock] "+row.Text, widget.Good
	}
	if c.AccessMin > 0 {
		row.Note += ", in " + minutesOf(c.AccessMin)
	}
	if len(c.ClosesIn) > 0 {
		row.Note, row.Tone = row.Note+", closes in "+extra(c.ClosesIn), widget.Warn
	}
	if n := len(c.OwedFirst); n > 0 {
		row.Note, row.Tone = row.Note+", "+count(n, "proof")+" first", widget.Bad
	}
	return row
}

// extra says how many minutes the things that are closed in will cost more.
func extra(closed []answer.Closed) string {
	sum := 0.0
	for _, c := range closed {
		if c.ExtraMin == nil {
			return count(len(closed), "thing") + " for good"
		}
		sum += *c.ExtraMin
	}
	return minutesOf(sum)
}

func (b Bench) waiting(c answer.Cannot) widget.Row {
	row := widget.Row{ID: string(c.ID), Text: b.data.task(c.ID).Title(), Tone: widget.Quiet}
	if len(c.WaitsFor) == 0 {
		return row
	}
	last := lastOf(c.WaitsFor)
	row.Note = last.Text
	if last.Until != nil {
		row.Note = last.Until.Format("2 Jan") + ": " + row.Note
	}
	if n := len(c.WaitsFor) - 1; n > 0 {
		row.Note += fmt.Sprintf(" and %d more", n)
	}
	return row
}

// lastOf gives the wait that is over last: one of which that is not known, or the latest.
func lastOf(waits []answer.WaitsFor) answer.WaitsFor {
	last := waits[0]
	for _, w := range waits[1:] {
		if last.Until != nil && (w.Until == nil || *w.Until > *last.Until) {
			last = w
		}
	}
	return last
}

// Do moves, or asks for something to be done with the selected task.
func (b Bench) Do(a Action) (Screen, Effect) {
	if k, ok := movement(a); ok {
		b.list, _ = b.list.Key(k)
		return b, nil
	}
	t := b.Focus().Task
	switch {
	case a == HoursAtHand || a == HelperHere:
		return b.atHand(a), AskToday{}
	case a == CountTrip:
		return b, CountOne{}
	case t == "":
		return b, nil
	case a == ToggleClock && b.data.running(t):
		return b, StopClock{}
	case a == ToggleClock:
		return b, StartClock{Task: t}
	case a == WriteEntry:
		return b, OpenEntry{Task: t}
	case a == WriteNote || a == TakePhoto || a == TakeReading:
		return b, b.data.capture(a, t)
	case a == FinishTask:
		return b, Finish{Task: t}
	}
	return b, nil
}

// Typed has no use for letters.
func (b Bench) Typed(widget.Key) (Screen, Effect, bool) { return b, nil, false }

// Focus is the selected task.
func (b Bench) Focus() Focus {
	row, ok := b.list.Selected()
	if !ok {
		return Focus{}
	}
	return Focus{Task: id.Task(row.ID)}
}

// View draws the list, and beneath it what there is to know of the selected task.
func (b Bench) View(st widget.Styles, w, h int) string {
	switch {
	case b.data.View == nil:
		return notYet(st, w, h)
	case b.data.Today == nil:
		return widget.Cells(st.Dim.Render(widget.Fit("Working out what can be done now …", w)), w, h)
	case len(b.can)+len(b.wait) == 0:
		return widget.Cells(strings.Join(widget.Wrap(b.emptyText(), w), "\n"), w, h)
	}
	list := func(w, h int) string { return b.list.View(st, w, h) }
	if head := b.handText(); head != "" && h > 8 {
		return widget.Cells(st.Strong.Render(widget.Fit(head, w))+"\n"+stacked(st, w, h-1, b.foot(st, w), list), w, h)
	}
	return stacked(st, w, h, b.foot(st, w), list)
}

func (b Bench) emptyText() string {
	if len(b.data.View.Live.Tasks) == 0 {
		return "There are no tasks yet. Press e to make the first one."
	}
	return "Every task is done."
}

func (b Bench) foot(st widget.Styles, w int) []string {
	t := b.Focus().Task
	if i, ok := b.can[t]; ok {
		return b.canFoot(st, w, b.data.Today.Can[i])
	}
	i, ok := b.wait[t]
	if !ok {
		return nil
	}
	var facts []Fact
	for n, wait := range b.data.Today.Cannot[i].WaitsFor {
		text := wait.Text
		if wait.Until != nil && wait.Kind != "resource" {
			text += ", until " + at(*wait.Until)
		}
		facts = append(facts, Fact{Label: []string{"waits for", ""}[min(n, 1)], Text: text, Tone: widget.Warn})
	}
	return Facts(st, w, facts...)
}

func (b Bench) canFoot(st widget.Styles, w int, c answer.Can) []string {
	facts := []Fact{
		{Label: "here because", Text: c.Because},
		{Label: "tools", Text: strings.Join(c.Tools, ", ")},
	}
	for i, o := range c.OwedFirst {
		facts = append(facts, Fact{Label: []string{"prove first", ""}[min(i, 1)], Text: b.data.owed(o), Tone: widget.Bad})
	}
	for i, x := range c.ClosesIn {
		facts = append(facts, Fact{Label: []string{"closes in", ""}[min(i, 1)], Text: b.data.closes(x), Tone: widget.Warn})
	}
	return Facts(st, w, facts...)
}
