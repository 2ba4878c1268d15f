package screen

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/tui/widget"
)

// cautions are the warnings about the way.
func (r Reach) cautions() []Fact {
	if r.around == nil {
		return nil
	}
	var facts []Fact
	for _, c := range r.around.Cautions {
		facts = append(facts, cautionFact(c))
	}
	return facts
}

// mostWhileOpen is how many things to do while it is open are named: the list begins with
// those that gain most.
const mostWhileOpen = 12

// aside is what there is to know besides the way: the next best one, and what could be done
// while this one is open.
func (r Reach) aside() []Fact {
	facts := []Fact{{Text: " "}}
	switch {
	case r.around == nil:
		return append(facts, Fact{Text: "Looking for the next best way, and for what else could be done …", Tone: widget.Quiet})
	case r.around.Trouble != "":
		return append(facts, Fact{Text: r.around.Trouble, Tone: widget.Bad})
	}
	facts = append(facts, r.other(), Fact{Text: " "})
	within := "with nothing more to open"
	if m := r.moreMin(); m > 0 {
		within = fmt.Sprintf("for at most %s more of getting in", minutesOf(m))
	}
	if len(r.around.WhileOpen) == 0 {
		return append(facts, Fact{Text: "While it is open, " + within + ": nothing else.", Tone: widget.Quiet})
	}
	facts = append(facts, Fact{Text: "While it is open, " + within + ":", Tone: widget.Quiet})
	for i, x := range r.around.WhileOpen {
		if i == mostWhileOpen {
			more := len(r.around.WhileOpen) - i
			return append(facts, Fact{Label: "  ", Text: fmt.Sprintf("and %d more that gain less from it", more), Tone: widget.Quiet})
		}
		facts = append(facts, Fact{Label: " -", Text: whileOpen(x)})
	}
	return facts
}

// other says which way is next best, and what it costs more.
func (r Reach) other() Fact {
	o := r.around.Other
	if o == nil {
		return Fact{Text: "There is no other way.", Tone: widget.Quiet}
	}
	text := fmt.Sprintf("The next best way costs %s more (%s)", minutesOf(o.MoreMin), minutesOf(o.CostMin))
	var opens []string
	for _, s := range o.Steps {
		if s.Do == "open" {
			opens = append(opens, r.data.thing(s.Item))
		}
	}
	if len(opens) > 0 {
		text += ": it opens " + strings.Join(opens, ", ")
	}
	var without []string
	for _, name := range o.Without {
		without = append(without, r.data.thing(name))
	}
	if len(without) > 0 {
		text += "; it does without " + strings.Join(without, ", ")
	}
	return Fact{Text: text}
}

func timesAYear(n float64) string {
	if n == 1 {
		return "once a year"
	}
	return fmt.Sprintf("%.4g times a year", n)
}

// whileOpen says what could be done, and what it saves to do it now.
func whileOpen(x answer.WhileOpen) string {
	text := x.What + ": " + x.Text
	if x.LeftMin > 0 {
		text += ", " + work(x.LeftMin) + " of work"
	}
	if x.PerYear > 0 {
		text += ", " + timesAYear(x.PerYear)
	}
	return text + fmt.Sprintf(" (%s more; alone it takes %s)", minutesOf(x.MoreMin), minutesOf(x.AloneMin))
}
