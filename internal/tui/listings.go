package tui

import (
	"cmp"
	"context"
	"fmt"
	"strconv"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

const dayForm = "Mon 2 Jan 2006"

func newListed(empty string) listed {
	return listed{empty: empty, facts: map[string][]screen.Fact{}, focus: map[string]screen.Focus{}, enter: map[string]screen.Effect{}}
}

func (l *listed) row(r widget.Row, focus screen.Focus, enter screen.Effect, facts ...screen.Fact) {
	l.rows = append(l.rows, r)
	l.focus[r.ID], l.enter[r.ID], l.facts[r.ID] = focus, enter, facts
}

func placeTitle(v *answer.View, p id.Place) string {
	if i, ok := v.Live.PlaceAt[p]; ok {
		return v.Live.Places[i].Title()
	}
	return cmp.Or(string(p), "anywhere")
}

// listProofs lists the proofs that are owed by place, the place first where one must come soonest.
func listProofs(_ context.Context, v *answer.View, seq *answer.Sequence) listed {
	out := newListed("No proof is owed.")
	byPlace := map[id.Place][]answer.Proof{}
	var places []id.Place
	for _, p := range v.Proofs(seq) {
		if !p.Open() {
			continue
		}
		if len(byPlace[p.Place]) == 0 {
			places = append(places, p.Place)
		}
		byPlace[p.Place] = append(byPlace[p.Place], p)
	}
	n := 0
	for _, place := range places {
		out.rows = append(out.rows, widget.Row{Head: true, Text: placeTitle(v, place)})
		for _, p := range byPlace[place] {
			n++
			out.proof(v, p)
		}
	}
	if n > 0 {
		out.head = fmt.Sprintf("%d, those first that will be hidden soonest; enter gives one", n)
	}
	return out
}

func (l *listed) proof(v *answer.View, p answer.Proof) {
	row := widget.Row{ID: string(p.Task) + " " + string(p.Check), Text: cmp.Or(p.What, string(p.Check)), Note: string(p.State), Tone: widget.Warn}
	facts := []screen.Fact{{Label: "of", Text: titleOf(v, p.Task)}, {Label: "kind", Text: string(p.Kind)}, {Label: "wanted", Text: p.Want},
		{Label: "last read", Text: p.Value}}
	switch {
	case p.Hidden:
		row.Note, row.Tone = row.Note+", hidden", widget.Bad
		facts = append(facts, screen.Fact{Label: "hidden", Text: "the task is closed in already", Tone: widget.Bad})
	case p.HiddenAt != nil:
		row.Note += ", hidden from " + p.HiddenAt.Format("2 Jan")
		facts = append(facts, screen.Fact{Label: "closed in by", Text: titleOf(v, p.HiddenBy) + ", " + p.HiddenAt.Format(dayForm), Tone: widget.Warn})
	}
	if p.State == answer.ProofOut {
		row.Tone = widget.Bad
	}
	l.row(row, screen.Focus{Task: p.Task}, screen.OpenEntry{Task: p.Task}, facts...)
}

// listAhead lists the work that came ahead of its turn.
func listAhead(_ context.Context, v *answer.View, _ *answer.Sequence) listed {
	out, sum := newListed("No work came ahead of its turn."), 0
	for _, e := range v.AheadOfTurn() {
		sum += e.CostMin
		row := widget.Row{ID: strconv.FormatUint(uint64(e.Number), 10), Text: e.At.Format("2 Jan 15:04") + "  " + titleOf(v, e.Task), Tone: widget.Warn,
			Note: fmt.Sprintf("skipped %d", len(e.Ahead))}
		if e.CostMin > 0 {
			row.Note += ", may cost " + units.Minutes(e.CostMin).String()
		}
		var facts []screen.Fact
		for i, a := range e.Ahead {
			facts = append(facts, screen.Fact{Label: []string{"skipped", ""}[min(i, 1)], Text: a.Text, Tone: widget.Warn})
		}
		out.row(row, screen.Focus{Task: e.Task}, goTo{answer.EntryThing, row.ID}, facts...)
	}
	if len(out.rows) > 0 {
		out.head = fmt.Sprintf("%d entries, that may cost %s", len(out.rows), units.Minutes(sum))
	}
	return out
}

// listSnags lists the faults that were found, the open ones first.
func listSnags(_ context.Context, v *answer.View, seq *answer.Sequence) listed {
	out, open := newListed("No snag was noted. N notes one from anywhere."), 0
	for _, s := range v.Snags(seq) {
		row := widget.Row{ID: string(s.ID), Text: s.What, Note: "open", Tone: widget.Warn}
		facts := []screen.Fact{{Label: "found", Text: s.At.Format(dayForm)}}
		if s.Where != "" {
			facts = append(facts, screen.Fact{Label: "where", Text: placeTitle(v, s.Where)})
		}
		var enter screen.Effect = askSnag{s.ID}
		switch {
		case !s.Open:
			row.Note, row.Tone, enter = "closed", widget.Quiet, nil
		case s.HiddenAt != nil:
			row.Note = "closed in from " + s.HiddenAt.Format("2 Jan")
			facts = append(facts, screen.Fact{Label: "closed in by", Text: titleOf(v, s.HiddenBy), Tone: widget.Bad})
		}
		if s.Became != "" {
			facts = append(facts, screen.Fact{Label: "became", Text: titleOf(v, s.Became)})
		}
		if s.Open {
			open++
		}
		out.row(row, focusOf(s), enter, facts...)
	}
	out.head = fmt.Sprintf("%d open", open)
	return out
}

func focusOf(s answer.Snag) screen.Focus {
	switch {
	case s.Item != "":
		return screen.Focus{Targets: []string{string(s.Item)}}
	case s.Task != "":
		return screen.Focus{Task: s.Task}
	case s.Where != "":
		return screen.Focus{Targets: []string{string(s.Where)}}
	}
	return screen.Focus{}
}

// barW is the width of a bar in a listing.
const barW = 20

// listHours lists how long work took: by trade, month and task, with bars.
func listHours(_ context.Context, v *answer.View, _ *answer.Sequence) listed {
	out, h := newListed("No finished work has hours in the daybook yet."), v.Hours()
	if len(h.Tasks) == 0 {
		return out
	}
	out.head = fmt.Sprintf("%.4g h for %.4g thought likely, %.2f times", h.All.SpentH, h.All.LikelyH, h.All.Ratio)
	if h.TripHours > 0 {
		out.head += fmt.Sprintf("; %.1f trips in an hour", h.TripsPerHour)
	}
	out.groups("By trade: spent / likely, each task ± spread", h.Trades)
	out.groups("By month", h.Months)
	out.rows = append(out.rows, widget.Row{Head: true, Text: "By task: ( low, | likely, ) high, X what it took"})
	for _, t := range h.Tasks {
		most := max(t.Hours.High, t.SpentH) * 1.05
		scale := draw.Scale(most, barW, draw.ScaleMark{At: t.Hours.Low, Sign: '('}, draw.ScaleMark{At: t.Hours.High, Sign: ')'},
			draw.ScaleMark{At: t.Hours.Likely, Sign: '|'}, draw.ScaleMark{At: t.SpentH, Sign: 'X'})
		facts := []screen.Fact{{Label: "took", Text: fmt.Sprintf("%.4g h; low %.4g, likely %.4g, high %.4g", t.SpentH, t.Hours.Low, t.Hours.Likely, t.Hours.High)}}
		if t.Trips > 0 && t.CountedMin != nil {
			facts = append(facts, screen.Fact{Label: "trips in", Text: fmt.Sprintf("%d counted, %d thought of: %.4g min of way as it is now, %.4g thought of",
				t.Trips, t.TripsPlanned, *t.CountedMin, *t.AccessMin)})
		}
		out.row(widget.Row{ID: "task " + string(t.Task), Text: titleOf(v, t.Task), Note: fmt.Sprintf("%5.4g h  %s", t.SpentH, scale)},
			screen.Focus{Task: t.Task}, goTo{answer.TaskThing, string(t.Task)}, facts...)
	}
	return out
}

func (l *listed) groups(title string, groups []answer.GroupHours) {
	most := 0.0
	for _, g := range groups {
		most = max(most, g.Ratio)
	}
	l.rows = append(l.rows, widget.Row{Head: true, Text: title})
	for _, g := range groups {
		bar := draw.Bar(g.Ratio, most, barW)
		note := fmt.Sprintf("%.2f ±%.2f  %s", g.Ratio, g.Spread, bar+strings.Repeat(" ", barW-len([]rune(bar))))
		l.row(widget.Row{ID: title + g.Name, Text: cmp.Or(g.Name, "(none)"), Note: note}, screen.Focus{}, nil,
			screen.Fact{Label: "took", Text: fmt.Sprintf("%.4g h of %.4g likely, in %d tasks, %d of them within their range", g.SpentH, g.LikelyH, g.Count, g.Within)},
			screen.Fact{Label: "each", Text: fmt.Sprintf("%.2f times on average, from %.2f to %.2f", g.Mean, g.Least, g.Most)})
	}
}

// listWeeks lists the weeks of the daybook, the newest first, with bars.
func listWeeks(_ context.Context, v *answer.View, _ *answer.Sequence) listed {
	out, weeks, most := newListed("Nothing is logged yet."), v.Weeks(), 0
	for _, w := range weeks {
		most = max(most, w.Minutes, w.ThereMin)
	}
	for i := len(weeks) - 1; i >= 0; i-- {
		w := weeks[i]
		bar := draw.Bar(float64(w.Minutes), float64(most), barW)
		row := widget.Row{ID: w.Week, Text: fmt.Sprintf("%s  %s to %s", w.Week, w.From.Format("2 Jan"), w.To.Format("2 Jan 2006")),
			Note: fmt.Sprintf("%s of %s  %s", units.Minutes(w.Minutes), units.Minutes(w.ThereMin), bar+strings.Repeat(" ", barW-len([]rune(bar))))}
		facts := []screen.Fact{{Label: "logged", Text: fmt.Sprintf("%d entries, %d trips in, %d readings, %d photos", w.Entries, w.Trips, w.Readings, w.Photos)}}
		if w.Ahead > 0 {
			facts = append(facts, screen.Fact{Label: "ahead", Text: fmt.Sprintf("%d entries ahead of their turn", w.Ahead), Tone: widget.Warn})
		}
		for n, t := range w.Finished {
			facts = append(facts, screen.Fact{Label: []string{"finished", ""}[min(n, 1)], Text: titleOf(v, t), Tone: widget.Good})
		}
		var trades []string
		for _, t := range w.Trades {
			trades = append(trades, fmt.Sprintf("%s %s", cmp.Or(t.Trade, "(none)"), units.Minutes(t.Minutes)))
		}
		facts = append(facts, screen.Fact{Label: "trades", Text: strings.Join(trades, ", ")})
		from, to := w.From, w.To
		out.row(row, screen.Focus{}, filterDays{answer.DayFilter{From: &from, To: &to}}, facts...)
	}
	if len(weeks) > 0 {
		out.head = "worked, of the hours that were there; enter shows its entries"
	}
	return out
}
