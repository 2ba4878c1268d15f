package screen

import (
	"cmp"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/widget"
)

// Daybook shows what was done, the newest first. The zero Daybook has no data yet.
type Daybook struct {
	data   Data
	list   widget.List
	filter answer.DayFilter
	made   madeOf
	number int // entries that are shown
	sum    int // their minutes
}

// madeOf says what rows were made of: tens of thousands are not made anew for nothing.
type madeOf struct {
	view          *answer.View
	ahead, buried uintptr
	filter        answer.DayFilter
}

func rowsOf(d Data, f answer.DayFilter) madeOf {
	return madeOf{d.View, reflect.ValueOf(d.Ahead).Pointer(), reflect.ValueOf(d.Buried).Pointer(), f}
}

// Scope is DaybookScope.
func (b Daybook) Scope() string { return DaybookScope }

// With shows other data. Who looked at the newest entry looks at the newest again.
func (b Daybook) With(d Data) Screen {
	if d.View == nil {
		b.data = d
		return b
	}
	newest, made := b.onNewest(), rowsOf(d, b.filter)
	b.data = d
	if b.made != made {
		b.made = made
		b = b.withRows()
	}
	b.list = b.list.Sized(d.Lines)
	if newest {
		b.list, _ = b.list.Key(widget.Key{Name: "home"})
	}
	return b
}

func (b Daybook) onNewest() bool {
	row, ok := b.list.Selected()
	if !ok {
		return true
	}
	shown := b.shown()
	return len(shown) > 0 && row.ID == rowID(shown[len(shown)-1].Number)
}

func rowID(k build.Key) string { return strconv.FormatUint(uint64(k), 10) }

// shown gives the entries that the filter wants, oldest first. A filter that names what is
// no longer there wants none.
func (b Daybook) shown() []answer.DayRow {
	rows, err := b.data.View.Daybook(b.filter)
	if err != nil {
		return nil
	}
	return rows
}

// withRows lists the entries under their days, the newest first.
func (b Daybook) withRows() Daybook {
	days := b.shown()
	var rows []widget.Row
	b.number, b.sum = len(days), 0
	for i := len(days) - 1; i >= 0; {
		first := i
		for first >= 0 && days[first].At.Date() == days[i].At.Date() {
			first--
		}
		rows = append(rows, dayHead(days[first+1:i+1]))
		for ; i > first; i-- {
			rows = append(rows, b.row(days[i].Number, days[i].Entry))
			b.sum += days[i].Minutes
		}
	}
	b.list = b.list.WithRows(rows)
	return b
}

// dayHead is the line over the entries of one day.
func dayHead(of []answer.DayRow) widget.Row {
	sum := 0
	for _, e := range of {
		sum += e.Minutes
	}
	return widget.Row{Head: true, Text: fmt.Sprintf("%s   %s, %s", day(of[0].At.Date()), work(sum), entries(len(of)))}
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

func (b Daybook) row(k build.Key, e daybook.Entry) widget.Row {
	row := widget.Row{ID: rowID(k)}
	row.Text = e.At.Format("15:04") + "  " + b.data.task(e.Task).Title()
	if e.Note != "" {
		row.Text += ": " + e.Note
	}
	notes := []string{work(e.Minutes)}
	if e.Visits > 0 {
		notes = append(notes, trips(e.Visits))
	}
	if n := len(e.Photos); n > 0 {
		notes = append(notes, count(n, "photo"))
	}
	if n := len(e.Readings); n > 0 {
		notes = append(notes, count(n, "reading"))
	}
	if e.Finished {
		notes, row.Tone = append(notes, "finished"), widget.Good
	}
	if len(b.data.Ahead[k]) > 0 {
		notes, row.Tone = append(notes, "ahead"), widget.Warn
	}
	if len(b.data.Buried[k]) > 0 {
		notes, row.Tone = append(notes, "buried unproven"), widget.Bad
	}
	row.Note = strings.Join(notes, ", ")
	return row
}

func trips(n int) string { return count(n, "trip") + " in" }

// entry gives the selected entry.
func (b Daybook) entry() (build.Key, daybook.Entry, bool) {
	row, ok := b.list.Selected()
	if !ok {
		return 0, daybook.Entry{}, false
	}
	k, err := strconv.ParseUint(row.ID, 10, 64)
	if err != nil {
		return 0, daybook.Entry{}, false
	}
	e, ok := b.data.View.Build.Days.ByKey(build.Key(k))
	return build.Key(k), e, ok
}

// Do moves, or asks for another entry for the same task.
func (b Daybook) Do(a Action) (Screen, Effect) {
	if k, ok := movement(a); ok {
		b.list, _ = b.list.Key(k)
		return b, nil
	}
	if b.data.View == nil {
		return b, nil
	}
	k, e, ok := b.entry()
	switch {
	case a == FilterEntries:
		return b, OpenFilter{b.filter}
	case a == Back && !b.filter.All():
		return b.Filtered(answer.DayFilter{}), nil
	case a == CountTrip:
		return b, CountOne{}
	case a == ToggleClock && b.data.View.Build.Clock != nil:
		return b, StopClock{}
	case !ok:
		return b, nil
	case a == ToggleClock:
		return b, StartClock{Task: e.Task}
	case a == WriteEntry:
		return b, OpenEntry{Task: e.Task}
	case a == WriteNote || a == TakePhoto || a == TakeReading:
		return b, b.data.capture(a, e.Task)
	case a == CorrectEntry:
		return b, OpenCorrection{Key: k, Base: e}
	case a == SplitEntry:
		return b, OpenSplit{Key: k, Base: e}
	case a == StrikeEntry:
		return b, AskStrike{Key: k, Base: e}
	}
	return b, nil
}

// capture asks for a note, a photo or a reading: for the task that the clock runs on, else
// for the one under the cursor.
func (d Data) capture(a Action, t id.Task) Effect {
	if c := d.View.Build.Clock; c != nil {
		t = c.Task
	}
	switch a {
	case WriteNote:
		return OpenNote{Task: t}
	case TakePhoto:
		return AddPhoto{Task: t}
	}
	return OpenReading{Task: t}
}

// Filtered gives the daybook with only the entries that a filter wants.
func (b Daybook) Filtered(f answer.DayFilter) Daybook {
	b.filter = f
	return b.With(b.data).(Daybook)
}

// Typed has no use for letters.
func (b Daybook) Typed(widget.Key) (Screen, Effect, bool) { return b, nil, false }

// Focus is the task of the selected entry.
func (b Daybook) Focus() Focus {
	if b.data.View == nil {
		return Focus{}
	}
	_, e, _ := b.entry()
	return Focus{Task: e.Task}
}

// View draws the entries by day, and beneath them all there is of the selected one.
func (b Daybook) View(st widget.Styles, w, h int) string {
	switch {
	case b.data.View == nil:
		return notYet(st, w, h)
	case !b.filter.All() && b.number == 0 && h > 8:
		return widget.Cells(strings.Join(widget.Wrap(b.filterWords(), w), "\n"), w, h)
	case b.data.View.Build.Days.Len() == 0:
		return widget.Cells(strings.Join(widget.Wrap("Nothing is logged yet. On the Bench, s starts the clock on a task and l writes an entry.", w), "\n"), w, h)
	}
	list := func(w, h int) string { return b.list.View(st, w, h) }
	if words := b.filterWords(); words != "" && h > 8 {
		return st.Strong.Render(widget.Fit(words, w)) + "\n" + stacked(st, w, h-1, b.foot(st, w), list)
	}
	return stacked(st, w, h, b.foot(st, w), list)
}

// filterWords says which entries are shown; empty for all.
func (b Daybook) filterWords() string {
	f := b.filter
	if f.All() {
		return ""
	}
	var of []string
	if f.Task != "" {
		of = append(of, b.data.task(f.Task).Title())
	}
	if f.Place != "" {
		of = append(of, b.data.thing(string(f.Place)))
	}
	if f.Item != "" {
		of = append(of, b.data.thing(string(f.Item)))
	}
	if f.From != nil {
		of = append(of, "from "+day(*f.From))
	}
	if f.To != nil {
		of = append(of, "to "+day(*f.To))
	}
	if f.Words != "" {
		of = append(of, strconv.Quote(f.Words))
	}
	return fmt.Sprintf("Only %s: %s, %s. Esc shows all.", strings.Join(of, ", "), entries(b.number), work(b.sum))
}

func (b Daybook) foot(st widget.Styles, w int) []string {
	k, e, ok := b.entry()
	if !ok {
		return nil
	}
	t := b.data.task(e.Task)
	facts := []Fact{{Label: "entry", Text: entryText(t, e)}, {Label: "note", Text: e.Note}}
	for _, a := range b.data.Ahead[k] {
		text := a.Text
		if a.CostMin > 0 {
			text += ", may cost " + work(a.CostMin)
		}
		facts = append(facts, Fact{"ahead of turn", text, widget.Warn})
	}
	for _, o := range b.data.Buried[k] {
		facts = append(facts, Fact{"buried unproven", b.data.owed(o), widget.Bad})
	}
	facts = append(facts, Fact{Label: "photos", Text: strings.Join(e.Photos, ", ")})
	for _, r := range e.Readings {
		facts = append(facts, Fact{Label: "reading", Text: readingText(t, r)})
	}
	return Facts(st, w, facts...)
}

func entryText(t tasks.Task, e daybook.Entry) string {
	text := fmt.Sprintf("%s, %s to %s", t.Title(), e.At.Format("15:04"), e.End().Format("15:04"))
	if e.Visits > 0 {
		text += ", " + trips(e.Visits)
	}
	if e.Finished {
		text += ", finished"
	}
	return text
}

func readingText(t tasks.Task, r daybook.Reading) string {
	c, _ := t.Check(r.Check)
	text := cmp.Or(c.What, string(r.Check)) + ": " + r.Value
	if c.Want != "" {
		text += " (wanted: " + c.Want + ")"
	}
	for _, how := range []string{r.Condition, r.Tool, r.Source} {
		if how != "" {
			text += ", " + how
		}
	}
	if r.WitnessMark {
		text += ", marked"
	}
	return text
}
