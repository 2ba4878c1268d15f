package record

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

func taskName(t tasks.Task) (id.Task, string) { return t.ID, t.Name }

const whenHint = "2026-03-02, or 2026-03-02 08:00; empty: no such day"

func taskSheet(b build.Build) sheet[tasks.Task] {
	c := choicesOf(b)
	fresh := tasks.Task{}
	fresh.SetDefaults()
	return sheet[tasks.Task]{
		fresh: fresh,
		title: tasks.Task.Title,
		slots: slices.Concat(taskWork(c), taskTimes(), taskRest(c)),
		final: finalTask,
		live:  proposing(c.taskIDs, byName),
	}
}

// taskWork asks what is done and where.
func taskWork(c choices) []slot[tasks.Task] {
	return []slot[tasks.Task]{
		must(text(ask("name", "Name", "what is done, for example: Mount the pump board"), func(t *tasks.Task) *string { return &t.Name })),
		idSlot(c.taskIDs, func(t *tasks.Task) *id.Task { return &t.ID }),
		text(ask("trade", "Trade", "kind of work, such as water or wood: past tasks of it teach how long it takes"),
			func(t *tasks.Task) *string { return &t.Trade }),
		must(typed(ask("hours", "Hours", "of work without the way in: low likely high, such as 3 4 8, or one number"),
			func(t *tasks.Task) *units.Estimate { return &t.Hours }, showHours, readEstimate(readHours))),
		pick(ask("place", "Place", "where it is done; none: anywhere"), c.places, func(t *tasks.Task) *id.Place { return &t.Place }),
		picks(ask("fits", "Fits", "items that are in the van once it is done"), c.items, func(t *tasks.Task) *[]id.Item { return &t.Fits }),
		picks(ask("reaches", "Reaches", "items that must be within reach for it"), c.items, func(t *tasks.Task) *[]id.Item { return &t.Reaches }),
		count(ask("visits", "Trips in", "how often you go in and out for it"), func(t *tasks.Task) *tasks.Visits { return &t.Visits }),
		usesSlot(c),
		picks(ask("parts", "Parts", "bought things it needs"), c.parts, func(t *tasks.Task) *[]id.Part { return &t.Parts }),
	}
}

// showHours shows no hours as nothing, so that a new task asks for them.
func showHours(e units.Estimate) string {
	if e == (units.Estimate{}) {
		return ""
	}
	return showEstimate(e)
}

// taskTimes asks what must be waited for.
func taskTimes() []slot[tasks.Task] {
	return []slot[tasks.Task]{
		perhaps(askDay("not_before", "Not before", whenHint), func(t *tasks.Task) **units.When { return &t.NotBefore }, units.When.String, readWhen),
		perhaps(askDay("not_after", "Not after", whenHint+"; a day counts to its end"),
			func(t *tasks.Task) **units.When { return &t.NotAfter }, units.When.String, readWhen),
	}
}

// taskRest asks for the cure, the proofs, and how far it has come.
func taskRest(c choices) []slot[tasks.Task] {
	return []slot[tasks.Task]{
		cureHours(),
		pick(ask("cure_while", "Cures while", "hours that count for the cure, such as warmth; none: day and night"), c.resources,
			func(t *tasks.Task) *id.Resource { return &cure(t).While }),
		picks(ask("cure_holds", "Cure holds", "what nobody can use until it has cured"), c.resources,
			func(t *tasks.Task) *[]id.Resource { return &cure(t).Holds }),
		lines(ask("checks", "Proofs", "a line each: what kind; what is proved; what it must be; before cover."+
			" For example: torque; Tank straps torqued; 12 N·m ±10 %; before cover. Kinds: "+joinKinds()),
			func(t *tasks.Task) *[]tasks.Check { return &t.Checks }, showCheck, readCheck),
		choose(ask("state", "State", "how far it has come"), []tasks.State{tasks.Todo, tasks.Started, tasks.Finished},
			func(t *tasks.Task) *tasks.State { return &t.State }),
		amount(ask("spent", "Hours spent", "so far; the daybook adds to them"), func(t *tasks.Task) *float64 { return &t.SpentH }, readHours),
		perhaps(ask("left", "Hours left", "where you know better; empty: likely hours less those spent"),
			func(t *tasks.Task) **float64 { return &t.LeftH }, number, readHours),
		perhaps(askDay("finished_at", "Finished at", whenHint), func(t *tasks.Task) **units.When { return &t.FinishedAt }, units.When.String, readWhen),
		pick(ask("option", "Design option", "only there while this option is chosen; none: always"), c.options,
			func(t *tasks.Task) *id.Option { return &t.Option }),
	}
}

func joinKinds() string { return strings.ReplaceAll(joinIDs(tasks.Kinds()), " ", ", ") }

// cure gives the cure of t to be changed, one of its own.
func cure(t *tasks.Task) *tasks.Cure {
	c := tasks.Cure{}
	if t.Cure != nil {
		c = *t.Cure
	}
	t.Cure = &c
	return &c
}

func cureHours() slot[tasks.Task] {
	return slot[tasks.Task]{
		field: ask("cure", "Cure hours", "glue, paint, sealant: hours after the finish; empty: nothing to wait for"),
		get: func(t *tasks.Task) string {
			if t.Cure == nil {
				return ""
			}
			return number(t.Cure.Hours)
		},
		set: func(t *tasks.Task, s string) error {
			if s == "" {
				t.Cure = nil
				return nil
			}
			h, err := readHours(s)
			if err == nil {
				cure(t).Hours = h
			}
			return err
		},
	}
}

// finalTask takes away a cure without hours, where nothing else is said of it, and looks
// for what does not fit together.
func finalTask(t *tasks.Task, f widget.Form) error {
	if strings.TrimSpace(f.Value("cure")) == "" && t.Cure != nil {
		if f.Value("cure_while") != "" || f.Value("cure_holds") != "" {
			return errors.New("say how many hours the cure takes, or take away what it goes by")
		}
		t.Cure = nil
	}
	if err := uniqueChecks(t.Checks); err != nil {
		return err
	}
	if t.NotBefore != nil && t.NotAfter != nil && t.NotAfter.Until() <= t.NotBefore.At {
		return fmt.Errorf("not after %s lies before not before %s", t.NotAfter, t.NotBefore)
	}
	return nil
}

// usesSlot asks for resources, each with how many of it: "builder, helper 2".
func usesSlot(c choices) slot[tasks.Task] {
	f := ask("uses", "Uses", "hands and room it needs, such as: builder, helper 2. Empty: it runs by itself")
	f.From = c.resources
	return typed(f, func(t *tasks.Task) *tasks.Uses { return &t.Uses }, showUses, func(s string) (tasks.Uses, error) {
		return readUses(s, c.resources)
	})
}

func showUses(u tasks.Uses) string {
	var out []string
	for r, n := range u {
		if n == 1 {
			out = append(out, string(r))
		} else {
			out = append(out, fmt.Sprintf("%s %d", r, n))
		}
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

func readUses(s string, from []widget.Choice) (tasks.Uses, error) {
	u := tasks.Uses{}
	for _, one := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' }) {
		words := strings.Fields(one)
		n := 1
		if len(words) == 2 {
			var err error
			if n, err = readCount(words[1]); err != nil {
				return nil, err
			}
		}
		if len(words) < 1 || len(words) > 2 {
			return nil, fmt.Errorf("%q: want a resource and how many of it, with commas between", strings.TrimSpace(one))
		}
		if err := known("resource", from, words[0]); err != nil {
			return nil, err
		}
		u[id.Resource(words[0])] += n
	}
	return u, nil
}
