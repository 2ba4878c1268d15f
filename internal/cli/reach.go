package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
)

// reachVerb is `vanlog reach`.
type reachVerb struct {
	*env
	visits int
	fitted string
}

func newReach(e *env) *cobra.Command {
	v := &reachVerb{env: e}
	c := &cobra.Command{
		Use:   "reach TARGET…",
		Short: "the cheapest way to items or places, and back",
		Long: `The cheapest way to items or places: what to enter and open, in which order, with what
tools, and how to refit. Steps that every way has are marked: no way round.`,
		Example:           "  vanlog reach water-pump\n  vanlog reach water-pump tank-bay --visits 3 --fitted all",
		Args:              takes(1, 1000, "one TARGET or more"),
		RunE:              v.run,
		ValidArgsFunction: e.names(targetsOf),
	}
	c.Flags().IntVar(&v.visits, "visits", 1, "the `NUMBER` of trips in")
	c.Flags().StringVar(&v.fitted, "fitted", "now", "what is in the way: what is fitted `now`, all, none")
	return c
}

// maxVisits is the most trips in that can be asked for.
const maxVisits = 100_000

func (v *reachVerb) validate() error {
	if v.visits < 1 || v.visits > maxVisits {
		return usage("--visits: want 1 to %d, got %d", maxVisits, v.visits)
	}
	switch answer.Fitted(v.fitted) {
	case answer.FittedNow, answer.FittedAll, answer.FittedNone:
		return nil
	}
	return &usageError{text: fmt.Sprintf("--fitted: %q is not known", v.fitted), hint: "now, all or none"}
}

func (v *reachVerb) run(c *cobra.Command, args []string) error {
	if err := v.validate(); err != nil {
		return err
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	found, err := view.Reach(c.Context(), args, v.visits, answer.Fitted(v.fitted))
	var none *answer.NoWayError
	if errors.As(err, &none) && v.asJSON {
		return errors.Join(v.printJSON(none.NoWay), err)
	}
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(found)
	}
	v.printWay(view, found)
	return nil
}

func (e *env) printWay(view *answer.View, r answer.Reach) {
	e.say("cost:    %s%s", mins(r.CostMin), proof(r))
	e.say("persons: %d", r.Persons)
	if len(r.Tools) > 0 {
		e.say("tools:   %s", strings.Join(r.Tools, ", "))
	}
	for i, s := range r.Steps {
		e.say("%4d. %s", i+1, stepText(view, s))
	}
	for _, s := range r.Refit {
		text := fmt.Sprintf("refit %s, %s", itemTitle(view, s.Item), mins(s.Min))
		if len(s.Torque) > 0 {
			text += ", to " + strings.Join(s.Torque, " and ")
		}
		e.say("back: %s", text)
	}
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
