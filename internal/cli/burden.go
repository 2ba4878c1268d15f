package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// burdenVerb is `vanlog burden`.
type burdenVerb struct {
	*env
	choice  string
	seconds float64
}

func newBurden(e *env) *cobra.Command {
	v := &burdenVerb{env: e}
	c := &cobra.Command{
		Use:   "burden",
		Short: "what getting at things will cost in service, every year",
		Long: `What the finished build costs its owner: for every item that is serviced, the way to it with
everything fitted, times the services of a year. With --choice the options of a design
choice stand side by side: access a year, the finish of the build, its work and mass, and
after how many years an option that is more work has paid back.`,
		Example: "  vanlog burden\n  vanlog burden --choice 'kickboard of the lab bench' --seconds 5",
		Args:    takes(0, 0, "no arguments (--choice C compares the options of a choice)"),
		RunE:    v.run,
	}
	c.Flags().StringVar(&v.choice, "choice", "", "compare the options of this `CHOICE`")
	c.Flags().Float64Var(&v.seconds, "seconds", 2, "search for the order of work of each option for `SECONDS` at most")
	_ = c.RegisterFlagCompletionFunc("choice", e.names(choicesOf)) // the flag is there
	return c
}

// burdened is the answer of burden. BreakEven is there where a choice is asked for.
type burdened struct {
	answer.Burden
	Choice    string             `json:"choice,omitempty"`
	BreakEven []answer.BreakEven `json:"break_even,omitzero"`
}

func (v *burdenVerb) run(c *cobra.Command, _ []string) error {
	view, search, err := v.planning(c, v.seconds)
	if err != nil {
		return err
	}
	out := burdened{Choice: v.choice}
	if out.Burden, err = view.Burden(c.Context()); err != nil {
		return err
	}
	if v.choice != "" {
		d, err := view.Designs(c.Context(), v.choice, plan.Options{Time: search})
		if err != nil {
			return err
		}
		out.Options, out.BreakEven = d.Options, d.BreakEven
	}
	if v.asJSON {
		return v.printJSON(out)
	}
	v.print(view, out)
	return nil
}

func (v *burdenVerb) print(view *answer.View, b burdened) {
	if v.choice != "" {
		v.designs(view, b)
		return
	}
	v.say("access:  %s a year, getting at what is serviced", mins(b.MinutesPerYear))
	v.say("service: %s a year, the services themselves", mins(b.ServiceMin))
	v.say("mean:    %s a service, access and all", tenths(b.MeanMin))
	for _, x := range b.Unreachable {
		v.say("no way:  to %s once everything is fitted (vanlog reach %s --fitted all)", x, x)
	}
	rows := [][]string{{"ITEM", "TIMES A YEAR", "WAY IN", "ACCESS A YEAR", "SERVICE A YEAR", "DEAREST OPENING"}}
	for _, x := range b.Items {
		rows = append(rows, burdenRow(x))
	}
	if len(b.Items) > 0 {
		v.say("")
		v.table(rows...)
	}
}

func burdenRow(x answer.Burdened) []string {
	row := []string{string(x.ID), number(x.PerYear), "none", "-", mins(x.ServiceMin), "-"}
	if x.ReachMin != nil {
		row[2], row[3] = mins(*x.ReachMin), mins(*x.MinutesPerYear)
	}
	if x.Dearest != nil {
		row[5] = fmt.Sprintf("%s, %s", x.Dearest.Item, mins(x.Dearest.Min))
	}
	return row
}

// designs prints the options of a choice side by side, a column each.
func (v *burdenVerb) designs(view *answer.View, b burdened) {
	rows := [][]string{{""}, {"access a year"}, {"finish"}, {"not before"}, {"work"}, {"mass"}, {"worst way in"}, {"no way to"}}
	for _, d := range b.Options {
		for i, cell := range v.designColumn(view, d) {
			rows[i] = append(rows[i], cell)
		}
	}
	v.table(rows...)
	v.say("")
	for _, d := range b.Options {
		if d.NoOrder != "" {
			v.wrap(fmt.Sprintf("%s: ", d.ID), "no finish: "+d.NoOrder)
		}
	}
	for _, e := range b.BreakEven {
		v.wrap("break even: ", breakEvenText(e))
	}
	luck := func(d answer.Design) bool { return d.NoOrder == "" && !d.Proven }
	if len(b.BreakEven) > 0 && slices.ContainsFunc(b.Options, luck) {
		v.wrap("note: ", "work is that of the best order found; a small difference may be one of the search (--seconds S searches longer)")
	}
}

func (v *burdenVerb) designColumn(view *answer.View, d answer.Design) []string {
	name, worst := string(d.ID), "all lies open"
	if d.Chosen {
		name += " (chosen)"
	}
	if d.Worst != nil {
		worst = fmt.Sprintf("%s to %s", mins(d.Worst.Min), d.Worst.Item)
	}
	out := []string{name, mins(d.MinutesPerYear), "none", "-", "-", massText(view, d), worst, or(itemList(d), "-")}
	if d.NoOrder == "" {
		out[2], out[3], out[4] = when(d.Finish), when(d.BoundFinish), units.Minutes(d.WorkMin).String()
	}
	return out
}

func itemList(d answer.Design) string {
	var names []string
	for _, x := range d.Unreachable {
		names = append(names, string(x))
	}
	return strings.Join(names, ", ")
}

// massText gives the mass of a design, and how far it is known.
func massText(view *answer.View, d answer.Design) string {
	if d.Unweighed == 0 {
		return number(d.MassKg) + " kg"
	}
	return fmt.Sprintf("%s kg, %d items unweighed", number(d.MassKg), d.Unweighed)
}

func breakEvenText(e answer.BreakEven) string {
	text := fmt.Sprintf("%s is %s more work than %s", e.Dearer, units.Minutes(e.MoreMin), e.Cheaper)
	if e.MoreMin == 0 {
		text = fmt.Sprintf("%s is no more work than %s", e.Dearer, e.Cheaper)
	}
	switch {
	case e.SavedPerYear < 0:
		text += fmt.Sprintf(", and costs %s more access a year", mins(-e.SavedPerYear))
	case e.SavedPerYear > 0:
		text += fmt.Sprintf(", and saves %s of access a year", mins(e.SavedPerYear))
	default:
		text += ", and saves no access"
	}
	switch {
	case e.Unequal != "":
		return text + "; the two do not compare: " + e.Unequal
	case e.Years == nil:
		return text + ": it never pays back"
	case *e.Years == 0:
		return text
	}
	return text + fmt.Sprintf(": paid back after %.1f years", *e.Years)
}
