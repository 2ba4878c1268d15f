package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

func newStart(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "start TASK",
		Short:             "set the clock running on a task",
		Long:              "Set the clock running on a task. A clock that runs on another task is stopped first.",
		Args:              takes(1, 1, "one TASK"),
		ValidArgsFunction: e.names(tasksOf),
		RunE:              func(c *cobra.Command, args []string) error { return e.start(c, id.Task(args[0])) },
	}
}

func (e *env) start(c *cobra.Command, t id.Task) error {
	a, err := e.app()
	if err != nil {
		return err
	}
	change, err := a.Start(c.Context(), t)
	if err != nil {
		return err
	}
	v, err := a.View(c.Context())
	if err != nil {
		return err
	}
	if v.Build.Clock == nil {
		return errors.New("the clock was stopped by somebody else just now")
	}
	if e.asJSON {
		return e.printJSON(v.Build.Clock)
	}
	e.say("%s", change.What)
	e.say("running: %s since %s", v.Build.Clock.Task, when(v.Build.Clock.Since))
	return nil
}

// stopVerb is `vanlog stop`.
type stopVerb struct {
	*env
	entryFlags
}

func newStop(e *env) *cobra.Command {
	v := &stopVerb{env: e}
	c := &cobra.Command{
		Use:   "stop [DURATION] [NOTE]",
		Short: "stop the clock, and write its work into the daybook",
		Long: `Stop the clock, and write its work into the daybook. A duration (1h30, 90m, 1.5h, 1:30 or 90
minutes) says how long the work really took, where the clock ran on after it.`,
		Args: takes(0, 2, "DURATION and NOTE if you like (a NOTE of several words in quotes)"),
		RunE: v.run,
	}
	v.flags(c.Flags())
	return c
}

func (v *stopVerb) run(c *cobra.Command, args []string) error {
	r, err := v.request()
	if err != nil {
		return err
	}
	if err := v.words(&r, args, v.clock().Date()); err != nil {
		return err
	}
	if err := v.newestFor(r.Photos); err != nil {
		return err
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	before, err := a.View(c.Context())
	if err != nil {
		return err
	}
	done, err := a.Stop(c.Context(), r)
	if err != nil {
		return err
	}
	if end, forgotten := before.Forgotten(before.Now); forgotten && r.Minutes == 0 {
		fmt.Fprintf(v.Err, "the clock ran on past the end of the hours, %s: if it was forgotten, vanlog undo, then vanlog stop %s\n",
			when(end), units.Minutes(end-done.At))
	}
	return v.logged(done)
}
