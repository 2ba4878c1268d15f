package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
)

// proofsVerb is `vanlog proofs`.
type proofsVerb struct {
	*env
	all bool
}

func newProofs(e *env) *cobra.Command {
	v := &proofsVerb{env: e}
	c := &cobra.Command{
		Use:   "proofs [TASK]",
		Short: "which proofs are owed, and what will hide them",
		Long: `Which proofs are owed: first what is closed in without them, then what the plan will close in
soonest. A proof whose last reading is out of its tolerance is owed still.`,
		Args:              takes(0, 1, "one TASK at most"),
		ValidArgsFunction: e.names(tasksOf),
		RunE:              v.run,
	}
	c.Flags().BoolVar(&v.all, "all", false, "also those that are given")
	return c
}

func (v *proofsVerb) run(c *cobra.Command, args []string) error {
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	rows := []answer.Proof{}
	for _, p := range view.Proofs(v.firstOrder(c.Context(), view)) {
		if (v.all || p.Open() || len(args) > 0) && (len(args) == 0 || p.Task == id.Task(args[0])) {
			rows = append(rows, p)
		}
	}
	if len(args) > 0 {
		if _, ok := view.Live.TaskAt[id.Task(args[0])]; !ok {
			return &answer.NameError{What: "task", Name: args[0], Near: answer.Near(args[0], textOf(view.Live.TaskAt))}
		}
	}
	if v.asJSON {
		return v.printJSON(map[string]any{"proofs": rows})
	}
	if len(rows) == 0 {
		v.say("no proof is owed")
		return nil
	}
	var table [][]string
	for _, p := range rows {
		table = append(table, []string{or(p.Place, "(anywhere)"), string(p.Task), string(p.Check), string(p.State), proofRemarks(view, p)})
	}
	v.table(table...)
	return nil
}

// firstOrder gives the first order of work, at once; nil where there is none.
func (e *env) firstOrder(ctx context.Context, view *answer.View) *answer.Sequence {
	seq, err := view.Sequence(ctx, plan.Options{})
	if err != nil {
		return nil
	}
	return &seq
}

// proofRemarks says what is wanted of a proof, what was read, and what hides it.
func proofRemarks(view *answer.View, p answer.Proof) string {
	out := []string{string(p.Kind)}
	if p.What != "" {
		out[0] += ", " + p.What
	}
	if p.Want != "" {
		out = append(out, "wanted "+p.Want)
	}
	if p.Value != "" {
		out = append(out, "read "+p.Value)
	}
	switch {
	case !p.Open():
	case p.Hidden:
		out = append(out, "hidden already")
	case p.HiddenAt != nil && p.BeforeCover:
		out = append(out, fmt.Sprintf("needed before %s closes it in, %s", p.HiddenBy, when(*p.HiddenAt)))
	case p.HiddenAt != nil:
		out = append(out, fmt.Sprintf("%s closes it in, %s", p.HiddenBy, when(*p.HiddenAt)))
	}
	return strings.Join(out, "; ")
}

func newAhead(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "ahead",
		Short: "all work that came ahead of its turn, and what that may cost",
		Args:  takes(0, 0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			view, err := e.view(c.Context())
			if err != nil {
				return err
			}
			return e.ahead(view.AheadOfTurn())
		},
	}
}

func (e *env) ahead(rows []answer.AheadEntry) error {
	sum := 0
	for _, r := range rows {
		sum += r.CostMin
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"entries": rows, "cost_min": sum})
	}
	for _, r := range rows {
		e.say("%s  entry %d, %s", when(r.At), r.Number, r.Task)
		for _, a := range r.Ahead {
			text := a.Text
			if a.CostMin > 0 {
				text += fmt.Sprintf("; may cost %s", mins(float64(a.CostMin)))
			}
			e.say("  %s", text)
		}
	}
	e.say("%d entries came ahead of their turn; that may cost %s", len(rows), mins(float64(sum)))
	return nil
}
