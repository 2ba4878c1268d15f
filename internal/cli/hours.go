package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/units"
)

func newHours(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "hours",
		Short: "how long work really took, by task, trade and month",
		Long: `How long finished work took beside what was thought of: by task, trade and month, trips in by the
hour, and what trips cost at the ways as they are now. On the scales, ( is the low, | the likely and )
the high estimate, and X what it took.`,
		Args: takes(0, 0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			view, err := e.view(c.Context())
			if err != nil {
				return err
			}
			h := view.Hours()
			if e.asJSON {
				return e.printJSON(h)
			}
			e.hours(h)
			return nil
		},
	}
}

const scaleW = 30

func (e *env) hours(h answer.Hours) {
	if len(h.Tasks) == 0 {
		e.say("no finished work has hours in the daybook yet")
		return
	}
	e.say("by task, in the order in which they were finished:")
	var rows [][]string
	for _, t := range h.Tasks {
		most := max(t.Hours.High, t.SpentH) * 1.05
		rows = append(rows, []string{"  " + string(t.Task), number(t.SpentH) + " h", fmt.Sprintf("likely %s", number(t.Hours.Likely)),
			draw.Scale(most, scaleW, draw.ScaleMark{At: t.Hours.Low, Sign: '('}, draw.ScaleMark{At: t.Hours.High, Sign: ')'},
				draw.ScaleMark{At: t.Hours.Likely, Sign: '|'}, draw.ScaleMark{At: t.SpentH, Sign: 'X'}), tripsBeside(t)})
	}
	e.table(rows...)
	e.groups("by trade:", h.Trades)
	e.groups("by month:", h.Months)
	e.groups("all:", []answer.GroupHours{h.All})
	if h.TripHours > 0 {
		e.say("trips in: %.1f an hour, counted in %s h", h.TripsPerHour, number(h.TripHours))
	}
}

// tripsBeside says what the trips in to a task come to beside what was thought of.
func tripsBeside(t answer.TaskHours) string {
	if t.Trips == 0 || t.AccessMin == nil || t.CountedMin == nil {
		return ""
	}
	return fmt.Sprintf("%d in of %d: %s of way, %s thought of", t.Trips, t.TripsPlanned, mins(*t.CountedMin), mins(*t.AccessMin))
}

func (e *env) groups(title string, groups []answer.GroupHours) {
	most := 0.0
	for _, g := range groups {
		most = max(most, g.Ratio)
	}
	e.say("%s", title)
	var rows [][]string
	for _, g := range groups {
		rows = append(rows, []string{"  " + or(g.Name, "(none)"), fmt.Sprintf("%s h of %s", number(g.SpentH), number(g.LikelyH)),
			fmt.Sprintf("%.2f times", g.Ratio), fmt.Sprintf("each %.2f ±%.2f", g.Mean, g.Spread), plural(g.Count, "task"),
			fmt.Sprintf("%d in range", g.Within), draw.Bar(g.Ratio, most, scaleW)})
	}
	e.table(rows...)
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// weekVerb is `vanlog week`.
type weekVerb struct {
	*env
	all bool
}

func newWeek(e *env) *cobra.Command {
	v := &weekVerb{env: e}
	c := &cobra.Command{
		Use:   "week [YYYY-Www]",
		Short: "the week summed up",
		Long:  "The daybook of a week summed up, Monday to Sunday (ISO 8601); of this week unless another is named.",
		Args:  takes(0, 1, "one week, such as 2026-W10"),
		RunE:  v.run,
	}
	c.Flags().BoolVar(&v.all, "all", false, "every week of the daybook, a line each")
	return c
}

func (v *weekVerb) run(c *cobra.Command, args []string) error {
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	if v.all {
		return v.weeks(view.Weeks())
	}
	day := view.Now.Date()
	if len(args) > 0 {
		if day, err = units.ParseISOWeek(args[0]); err != nil {
			return usage("%q is no week, want for example 2026-W10", clean(args[0]))
		}
	}
	w := view.WeekFrom(day)
	if v.asJSON {
		return v.printJSON(w)
	}
	v.week(view, w)
	return nil
}

func (v *weekVerb) weeks(weeks []answer.Week) error {
	if v.asJSON {
		return v.printJSON(map[string]any{"weeks": weeks})
	}
	most := 0
	for _, w := range weeks {
		most = max(most, w.Minutes, w.ThereMin)
	}
	var rows [][]string
	for _, w := range weeks {
		rows = append(rows, []string{w.Week, units.Minutes(w.Minutes).String(), "of " + units.Minutes(w.ThereMin).String(),
			plural(len(w.Finished), "task") + " finished", draw.Bar(float64(w.Minutes), float64(most), scaleW)})
	}
	v.table(rows...)
	return nil
}

func (v *weekVerb) week(view *answer.View, w answer.Week) {
	v.say("%s, %s to %s", w.Week, w.From, w.To)
	v.say("worked:   %s of %s that were there, %s", units.Minutes(w.Minutes), units.Minutes(w.ThereMin), plural(w.Trips, "trip")+" in")
	v.say("proofs:   %s, %s", plural(w.Readings, "reading"), plural(w.Photos, "photo"))
	if w.Ahead > 0 {
		v.say("ahead:    entries ahead of their turn: %d", w.Ahead)
	}
	for i, t := range w.Finished {
		v.say("%-9s %s", []string{"finished:", ""}[min(i, 1)], v.title(view, t))
	}
	most := 0
	for _, t := range w.Trades {
		most = max(most, t.Minutes)
	}
	var rows [][]string
	for _, t := range w.Trades {
		rows = append(rows, []string{"  " + or(t.Trade, "(none)"), units.Minutes(t.Minutes).String(), draw.Bar(float64(t.Minutes), float64(most), scaleW)})
	}
	v.table(rows...)
}
