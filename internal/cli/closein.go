package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
)

// closeInVerb is `vanlog closein`.
type closeInVerb struct {
	*env
	fitted string
}

func newCloseIn(e *env) *cobra.Command {
	v := &closeInVerb{env: e}
	c := &cobra.Command{
		Use:   "closein [ITEM|TASK]",
		Short: "what fitting it would bury, priced",
		Long: `What the fitting of an item, or of all that a task fits, would bury: the open tasks and the
services that cost more to get at from then on, and the proofs that should be in before.
Without an argument, the whole table: every item that closes something in.`,
		Example:           "  vanlog closein bench-kickboard\n  vanlog closein --fitted all",
		Args:              takes(0, 1, "one ITEM or TASK, or nothing for the whole table"),
		ValidArgsFunction: e.names(itemsAndTasksOf),
		RunE:              v.run,
	}
	c.Flags().StringVar(&v.fitted, "fitted", "now", "of the table: what else is in the way: what is fitted `now`, all, none")
	return c
}

func (v *closeInVerb) run(c *cobra.Command, args []string) error {
	if err := checkFitted(v.fitted); err != nil {
		return err
	}
	if len(args) > 0 && c.Flags().Changed("fitted") {
		return &usageError{text: "--fitted goes with the whole table, not with one thing", hint: "vanlog closein --fitted " + v.fitted}
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	if len(args) > 0 {
		return v.one(view, args[0])
	}
	table := view.DerivedEdges(answer.Fitted(v.fitted))
	if v.asJSON {
		return v.printJSON(map[string]any{"derived": table})
	}
	v.derived(table)
	return nil
}

func (v *closeInVerb) one(view *answer.View, ref string) error {
	x, err := view.CloseIn(ref)
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(x)
	}
	v.cautions(cautionsOf(view, ref))
	if len(x.Closes)+len(x.NotProved) == 0 {
		v.say("%s buries nothing", ref)
		return nil
	}
	for _, closed := range x.Closes {
		v.say("buries: %s", closedText(closed))
	}
	for _, o := range x.NotProved {
		v.say("first:  %s", owedText(o))
	}
	v.say("extra:  %s for the open tasks and a year of service", extra(x.ExtraMin))
	return nil
}

// cautionsOf gives the cautions of an item, or of all that a task fits.
func cautionsOf(view *answer.View, ref string) []answer.Caution {
	if _, item := view.Live.ItemAt[id.Item(ref)]; item {
		return view.ItemCautions(id.Item(ref))
	}
	var out []answer.Caution
	for _, x := range view.Live.Tasks[view.Live.TaskAt[id.Task(ref)]].Fits {
		out = append(out, view.ItemCautions(x)...)
	}
	return out
}

// derived prints the whole table.
func (v *closeInVerb) derived(table []answer.Derived) {
	if len(table) == 0 {
		v.say("nothing closes anything in")
		return
	}
	rows := [][]string{{"ITEM", "FITTED BY", "CLOSES IN", "WITHOUT IT", "WITH IT", "TIMES", "EXTRA", "FIRST"}}
	for _, d := range table {
		what, after := string(d.Task), "no way"
		if d.Service != "" {
			what = fmt.Sprintf("%s of %s", d.Service, d.Of)
		}
		if d.AfterMin != nil {
			after = mins(*d.AfterMin)
		}
		rows = append(rows, []string{string(d.Item), or(d.FitBy, "-"), what, mins(d.BeforeMin), after,
			timesText(d.Closed), extra(d.ExtraMin), owedList(d.Owed)})
	}
	v.table(rows...)
}

func timesText(c answer.Closed) string {
	if c.Service != "" {
		return aYear(c.Visits)
	}
	return number(c.Visits)
}

func owedList(owed []answer.Owed) string {
	var names []string
	for _, o := range owed {
		names = append(names, string(o.Check))
	}
	return or(strings.Join(names, ", "), "-")
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
