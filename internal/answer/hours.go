package answer

import (
	"cmp"
	"math"
	"slices"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// TaskHours are the hours of a finished task beside those that were thought of.
type TaskHours struct {
	Task   id.Task        `json:"task"`
	Trade  string         `json:"trade"`
	Month  string         `json:"month,omitempty"` // in which it was finished, as 2026-03; empty: not known
	Hours  units.Estimate `json:"hours"`
	SpentH float64        `json:"spent_h"`
	Ratio  float64        `json:"ratio"`  // spent / likely; 0 where nothing was thought likely
	Within bool           `json:"within"` // low ≤ spent ≤ high
	Trips  int            `json:"trips"`  // in, as counted; 0: not counted
	// TripsPlanned are those that were thought of. AccessMin is what the way costs with those, as
	// things are fitted now, and CountedMin with those that were counted; nil: there is no way now,
	// or none was counted. The daybook does not hold access apart from work, so what it really took
	// is not known.
	TripsPlanned int      `json:"trips_planned"`
	AccessMin    *float64 `json:"access_min"`
	CountedMin   *float64 `json:"counted_min"`
}

// GroupHours are the hours of the finished tasks of a trade or a month.
type GroupHours struct {
	Name    string  `json:"name"`
	Count   int     `json:"count"`
	LikelyH float64 `json:"likely_h"`
	SpentH  float64 `json:"spent_h"`
	Ratio   float64 `json:"ratio"`  // spent / likely, of the sums
	Mean    float64 `json:"mean"`   // of the tasks' ratios
	Spread  float64 `json:"spread"` // their sample standard deviation, n - 1; 0 for one task
	Least   float64 `json:"least"`
	Most    float64 `json:"most"`
	Within  int     `json:"within"` // tasks that took from low to high
}

// Hours is what the daybook says of how long work takes.
type Hours struct {
	Tasks  []TaskHours  `json:"tasks"` // finished ones, by when
	Trades []GroupHours `json:"trades"`
	// Months stand for the phases of the build, of which a build file knows none.
	Months       []GroupHours `json:"months"`
	All          GroupHours   `json:"all"`
	TripsPerHour float64      `json:"trips_per_hour"` // of the entries in which trips in were counted; 0: none
	TripHours    float64      `json:"trip_hours"`     // how long those took
	Applied      []Learned    `json:"applied"`        // what a forecast takes from it
}

// Hours gives what finished work took beside what was thought of, by task, trade and month.
// Work that took no time by the daybook, or was thought to take none, is left out.
func (v *View) Hours() Hours {
	out := Hours{Tasks: []TaskHours{}, Applied: v.Learned()}
	var when []units.Instant
	for _, t := range v.Live.Tasks {
		if t.State != tasks.Finished || t.SpentH <= 0 || t.Hours.Likely <= 0 {
			continue
		}
		row, at := v.taskHours(t)
		i, _ := slices.BinarySearchFunc(when, at, func(a, b units.Instant) int { return cmp.Or(cmp.Compare(a, b), -1) })
		out.Tasks, when = slices.Insert(out.Tasks, i, row), slices.Insert(when, i, at)
	}
	out.Trades = grouped(out.Tasks, func(t TaskHours) string { return t.Trade })
	out.Months = grouped(out.Tasks, func(t TaskHours) string { return t.Month })
	out.All = groupOf("all", out.Tasks)
	minutes, trips := 0, 0
	for _, e := range v.Build.Days.Rows {
		if e.Visits > 0 && e.Minutes > 0 {
			minutes, trips = minutes+e.Minutes, trips+e.Visits
		}
	}
	if minutes > 0 {
		out.TripHours = float64(minutes) / 60
		out.TripsPerHour = float64(trips) / out.TripHours
	}
	return out
}

func (v *View) taskHours(t tasks.Task) (TaskHours, units.Instant) {
	row := TaskHours{Task: t.ID, Trade: t.Trade, Hours: t.Hours, SpentH: t.SpentH, Ratio: t.SpentH / t.Hours.Likely,
		Within: t.Hours.Low <= t.SpentH && t.SpentH <= t.Hours.High, TripsPlanned: max(1, int(t.Visits))}
	for _, e := range v.Entries(t.ID) {
		row.Trips += e.Visits
	}
	if c, ok := v.reach(t, v.fitted()); ok {
		min := c.Minutes()
		row.AccessMin = &min
		if row.Trips > 0 {
			counted := t
			counted.Visits = tasks.Visits(row.Trips)
			if c, ok := v.reach(counted, v.fitted()); ok {
				min := c.Minutes()
				row.CountedMin = &min
			}
		}
	}
	if t.FinishedAt == nil {
		return row, 0
	}
	row.Month = t.FinishedAt.At.Date().String()[:len("2026-03")]
	return row, t.FinishedAt.At
}

// grouped gives the hours of groups of tasks by name, those without a name last.
func grouped(rows []TaskHours, name func(TaskHours) string) []GroupHours {
	by := map[string][]TaskHours{}
	for _, r := range rows {
		by[name(r)] = append(by[name(r)], r)
	}
	out := []GroupHours{}
	for n, of := range by {
		out = append(out, groupOf(n, of))
	}
	slices.SortFunc(out, func(a, b GroupHours) int {
		if (a.Name == "") != (b.Name == "") {
			return cmp.Compare(len(b.Name), len(a.Name))
		}
		return cmp.Compare(a.Name, b.Name)
	})
	return out
}

func groupOf(name string, rows []TaskHours) GroupHours {
	g := GroupHours{Name: name, Count: len(rows), Least: math.Inf(1)}
	var ratios []float64
	for _, r := range rows {
		g.LikelyH, g.SpentH = g.LikelyH+r.Hours.Likely, g.SpentH+r.SpentH
		g.Least, g.Most = min(g.Least, r.Ratio), max(g.Most, r.Ratio)
		if r.Within {
			g.Within++
		}
		ratios = append(ratios, r.Ratio)
	}
	if len(rows) == 0 {
		g.Least = 0
		return g
	}
	g.Ratio = g.SpentH / g.LikelyH
	g.Mean, g.Spread = meanAndSpread(ratios)
	return g
}

// meanAndSpread gives the mean and the sample standard deviation, √(Σ (x - mean)² / (n - 1)), 0
// for one number (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.6).
func meanAndSpread(xs []float64) (mean, spread float64) {
	for _, x := range xs {
		mean += x
	}
	mean /= float64(len(xs))
	if len(xs) < 2 {
		return mean, 0
	}
	for _, x := range xs {
		spread += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(spread / float64(len(xs)-1))
}
