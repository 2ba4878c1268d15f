package screen

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// carried is a task that is in hand to be moved. While one is, the cursor of the Sequence is
// where it would stand.
type carried struct {
	task    id.Task
	home    int               // where it stands in the order
	price   *answer.MovePrice // nil: not known yet
	first   bool              // price is a first look, a closer one follows
	refused string            // why it cannot stand there
}

// pickUp takes the selected task in hand.
func (s Sequence) pickUp() Sequence {
	if len(s.bars) > 0 {
		s.carry = &carried{task: s.bars[s.cursor].ID, home: s.cursor}
	}
	return s
}

// doCarry moves the task in hand, takes the move, or leaves it.
func (s Sequence) doCarry(a Action) (Screen, Effect) {
	was := s.to()
	switch a {
	case Back:
		s.cursor, s.carry = s.carry.home, nil
		return s, PriceMove{}
	case Enter:
		return s.putDown()
	}
	s.cursor = s.moved(a)
	if s.to() == was {
		return s, nil
	}
	s.carry = &carried{task: s.carry.task, home: s.carry.home}
	return s, s.Again()
}

// putDown takes the move, once its price has been seen.
func (s Sequence) putDown() (Screen, Effect) {
	switch c := s.carry; {
	case s.to() == answer.Place{}:
		s.carry = nil
		return s, PriceMove{}
	case c.refused != "":
		return s, Refuse{Text: "It cannot stand there: why is said above."}
	case c.price == nil:
		return s, Refuse{Text: "The price of this move is still being worked out: press enter once it is shown."}
	}
	e := MoveTask{Task: s.carry.task, To: s.to()}
	s.cursor, s.carry = s.carry.home, nil
	return s, e
}

// barAt gives the row in line i: with a task in hand, the others close up around it.
func (s Sequence) barAt(i int) bar {
	switch c := s.carry; {
	case c == nil:
		return s.bars[i]
	case i == s.cursor:
		return s.bars[c.home]
	case i > s.cursor && i <= c.home:
		return s.bars[i-1]
	case i < s.cursor && i >= c.home:
		return s.bars[i+1]
	}
	return s.bars[i]
}

// to gives the place where the task in hand would stand; none where it stands now.
func (s Sequence) to() answer.Place {
	switch c := s.carry; {
	case c == nil || s.cursor == c.home:
		return answer.Place{}
	case s.cursor < c.home:
		return answer.Place{Before: s.bars[s.cursor].ID}
	}
	return answer.Place{After: s.bars[s.cursor].ID}
}

// carryOn keeps a task in hand where it was among rows that were made anew.
func (s Sequence) carryOn(to answer.Place, sameBuild bool) Sequence {
	home := slices.IndexFunc(s.bars, func(b bar) bool { return b.ID == s.carry.task })
	if home < 0 {
		s.carry = nil
		return s
	}
	c := *s.carry
	c.home, s.cursor = home, home
	s.carry = &c
	for i, b := range s.bars {
		if to.Before == b.ID && i < home || to.After == b.ID && i > home {
			s.cursor = i
		}
	}
	if !sameBuild || s.to() != to {
		c.price, c.refused = nil, ""
	}
	return s
}

// Again asks once more for the price of the move that is shown; nil where none is.
func (s Sequence) Again() Effect {
	if to := s.to(); to != (answer.Place{}) {
		return PriceMove{Task: s.carry.task, To: to}
	}
	if s.carry != nil {
		return PriceMove{}
	}
	return nil
}

// Priced takes the answer to a PriceMove: the price, or why the task cannot stand there; first
// where a closer look follows. An answer to something else than was asked last is left alone.
func (s Sequence) Priced(asked PriceMove, price answer.MovePrice, first bool, err error) Sequence {
	if s.carry == nil || s.Again() != asked {
		return s
	}
	c := carried{task: s.carry.task, home: s.carry.home, price: &price, first: first}
	if err != nil {
		c.price, c.refused = nil, s.data.whyNot(err)
	}
	s.carry = &c
	return s
}

// whyNot says in titles why a task cannot be moved to a place.
func (d Data) whyNot(err error) string {
	var wrong *answer.MoveError
	if !errors.As(err, &wrong) {
		return err.Error()
	}
	var steps []string
	for _, e := range wrong.Path {
		step := d.task(e.Before).Title() + " must come before " + d.task(e.After).Title()
		if e.Why != "" {
			step += " (" + e.Why + ")"
		}
		steps = append(steps, step)
	}
	return strings.Join(steps, "; ")
}

// placeWords says a place in titles.
func (d Data) placeWords(p answer.Place) string {
	if p.After != "" {
		return "after " + d.task(p.After).Title()
	}
	return "before " + d.task(p.Before).Title()
}

// carryFoot says what the move would cost.
func (s Sequence) carryFoot(st widget.Styles, w int) []string {
	c, to := s.carry, s.to()
	move := Fact{Label: "move", Text: s.data.task(c.task).Title() + ": up and down say where, enter takes it, esc leaves it"}
	if to != (answer.Place{}) {
		move.Text = s.data.task(c.task).Title() + " " + s.data.placeWords(to)
	}
	facts := []Fact{move}
	switch {
	case to == answer.Place{}:
	case c.refused != "":
		facts = append(facts, Fact{"refused", c.refused, widget.Bad})
	case c.price == nil:
		facts = append(facts, Fact{"price", "being worked out …", widget.Quiet})
	default:
		facts = append(facts, s.data.price(*c.price, c.first)...)
	}
	return Facts(st, w, facts...)
}

// price says what a move costs: the finish, hours, what gets dearer to get at. The days of a
// first look are not said: they are not yet those of the plan.
func (d Data) price(p answer.MovePrice, first bool) []Fact {
	days := " (a first look; looking closer …)"
	if !first {
		days = ": " + day(p.Is.Finish.Date())
		if p.Was.Finish.Date() != p.Is.Finish.Date() {
			days += ", without the move " + day(p.Was.Finish.Date())
		}
	}
	facts := []Fact{
		finishFact(days, p.LaterMin),
		{Label: "hours", Text: moreHours(p.MoreWorkMin, p.MoreAccessMin)},
	}
	if p.MoreWorkMin > 0 {
		facts[1].Tone = widget.Warn
	}
	for i, x := range p.Dearer {
		facts = append(facts, Fact{[]string{"buries", ""}[min(i, 1)], d.closes(x), widget.Warn})
	}
	for i, b := range p.ShouldBroken {
		text := fmt.Sprintf("%s should come before %s", d.task(b.Before).Title(), d.task(b.After).Title())
		if b.ReworkMin > 0 {
			text += ": " + work(b.ReworkMin) + " of rework"
		}
		facts = append(facts, Fact{[]string{"breaks", ""}[min(i, 1)], text, widget.Warn})
	}
	for _, e := range p.Replaces {
		facts = append(facts, Fact{Label: "instead of", Text: "the pin " + d.pinWords(e)})
	}
	return facts
}

func (d Data) pinWords(e deps.Edge) string {
	return d.task(e.Before).Title() + " before " + d.task(e.After).Title()
}

// finishFact says how much later all is done, in minutes on the clock.
func finishFact(days string, later int) Fact {
	switch {
	case later > 0:
		return Fact{"finish", clockSpan(later) + " later" + days, widget.Bad}
	case later < 0:
		return Fact{"finish", clockSpan(-later) + " sooner" + days, widget.Good}
	}
	return Fact{"finish", "no later" + days, widget.Good}
}

// clockSpan gives minutes on the clock in days, where they are many.
func clockSpan(minutes int) string {
	if minutes < 24*60 {
		return work(minutes)
	}
	switch tenths := (minutes + 72) / 144; {
	case tenths == 10:
		return "1 day"
	case tenths%10 == 0:
		return fmt.Sprintf("%d days", tenths/10)
	default:
		return fmt.Sprintf("%d.%d days", tenths/10, tenths%10)
	}
}

// moreHours says how much more work there is, and how much more of it is getting in.
func moreHours(more, access int) string {
	text := "as much work"
	switch {
	case more > 0:
		text = work(more) + " more work"
	case more < 0:
		text = work(-more) + " less work"
	}
	switch {
	case access > 0:
		text += ", " + work(access) + " more of it getting in"
	case access < 0:
		text += ", " + work(-access) + " less of it getting in"
	}
	return text
}
