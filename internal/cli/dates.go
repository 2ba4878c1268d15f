package cli

import (
	"github.com/spf13/cobra"
)

func newDates(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "dates",
		Short: "early and late dates of every open task, and its floats",
		Long: `Early and late dates and floats of every open task, as the critical path gives them: from what
must come before what, cures, parts and hours, but not from access and not from how many
hands there are. The sequence is what can be done; these say what has room.`,
		Args: takes(0, 0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error { return e.dates(c) },
	}
}

func (e *env) dates(c *cobra.Command) error {
	view, err := e.view(c.Context())
	if err != nil {
		return err
	}
	d, err := view.Dates()
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(d)
	}
	e.say("finish: %s (without access, and with hands enough)", when(d.Finish))
	rows := [][]string{{"TASK", "EARLY START", "EARLY FINISH", "LATE START", "LATE FINISH", "FLOAT", "FREE", ""}}
	for _, t := range d.Tasks {
		critical := ""
		if t.Critical {
			critical = "critical"
		}
		rows = append(rows, []string{string(t.ID), when(t.EarlyStart), when(t.EarlyFinish), when(t.LateStart),
			when(t.LateFinish), float(t.TotalFloatMin), float(t.FreeFloatMin), critical})
	}
	e.table(rows...)
	return nil
}
