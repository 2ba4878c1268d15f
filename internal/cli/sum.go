package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/reckon"
	"example.com/vanlog/internal/sums"
)

func newSum(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "sum [NAME [FIELD=VALUE]...]",
		Short: "the sums at the bench: torque, wire, fractions, what is left behind a recess",
		Long: `The sums at the bench, each with its formula, its source and what it does not know. Without
a NAME it lists them; with a NAME alone it says what the sum asks for.`,
		Example: "  vanlog sum length sum='96 in - 4 × 23 1/2 in - 3 × 1/8 in'\n  vanlog sum wire current='8 A' length='6 m' percent=3",
		RunE:    func(_ *cobra.Command, args []string) error { return e.sum(args) },
	}
}

func (e *env) sum(args []string) error {
	if len(args) == 0 {
		return e.sumList()
	}
	s, ok := sums.Find(args[0])
	if !ok {
		var names []string
		for _, s := range sums.All() {
			names = append(names, s.Name)
		}
		return &usageError{text: "no sum \"" + clean(args[0]) + "\"", near: answer.Near(args[0], names), hint: "vanlog sum lists them"}
	}
	if len(args) == 1 {
		return e.sumFields(s)
	}
	typed, err := fieldsOf(s, args[1:])
	if err != nil {
		return err
	}
	a, err := s.Of(typed)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"sum": s.Name, "lines": a.Lines, "formula": a.Note.Formula, "source": a.Note.Source,
			"caution": strings.TrimSpace(a.Note.Caution + " " + reckon.Standing)})
	}
	for _, line := range a.Lines {
		e.say("%s", line)
	}
	for _, n := range [][2]string{{"formula", a.Note.Formula}, {"source", a.Note.Source}, {"caution", a.Note.Caution}, {"", reckon.Standing}} {
		if n[1] != "" {
			e.say("%-8s %s", n[0], n[1])
		}
	}
	return nil
}

func (e *env) sumList() error {
	var rows [][]string
	list := []map[string]string{}
	for _, s := range sums.All() {
		rows = append(rows, []string{s.Name, s.About})
		list = append(list, map[string]string{"name": s.Name, "about": s.About})
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"sums": list})
	}
	e.table(rows...)
	return nil
}

// sumFields says what a sum asks for.
func (e *env) sumFields(s sums.Sum) error {
	if e.asJSON {
		return e.printJSON(map[string]any{"sum": s.Name, "fields": s.Fields})
	}
	e.say("%s: %s", s.Name, s.About)
	var rows [][]string
	for _, f := range s.Fields {
		about := f.Hint
		if len(f.Words) > 0 {
			about += ": " + strings.Join(f.Words, ", ")
		}
		if f.Default != "" {
			about += fmt.Sprintf(" (%s if not said)", f.Default)
		}
		rows = append(rows, []string{"  " + f.Name + "=", f.Label, about})
	}
	e.table(rows...)
	return nil
}

// fieldsOf reads FIELD=VALUE words.
func fieldsOf(s sums.Sum, words []string) (map[string]string, error) {
	typed := map[string]string{}
	for _, word := range words {
		name, value, ok := strings.Cut(word, "=")
		known := slices.ContainsFunc(s.Fields, func(f sums.Field) bool { return f.Name == name })
		if !ok || !known {
			var names []string
			for _, f := range s.Fields {
				names = append(names, f.Name)
			}
			return nil, &usageError{text: fmt.Sprintf("%q is no FIELD=VALUE of %s, which asks for %s", clean(word), s.Name, strings.Join(names, ", ")),
				hint: "vanlog sum " + s.Name}
		}
		typed[name] = value
	}
	return typed, nil
}
