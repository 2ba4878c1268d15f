package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

func newSnag(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "snag [THING] WORDS",
		Short: "note a fault that was found; or close it, or make a task of it",
		Long: `Note a fault that was found, about an item, a task or a place, or none of these. It is on the
list (vanlog snags) until it is closed, or the task that it became is done.`,
		Example: "  vanlog snag pump 'hose clip is loose'\n  vanlog snag task hose-clip-is-loose 0.5\n  vanlog snag close hose-clip-is-loose",
		Args:    takes(1, 2, "THING and WORDS (several words in quotes), or WORDS alone"),
		RunE: func(c *cobra.Command, args []string) error {
			about := ""
			if len(args) == 2 {
				about = args[0]
			}
			a, err := e.app()
			if err != nil {
				return err
			}
			s, _, err := a.NoteSnag(c.Context(), about, args[len(args)-1])
			if err != nil {
				return err
			}
			if e.asJSON {
				return e.printJSON(s)
			}
			e.say("noted: snag %s, %s", s.ID, s.What)
			return nil
		},
	}
	c.AddCommand(newSnagClose(e), newSnagTask(e))
	return c
}

func newSnagClose(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "close SNAG",
		Short: "it is mended",
		Args:  takes(1, 1, "one SNAG"),
		RunE: func(c *cobra.Command, args []string) error {
			a, err := e.app()
			if err != nil {
				return err
			}
			done, err := a.CloseSnag(c.Context(), id.Snag(args[0]))
			if err != nil {
				return err
			}
			return e.changed(done)
		},
	}
}

func newSnagTask(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "task SNAG HOURS",
		Short: "make a task of it",
		Args:  takes(2, 2, "one SNAG and the HOURS that mending takes"),
		RunE: func(c *cobra.Command, args []string) error {
			m, err := units.ParseMinutes(args[1] + "h")
			if err != nil {
				m, err = units.ParseMinutes(args[1])
			}
			if err != nil {
				return usage("the hours: %v", err)
			}
			a, err := e.app()
			if err != nil {
				return err
			}
			t, done, err := a.SnagTask(c.Context(), id.Snag(args[0]), units.Sure(float64(m)/60))
			if err != nil {
				return err
			}
			if e.asJSON {
				return e.printJSON(t)
			}
			if err := e.changed(done); err != nil {
				return err
			}
			e.say("task: %s, %s", t.ID, m)
			return nil
		},
	}
}

// snagsVerb is `vanlog snags`.
type snagsVerb struct {
	*env
	all bool
}

func newSnags(e *env) *cobra.Command {
	v := &snagsVerb{env: e}
	c := &cobra.Command{
		Use:   "snags",
		Short: "the faults that were found and are not mended",
		Args:  takes(0, 0, "no arguments"),
		RunE:  v.run,
	}
	c.Flags().BoolVar(&v.all, "all", false, "also those that are closed")
	return c
}

func (v *snagsVerb) run(c *cobra.Command, _ []string) error {
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	rows := []answer.Snag{}
	for _, s := range view.Snags(v.firstOrder(c.Context(), view)) {
		if s.Open || v.all {
			rows = append(rows, s)
		}
	}
	if v.asJSON {
		return v.printJSON(map[string]any{"snags": rows})
	}
	if len(rows) == 0 {
		v.say("no snag is open")
		return nil
	}
	var table [][]string
	for _, s := range rows {
		table = append(table, []string{string(s.ID), s.At.Date().String(), strings.Join(snagRemarks(s), "; ")})
	}
	v.table(table...)
	return nil
}

func snagRemarks(s answer.Snag) []string {
	out := []string{s.What}
	if about := string(s.Item) + string(s.Task); about != "" || s.Where != "" {
		out = append(out, "at "+or(about, string(s.Where)))
	}
	switch {
	case s.Closed != nil:
		out = append(out, "closed "+s.Closed.Date().String())
	case s.Became != "" && !s.Open:
		out = append(out, "mended by "+string(s.Became))
	case s.Became != "":
		out = append(out, "became "+string(s.Became))
	}
	if s.HiddenAt != nil {
		out = append(out, fmt.Sprintf("%s closes it in, %s", s.HiddenBy, when(*s.HiddenAt)))
	}
	return out
}
