package screen

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// Parts shows what is bought: how it stands, by when it must be ordered, what it holds up;
// and what to do when some of it comes late. The zero Parts has no data yet.
type Parts struct {
	data   Data
	list   widget.List
	marked []id.Part
	late   *lateness // nil: a part is being picked
}

// Scope is LateScope where parts come late, else PartsScope.
func (s Parts) Scope() string {
	if s.late != nil {
		return LateScope
	}
	return PartsScope
}

// With shows other data. What to do with parts late is asked for anew with Again.
func (s Parts) With(d Data) Screen {
	other := d.View != s.data.View
	s.data = d
	if d.View == nil {
		return s
	}
	s.list = s.list.WithRows(s.rows()).Sized(d.Lines)
	if s.list.Typed() == "" {
		s.list = s.list.Searched()
	}
	if s.late != nil && other {
		s.late = s.late.of(d.View)
	}
	return s
}

// rows gives the parts by how they stand, those that must be ordered soonest first.
func (s Parts) rows() []widget.Row {
	var rows []widget.Row
	for _, g := range []struct {
		state answer.PartState
		head  string
	}{{answer.LatePart, "Late"}, {answer.NotOrdered, "Not ordered, by when they must be"}, {answer.Ordered, "Ordered"}, {answer.Arrived, "Arrived"}} {
		var in []answer.PartRow
		for _, r := range s.data.Parts {
			if _, live := s.data.View.Live.PartAt[r.ID]; live && r.State == g.state {
				in = append(in, r)
			}
		}
		if len(in) == 0 {
			continue
		}
		slices.SortStableFunc(in, func(a, b answer.PartRow) int { return int(urgency(a) - urgency(b)) })
		rows = append(rows, widget.Row{Head: true, Text: fmt.Sprintf("%s (%d)", g.head, len(in))})
		for _, r := range in {
			rows = append(rows, s.row(r))
		}
	}
	return rows
}

// urgency gives the day on which a part must be ordered; one that nobody waits for comes last.
func urgency(r answer.PartRow) units.Date {
	if r.OrderBy == nil {
		return 1 << 30
	}
	return *r.OrderBy
}

func (s Parts) row(r answer.PartRow) widget.Row {
	row := widget.Row{ID: string(r.ID), Text: "    " + s.data.part(r.ID).Title(), Tone: widget.Quiet}
	if slices.Contains(s.marked, r.ID) {
		row.Text = "[x] " + s.data.part(r.ID).Title()
	}
	var notes []string
	switch {
	case r.State == answer.Arrived:
		row.Note = "arrived"
		return row
	case r.State == answer.NotOrdered && r.OrderBy != nil:
		notes = append(notes, "order by "+r.OrderBy.Format("2 Jan"))
	case r.Due != nil:
		notes = append(notes, string(r.State)+", due "+r.Due.Format("2 Jan"))
	default:
		notes = append(notes, string(r.State))
	}
	if r.SlackDays != nil && *r.SlackDays < 0 {
		notes, row.Tone = append(notes, fmt.Sprintf("%d days too late", -*r.SlackDays)), widget.Bad
	}
	if n := len(r.HoldsUp.Tasks); n > 0 {
		notes = append(notes, "holds up "+count(n, "task"))
	}
	if r.State == answer.LatePart {
		row.Tone = widget.Bad
	}
	row.Note = strings.Join(notes, ", ")
	return row
}

// part gives a part by name; one that is not in the design now has only its name.
func (d Data) part(p id.Part) parts.Part {
	if i, ok := d.View.Live.PartAt[p]; ok {
		return d.View.Live.Parts[i]
	}
	return parts.Part{ID: p}
}

// Do moves, takes parts, and asks what if they come late.
func (s Parts) Do(a Action) (Screen, Effect) {
	switch {
	case s.data.View == nil:
		return s, nil
	case s.late != nil:
		return s.doLate(a)
	}
	if k, ok := movement(a); ok {
		s.list, _ = s.list.Key(k)
		return s, nil
	}
	row, ok := s.list.Selected()
	part := id.Part(row.ID)
	switch {
	case a == Back:
		return s.forget(), nil
	case !ok:
		return s, nil
	case a == Mark:
		return s.mark(part), nil
	case a == GoodsIn:
		return s, s.takeIn(part)
	case a == Enter && len(s.marked) > 0:
		return s.Late(s.marked)
	case a == Enter:
		return s.Late([]id.Part{part})
	}
	return s, nil
}

// forget empties the search; where nothing was typed, the marks.
func (s Parts) forget() Parts {
	if s.list.Typed() != "" {
		s.list, _ = s.list.Key(widget.Key{Name: "esc"})
		return s
	}
	s.marked = nil
	s.list = s.list.WithRows(s.rows())
	return s
}

func (s Parts) mark(p id.Part) Parts {
	if slices.Contains(s.marked, p) {
		s.marked = slices.DeleteFunc(slices.Clone(s.marked), func(x id.Part) bool { return x == p })
	} else {
		s.marked = append(slices.Clone(s.marked), p)
	}
	s.list = s.list.WithRows(s.rows())
	return s
}

func (s Parts) takeIn(p id.Part) Effect {
	if s.data.part(p).Arrived != nil {
		return Refuse{Text: s.data.part(p).Title() + " has arrived already."}
	}
	return TakeIn{Part: p}
}

// Typed takes letters while a part is picked: they search.
func (s Parts) Typed(k widget.Key) (Screen, Effect, bool) {
	if s.late != nil || !searches(k, s.list.Typed()) {
		return s, nil, false
	}
	list, out := s.list.Key(k)
	s.list = list
	return s, nil, out != widget.Unused
}

// Focus is the part, and the first task that waits for it.
func (s Parts) Focus() Focus {
	row, ok := s.list.Selected()
	part := id.Part(row.ID)
	if s.late != nil {
		part, ok = s.late.delays[s.late.on].Part, true
	}
	if !ok {
		return Focus{}
	}
	f := Focus{Part: part}
	if r := s.known(part); r != nil && len(r.HoldsUp.Tasks) > 0 {
		f.Task = r.HoldsUp.Tasks[0]
	}
	return f
}

// known gives what is known of a part; nil: nothing.
func (s Parts) known(p id.Part) *answer.PartRow {
	for i := range s.data.Parts {
		if s.data.Parts[i].ID == p {
			return &s.data.Parts[i]
		}
	}
	return nil
}

// View draws the list, and beneath it what there is to know of the part; or what to do when
// parts come late.
func (s Parts) View(st widget.Styles, w, h int) string {
	switch {
	case s.data.View == nil:
		return notYet(st, w, h)
	case s.late != nil:
		return s.lateView(st, w, h)
	case len(s.data.View.Live.Parts) == 0:
		return widget.Cells(strings.Join(widget.Wrap("There are no parts yet. Press 1, then e, and take \"part\" to make one.", w), "\n"), w, h)
	case s.data.Parts == nil:
		return widget.Cells(st.Dim.Render(widget.Fit("Working out by when parts are needed …", w)), w, h)
	}
	return stacked(st, w, h, s.foot(st, w), func(w, h int) string { return s.list.View(st, w, h) })
}

func (s Parts) foot(st widget.Styles, w int) []string {
	row, ok := s.list.Selected()
	r := s.known(id.Part(row.ID))
	if !ok || r == nil {
		return nil
	}
	p := s.data.part(r.ID)
	state := Fact{Label: "state", Text: string(r.State)}
	switch {
	case p.Arrived != nil:
		state.Text += " " + day(p.Arrived.At.Date())
	case r.Due != nil:
		state.Text += ", due " + day(*r.Due)
	default:
		state.Text += fmt.Sprintf(", takes about %.4g days", p.LeadDays.Likely)
	}
	facts := []Fact{state, s.needed(r), s.orderBy(r), s.slack(r)}
	if n := len(r.HoldsUp.Tasks); n > 0 && p.Arrived == nil {
		facts = append(facts, Fact{Label: "holds up", Text: fmt.Sprintf("%s, %s of work; %s of all work can go on: %s",
			count(n, "task"), work(int(r.HoldsUp.Hours*60+0.5)), percent(r.HoldsUp.WorkableShare), s.data.titles(r.HoldsUp.Tasks, 4))})
	}
	return Facts(st, w, facts...)
}

// titles names the first tasks of several.
func (d Data) titles(names []id.Task, most int) string {
	var out []string
	for _, t := range names[:min(most, len(names))] {
		out = append(out, d.task(t).Title())
	}
	text := strings.Join(out, ", ")
	if more := len(names) - most; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

func (s Parts) needed(r *answer.PartRow) Fact {
	if r.NeededBy == nil {
		return Fact{}
	}
	return Fact{Label: "needed", Text: at(*r.NeededBy) + ", as planned"}
}

func (s Parts) orderBy(r *answer.PartRow) Fact {
	if r.OrderBy == nil || r.OrderByFinish == nil || r.State != answer.NotOrdered {
		return Fact{}
	}
	f := Fact{Label: "order by", Text: day(*r.OrderBy) + ", or a task waits and the finish moves"}
	if *r.OrderBy != *r.OrderByFinish {
		f.Text = day(*r.OrderBy) + ", or a task waits; by " + day(*r.OrderByFinish) + ", or the finish moves"
	}
	if *r.OrderBy < s.data.View.Now.Date() {
		f.Tone = widget.Bad
	}
	return f
}

func (s Parts) slack(r *answer.PartRow) Fact {
	if r.SlackDays == nil || r.SlackDaysFinish == nil {
		return Fact{}
	}
	task, finish := *r.SlackDays, *r.SlackDaysFinish
	switch {
	case task == 0 && finish == 0:
		return Fact{Label: "slack", Text: "none: a day later, and a task waits and the finish moves"}
	case task >= 0 && task == finish:
		return Fact{Label: "slack", Text: fmt.Sprintf("may come %s later before a task waits and the finish moves", count(task, "day"))}
	case task >= 0:
		return Fact{Label: "slack", Text: fmt.Sprintf("may come %s later before a task waits, %s before the finish moves",
			count(task, "day"), count(finish, "day"))}
	case finish >= 0:
		return Fact{"slack", fmt.Sprintf("%s too late for the plan: a task waits; the finish has %s left", count(-task, "day"), count(finish, "day")), widget.Warn}
	}
	return Fact{"slack", count(-task, "day") + " too late for the plan: the finish moves", widget.Bad}
}
