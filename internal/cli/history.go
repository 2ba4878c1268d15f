package cli

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/units"
)

// changed is a change as history shows it.
type changed struct {
	Seq    uint64        `json:"seq"`
	At     units.Instant `json:"at"`
	What   string        `json:"what"`
	Undone bool          `json:"undone,omitempty"`
}

type changes struct {
	Changes []changed `json:"changes"`
}

func changesOf(cs ...build.Change) changes {
	out := changes{Changes: []changed{}}
	for _, c := range cs {
		out.Changes = append(out.Changes, changed{c.Seq, c.At, c.What, c.Undone})
	}
	return out
}

// historyVerb is `vanlog history`.
type historyVerb struct {
	*env
	most int
}

func newHistory(e *env) *cobra.Command {
	v := &historyVerb{env: e}
	c := &cobra.Command{
		Use:   "history",
		Short: "every change, newest first",
		Args:  takes(0, 0, "no arguments"),
		RunE:  v.run,
	}
	c.Flags().IntVar(&v.most, "most", 0, "only this `NUMBER`, the newest; 0: all")
	return c
}

func (v *historyVerb) run(c *cobra.Command, _ []string) error {
	if v.most < 0 {
		return usage("--most: want 0 or more, got %d", v.most)
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	found, err := a.History(c.Context(), v.most)
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(changesOf(found...))
	}
	rows := [][]string{{"CHANGE", "AT", "WHAT"}}
	for _, ch := range found {
		what := ch.What
		if ch.Undone {
			what += " (undone)"
		}
		rows = append(rows, []string{fmt.Sprint(ch.Seq), when(ch.At), what})
	}
	v.table(rows...)
	return nil
}

func newUndo(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "undo",
		Short: "take the newest change back",
		Args:  takes(0, 0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			return e.step(c.Context(), (*app.App).Undo, "undo", "undone")
		},
	}
}

func newRedo(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "redo",
		Short: "do again what was undone",
		Args:  takes(0, 0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			return e.step(c.Context(), (*app.App).Redo, "redo", "done again")
		},
	}
}

// step goes one change back or forth.
func (e *env) step(ctx context.Context, move func(*app.App, context.Context) (build.Change, error), verb, done string) error {
	a, err := e.app()
	if err != nil {
		return err
	}
	c, err := move(a, ctx)
	if errors.Is(err, build.ErrNothing) {
		return fmt.Errorf("there is nothing to %s", verb)
	}
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(changesOf(c))
	}
	e.say("%s: %s", done, c.What)
	return nil
}
