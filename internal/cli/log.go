package cli

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// entryFlags are what log and stop can say of an entry.
type entryFlags struct {
	visits           int
	photos, readings []string
	finished         bool
	how              daybook.Reading // of all readings: source, condition, tool, witness mark
}

func (f *entryFlags) flags(s *pflag.FlagSet) {
	s.IntVar(&f.visits, "visits", 0, "the `NUMBER` of trips in; 0: not counted")
	s.StringArrayVar(&f.photos, "photo", nil, "a photo of it, the name of its `FILE`, or newest: of the photo folder; may be repeated")
	s.StringArrayVar(&f.readings, "reading", nil, "a proof, as `CHECK=VALUE`; may be repeated")
	s.StringVar(&f.how.Source, "source", "", "of the readings: `WHERE` the wanted value is from, such as the maker's sheet")
	s.StringVar(&f.how.Condition, "condition", "", "of the readings: the `STATE` of the thread, such as dry or oiled")
	s.StringVar(&f.how.Tool, "tool", "", "of the readings: the `TOOL` that it was set with")
	s.BoolVar(&f.how.WitnessMark, "witness-mark", false, "of the readings: a line over bolt and part is drawn")
	s.BoolVar(&f.finished, "finished", false, "the task is done")
}

// request gives the flags as an entry to be made.
func (f *entryFlags) request() (app.LogRequest, error) {
	r := app.LogRequest{Visits: f.visits, Photos: f.photos, Finished: f.finished}
	if f.visits < 0 || f.visits > maxTrips {
		return r, usage("--visits: want 0 to %d, got %d", maxTrips, f.visits)
	}
	for _, p := range f.photos {
		if strings.TrimSpace(p) == "" {
			return r, usage("--photo: want the name of a file")
		}
	}
	for _, text := range f.readings {
		check, value, ok := strings.Cut(text, "=")
		if !ok || !id.Valid(check) || strings.TrimSpace(value) == "" {
			return r, &usageError{text: "--reading: \"" + text + "\" is no reading",
				hint: "--reading CHECK=VALUE, for example strap-torque='12.1 N·m'"}
		}
		reading := f.how
		reading.Check, reading.Value = id.Check(check), value
		r.Readings = append(r.Readings, reading)
	}
	return r, nil
}

// logVerb is `vanlog log`.
type logVerb struct {
	*env
	entryFlags
	began string
}

func newLog(e *env) *cobra.Command {
	v := &logVerb{env: e}
	c := &cobra.Command{
		Use:   "log TASK [DURATION] [NOTE]",
		Short: "write work done into the daybook",
		Long: `Write work done into the daybook. The second argument is the duration where it reads as
one: 1h30, 90m, 1.5h, 1:30 or 90 (minutes); or from when to when: 9:10-10:45.`,
		Example:           "  vanlog log mount-pump-board 1h30 'board up, hoses next' --visits 4 --reading strap-torque='12.1 N·m'",
		Args:              takes(1, 3, "TASK, then DURATION and NOTE if you like (a NOTE of several words in quotes)"),
		RunE:              v.run,
		ValidArgsFunction: e.names(tasksOf),
	}
	v.flags(c.Flags())
	return c
}

func (v *logVerb) flags(s *pflag.FlagSet) {
	v.entryFlags.flags(s)
	s.StringVar(&v.began, "at", "", "the `TIME` the work began, or its date where the duration has the time; else it ended just now")
}

// maxTrips is the most trips in of one entry.
const maxTrips = 1000

// maxMinutes is the longest entry, a day: what is longer was not one stretch of work.
const maxMinutes = 24 * 60

func (v *logVerb) request(args []string) (app.LogRequest, error) {
	r, err := v.entryFlags.request()
	if err != nil {
		return r, err
	}
	r.Task = id.Task(args[0])
	day := v.clock().Date()
	if v.began != "" {
		at, err := units.ParseWhen(v.began)
		if err != nil {
			return r, usage("--at: %v", err)
		}
		day = at.At.Date()
		if !at.DateOnly {
			r.At = &at.At
		}
	}
	if err := v.words(&r, args[1:], day); err != nil {
		return r, err
	}
	if v.began != "" && r.At == nil {
		return r, usage("--at %s: want the time, too, such as %sT08:00, or a duration that has it, such as 9:10-10:45", v.began, day)
	}
	return r, nil
}

// words reads a duration, a note, or both. A piece of a day, 9:10-10:45, is one of this day.
func (f *entryFlags) words(r *app.LogRequest, words []string, day units.Date) error {
	if len(words) > 0 && (len(words) == 2 || isDuration(words[0])) {
		m, from, timed, err := units.ParseWorked(words[0])
		if err != nil {
			return usage("the duration: %v", err)
		}
		if m > maxMinutes {
			return usage("the duration: %s is longer than a day; make an entry for each day", m)
		}
		if timed && r.At != nil {
			return usage("the duration says when the work began, and so does --at: one of them will do, or --at with a date alone")
		}
		if timed {
			at := day.Start() + units.Instant(from)
			r.At = &at
		}
		r.Minutes, words = int(m), words[1:]
	}
	if len(words) > 0 {
		r.Note = words[0]
	}
	return nil
}

// isDuration reports whether a word is, or was meant to be, a duration: one word that begins
// like a number.
func isDuration(word string) bool {
	_, _, _, err := units.ParseWorked(word)
	lower := strings.ToLower(word)
	number := strings.ContainsAny(word[:min(1, len(word))], "0123456789+-.") || lower == "nan" || lower == "inf"
	return err == nil || number && !strings.ContainsAny(word, " \t")
}

func (v *logVerb) run(c *cobra.Command, args []string) error {
	r, err := v.request(args)
	if err != nil {
		return err
	}
	if err := v.newestFor(r.Photos); err != nil {
		return err
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	done, err := a.Log(c.Context(), r)
	if err != nil {
		return err
	}
	return v.logged(done)
}

// logged prints an entry that was made.
func (e *env) logged(l app.Logged) error {
	if e.asJSON {
		return e.printJSON(l)
	}
	e.say("logged:   %s, %s from %s", l.Task, units.Minutes(l.Minutes), when(l.At))
	if l.Finished {
		e.say("finished: %s", l.Task)
	}
	for _, a := range l.Ahead {
		text := a.Text
		if a.CostMin > 0 {
			text += "; that may cost " + units.Minutes(a.CostMin).String()
		}
		e.say("ahead:    of its turn: %s", text)
	}
	for _, o := range l.NotProved {
		e.say("buried:   %s", owedText(o))
	}
	e.say("undo:     vanlog undo")
	return nil
}
