package screen

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// lateness is the question what to do when parts come on other days than was thought.
type lateness struct {
	delays  []answer.Delay
	on      int          // the part whose day is dialled
	found   *answer.Late // nil: not known yet
	first   bool         // found is a first look, a closer one follows
	trouble string
	top     int // of what is closed in
}

// of keeps what is still to come in a build; nil where nothing is.
func (l *lateness) of(v *answer.View) *lateness {
	next := *l
	next.delays = slices.DeleteFunc(slices.Clone(l.delays), func(d answer.Delay) bool {
		i, ok := v.Live.PartAt[d.Part]
		return !ok || v.Live.Parts[i].Arrived != nil
	})
	if len(next.delays) == 0 {
		return nil
	}
	next.on, next.found = min(l.on, len(next.delays)-1), nil
	return &next
}

// Late asks what to do when these parts come a week later than they are due.
func (s Parts) Late(late []id.Part) (Screen, Effect) {
	l := &lateness{}
	for _, p := range late {
		part := s.data.part(p)
		if part.Arrived != nil {
			return s, Refuse{Text: part.Title() + " has arrived already."}
		}
		due := max(part.ThereFrom(s.data.View.Now).Date()-1, s.data.View.Now.Date())
		l.delays = append(l.delays, answer.Delay{Part: p, Until: due + 7})
	}
	if len(l.delays) == 0 {
		return s, nil
	}
	s.late = l
	return s, s.Again()
}

// Again asks once more for what is shown; nil where nothing is.
func (s Parts) Again() Effect {
	if s.late == nil {
		return nil
	}
	return FindLate{Delays: s.late.delays}
}

// Found takes the answer to a FindLate, or why there is none; first where a closer look
// follows. An answer to something else than was asked last is left alone.
func (s Parts) Found(asked FindLate, found answer.Late, first bool, err error) Parts {
	if s.late == nil || !reflect.DeepEqual(asked.Delays, s.late.delays) {
		return s
	}
	l := *s.late
	l.found, l.first, l.trouble = &found, first, ""
	if err != nil {
		l.found, l.trouble = nil, err.Error()
	}
	s.late = &l
	return s
}

// doLate dials the day, writes it to the part, takes the part in, or goes back to the list.
func (s Parts) doLate(a Action) (Screen, Effect) {
	l := *s.late
	if days := dialled(a); days != 0 {
		l.delays = slices.Clone(l.delays)
		l.delays[l.on].Until = max(l.delays[l.on].Until+days, s.data.View.Now.Date())
		l.found, l.first, l.trouble, l.top = nil, false, "", 0
		s.late = &l
		return s, s.Again()
	}
	switch a {
	case Back:
		s.late = nil
		return s, FindLate{}
	case WriteDue:
		return s, SaveDue{Part: l.delays[l.on].Part, Due: l.delays[l.on].Until}
	case GoodsIn:
		return s, s.takeIn(l.delays[l.on].Part)
	case Up, Down:
		if len(l.delays) > 1 {
			l.on = max(0, min(l.on+map[Action]int{Up: -1, Down: 1}[a], len(l.delays)-1))
			s.late = &l
			return s, nil
		}
	}
	l.top = scrolled(l.top, a, s.data.Lines, max(1, len(s.closings())))
	s.late = &l
	return s, nil
}

// lateView draws the days over the three things to do, side by side.
func (s Parts) lateView(st widget.Styles, w, h int) string {
	l := s.late
	lines := []string{st.Strong.Render(widget.Fit("What if it comes on …", w))}
	for i, d := range l.delays {
		lines = append(lines, s.dialLine(st, w, i, d))
	}
	switch {
	case l.trouble != "":
		lines = append(lines, Facts(st, w, Fact{"no answer", l.trouble, widget.Bad})...)
	case l.found == nil:
		lines = append(lines, "", st.Dim.Render(widget.Fit("Planning it three times: hold, carry on, carry on with nothing buried …", w)))
	default:
		lines = append(append(lines, ""), s.choices(st, w)...)
		lines = append(lines, "")
		lines = append(lines, scrolledFacts(st, w, max(0, h-len(lines)), s.closings(), l.top)...)
	}
	return widget.Cells(strings.Join(lines, "\n"), w, h)
}

// dialLine shows the day of one part.
func (s Parts) dialLine(st widget.Styles, w, i int, d answer.Delay) string {
	mark, arrows := "  ", "   "+day(d.Until)
	if i == s.late.on {
		mark, arrows = "> ", " < "+day(d.Until)+" >"
	}
	part := s.data.part(d.Part)
	was := ""
	if due, known := part.DueDate(); known {
		was = ", was due " + due.Format("2 Jan")
	}
	room := max(8, w-len(arrows)-len(was)-len(mark))
	title := widget.Clean(part.Title())
	line := widget.Fit(mark+widget.Fit(title, min(room, max(8, len([]rune(title)))))+arrows+was, w)
	if i == s.late.on {
		return st.Selected.Render(line)
	}
	return line
}

// choices draws the three things to do side by side.
func (s Parts) choices(st widget.Styles, w int) []string {
	l := s.late.found
	rows := []figure{{label: ""}, {label: "finish"}, {label: "than planned"}, {label: "hours"}, {label: "of it access"}, {label: "trips in"},
		{label: "closes in"}, {label: "cannot help"}}
	for _, c := range l.Choices {
		cells := choiceCells(c, l.Present)
		if s.late.first && c.NoOrder == "" {
			cells[1] = "…" // not yet that of the plan
		}
		for i, text := range cells {
			rows[i].cells = append(rows[i].cells, text)
		}
	}
	label := min(13, w/4)
	cw := max(4, min(30, (w-label)/max(1, len(l.Choices))))
	var lines []string
	for _, r := range rows {
		lines = append(lines, r.lines(st, label, cw)...)
	}
	return lines
}

// choiceCells gives the column of a choice; present is the plan with the parts in time.
func choiceCells(c, present answer.LateChoice) []string {
	if c.NoOrder != "" {
		return []string{c.Name, "no order: " + c.NoOrder, "-", "-", "-", "-", "-", "-"}
	}
	later := "no later"
	switch d := int(c.Finish - present.Finish); {
	case d > 0:
		later = clockSpan(d) + " later"
	case d < 0:
		later = clockSpan(-d) + " sooner"
	}
	return []string{c.Name, c.Finish.Format("2 Jan 2006"), later, work(c.WorkMin), work(c.AccessMin),
		fmt.Sprint(c.Visits), buriedText(c, false), buriedText(c, true)}
}

// buriedText sums up the waiting work that a choice closes in: what it need not, or what it must.
func buriedText(c answer.LateChoice, must bool) string {
	n, more := c.Buries(must)
	if n == 0 {
		return "nothing"
	}
	return fmt.Sprintf("%s, %s more", count(n, "task"), timeOf(more))
}

// closings says what waits, and by name what each choice buries and need not.
func (s Parts) closings() []Fact {
	l := s.late.found
	if l == nil {
		return nil
	}
	facts := []Fact{{Label: "waiting", Text: fmt.Sprintf("%d of %d open tasks: %s", len(l.Waiting), len(l.Present.Sequence.Tasks),
		s.data.titles(l.Waiting, 3))}}
	if s.late.first {
		facts = append(facts, Fact{Text: "A first look; looking closer …", Tone: widget.Quiet})
	}
	for _, c := range l.Choices {
		for _, b := range c.Closes {
			if !b.Unavoidable {
				facts = append(facts, Fact{c.Name, "closes in " + s.data.closes(b.Closed) + ", behind " + s.items(b.By), widget.Warn})
			}
		}
	}
	return facts
}

func (s Parts) items(names []id.Item) string {
	var out []string
	for _, x := range names {
		out = append(out, s.data.thing(string(x)))
	}
	return strings.Join(out, ", ")
}
