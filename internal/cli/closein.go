package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
)

func newCloseIn(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "closein ITEM|TASK",
		Short: "what fitting it would bury, priced",
		Long: `What the fitting of an item, or of all that a task fits, would bury: the open tasks and the
services that cost more to get at from then on, and the proofs that should be in before.`,
		Args:              takes(1, 1, "one ITEM or TASK"),
		ValidArgsFunction: e.names(itemsAndTasksOf),
		RunE:              func(c *cobra.Command, args []string) error { return e.closeIn(c, args[0]) },
	}
}

func (e *env) closeIn(c *cobra.Command, ref string) error {
	view, err := e.view(c.Context())
	if err != nil {
		return err
	}
	x, err := view.CloseIn(ref)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(x)
	}
	if len(x.Closes)+len(x.NotProved) == 0 {
		e.say("%s buries nothing", ref)
		return nil
	}
	for _, closed := range x.Closes {
		e.say("buries: %s", closedText(closed))
	}
	for _, o := range x.NotProved {
		e.say("first:  %s", owedText(o))
	}
	e.say("extra:  %s for the open tasks and a year of service", extra(x.ExtraMin))
	return nil
}

func closedText(x answer.Closed) string {
	what := string(x.Task)
	if x.Service != "" {
		what = fmt.Sprintf("%s of %s (%.4g times a year)", x.Service, x.Of, x.Visits)
	} else if x.Visits > 1 {
		what = fmt.Sprintf("%s (%.4g trips in)", what, x.Visits)
	}
	if x.AfterMin == nil {
		return what + ": cannot be reached any more"
	}
	return fmt.Sprintf("%s: %s instead of %s, %s more", what, mins(*x.AfterMin), mins(x.BeforeMin), extra(x.ExtraMin))
}

func extra(m *float64) string {
	if m == nil {
		return "for good"
	}
	return mins(*m)
}

func owedText(o answer.Owed) string {
	text := fmt.Sprintf("%s still owes %s", o.Task, o.Check)
	if o.What != "" {
		text += ", " + o.What
	}
	return text
}
