package cli

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// partsVerb is `vanlog parts`.
type partsVerb struct {
	*env
	seconds float64
}

func newParts(e *env) *cobra.Command {
	v := &partsVerb{env: e}
	c := &cobra.Command{
		Use:   "parts",
		Short: "by when each part must be ordered, and what it holds up",
		Long: `Every part: how it stands, by when it must be ordered at its likely lead time, and how much
work waits for it. Order by: with that no task that needs it starts later than in the present
plan; at the latest: with that the finish of the build stays where it is, all work in the order
of the plan. Slack: how many days later than it is due, or where that is past than today, it
may come before the first of the two is missed. Workable: the share of the remaining hours
that can be worked without it.`,
		Args: takes(0, 0, "no arguments"),
		RunE: v.run,
	}
	c.Flags().Float64Var(&v.seconds, "seconds", 2, "search for the order of work for `SECONDS` at most")
	return c
}

func (v *partsVerb) run(c *cobra.Command, _ []string) error {
	view, search, err := v.planning(c, v.seconds)
	if err != nil {
		return err
	}
	seq, err := v.plan(c.Context(), view, plan.Options{Time: search})
	if err != nil {
		return err
	}
	rows, err := view.PartRows(c.Context(), seq)
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(map[string]any{"parts": rows})
	}
	v.print(view, rows)
	return nil
}

// plan gives the order of work; none where none was found, which it says.
func (v *partsVerb) plan(ctx context.Context, view *answer.View, o plan.Options) (*answer.Sequence, error) {
	seq, err := view.Sequence(ctx, o)
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		v.note("there is no order of all the work: %s", none.Error())
		return nil, nil
	}
	return &seq, err
}

func (v *partsVerb) print(view *answer.View, parts []answer.PartRow) {
	if len(parts) == 0 {
		v.say("the build has no parts")
		return
	}
	rows := [][]string{{"PART", "STATE", "DUE", "ORDER BY", "AT THE LATEST", "SLACK", "HOLDS UP", "WORKABLE", "WHAT"}}
	for _, p := range parts {
		holds := "nothing"
		if len(p.HoldsUp.Tasks) > 0 {
			holds = fmt.Sprintf("%s, %s", counted(len(p.HoldsUp.Tasks), "task"), units.Minutes(math.Round(p.HoldsUp.Hours*60)))
		}
		what := view.Live.Parts[view.Live.PartAt[p.ID]].Title()
		rows = append(rows, []string{string(p.ID), string(p.State), day(p.Due), day(p.OrderBy), day(p.OrderByFinish), slackText(p.SlackDays),
			holds, fmt.Sprintf("%.0f %%", 100*p.HoldsUp.WorkableShare), ansi.Truncate(clean(what), 30, "…")})
	}
	v.table(rows...)
}

func day(d *units.Date) string {
	if d == nil {
		return "-"
	}
	return d.Format("Mon 2006-01-02")
}

func slackText(days *int) string {
	if days == nil {
		return "-"
	}
	return counted(*days, "day")
}
