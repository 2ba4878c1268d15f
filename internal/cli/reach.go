package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
)

// reachVerb is `vanlog reach`.
type reachVerb struct {
	*env
	visits      int
	fitted, svg string
	openFor     float64
}

func newReach(e *env) *cobra.Command {
	v := &reachVerb{env: e}
	c := &cobra.Command{
		Use:   "reach TARGET…",
		Short: "the cheapest way to items or places, and back",
		Long: `The cheapest way to items or places: what to enter and open, in which order, with what
tools, and how to refit. Steps that every way has are marked: no way round. Then the next
best way, and what else comes within reach for a few minutes more while this one is open.`,
		Example:           "  vanlog reach boot-tray --fitted all --open-for 10\n  vanlog reach boot-tray tank-bay --visits 3 --svg way.svg",
		Args:              takes(1, 1000, "one TARGET or more"),
		RunE:              v.run,
		ValidArgsFunction: e.names(targetsOf),
	}
	c.Flags().IntVar(&v.visits, "visits", 1, "the `NUMBER` of trips in")
	c.Flags().StringVar(&v.fitted, "fitted", "now", "what is in the way: what is fitted `now`, all, none")
	c.Flags().Float64Var(&v.openFor, "open-for", 5, "list what else comes within reach for `MINUTES` more; 0: list nothing")
	c.Flags().StringVar(&v.svg, "svg", "", "draw the way into `FILE`, - for stdout and nothing else")
	return c
}

// maxVisits is the most trips in that can be asked for.
const maxVisits = 100_000

func (v *reachVerb) validate() error {
	if v.visits < 1 || v.visits > maxVisits {
		return usage("--visits: want 1 to %d, got %d", maxVisits, v.visits)
	}
	if math.IsNaN(v.openFor) || v.openFor < 0 || v.openFor > maxMinutes {
		return usage("--open-for: want 0 to %d minutes, got %v", maxMinutes, v.openFor)
	}
	if v.svg == "-" && v.asJSON {
		return &usageError{text: "--svg - and --json both want stdout", hint: "--svg FILE"}
	}
	return checkFitted(v.fitted)
}

func checkFitted(f string) error {
	switch answer.Fitted(f) {
	case answer.FittedNow, answer.FittedAll, answer.FittedNone:
		return nil
	}
	return &usageError{text: fmt.Sprintf("--fitted: %q is not known", f), hint: "now, all or none"}
}

// reached is the answer of reach: the way, and what there is to know about it.
type reached struct {
	answer.Reach
	Cautions  []answer.Caution   `json:"cautions"`
	Another   *answer.Another    `json:"another"` // null: no other way
	WhileOpen []answer.WhileOpen `json:"while_open"`
}

func (v *reachVerb) run(c *cobra.Command, args []string) error {
	if err := v.validate(); err != nil {
		return err
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	found, err := v.find(c.Context(), view, args)
	var none *answer.NoWayError
	if errors.As(err, &none) && v.asJSON {
		return errors.Join(v.printJSON(none.NoWay), err)
	}
	if err != nil {
		return err
	}
	if v.svg != "" {
		if err := v.draw(view, found); err != nil {
			return err
		}
	}
	switch {
	case v.svg == "-":
		return nil
	case v.asJSON:
		return v.printJSON(found)
	}
	v.print(view, found)
	return nil
}

func (v *reachVerb) find(ctx context.Context, view *answer.View, targets []string) (reached, error) {
	fitted := answer.Fitted(v.fitted)
	way, err := view.Reach(ctx, targets, v.visits, fitted)
	out := reached{Reach: way, WhileOpen: []answer.WhileOpen{}}
	if err != nil {
		return out, err
	}
	out.Cautions = view.Cautions(way)
	another, is, err := view.Another(ctx, targets, v.visits, fitted)
	if err != nil {
		return out, err
	}
	if is {
		out.Another = &another
	}
	if v.openFor > 0 {
		out.WhileOpen, err = view.WhileOpen(ctx, targets, fitted, v.openFor)
	}
	return out, err
}

func (v *reachVerb) print(view *answer.View, r reached) {
	v.cautions(view, r.Cautions)
	v.printWay(view, r.Reach)
	switch {
	case r.Another != nil:
		v.wrap("next best: ", anotherText(view, r.Reach, *r.Another))
	case r.CostMin > 0:
		v.say("next best: none was found")
	}
	v.whileOpen(r.WhileOpen)
}

func (e *env) printWay(view *answer.View, r answer.Reach) {
	e.say("cost:    %s%s", mins(r.CostMin), proof(r))
	e.say("persons: %d", r.Persons)
	if len(r.Tools) > 0 {
		e.wrap("tools:   ", strings.Join(r.Tools, ", "))
	}
	for i, s := range r.Steps {
		e.wrap(fmt.Sprintf("%4d. ", i+1), stepText(view, s))
	}
	for _, s := range r.Refit {
		e.wrap("back: ", refitText(view, s))
	}
}

// cautions come before anything else: they are to be read first. What is the same for several
// things is said once.
func (e *env) cautions(view *answer.View, cs []answer.Caution) {
	of := map[string][]string{}
	var texts []string
	for _, c := range cs {
		name := title(view, c.Ref)
		rest, named := strings.CutPrefix(c.Text, name+": ")
		if c.Source != "" {
			rest += " (" + c.Source + ")"
		}
		if _, had := of[rest]; !had {
			texts = append(texts, rest)
			of[rest] = nil
		}
		if named {
			of[rest] = append(of[rest], name)
		}
	}
	for _, text := range texts {
		if names := of[text]; len(names) > 0 {
			text = strings.Join(names, "; ") + ": " + text
		}
		e.wrap("caution: ", text)
	}
}

func refitText(view *answer.View, s answer.Refit) string {
	text := fmt.Sprintf("refit %s, %s", itemTitle(view, s.Item), mins(s.Min))
	if len(s.Torque) > 0 {
		text += ", to " + strings.Join(s.Torque, " and ")
	}
	return text
}

// anotherText says what the second-best way costs more, what it does that the best does not,
// and what it does without.
func anotherText(view *answer.View, best answer.Reach, a answer.Another) string {
	var by, without []string
	for _, name := range a.Without {
		if slices.ContainsFunc(a.Steps, moves(name)) {
			by = append(by, title(view, name)+" by another way")
		} else {
			without = append(without, title(view, name))
		}
	}
	var more []string
	for _, s := range a.Steps {
		if name := or(s.Item, s.Place); s.Do != string(access.At) && !slices.ContainsFunc(best.Steps, moves(name)) {
			more = append(more, title(view, name))
		}
	}
	text := mins(a.MoreMin) + " more"
	if by = append(more, by...); len(by) > 0 {
		text += ": " + strings.Join(by, ", ")
	}
	if len(without) > 0 {
		text += ", without " + strings.Join(without, ", ")
	}
	if !a.Proven {
		text += " (the best found)"
	}
	return text
}

// moves gives whether a step opens or enters what has a name.
func moves(name string) func(answer.Step) bool {
	return func(s answer.Step) bool { return s.Do != string(access.At) && or(s.Item, s.Place) == name }
}

// fewOpen is how many of the things that come within reach a person is told of.
const fewOpen = 10

// whileOpen prints what else comes within reach.
func (v *reachVerb) whileOpen(found []answer.WhileOpen) {
	if len(found) == 0 {
		return
	}
	v.say("while it is open, for at most %s more:", mins(v.openFor))
	rows := [][]string{{"MORE", "ALONE", "WHAT", ""}}
	for _, w := range found[:min(len(found), fewOpen)] {
		rows = append(rows, []string{mins(w.MoreMin), mins(w.AloneMin), w.What, ansi.Truncate(clean(openText(w)), 52, "…")})
	}
	v.table(rows...)
	if len(found) > fewOpen {
		v.say("and %d more (--json lists them)", len(found)-fewOpen)
	}
}

func openText(w answer.WhileOpen) string {
	text := w.Text
	if w.PerYear > 0 {
		text += ", " + aYear(w.PerYear)
	}
	if w.What == "work" && w.Status == answer.Waiting {
		text += " (waiting)"
	}
	return text
}

func proof(r answer.Reach) string {
	if r.Proven {
		return " (no way is cheaper)"
	}
	return fmt.Sprintf(" (the best found; no way costs less than %s)", mins(r.BoundMin))
}

func stepText(view *answer.View, s answer.Step) string {
	text := ""
	switch access.Do(s.Do) {
	case access.Enter:
		text = "enter " + placeTitle(view, s.Place) + ", " + mins(s.Min)
		if s.Times > 1 {
			text += fmt.Sprintf(" each of %d times", s.Times)
		}
	case access.Open:
		text = "open " + itemTitle(view, s.Item) + ", " + mins(s.Min)
		if s.How != "" {
			text += ", " + s.How
		}
		if len(s.Fasteners) > 0 {
			text += ": " + strings.Join(s.Fasteners, ", ")
		}
	default:
		return "there: " + or(itemTitle(view, s.Item), placeTitle(view, s.Place))
	}
	if s.NoWayRound {
		text += " (no way round)"
	}
	return text
}

func itemTitle(view *answer.View, x string) string {
	if i, ok := view.Live.ItemAt[id.Item(x)]; ok {
		return view.Live.Items[i].Title()
	}
	return x
}

func placeTitle(view *answer.View, p string) string {
	if i, ok := view.Live.PlaceAt[id.Place(p)]; ok {
		return view.Live.Places[i].Title()
	}
	return p
}

// title gives the title of an item or a place.
func title(view *answer.View, name string) string {
	if _, item := view.Live.ItemAt[id.Item(name)]; item {
		return itemTitle(view, name)
	}
	return placeTitle(view, name)
}
