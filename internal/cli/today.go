package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// todayVerb is `vanlog today`.
type todayVerb struct {
	*env
	atHand  string // as typed
	seconds float64
	helper  bool
	all     bool
}

// nextWaiting is how many waiting tasks are said unless all are asked for: the next ones of the plan.
const nextWaiting = 10

func newToday(e *env) *cobra.Command {
	v := &todayVerb{env: e}
	c := &cobra.Command{
		Use:   "today",
		Short: "what can be done now, and why the rest cannot",
		Long: `What can be done now, in the order of the plan, and why the rest cannot. With --hours it
says first what fits into the hours at hand: by place, so that what must be opened is opened
once, with the tools for that and the parts to carry in.`,
		Args: takes(0, 0, "no arguments"),
		RunE: v.run,
	}
	c.Flags().StringVar(&v.atHand, "hours", "", "the `HOURS` at hand, 3.5 or 3h30: say what fits into them")
	c.Flags().BoolVar(&v.helper, "helper", false, "a helper is here")
	c.Flags().BoolVar(&v.all, "all", false, "say of every task what it waits for, not only of the next ones")
	c.Flags().Float64Var(&v.seconds, "seconds", 1, "search for the order of work for `SECONDS` at most")
	return c
}

// hoursAtHand reads a number of hours, or a length of work such as 3h30; nothing is 0.
func hoursAtHand(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	h, err := strconv.ParseFloat(text, 64)
	if err != nil {
		var m units.Minutes
		m, err = units.ParseMinutes(text)
		h = float64(m) / 60
	}
	if err != nil || math.IsNaN(h) || h < 0 || h > 24 {
		return 0, usage("--hours: want 0 to 24, such as 3.5 or 3h30, got %q", text)
	}
	return h, nil
}

func (v *todayVerb) run(c *cobra.Command, _ []string) error {
	hours, err := hoursAtHand(v.atHand)
	if err != nil {
		return err
	}
	view, search, err := v.planning(c, v.seconds)
	if err != nil {
		return err
	}
	seq, err := v.order(c.Context(), view, search)
	if err != nil {
		return err
	}
	today := view.Today(seq, answer.TodayOptions{Hours: hours, Helper: v.helper})
	if v.asJSON {
		return v.printJSON(today)
	}
	v.print(view, today, hours)
	return nil
}

// order gives the sequence that today's list follows; none where there is no order, which
// it says.
func (v *todayVerb) order(ctx context.Context, view *answer.View, search time.Duration) (*answer.Sequence, error) {
	seq, err := view.Sequence(ctx, plan.Options{Time: search})
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		v.note("there is no order of all the work: %s", none.Error())
		return nil, nil
	}
	return &seq, err
}

func (v *todayVerb) print(view *answer.View, t answer.Today, hours float64) {
	waits := "wait"
	if len(t.Cannot) == 1 {
		waits = "waits"
	}
	v.say("%s: %s can be done now, %d %s", when(view.Now), counted(len(t.Can), "task"), len(t.Cannot), waits)
	if hours > 0 {
		v.fits(view, t.Fits, hours)
	}
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
	v.waiting(view, t.Cannot)
}

func (v *todayVerb) waiting(view *answer.View, tasks []answer.Cannot) {
	for i, c := range tasks {
		if i == nextWaiting && !v.all {
			v.say("")
			v.say("and %d more wait (--all says for what)", len(tasks)-i)
			return
		}
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

// title gives the title of a task; the name alone of one that is not in the design now.
func (e *env) title(view *answer.View, t id.Task) string {
	if i, ok := view.Live.TaskAt[t]; ok {
		return view.Live.Tasks[i].Title()
	}
	return string(t)
}
