package cli

import (
	"context"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// sequenceVerb is `vanlog sequence`.
type sequenceVerb struct {
	*env
	seconds float64
	seed    uint64
	reasons bool
}

func newSequence(e *env) *cobra.Command {
	v := &sequenceVerb{env: e}
	c := &cobra.Command{
		Use:   "sequence",
		Short: "the best order of work, with a bound and the reason of every row",
		Long: `The order of work that ends soonest, of those with the least work. It says before which time
no order can end; where both are the same, nothing better can be found (proven).`,
		Args: takes(0, 0, "no arguments"),
		RunE: v.run,
	}
	c.Flags().Float64Var(&v.seconds, "seconds", 2, "search for `SECONDS` at most; 0: the first order only")
	c.Flags().Uint64Var(&v.seed, "seed", 0, "a `NUMBER` that steers the search")
	c.Flags().BoolVar(&v.reasons, "why", false, "say in words why each row stands where it does")
	return c
}

// maxSeconds is the longest search that can be asked for: a day.
const maxSeconds = 24 * 60 * 60

// span reads a number of seconds.
func span(seconds float64) (time.Duration, error) {
	if math.IsNaN(seconds) || seconds < 0 || seconds > maxSeconds {
		return 0, usage("--seconds: want 0 to %d, got %v", maxSeconds, seconds)
	}
	return time.Duration(seconds * float64(time.Second)), nil
}

func (v *sequenceVerb) run(c *cobra.Command, _ []string) error {
	search, err := span(v.seconds)
	if err != nil {
		return err
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	seq, err := v.search(c.Context(), view, plan.Options{Time: search, Seed: v.seed})
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(seq)
	}
	v.sequenceHead(view, seq)
	v.sequenceRows(view, seq.Tasks)
	v.shouldBroken(seq)
	if v.reasons {
		v.why(seq)
	}
	return nil
}

// search looks for the order; a person sees how it gets better.
func (v *sequenceVerb) search(ctx context.Context, view *answer.View, o plan.Options) (answer.Sequence, error) {
	if !v.Interactive() {
		return view.Sequence(ctx, o)
	}
	o.Better = func(s plan.Sequence) {
		fmt.Fprintf(v.Err, "\rso far: finish %s, work %s   ", when(s.Finish), units.Minutes(s.Work))
	}
	seq, err := view.Sequence(ctx, o)
	fmt.Fprintln(v.Err)
	return seq, err
}

func (e *env) sequenceHead(view *answer.View, s answer.Sequence) {
	e.say("finish: %s", when(s.Finish))
	switch {
	case s.Proven:
		e.say("bound:  %s (no order ends sooner)", when(s.BoundFinish))
	default:
		e.say("bound:  %s (no order can end before; a better one may exist)", when(s.BoundFinish))
	}
	e.say("work:   %s, of it %s getting at things", units.Minutes(s.WorkMin), units.Minutes(s.AccessMin))
	e.say("tasks:  %d open of %d", len(s.Tasks), len(view.Live.Tasks))
}

func (e *env) sequenceRows(view *answer.View, rows []answer.Row) {
	out := [][]string{{"TASK", "START", "FINISH", "WORK", "WAY IN", "WHAT", "BECAUSE OF"}}
	for _, r := range rows {
		out = append(out, []string{string(r.ID), when(r.Start), when(r.Finish),
			units.Minutes(r.WorkMin).String(), units.Minutes(r.AccessMin).String(),
			ansi.Truncate(clean(e.title(view, r.ID)), 40, "…"), because(r)})
	}
	if len(rows) > 0 {
		e.say("")
		e.table(out...)
	}
}

// because names what holds a row; why says it in words.
func because(r answer.Row) string {
	var names []string
	for _, b := range r.Because {
		if b.Ref != "" {
			names = append(names, b.Kind+" "+b.Ref)
		}
	}
	return strings.Join(names, ", ")
}

func (e *env) why(s answer.Sequence) {
	for _, r := range s.Tasks {
		e.say("")
		e.say("why:   %s starts %s", r.ID, when(r.Start))
		for _, b := range r.Because {
			e.wrap("  "+b.Kind+": ", b.Text)
		}
	}
}

func (e *env) shouldBroken(s answer.Sequence) {
	if len(s.ShouldBroken) == 0 {
		return
	}
	e.say("")
	for _, b := range s.ShouldBroken {
		e.say("broken: %s should come before %s; that costs %s", b.Before, b.After, units.Minutes(b.ReworkMin))
	}
}

// float gives a float in days and hours of the clock.
func float(min int) string {
	d, rest := min/int(units.Day), units.Minutes(min%int(units.Day))
	if d == 0 {
		return rest.String()
	}
	return strings.TrimSuffix(fmt.Sprintf("%dd %s", d, rest), " 0m")
}
