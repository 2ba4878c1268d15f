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
Without an argument, the whole table: every item that closes something in.
With --fitted now (the default) the services are those of what is fitted now; with all, those
of the finished build.`,
		Example:           "  vanlog closein kick-screwed\n  vanlog closein kick-screwed --fitted all\n  vanlog closein --fitted all",
		Args:              takes(0, 1, "one ITEM or TASK, or nothing for the whole table"),
		ValidArgsFunction: e.names(itemsAndTasksOf),
		RunE:              v.run,
	}
	c.Flags().StringVar(&v.fitted, "fitted", "now", "what else is in the way: what is fitted `now`, all, none")
	return c
}

func (v *closeInVerb) run(c *cobra.Command, args []string) error {
	if err := checkFitted(v.fitted); err != nil {
		return err
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
	x, err := view.CloseInWith(ref, answer.Fitted(v.fitted))
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(x)
	}
	v.cautions(view, cautionsOf(view, ref))
	v.buries(view, x)
	if answer.Fitted(v.fitted) == answer.FittedNow {
		return v.later(view, ref, x)
	}
	return nil
}

func (v *closeInVerb) buries(view *answer.View, x answer.CloseIn) {
	if len(x.Closes)+len(x.NotProved) == 0 {
		v.say("%s buries nothing", x.Item)
		return
	}
	for _, closed := range x.Closes {
		v.wrap("buries: ", closedLine(taskText(view, closed.Task), itemTitle(view, string(closed.Of)), closed))
	}
	for _, o := range x.NotProved {
		v.wrap("first:  ", owedText(o))
	}
	if x.ExtraMin == nil {
		v.say("extra:  some of it cannot be reached any more")
		return
	}
	v.say("extra:  %s for the open tasks and a year of service", mins(*x.ExtraMin))
}

// later says what ref costs in service once everything is fitted, where that is not what it
// costs now: what will be serviced may not be there yet.
func (v *closeInVerb) later(view *answer.View, ref string, now answer.CloseIn) error {
	all, err := view.CloseInWith(ref, answer.FittedAll)
	if err != nil {
		return err
	}
	minutes, shut := inService(all)
	if before, was := inService(now); minutes == before && shut == was {
		return nil
	}
	var text []string
	if minutes > 0 || shut == 0 {
		text = append(text, mins(minutes)+" a year of service")
	}
	if shut > 0 {
		text = append(text, fmt.Sprintf("no way to %d of the services", shut))
	}
	v.wrap("later:  ", strings.Join(text, " and ")+", once everything is fitted (--fitted all lists them)")
	return nil
}

// inService gives the minutes a year that x adds to services, and how many it bars for good.
func inService(x answer.CloseIn) (minutes float64, shut int) {
	for _, c := range x.Closes {
		switch {
		case c.Service == "":
		case c.ExtraMin == nil:
			shut++
		default:
			minutes += *c.ExtraMin
		}
	}
	return minutes, shut
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

// closedText says what is closed in, by its ids.
func closedText(x answer.Closed) string { return closedLine(string(x.Task), string(x.Of), x) }

// closedLine says it with a task, or else an item that is serviced, named as is given.
func closedLine(task, of string, x answer.Closed) string {
	what := task
	if x.Service != "" {
		what = fmt.Sprintf("%s of %s (%s)", x.Service, of, aYear(x.Visits))
	} else if x.Visits > 1 {
		what = fmt.Sprintf("%s (%s trips in)", what, number(x.Visits))
	}
	if x.AfterMin == nil {
		return what + ": cannot be reached any more"
	}
	return fmt.Sprintf("%s: %s instead of %s, %s more", what, mins(*x.AfterMin), mins(x.BeforeMin), extra(x.ExtraMin))
}

// taskText gives the id of a task, which commands take, and its name where it has one.
func taskText(view *answer.View, t id.Task) string {
	at, ok := view.Live.TaskAt[t]
	if !ok || view.Live.Tasks[at].Name == "" {
		return string(t)
	}
	return string(t) + ", " + view.Live.Tasks[at].Name
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
