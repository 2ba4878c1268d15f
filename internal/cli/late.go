package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// lateVerb is `vanlog late`.
type lateVerb struct {
	*env
	until   string
	seconds float64
	seed    uint64
}

func newLate(e *env) *cobra.Command {
	v := &lateVerb{env: e}
	c := &cobra.Command{
		Use:   "late PART[=DATE]…",
		Short: "what to do while parts are late: hold, carry on, or carry on with nothing buried",
		Long: `What to do when a part comes on another day than was thought. Hold: the order of work stays
as it is, and everything waits its turn. Carry on: the best order that is found with the
part late; it may bury what waits. Carry on, nothing buried: the same, but whatever would
close the waiting work in is held back until that is done, but for what must come before it
("cannot help"). Nothing is changed in the build.`,
		Example:           "  vanlog late p-pump --until 2026-04-10\n  vanlog late p-pump=2026-04-10 p-hose=2026-03-20 --seconds 5",
		Args:              takes(1, 100, "one PART or several"),
		ValidArgsFunction: e.names(partsOf),
		RunE:              v.run,
	}
	c.Flags().StringVar(&v.until, "until", "", "the `DATE` they are due now: there from 00:00 of the day after")
	c.Flags().Float64Var(&v.seconds, "seconds", 2, "search for the order of each choice for `SECONDS` at most")
	c.Flags().Uint64Var(&v.seed, "seed", 0, "a `NUMBER` that steers the search")
	return c
}

func partsOf(v *answer.View) []string {
	var out []string
	for _, p := range v.Live.Parts {
		out = append(out, string(p.ID))
	}
	return out
}

// delays reads the parts and their dates.
func (v *lateVerb) delays(args []string) ([]answer.Delay, error) {
	var out []answer.Delay
	for _, arg := range args {
		part, date, own := strings.Cut(arg, "=")
		if !own {
			date = v.until
		}
		if date == "" {
			return nil, &usageError{text: "late: until when is " + part + " late?", hint: "vanlog late " + part + " --until 2026-04-10"}
		}
		until, err := units.ParseDate(date)
		if err != nil {
			return nil, usage("late: %s: %v", part, err)
		}
		if slices.ContainsFunc(out, func(d answer.Delay) bool { return d.Part == id.Part(part) }) {
			return nil, usage("late: %s is named twice", part)
		}
		out = append(out, answer.Delay{Part: id.Part(part), Until: until})
	}
	return out, nil
}

func (v *lateVerb) run(c *cobra.Command, args []string) error {
	delays, err := v.delays(args)
	if err != nil {
		return err
	}
	view, search, err := v.planning(c, v.seconds)
	if err != nil {
		return err
	}
	l, err := view.Late(c.Context(), delays, plan.Options{Time: search, Seed: v.seed})
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(l)
	}
	v.print(view, l)
	return nil
}

func (v *lateVerb) print(view *answer.View, l answer.Late) {
	for _, d := range l.Parts {
		v.say("late:     %s, due %s", d.Part, d.Until.Format("Mon 2006-01-02"))
	}
	v.doubts(view, l.Parts)
	v.say("waiting:  %d of %d open tasks", len(l.Waiting), len(l.Present.Sequence.Tasks))
	v.say("in time:  finish %s", when(l.Present.Finish))
	v.say("")
	rows := [][]string{{""}, {"finish"}, {"not before"}, {"work"}, {"of it way in"}, {"trips in"}, {"closes in"}, {"cannot help"}}
	for _, x := range l.Choices {
		for i, cell := range lateColumn(x) {
			rows[i] = append(rows[i], cell)
		}
	}
	v.table(rows...)
	v.say("")
	for _, x := range l.Choices {
		v.lateChoice(x)
	}
	v.wrap("so:       ", lateSentence(l))
}

// doubts says of which parts the question is an odd one.
func (v *lateVerb) doubts(view *answer.View, parts []answer.Delay) {
	for _, d := range parts {
		if i, ok := view.Live.PartAt[d.Part]; ok && view.Live.Parts[i].Arrived != nil {
			v.wrap("note:     ", fmt.Sprintf("%s arrived %s by the record; this is as if it had not", d.Part,
				view.Live.Parts[i].Arrived.At.Format("Mon 2006-01-02")))
		}
		if (d.Until + 1).Start() <= view.Now {
			v.wrap("note:     ", fmt.Sprintf("%s: that day is past; the part is taken to be there", d.Part))
		}
	}
}

func lateColumn(x answer.LateChoice) []string {
	if x.NoOrder != "" {
		return []string{x.Name, "none", "-", "-", "-", "-", "-", "-"}
	}
	return []string{x.Name, when(x.Finish), when(x.BoundFinish), units.Minutes(x.WorkMin).String(),
		units.Minutes(x.AccessMin).String(), fmt.Sprint(x.Visits), buriedText(x, false), buriedText(x, true)}
}

// buriedText sums up the waiting work that a choice closes in: what it need not, or what it must.
func buriedText(x answer.LateChoice, must bool) string {
	n, more := x.Buries(must)
	if n == 0 {
		return "nothing"
	}
	return fmt.Sprintf("%s, %s more", counted(n, "task"), mins(more))
}

// lateChoice says what a choice buries and need not, or why it cannot be.
func (v *lateVerb) lateChoice(x answer.LateChoice) {
	if x.NoOrder != "" {
		v.wrap(x.Name+": ", "no order: "+x.NoOrder)
	}
	for _, b := range x.Closes {
		if !b.Unavoidable {
			v.wrap(x.Name+": ", "closes in "+closedText(b.Closed)+", behind "+joined(b.By))
		}
	}
}

func joined[S ~string](names []S) string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = string(n)
	}
	return strings.Join(out, ", ")
}

// lateSentence says what carrying on gains and costs.
func lateSentence(l answer.Late) string {
	hold, carry, open := l.Choices[0], l.Choices[1], l.Choices[2]
	if len(l.Waiting) == 0 {
		return "no open work waits for it"
	}
	if carry.NoOrder != "" {
		return "there is no order of all the work with the parts this late"
	}
	text := "carrying on"
	switch {
	case hold.NoOrder != "":
		text += " is possible, holding is not"
	case carry.Finish < hold.Finish:
		text += fmt.Sprintf(" ends %s sooner than holding", float(int(hold.Finish-carry.Finish)))
	default:
		text += " ends no sooner than holding"
	}
	if hold.NoOrder == "" {
		text += workText(carry.WorkMin - hold.WorkMin)
	}
	switch {
	case open.NoOrder != "":
		return text + "; it cannot be done without burying what waits"
	case open.Finish > carry.Finish:
		return text + fmt.Sprintf("; with nothing buried it ends %s later", float(int(open.Finish-carry.Finish))) + workText(open.WorkMin-carry.WorkMin)
	}
	return text + "; with nothing buried it ends as soon" + workText(open.WorkMin-carry.WorkMin)
}

// workText says how much more or less work something is.
func workText(min int) string {
	switch {
	case min > 0:
		return fmt.Sprintf(" and is %s more work", units.Minutes(min))
	case min < 0:
		return fmt.Sprintf(" and is %s less work", units.Minutes(-min))
	}
	return ", for as much work"
}

// counted gives a number of things.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
