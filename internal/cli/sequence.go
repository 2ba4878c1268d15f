package cli

import (
	"context"
	"fmt"
	"math"
	"slices"
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
	svg     string
}

func newSequence(e *env) *cobra.Command {
	v := &sequenceVerb{env: e}
	c := &cobra.Command{
		Use:   "sequence",
		Short: "the best order of work, with a bound and the reason of every row",
		Long: `The order of work that ends soonest, of those with the least work. It says before which time
no order can end; where both are the same, nothing better can be found (proven). Then it says
when the builder has no work, and what for. --why says in whole what holds each row, and
how much longer it may take before the build ends later.`,
		Args: takes(0, 0, "no arguments"),
		RunE: v.run,
	}
	c.Flags().Float64Var(&v.seconds, "seconds", 2, "search for `SECONDS` at most; 0: the first order only")
	c.Flags().Uint64Var(&v.seed, "seed", 0, "a `NUMBER` that steers the search")
	c.Flags().StringVar(&v.svg, "svg", "", "draw the order as a chart into `FILE`, - for stdout and nothing else")
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

// planning gives the build, and how long to search for an order of it.
func (e *env) planning(c *cobra.Command, seconds float64) (*answer.View, time.Duration, error) {
	search, err := span(seconds)
	if err != nil {
		return nil, 0, err
	}
	view, err := e.view(c.Context())
	return view, search, err
}

func (v *sequenceVerb) run(c *cobra.Command, _ []string) error {
	if err := v.validate(); err != nil {
		return err
	}
	view, search, err := v.planning(c, v.seconds)
	if err != nil {
		return err
	}
	seq, err := v.search(c.Context(), view, plan.Options{Time: search, Seed: v.seed})
	if err != nil {
		return err
	}
	if done, err := v.chart(view, seq); done || err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(seq)
	}
	v.sequenceHead(view, seq)
	v.sequenceRows(view, seq.Tasks)
	v.shouldBroken(seq)
	v.idle(seq)
	if v.reasons {
		v.why(view, seq)
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

// The widths of the columns of an order, so that a row fits into a terminal.
const (
	titleWidth = 27
	whyWidth   = columns - 20 - titleWidth - 7 - 3*2 // beside the start, and how long it takes
)

func (e *env) sequenceRows(view *answer.View, rows []answer.Row) {
	out := [][]string{{"START", "TASK", "WORK", "BECAUSE OF"}}
	for _, r := range rows {
		out = append(out, []string{when(r.Start), short(e.title(view, r.ID), titleWidth),
			units.Minutes(r.WorkMin).String(), short(because(r), whyWidth)})
	}
	if len(rows) > 0 {
		e.say("")
		e.table(out...)
	}
}

// short gives text in so many columns.
func short(text string, width int) string { return ansi.Truncate(clean(text), width, "…") }

// because says in a few words what holds a row, what says most first; why says it in whole. That the
// builder was at other work goes without saying where there is more to say.
func because(r answer.Row) string {
	var words []string
	builder := ""
	for _, kind := range []string{"part", "lag", "not-before", "resource", "edge", "close-in"} {
		for _, b := range r.Because {
			w := inAWord(b)
			switch {
			case b.Kind != kind || w == "" || slices.Contains(words, w):
			case w == "builder":
				builder = w
			default:
				words = append(words, w)
			}
		}
	}
	return or(strings.Join(words, ", "), builder)
}

// inAWord gives a reason as short as can be.
func inAWord(b answer.Because) string {
	switch b.Kind {
	case "part":
		return "part " + b.Ref
	case "lag":
		return "wait " + b.Ref
	case "not-before":
		return "date"
	case "edge":
		return "after " + b.Ref
	case "close-in":
		return "ahead of " + b.Ref
	}
	return b.Ref
}

// idle says when the builder has no work, and why.
func (e *env) idle(s answer.Sequence) {
	if len(s.Idle) == 0 {
		return
	}
	minutes := 0
	for _, i := range s.Idle {
		minutes += i.Minutes
	}
	e.say("")
	e.say("idle:   %s of the builder's hours", units.Minutes(minutes))
	for _, i := range s.Idle {
		e.wrap(fmt.Sprintf("  %s %6s  ", when(i.From), units.Minutes(i.Minutes)), i.Because.Text)
	}
}

func (e *env) why(view *answer.View, s answer.Sequence) {
	for _, r := range s.Tasks {
		e.say("")
		room := "it may take no longer"
		if r.SlackMin > 0 {
			room = fmt.Sprintf("it may take %s more", units.Minutes(r.SlackMin))
		}
		e.wrap("why:   ", fmt.Sprintf("%s, %s, starts %s; %s", r.ID, e.title(view, r.ID), when(r.Start), room))
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
