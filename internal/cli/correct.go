package cli

import (
	"strconv"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// entryNumber reads the number of an entry.
func entryNumber(text string) (build.Key, error) {
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil || n == 0 {
		return 0, &usageError{text: "\"" + clean(text) + "\" is no number of an entry", hint: "vanlog daybook lists the entries with their numbers"}
	}
	return build.Key(n), nil
}

// correctVerb is `vanlog correct`.
type correctVerb struct {
	*env
	entryFlags
	task, began, lasted, note string
}

func newCorrect(e *env) *cobra.Command {
	v := &correctVerb{env: e}
	c := &cobra.Command{
		Use:   "correct ENTRY",
		Short: "change an entry of the daybook",
		Long: `Change an entry of the daybook: what is not said stays as it was. The hours and the state of
its task follow. --photo and --reading take the place of those that it has; --finished=false
takes a finish back. vanlog daybook lists the entries with their numbers.`,
		Example: "  vanlog correct 57 --lasted 1h20 --note 'without the break'",
		Args:    takes(1, 1, "the number of one ENTRY"),
		RunE:    v.run,
	}
	v.flags(c.Flags())
	f := c.Flags()
	f.StringVar(&v.task, "task", "", "it was this `TASK`")
	f.StringVar(&v.began, "at", "", "it began at this `TIME`")
	f.StringVar(&v.lasted, "lasted", "", "it took this `DURATION`")
	f.StringVar(&v.note, "note", "", "its `NOTE`; '' for none")
	return c
}

func (v *correctVerb) run(c *cobra.Command, args []string) error {
	k, err := entryNumber(args[0])
	if err != nil {
		return err
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	view, err := a.View(c.Context())
	if err != nil {
		return err
	}
	old, _ := view.Build.Days.ByKey(k) // where there is none, Correct says so
	e, err := v.corrected(c, old)
	if err != nil {
		return err
	}
	done, err := a.Correct(c.Context(), k, nil, e)
	if err != nil {
		return err
	}
	if done.Change.Seq == 0 && !v.asJSON {
		v.say("nothing to correct: entry %d is so already", k)
		return nil
	}
	return v.logged(done)
}

// corrected gives an entry with what the flags say of it.
func (v *correctVerb) corrected(c *cobra.Command, e daybook.Entry) (daybook.Entry, error) {
	r, err := v.request()
	if err != nil {
		return e, err
	}
	said := c.Flags().Changed
	if v.task != "" {
		e.Task = id.Task(v.task)
	}
	if v.began != "" {
		if e.At, err = units.ParseInstant(v.began); err != nil {
			return e, usage("--at: %v", err)
		}
	}
	if v.lasted != "" {
		m, err := units.ParseMinutes(v.lasted)
		if err != nil {
			return e, usage("--lasted: %v", err)
		}
		e.Minutes = int(m)
	}
	if said("note") {
		e.Note = v.note
	}
	if said("visits") {
		e.Visits = r.Visits
	}
	if said("photo") {
		e.Photos = r.Photos
	}
	if said("reading") {
		e.Readings = r.Readings
	}
	if said("finished") {
		e.Finished = r.Finished
	}
	return e, nil
}

func newStrike(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "strike ENTRY",
		Short: "take an entry out of the daybook",
		Long:  "Take an entry out of the daybook; the hours and the state of its task follow. vanlog undo brings it back.",
		Args:  takes(1, 1, "the number of one ENTRY"),
		RunE: func(c *cobra.Command, args []string) error {
			return e.onEntry(args[0], func(a *app.App, k build.Key) (build.Change, error) { return a.Strike(c.Context(), k, nil) })
		},
	}
}

// onEntry changes an entry, and says what was done.
func (e *env) onEntry(number string, do func(*app.App, build.Key) (build.Change, error)) error {
	k, err := entryNumber(number)
	if err != nil {
		return err
	}
	a, err := e.app()
	if err != nil {
		return err
	}
	done, err := do(a, k)
	if err != nil {
		return err
	}
	return e.changed(done)
}

// changed says what was changed.
func (e *env) changed(done build.Change) error {
	if e.asJSON {
		return e.printJSON(changesOf(done).Changes[0])
	}
	e.say("%s", done.What)
	e.say("undo: vanlog undo")
	return nil
}

// splitVerb is `vanlog split`.
type splitVerb struct {
	*env
	task, note string
	visits     int
}

func newSplit(e *env) *cobra.Command {
	v := &splitVerb{env: e}
	c := &cobra.Command{
		Use:   "split ENTRY DURATION",
		Short: "split an entry of the daybook in two",
		Long: `Split an entry of the daybook in two; the last DURATION of it becomes an entry of its own,
for the same task or another. Note, photos and readings stay with the first part.`,
		Example: "  vanlog split 57 45m --task lay-floor",
		Args:    takes(2, 2, "the number of one ENTRY and the DURATION of its second part"),
		RunE:    v.run,
	}
	f := c.Flags()
	f.StringVar(&v.task, "task", "", "the second part was this `TASK`")
	f.StringVar(&v.note, "note", "", "the `NOTE` of the second part")
	f.IntVar(&v.visits, "visits", 0, "the `NUMBER` of trips in that were in the second part")
	return c
}

func (v *splitVerb) run(c *cobra.Command, args []string) error {
	m, err := units.ParseMinutes(args[1])
	if err != nil {
		return usage("the duration: %v", err)
	}
	rest := app.Rest{Minutes: int(m), Visits: v.visits, Task: id.Task(v.task), Note: v.note}
	return v.onEntry(args[0], func(a *app.App, k build.Key) (build.Change, error) { return a.Split(c.Context(), k, nil, rest) })
}
