package cli

import (
	"context"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/plan"
)

const demoFile = "dipper.van"

// demoVerb is `vanlog demo`.
type demoVerb struct {
	*env
	noScreen bool
}

func newDemo(e *env) *cobra.Command {
	v := &demoVerb{env: e}
	c := &cobra.Command{
		Use:   "demo [FILE]",
		Short: "write the demonstration build and open it",
		Long: `Write the demonstration build, a van that becomes a field lab with a bunk, and open it.
A file that is there already is opened, never written over.
Without a terminal it prints the head of the plan and one way in instead.`,
		Args: takes(0, 1, "one FILE at most"),
		RunE: v.run,
	}
	c.Flags().BoolVar(&v.noScreen, "no-screen", false, "only write the file")
	return c
}

func (v *demoVerb) run(c *cobra.Command, args []string) error {
	path := or(v.file, demoFile)
	if len(args) > 0 {
		path = args[0]
	}
	a, written, err := v.write(path)
	if err != nil {
		return err
	}
	switch {
	case v.asJSON:
		return v.printJSON(map[string]any{"file": path, "written": written})
	case v.Interactive() && !v.noScreen:
		return v.Screens(c.Context(), a)
	}
	if written {
		v.say("written: %s", path)
	} else {
		v.say("%s is there already, left as it is", path)
	}
	if v.noScreen {
		return nil
	}
	return v.tour(c.Context(), a, path)
}

// write makes the file, or opens the one that is there.
func (v *demoVerb) write(path string) (a *app.App, written bool, err error) {
	if there(path) {
		s, err := v.Open(path)
		if err != nil {
			return nil, false, err
		}
		return v.on(s), false, nil
	}
	now := v.clock()
	s, err := v.Create(path, demo.Build(now), "write the demonstration build", now)
	if err != nil {
		return nil, false, err
	}
	return v.on(s), true, nil
}

// tour is what is shown where there is no terminal for the screens.
func (v *demoVerb) tour(ctx context.Context, a *app.App, path string) error {
	view, err := a.View(ctx)
	if err != nil {
		return err
	}
	seq, err := view.Sequence(ctx, plan.Options{})
	if err != nil {
		return err
	}
	v.say("")
	v.sequenceHead(view, seq)
	v.sequenceRows(view, seq.Tasks[:min(10, len(seq.Tasks))])
	if err := v.oneWay(ctx, view); err != nil {
		return err
	}
	v.say("")
	v.say("next: vanlog today --build %s", filepath.ToSlash(path))
	v.say("      vanlog            opens the screens, in a terminal")
	v.say("      vanlog help       lists all commands")
	return nil
}

// oneWay shows the way to the item that is worst to get at once all is fitted, of those that
// want service.
func (v *demoVerb) oneWay(ctx context.Context, view *answer.View) error {
	var worst *answer.Reach
	for _, x := range view.Live.Items {
		if len(x.Service) == 0 {
			continue
		}
		way, err := view.Reach(ctx, []string{string(x.ID)}, 1, answer.FittedAll)
		if err == nil && (worst == nil || way.CostMin > worst.CostMin) {
			worst = &way
		}
	}
	if worst == nil {
		return nil
	}
	v.say("")
	v.say("%s", fmt.Sprintf("with everything fitted, the way to %s:", worst.Targets[0]))
	v.printWay(view, *worst)
	return nil
}
