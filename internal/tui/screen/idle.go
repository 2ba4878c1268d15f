package screen

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// idleRow is the row of the chart in which the builder has no work.
func (s Sequence) idleRow(st widget.Styles, title, date int, win window) string {
	marks, minutes := make([]mark, win.cols), 0
	for _, x := range s.data.Seq.Idle {
		minutes += x.Minutes
		from := max(0, int((align(x.From, win.each)-win.from)/win.each))
		for col := from; col < win.cols && win.start(col) < x.To; col++ {
			marks[col] = markIdle
		}
	}
	text := widget.Fit("  builder idle", title)
	if date > 0 {
		text += widget.Fit(" "+work(minutes), date)
	}
	return st.Dim.Render(text) + " " + drawMarks(st, marks)
}

// idleBefore says that the builder has no work just before a row, and why.
func (s Sequence) idleBefore(b bar) []Fact {
	for _, x := range s.data.Seq.Idle {
		if b.hours != nil && x.To <= b.Start && b.hours.Count(x.To, b.Start) == 0 {
			return []Fact{{Label: "idle before", Text: idleText(x), Tone: widget.Warn}}
		}
	}
	return nil
}

func idleText(x answer.Idle) string {
	return fmt.Sprintf("%s without work from %s: %s", work(x.Minutes), at(x.From), x.Because.Text)
}

// Idle is the page of when the builder has no work, and why. The zero Idle has no data yet.
type Idle struct {
	data Data
	top  int
}

// Scope is IdleScope.
func (s Idle) Scope() string { return IdleScope }

// With shows other data.
func (s Idle) With(d Data) Screen {
	s.data = d
	return s
}

// Typed has no use for letters.
func (s Idle) Typed(widget.Key) (Screen, Effect, bool) { return s, nil, false }

// Do scrolls, or closes the page.
func (s Idle) Do(a Action) (Screen, Effect) {
	if a == Back {
		return s, ClosePage{}
	}
	s.top = scrolled(s.top, a, s.data.Lines, max(1, len(s.facts())))
	return s, nil
}

func (s Idle) facts() []Fact {
	if s.data.Seq == nil {
		return nil
	}
	var facts []Fact
	for _, x := range s.data.Seq.Idle {
		until := x.To.Format("15:04")
		if x.To.Date() != (x.To-1).Date() || x.To.Date() != x.From.Date() {
			until = at(x.To)
		}
		facts = append(facts, Fact{Label: fmt.Sprintf("%6s", work(x.Minutes)), Text: fmt.Sprintf("%s to %s: %s", at(x.From), until, x.Because.Text)})
	}
	return facts
}

// View draws the stretches in the order of time.
func (s Idle) View(st widget.Styles, w, h int) string {
	if s.data.View == nil {
		return notYet(st, w, h)
	}
	facts, sum := s.facts(), units.Minutes(0)
	if s.data.Seq != nil {
		for _, x := range s.data.Seq.Idle {
			sum += units.Minutes(x.Minutes)
		}
	}
	title := fmt.Sprintf("The builder has no work for %s before the finish", sum)
	if len(facts) == 0 {
		title = "The builder has work until the finish."
	}
	lines := []string{st.Strong.Render(widget.Fit(title, w)), ""}
	return widget.Cells(strings.Join(slices.Concat(lines, scrolledFacts(st, w, h-2, facts, s.top)), "\n"), w, h)
}
