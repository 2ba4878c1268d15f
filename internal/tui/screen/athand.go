package screen

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// hoursAtHand gives the hours that may be at hand, in the order in which the key goes through
// them; 0: not said.
func hoursAtHand() []float64 { return []float64{0, 1, 2, 4, 8} }

// AtHand gives the hours and the helper that the person says are at hand.
func (b Bench) AtHand() answer.TodayOptions { return b.hand }

// atHand changes what is at hand. The list is cut once the answer comes.
func (b Bench) atHand(a Action) Bench {
	if a == HelperHere {
		b.hand.Helper = !b.hand.Helper
	} else {
		all := hoursAtHand()
		b.hand.Hours = all[(slices.Index(all, b.hand.Hours)+1)%len(all)]
	}
	return b
}

// handText says what is at hand; empty where nothing is said.
func (b Bench) handText() string {
	text := ""
	if b.hand.Hours > 0 {
		text = fmt.Sprintf("At hand: %.4g h, filled with %s", b.hand.Hours, work(b.data.Today.Fits.Minutes))
	}
	switch {
	case b.hand.Helper && text == "":
		return "A helper is here"
	case b.hand.Helper:
		return text + ", a helper is here"
	}
	return text
}

// fitting gives what fits into the hours at hand, place by place in the order to do it, and what
// can be begun in what they leave.
func (b Bench) fitting() []widget.Row {
	today := b.data.Today
	var rows []widget.Row
	shown := 0
	for _, g := range today.Groups {
		head := fmt.Sprintf("%s: %s", b.placeTitle(g.Place), work(g.Minutes))
		if g.AccessMin > 0 {
			head += ", in " + minutesOf(g.AccessMin)
		}
		if g.SavedMin > 0 {
			head += ", together it saves " + minutesOf(g.SavedMin)
		}
		if g.Persons > 1 {
			head += fmt.Sprintf(", opened by %d persons", g.Persons)
		}
		rows = append(rows, widget.Row{Head: true, Text: head})
		for _, t := range g.Tasks {
			rows, shown = b.addWorkable(rows, shown, t)
		}
	}
	if x := today.Begin; x != nil {
		rows = append(rows, widget.Row{Head: true, Text: fmt.Sprintf("Then begin, for %s", work(x.Minutes))})
		rows, shown = b.addWorkable(rows, shown, x.Task)
	}
	left := fmt.Sprintf("Not in these hours: %d workable, %d waiting", len(today.Can)-shown, len(today.Cannot))
	return append(rows, widget.Row{Head: true, Text: left})
}

func (b Bench) addWorkable(rows []widget.Row, shown int, t id.Task) ([]widget.Row, int) {
	i, ok := b.can[t]
	if !ok {
		return rows, shown
	}
	return append(rows, b.workable(b.data.Today.Can[i])), shown + 1
}
