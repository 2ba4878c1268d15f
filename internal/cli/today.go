package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// todayVerb is `vanlog today`.
type todayVerb struct {
	*env
	hours, seconds float64
	helper         bool
}

func newToday(e *env) *cobra.Command {
	v := &todayVerb{env: e}
	c := &cobra.Command{
		Use:   "today",
		Short: "what can be done now, and why the rest cannot",
		Args:  takes(0, 0, "no arguments"),
		RunE:  v.run,
	}
	c.Flags().Float64Var(&v.hours, "hours", 0, "the `HOURS` at hand: what fits into them stands first")
	c.Flags().BoolVar(&v.helper, "helper", false, "a helper is here")
	c.Flags().Float64Var(&v.seconds, "seconds", 1, "search for the order of work for `SECONDS` at most")
	return c
}

func (v *todayVerb) validate() error {
	if math.IsNaN(v.hours) || v.hours < 0 || v.hours > 24 {
		return usage("--hours: want 0 to 24, got %v", v.hours)
	}
	_, err := span(v.seconds)
	return err
}

func (v *todayVerb) run(c *cobra.Command, _ []string) error {
	if err := v.validate(); err != nil {
		return err
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	seq, err := v.order(c.Context(), view)
	if err != nil {
		return err
	}
	today := view.Today(seq, answer.TodayOptions{Hours: v.hours, Helper: v.helper})
	if v.asJSON {
		return v.printJSON(today)
	}
	v.print(view, today)
	return nil
}

// order gives the sequence that today's list follows; none where there is no order, which
// it says.
func (v *todayVerb) order(ctx context.Context, view *answer.View) (*answer.Sequence, error) {
	search, err := span(v.seconds)
	if err != nil {
		return nil, err
	}
	seq, err := view.Sequence(ctx, plan.Options{Time: search})
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		v.note("there is no order of all the work: %s", none.Error())
		return nil, nil
	}
	return &seq, err
}

func (v *todayVerb) print(view *answer.View, t answer.Today) {
	v.say("%s: %d tasks can be done now, %d wait", when(view.Now), len(t.Can), len(t.Cannot))
	for _, c := range t.Can {
		v.say("")
		v.say("can:       %s  %s", c.ID, v.title(view, c.ID))
		v.say("  left:    %s%s", units.Minutes(c.LeftMin), way(c))
		if c.Place != "" {
			v.say("  place:   %s", c.Place)
		}
		if len(c.Tools) > 0 {
			v.say("  tools:   %s", strings.Join(c.Tools, ", "))
		}
		for _, x := range c.ClosesIn {
			v.say("  buries:  %s", closedText(x))
		}
		for _, o := range c.OwedFirst {
			v.say("  first:   %s", owedText(o))
		}
		v.wrap("  because: ", c.Because)
	}
	for _, c := range t.Cannot {
		v.say("")
		v.say("waits:     %s  %s", c.ID, v.title(view, c.ID))
		for _, w := range c.WaitsFor {
			v.wrap("  for:     ", waitText(w))
		}
	}
}

func way(c answer.Can) string {
	if c.AccessMin == 0 {
		return ""
	}
	return ", and " + mins(c.AccessMin) + " to get at it"
}

func waitText(w answer.WaitsFor) string {
	switch {
	case w.Until == nil:
		return fmt.Sprintf("%s (%s, no time known)", w.Text, w.Kind)
	case strings.Contains(w.Text, when(*w.Until)):
		return fmt.Sprintf("%s (%s)", w.Text, w.Kind)
	}
	return fmt.Sprintf("%s (%s, until %s)", w.Text, w.Kind, when(*w.Until))
}

func (e *env) title(view *answer.View, t id.Task) string {
	return view.Live.Tasks[view.Live.TaskAt[t]].Title()
}
