package screen

import (
	"cmp"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// View draws the list of what closes something in, or the page of an item.
func (c CloseIn) View(st widget.Styles, w, h int) string {
	switch {
	case c.data.View == nil:
		return notYet(st, w, h)
	case c.asked != "":
		title := st.Strong.Render(widget.Fit("Behind "+widget.Clean(c.data.thing(string(c.asked))), w))
		return widget.Cells(strings.Join(append([]string{title, ""}, scrolledFacts(st, w, h-2, c.facts(), c.top)...), "\n"), w, h)
	case c.data.Closes == nil:
		return widget.Cells(st.Dim.Render(widget.Fit("Working out what will be closed in …", w)), w, h)
	case len(c.covers) == 0:
		text := "Nothing is closed in: no item covers, or closes the way to, open work or a service of what is fitted."
		return widget.Cells(strings.Join(widget.Wrap(text, w), "\n"), w, h)
	}
	return stacked(st, w, h, c.foot(st, w), func(w, h int) string { return c.list.View(st, w, h) })
}

// foot says of the item under the cursor who fits it, which proofs are missing, and what is
// behind it.
func (c CloseIn) foot(st widget.Styles, w int) []string {
	row, ok := c.list.Selected()
	if !ok {
		return nil
	}
	x := c.covers[row.ID]
	facts := []Fact{{Label: "fitted by", Text: c.fitter(x)}}
	for i, o := range x.owed {
		facts = append(facts, Fact{Label: []string{"prove first", ""}[min(i, 1)], Text: c.data.owed(o), Tone: widget.Bad})
	}
	for i, e := range x.edges {
		facts = append(facts, Fact{Label: []string{"closes in", ""}[min(i, 1)], Text: c.data.closes(e.Closed), Tone: widget.Warn})
		if i == 8 {
			break // more than are seen
		}
	}
	return Facts(st, w, facts...)
}

// fitter says which task fits the item, and when.
func (c CloseIn) fitter(x cover) string {
	switch {
	case x.fitBy == "" && slices.Contains(c.data.View.Live.FittedNow(), x.item):
		return "it is fitted already"
	case x.fitBy == "":
		return "no open task fits it"
	case x.when == nil:
		return c.data.task(x.fitBy).Title()
	}
	return c.data.task(x.fitBy).Title() + ", in the plan from " + at(*x.when)
}

// facts is the page of the item asked for, one fact a line.
func (c CloseIn) facts() []Fact {
	x, any := c.covers[string(c.asked)]
	x.item = c.asked
	var facts []Fact
	for _, w := range c.warned {
		facts = append(facts, cautionFact(w))
	}
	facts = append(facts, Fact{Text: "Fitted by: " + c.fitter(x)})
	if c.data.Closes != nil && c.data.Closes.Stale {
		facts = append(facts, Fact{Text: "The build has changed: this is being worked out anew.", Tone: widget.Quiet})
	}
	if !any {
		return append(facts, Fact{Text: "It closes nothing in.", Tone: widget.Good})
	}
	facts = append(facts, Fact{Text: "From then on: " + priceOf(x.edges).words("%d out of reach for good"), Tone: widget.Warn}, Fact{Text: " "})
	facts = append(facts, c.missing(x)...)
	facts = append(facts, Fact{Text: " "}, Fact{Text: "It closes in:", Tone: widget.Quiet})
	for _, e := range x.edges {
		facts = append(facts, Fact{Label: " -", Text: c.data.closes(e.Closed)})
	}
	done := c.done(x)
	if len(done) > 0 {
		facts = append(facts, Fact{Text: " "}, Fact{Text: "Proofs that are in:", Tone: widget.Quiet})
	}
	return append(facts, done...)
}

// missing names the proofs that are to be in first.
func (c CloseIn) missing(x cover) []Fact {
	switch {
	case c.data.Closes.Owed == nil:
		return []Fact{{Text: "Looking which proofs are missing …", Tone: widget.Quiet}}
	case len(x.owed) == 0:
		return []Fact{{Text: "No proof is missing behind it.", Tone: widget.Good}}
	}
	facts := []Fact{{Text: count(len(x.owed), "proof") + " to be in before it is fitted:", Tone: widget.Bad}}
	for _, o := range x.owed {
		text := c.data.owed(o)
		if check, ok := c.data.task(o.Task).Check(o.Check); ok && check.Want != "" {
			text += " (wanted: " + check.Want + ")"
		}
		facts = append(facts, Fact{Label: " !", Text: text, Tone: widget.Bad})
	}
	return facts
}

// done gives the proofs that are in of the tasks behind the item.
func (c CloseIn) done(x cover) []Fact {
	var facts []Fact
	for _, t := range behindTasks(x) {
		task := c.data.task(t)
		for _, check := range task.Checks {
			if c.data.View.Given(t, check.ID) {
				text := task.Title() + ": " + cmp.Or(check.What, string(check.ID))
				facts = append(facts, Fact{Label: "ok", Text: text, Tone: widget.Good})
			}
		}
	}
	return facts
}

func behindTasks(x cover) []id.Task {
	var out []id.Task
	add := func(t id.Task) {
		if t != "" && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	for _, o := range x.owed {
		add(o.Task)
	}
	for _, e := range x.edges {
		add(e.Task)
	}
	return out
}

// cautionFact says a warning, and where it comes from.
func cautionFact(c answer.Caution) Fact {
	text := "Caution: " + c.Text
	if c.Source != "" {
		text += " (" + c.Source + ")"
	}
	return Fact{Text: text, Tone: widget.Warn}
}
