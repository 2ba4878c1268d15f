package screen

import (
	"slices"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/tui/widget"
)

// Reach finds the way to anything: a few letters of an item or a place, and enter. The zero
// Reach has no data yet.
type Reach struct {
	data   Data
	list   widget.List
	marked []string      // targets taken with Mark, in that order
	asked  []string      // what a way was asked for; nil: a target is being picked
	fitted answer.Fitted // empty: what is fitted now
	way    *answer.Reach // nil: not known yet, or there is none
	noWay  string
	around *Around // nil: not known yet
	step   int     // steps of minutes below or above the first, for what could be done while it is open
	top    int     // first line of the way that is seen
}

// Around is what else there is to know of a way.
type Around struct {
	Cautions  []answer.Caution
	Other     *answer.Another // the next best way; nil: there is none
	WhileOpen []answer.WhileOpen
	Trouble   string // why it is not known; empty: it is
}

// Scope is WayScope where a way is shown, else FindScope.
func (r Reach) Scope() string {
	if r.asked != nil {
		return WayScope
	}
	return FindScope
}

// With shows other data. The way that is shown is asked for anew with Again.
func (r Reach) With(d Data) Screen {
	r.data = d
	if d.View != nil {
		r.list = r.list.WithRows(r.rows()).Sized(d.Lines)
		if r.list.Typed() == "" {
			r.list = r.list.Searched()
		}
	}
	return r
}

func (r Reach) rows() []widget.Row {
	var rows []widget.Row
	for _, x := range r.data.View.Live.Items {
		rows = append(rows, r.row(string(x.ID), x.Title(), "item"))
	}
	for _, p := range r.data.View.Live.Places {
		rows = append(rows, r.row(string(p.ID), p.Title(), "place"))
	}
	return rows
}

func (r Reach) row(name, title, kind string) widget.Row {
	text := "    " + title
	if slices.Contains(r.marked, name) {
		text = "[x] " + title
	}
	return widget.Row{ID: name, Text: text, Note: kind + " " + name, Tone: widget.Quiet}
}

// Do moves, takes targets, and asks for the way.
func (r Reach) Do(a Action) (Screen, Effect) {
	switch {
	case r.data.View == nil:
		return r, nil
	case r.asked != nil:
		return r.doWay(a)
	}
	if k, ok := movement(a); ok {
		r.list, _ = r.list.Key(k)
		return r, nil
	}
	switch a {
	case Mark:
		return r.mark(), nil
	case Enter:
		return r.ask(r.targets())
	case Back:
		return r.forget(), nil
	}
	return r, nil
}

// forget empties the search; where nothing was typed, the marks.
func (r Reach) forget() Reach {
	if r.list.Typed() != "" {
		r.list, _ = r.list.Key(widget.Key{Name: "esc"})
		return r
	}
	r.marked = nil
	r.list = r.list.WithRows(r.rows())
	return r
}

func (r Reach) mark() Reach {
	row, ok := r.list.Selected()
	switch {
	case !ok:
		return r
	case slices.Contains(r.marked, row.ID):
		r.marked = slices.DeleteFunc(slices.Clone(r.marked), func(x string) bool { return x == row.ID })
	default:
		r.marked = append(slices.Clone(r.marked), row.ID)
	}
	r.list = r.list.WithRows(r.rows())
	return r
}

// targets gives what was marked, or else what is under the cursor.
func (r Reach) targets() []string {
	if len(r.marked) > 0 {
		return r.marked
	}
	if row, ok := r.list.Selected(); ok {
		return []string{row.ID}
	}
	return nil
}

func (r Reach) ask(targets []string) (Screen, Effect) {
	if len(targets) == 0 {
		return r, nil
	}
	r.asked, r.way, r.noWay, r.around, r.top = targets, nil, "", nil, 0
	return r, r.Again()
}

// Again asks once more for the way that is shown; nil where none is.
func (r Reach) Again() Effect {
	if r.asked == nil {
		return nil
	}
	return r.question()
}

func (r Reach) question() FindWay {
	return FindWay{Targets: r.asked, Fitted: r.fitted, MoreMin: r.moreMin()}
}

// steps of minutes that one may look further while something is open, and the one that is
// looked at first.
const firstStep = 3

func timeSteps() []float64 { return []float64{0, 1, 2, 5, 10, 15, 20, 30, 45, 60} }

// moreMin gives the minutes of access, besides the way itself, for which one looks further.
func (r Reach) moreMin() float64 { return timeSteps()[firstStep+r.step] }

// further changes the minutes, and asks again.
func (r Reach) further(by int) (Screen, Effect) {
	to := r.step + by
	if firstStep+to < 0 || firstStep+to >= len(timeSteps()) {
		return r, nil
	}
	r.step, r.around = to, nil
	return r, r.Again()
}

// Found takes the answer to a FindWay: a way, or why there is none. An answer to
// something else than was asked last is left alone.
func (r Reach) Found(asked FindWay, way answer.Reach, err error) Reach {
	if !r.asks(asked) {
		return r
	}
	r.way, r.noWay = &way, ""
	if err != nil {
		r.way, r.noWay = nil, err.Error()
	}
	return r
}

// FoundAround takes what else there is to know of the way that was asked for last.
func (r Reach) FoundAround(asked FindWay, a Around) Reach {
	if r.asks(asked) {
		r.around = &a
	}
	return r
}

func (r Reach) asks(q FindWay) bool {
	return r.asked != nil && slices.Equal(q.Targets, r.asked) && q.Fitted == r.fitted && q.MoreMin == r.moreMin()
}

func (r Reach) doWay(a Action) (Screen, Effect) {
	switch a {
	case Back:
		r.asked, r.way, r.noWay, r.around = nil, nil, "", nil
		return r, nil
	case SwapFitted:
		if r.fitted == answer.FittedAll {
			r.fitted = ""
		} else {
			r.fitted = answer.FittedAll
		}
		return r.ask(r.asked)
	case MoreTime:
		return r.further(1)
	case LessTime:
		return r.further(-1)
	}
	r.top = scrolled(r.top, a, r.data.Lines, len(r.steps()))
	return r, nil
}

// Typed takes letters while a target is picked: they search.
func (r Reach) Typed(k widget.Key) (Screen, Effect, bool) {
	if r.asked != nil || !searches(k, r.list.Typed()) {
		return r, nil, false // they are keys here, too
	}
	list, out := r.list.Key(k)
	r.list = list
	return r, nil, out != widget.Unused
}

// movesList reports whether a key is bound to an Action in every list.
func movesList(name string) bool {
	return slices.Contains([]string{"up", "down", "pgup", "pgdown", "home", "end", "enter", "esc"}, name)
}

// Focus is what a way was asked for, or what is under the cursor.
func (r Reach) Focus() Focus {
	if r.asked != nil {
		return Focus{Targets: r.asked, Fitted: r.fitted}
	}
	if row, ok := r.list.Selected(); ok {
		return Focus{Targets: []string{row.ID}, Fitted: r.fitted}
	}
	return Focus{}
}
