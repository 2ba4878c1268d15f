package answer

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Week sums up the daybook of a week from Monday to Sunday (ISO 8601).
type Week struct {
	Week     string         `json:"week"` // 2026-W10
	From     units.Date     `json:"from"`
	To       units.Date     `json:"to"`
	Minutes  int            `json:"minutes"`
	ThereMin int            `json:"there_min"` // of the builder's hours, as they are planned
	Entries  int            `json:"entries"`
	Trips    int            `json:"trips"`
	Photos   int            `json:"photos"`
	Readings int            `json:"readings"`
	Ahead    int            `json:"ahead"` // entries that came ahead of their turn
	Finished []id.Task      `json:"finished"`
	Trades   []TradeMinutes `json:"trades"` // the most minutes first
}

// TradeMinutes is how long a trade was worked on.
type TradeMinutes struct {
	Trade   string `json:"trade"`
	Minutes int    `json:"minutes"`
}

// Weeks sums up the daybook by weeks, oldest first, those without entries too. An entry that
// runs into the next week has its minutes in both, and else counts where it began.
func (v *View) Weeks() []Week {
	out := []Week{}
	days := v.Build.Days.Rows
	if len(days) == 0 {
		return out
	}
	first, last := days[0].At.Date().Monday(), days[0].End()
	for _, e := range days {
		last = max(last, e.End())
	}
	for from := first; from <= last.Date(); from += 7 {
		out = append(out, v.WeekFrom(from))
	}
	return out
}

// WeekFrom sums up the daybook of the week that a day lies in.
func (v *View) WeekFrom(d units.Date) Week {
	from := d.Monday()
	year, number := from.ISOWeek()
	w := Week{Week: fmt.Sprintf("%d-W%02d", year, number), From: from, To: from + 6, Finished: []id.Task{}, Trades: []TradeMinutes{}}
	begin, end := from.Start(), (from + 7).Start()
	if hours := v.cal().Of(builder); !hours.RoundTheClock() {
		w.ThereMin = hours.Count(begin, end)
	}
	trades := map[string]int{}
	days := v.Build.Days.Rows
	at, _ := slices.BinarySearchFunc(days, begin-units.Day, func(e daybook.Entry, at units.Instant) int { return cmp.Compare(e.At, at) })
	for _, e := range days[at:] {
		if e.At >= end {
			break
		}
		minutes := max(0, int(min(e.End(), end)-max(e.At, begin)))
		w.Minutes += minutes
		if t, _ := v.task(e.Task); minutes > 0 {
			trades[t.Trade] += minutes
		}
		if e.At >= begin {
			w.count(v, e)
		}
	}
	for trade, minutes := range trades {
		w.Trades = append(w.Trades, TradeMinutes{trade, minutes})
	}
	slices.SortFunc(w.Trades, func(a, b TradeMinutes) int {
		return cmp.Or(cmp.Compare(b.Minutes, a.Minutes), cmp.Compare(a.Trade, b.Trade))
	})
	return w
}

// count adds an entry that began in the week.
func (w *Week) count(v *View, e daybook.Entry) {
	w.Entries, w.Trips = w.Entries+1, w.Trips+e.Visits
	w.Photos, w.Readings = w.Photos+len(e.Photos), w.Readings+len(e.Readings)
	if e.Finished && !slices.Contains(w.Finished, e.Task) {
		w.Finished = append(w.Finished, e.Task)
	}
	if (e.Minutes > 0 || e.Visits > 0 || e.Finished) && len(v.Ahead(e.Task, e.At)) > 0 {
		w.Ahead++
	}
}
