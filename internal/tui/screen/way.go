package screen

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/tui/widget"
)

// View draws the list of everything, or the way in.
func (r Reach) View(st widget.Styles, w, h int) string {
	switch {
	case r.data.View == nil:
		return notYet(st, w, h)
	case r.asked == nil && len(r.data.View.Live.Items)+len(r.data.View.Live.Places) == 0:
		return widget.Cells(strings.Join(widget.Wrap("There are no items and no places yet. On another screen, press e to make some.", w), "\n"), w, h)
	case r.asked == nil:
		return stacked(st, w, h, r.picked(st, w), func(w, h int) string { return r.list.View(st, w, h) })
	}
	head := []string{st.Strong.Render(widget.Fit("Way in to "+r.titles(), w)), ""}
	return widget.Cells(strings.Join(append(head, scrolledFacts(st, w, h-2, r.steps(), r.top)...), "\n"), w, h)
}

// picked says which targets are taken.
func (r Reach) picked(st widget.Styles, w int) []string {
	titles := make([]string, len(r.marked))
	for i, name := range r.marked {
		titles[i] = r.data.thing(name)
	}
	return Facts(st, w, Fact{Label: "together", Text: strings.Join(titles, ", ")})
}

func (r Reach) titles() string {
	titles := make([]string, len(r.asked))
	for i, name := range r.asked {
		titles[i] = widget.Clean(r.data.thing(name))
	}
	return strings.Join(titles, ", ")
}

// steps is the answer, one fact a line.
func (r Reach) steps() []Fact {
	as := Fact{Text: "With everything in the way that is fitted now."}
	if r.fitted == answer.FittedAll {
		as.Text = "With everything in the way that will be fitted in the end."
	}
	switch {
	case r.noWay != "":
		return []Fact{as, {Text: r.noWay, Tone: widget.Bad}}
	case r.way == nil:
		return []Fact{as, {Text: "Looking for the way …", Tone: widget.Quiet}}
	}
	facts := append(r.cautions(), as)
	facts = append(facts, r.summary()...)
	facts = append(facts, Fact{Text: " "}, Fact{Text: "The way in:", Tone: widget.Quiet})
	for i, s := range r.way.Steps {
		facts = append(facts, r.stepFact(i+1, s))
	}
	if len(r.way.Refit) > 0 {
		facts = append(facts, Fact{Text: " "}, Fact{Text: "The way back:", Tone: widget.Quiet})
	}
	for i, f := range r.way.Refit {
		facts = append(facts, r.refit(i+1, f))
	}
	return append(facts, r.aside()...)
}

func (r Reach) summary() []Fact {
	way := r.way
	cost := minutesOf(way.CostMin) + ", refitting included"
	if way.Proven {
		cost += "; no way is cheaper"
	} else {
		cost += fmt.Sprintf("; no way is below %s", minutesOf(way.BoundMin))
	}
	facts := []Fact{{Text: cost, Tone: widget.Good}}
	if way.Persons > 1 {
		facts = append(facts, Fact{Text: fmt.Sprintf("It takes %d people.", way.Persons), Tone: widget.Warn})
	}
	if len(way.Tools) > 0 {
		facts = append(facts, Fact{Text: "Tools: " + strings.Join(way.Tools, ", ")})
	}
	return facts
}

func (r Reach) stepFact(n int, s answer.Step) Fact {
	var text string
	switch s.Do {
	case "enter":
		text = "go into " + r.data.thing(s.Place)
	case "open":
		text = r.data.thing(s.Item)
		if s.How != "" {
			text += ": " + s.How
		}
	default:
		text = "you are at " + r.data.thing(s.Item+s.Place)
	}
	if s.Min > 0 {
		text += ", " + minutesOf(s.Min)
	}
	if s.Times > 1 {
		text += fmt.Sprintf(", %d times", s.Times)
	}
	if len(s.Fasteners) > 0 {
		text += " (" + strings.Join(s.Fasteners, ", ") + ")"
	}
	if s.NoWayRound && s.Do != "at" {
		text += " [no way round this]"
	}
	return Fact{Label: fmt.Sprintf("%2d", n), Text: text}
}

func (r Reach) refit(n int, f answer.Refit) Fact {
	text := "refit " + r.data.thing(f.Item)
	if f.Min > 0 {
		text += ", " + minutesOf(f.Min)
	}
	if len(f.Torque) > 0 {
		text += ", torque " + strings.Join(f.Torque, ", ")
	}
	return Fact{Label: fmt.Sprintf("%2d", n), Text: text}
}
