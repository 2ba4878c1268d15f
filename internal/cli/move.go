package cli

import (
	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// moveVerb is `vanlog move`.
type moveVerb struct {
	*env
	after, before string
	onlyPrice     bool
	seconds       float64
}

func newMove(e *env) *cobra.Command {
	v := &moveVerb{env: e}
	c := &cobra.Command{
		Use:   "move TASK --after TASK|--before TASK",
		Short: "move a task by hand, at its price",
		Long: `Move a task by hand: after another, or before it. The move is kept as a must edge "by hand",
a pin; vanlog unpin takes it away. It is priced first: the best order that is found with it
against the best without. A move against a must edge is refused. --price only shows the price.`,
		Example:           "  vanlog move wire-loom --before wall-left --price\n  vanlog move wire-loom --before wall-left",
		Args:              takes(1, 1, "one TASK"),
		ValidArgsFunction: e.names(tasksOf),
		RunE:              v.run,
	}
	c.Flags().StringVar(&v.after, "after", "", "the `TASK` to come after")
	c.Flags().StringVar(&v.before, "before", "", "the `TASK` to come before")
	c.Flags().BoolVar(&v.onlyPrice, "price", false, "only show the price")
	c.Flags().Float64Var(&v.seconds, "seconds", 1, "search for the order without and with the move for `SECONDS` each at most")
	for _, flag := range []string{"after", "before"} {
		_ = c.RegisterFlagCompletionFunc(flag, e.names(tasksOf)) // the flags are there
	}
	return c
}

// moved is a move with its price. Change is nil where it was only priced.
type moved struct {
	answer.MovePrice
	Change *changed `json:"change"`
}

func (v *moveVerb) run(c *cobra.Command, args []string) error {
	if (v.after == "") == (v.before == "") {
		return &usageError{text: "move wants one of --after TASK and --before TASK", hint: "vanlog move " + args[0] + " --after TASK"}
	}
	search, err := span(v.seconds)
	if err != nil {
		return err
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	view, err := a.View(c.Context())
	if err != nil {
		return err
	}
	task, to := id.Task(args[0]), answer.Place{After: id.Task(v.after), Before: id.Task(v.before)}
	out := moved{}
	if out.MovePrice, err = view.Move(c.Context(), task, to, plan.Options{Time: search}); err != nil {
		return err
	}
	if !v.onlyPrice {
		done, err := a.Move(c.Context(), task, to)
		if err != nil {
			return err
		}
		out.Change = &changesOf(done).Changes[0]
	}
	if v.asJSON {
		return v.printJSON(out)
	}
	v.print(out)
	return nil
}

func (v *moveVerb) print(m moved) {
	v.say("move:    %s %s", m.Task, m.Place)
	v.say("finish:  %s, %s", when(m.Is.Finish), laterText(m.LaterMin))
	v.say("work:    %s, %s", units.Minutes(m.Is.WorkMin), moreText(m.MoreWorkMin))
	v.say("way in:  %s of it, %s", units.Minutes(m.Is.AccessMin), moreText(m.MoreAccessMin))
	for _, d := range m.Dearer {
		v.say("buries:  %s", closedText(d))
	}
	for _, b := range m.ShouldBroken {
		v.say("broken:  %s should come before %s; that costs %s", b.Before, b.After, units.Minutes(b.ReworkMin))
	}
	for _, e := range m.Replaces {
		v.say("instead: of the pin %s before %s", e.Before, e.After)
	}
	if m.Change == nil {
		v.say("price:   nothing was changed; without --price it is moved")
		return
	}
	v.done(*m.Change, "it is pinned there already")
}

// done says what was changed, or why nothing was.
func (e *env) done(c changed, otherwise string) {
	if c.Seq == 0 {
		e.say("done:    nothing: %s", otherwise)
		return
	}
	e.say("done:    %s", c.What)
	e.say("undo:    vanlog undo")
}

func laterText(min int) string {
	switch {
	case min > 0:
		return float(min) + " later"
	case min < 0:
		return float(-min) + " sooner"
	}
	return "as before"
}

func moreText(min int) string {
	switch {
	case min > 0:
		return units.Minutes(min).String() + " more"
	case min < 0:
		return units.Minutes(-min).String() + " less"
	}
	return "as before"
}

// pinVerb is `vanlog pin`.
type pinVerb struct {
	*env
	seconds float64
}

func newPin(e *env) *cobra.Command {
	v := &pinVerb{env: e}
	c := &cobra.Command{
		Use:   "pin TASK",
		Short: "keep a task where it stands in the order",
		Long: `Keep a task where it stands in the best order that is found: after the work before it and
before the work after it, on everything that it uses. The pins are must edges "by hand".`,
		Args:              takes(1, 1, "one TASK"),
		ValidArgsFunction: e.names(tasksOf),
		RunE:              v.run,
	}
	c.Flags().Float64Var(&v.seconds, "seconds", 2, "search for the order for `SECONDS` at most")
	return c
}

func (v *pinVerb) run(c *cobra.Command, args []string) error {
	search, err := span(v.seconds)
	if err != nil {
		return err
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	view, err := a.View(c.Context())
	if err != nil {
		return err
	}
	task := id.Task(args[0])
	if err := view.Movable(task); err != nil { // said before the search
		return err
	}
	seq, err := view.Sequence(c.Context(), plan.Options{Time: search})
	if err != nil {
		return err
	}
	done, err := a.Pin(c.Context(), task, seq)
	if err != nil {
		return err
	}
	return v.pinned(done, "must edges hold it there already, or nothing else uses what it uses")
}

// pinned prints a change of pins.
func (e *env) pinned(c build.Change, otherwise string) error {
	if e.asJSON {
		return e.printJSON(changesOf(c))
	}
	e.done(changesOf(c).Changes[0], otherwise)
	return nil
}

func newUnpin(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "unpin TASK",
		Short:             "take the pins of a task away",
		Args:              takes(1, 1, "one TASK"),
		ValidArgsFunction: e.names(tasksOf),
		RunE: func(c *cobra.Command, args []string) error {
			a, err := e.app()
			if err != nil {
				return err
			}
			done, err := a.Unpin(c.Context(), id.Task(args[0]))
			if err != nil {
				return err
			}
			return e.pinned(done, "it has no pins")
		},
	}
}
