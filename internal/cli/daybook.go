package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// daybookVerb is `vanlog daybook`.
type daybookVerb struct {
	*env
	task, place, item string
	from, to          string
}

func newDaybook(e *env) *cobra.Command {
	v := &daybookVerb{env: e}
	c := &cobra.Command{
		Use:   "daybook [WORDS]",
		Short: "what was done, by day",
		Long: `The entries of the daybook by day, each with the number by which vanlog correct, split
and strike know it. WORDS keep those that have all of them somewhere.`,
		Example: "  vanlog daybook --place tank-bay --from 2026-02-01 leak",
		RunE:    v.run,
	}
	v.flags(c.Flags())
	return c
}

func (v *daybookVerb) flags(f *pflag.FlagSet) {
	f.StringVar(&v.task, "task", "", "only entries of this `TASK`")
	f.StringVar(&v.place, "place", "", "only of tasks in this `PLACE`, or at items that lie there")
	f.StringVar(&v.item, "item", "", "only of tasks that fit or reach this `ITEM`")
	f.StringVar(&v.from, "from", "", "from this `DATE` on")
	f.StringVar(&v.to, "to", "", "up to this `DATE`, which is in it")
}

func (v *daybookVerb) filter(words []string) (answer.DayFilter, error) {
	f := answer.DayFilter{Task: id.Task(v.task), Place: id.Place(v.place), Item: id.Item(v.item), Words: strings.Join(words, " ")}
	for _, x := range []struct {
		flag, text string
		to         **units.Date
	}{{"--from", v.from, &f.From}, {"--to", v.to, &f.To}} {
		if x.text == "" {
			continue
		}
		d, err := units.ParseDate(x.text)
		if err != nil {
			return f, usage("%s: %v", x.flag, err)
		}
		*x.to = &d
	}
	return f, nil
}

// entries is what the verb prints.
type entries struct {
	Minutes int             `json:"minutes"`
	Entries []answer.DayRow `json:"entries"`
}

func (v *daybookVerb) run(c *cobra.Command, args []string) error {
	f, err := v.filter(args)
	if err != nil {
		return err
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	rows, err := view.Daybook(f)
	if err != nil {
		return err
	}
	out := entries{Entries: rows}
	for _, r := range rows {
		out.Minutes += r.Minutes
	}
	if v.asJSON {
		return v.printJSON(out)
	}
	v.say("%d entries, %s", len(rows), units.Minutes(out.Minutes))
	v.days(view, rows)
	return nil
}

// days prints entries under their days.
func (v *daybookVerb) days(view *answer.View, rows []answer.DayRow) {
	var table [][]string
	for i, r := range rows {
		if i == 0 || rows[i-1].At.Date() != r.At.Date() {
			v.table(table...)
			table = nil
			v.say("")
			v.say("%s", r.At.Format("Mon 2006-01-02"))
		}
		table = append(table, []string{fmt.Sprintf("  %d", r.Number), r.At.Format("15:04"), units.Minutes(r.Minutes).String(),
			string(r.Task), strings.Join(remarks(view, r), "; ")})
	}
	v.table(table...)
}

// remarks says what an entry has besides its time.
func remarks(view *answer.View, r answer.DayRow) []string {
	var out []string
	if r.Finished {
		out = append(out, "finished")
	}
	if r.Visits > 0 {
		out = append(out, fmt.Sprintf("%d in", r.Visits))
	}
	if len(view.Ahead(r.Task, r.At)) > 0 {
		out = append(out, "ahead of its turn")
	}
	for _, reading := range r.Readings {
		out = append(out, string(reading.Check)+" "+reading.Value)
	}
	for _, p := range r.Photos {
		out = append(out, "photo "+p)
	}
	if r.Note != "" {
		out = append(out, r.Note)
	}
	return out
}
