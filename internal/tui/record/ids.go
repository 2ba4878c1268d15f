package record

import (
	"errors"
	"fmt"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

var errID = errors.New("an id is 1 to 40 of a-z, 0-9 and hyphens, not beginning with a hyphen")

// idSlot asks for the id of a record; the ids of the others of its kind are taken.
func idSlot[T any, S ~string](taken []string, at func(*T) *S) slot[T] {
	f := ask("id", "Id", "the short name in commands and files; what names it follows another one")
	f.Required = true
	return typed(f, at, func(s S) string { return string(s) }, func(s string) (S, error) {
		switch {
		case !id.Valid(s):
			return "", errID
		case slices.Contains(taken, s):
			return "", fmt.Errorf("%q is taken", s)
		}
		return S(s), nil
	})
}

// proposing keeps the id of a new record in step with the name, until the person changes it.
func proposing(taken []string, name func(widget.Form) string) func(widget.Form, bool) widget.Form {
	return func(f widget.Form, isNew bool) widget.Form {
		if !isNew || f.Touched("id") {
			return f
		}
		return f.With("id", id.ProposeFree(name(f), func(s string) bool { return slices.Contains(taken, s) }))
	}
}

func byName(f widget.Form) string { return f.Value("name") }

// names gives the ids of some records and the choices to pick from.
func names[T any, S ~string](rows []T, of func(T) (S, string)) (ids []string, from []widget.Choice) {
	for _, r := range rows {
		s, name := of(r)
		ids, from = append(ids, string(s)), append(from, widget.Choice{ID: string(s), Name: name})
	}
	return ids, from
}

// known checks that an id is one of those that can be picked.
func known(what string, from []widget.Choice, s string) error {
	texts := make([]string, len(from))
	for i, c := range from {
		if c.ID == s {
			return nil
		}
		texts[i] = c.ID + " " + c.Name
	}
	if near := widget.Rank(s, texts); len(near) > 0 {
		return fmt.Errorf("no %s %q; is it %s?", what, s, from[near[0]].ID)
	}
	return fmt.Errorf("no %s %q", what, s)
}

// choices are what a build has to pick from, and the ids that are taken.
type choices struct {
	tasks, items, places, parts, resources, options, stocks                  []widget.Choice
	taskIDs, itemIDs, placeIDs, partIDs, resourceIDs, optIDs, stIDs, snagIDs []string
}

func choicesOf(b build.Build) choices {
	var c choices
	c.taskIDs, c.tasks = names(b.Tasks.Rows, taskName)
	c.itemIDs, c.items = names(b.Items.Rows, func(i access.Item) (id.Item, string) { return i.ID, i.Name })
	c.placeIDs, c.places = names(b.Places.Rows, func(p access.Place) (id.Place, string) { return p.ID, p.Name })
	c.partIDs, c.parts = names(b.Parts.Rows, partName)
	c.resourceIDs, c.resources = names(b.Resources.Rows, resourceName)
	c.optIDs, c.options = names(b.Options.Rows, optionName)
	c.stIDs, c.stocks = names(b.Stocks.Rows, stockName)
	c.snagIDs, _ = names(b.Snags.Rows, func(s daybook.Snag) (id.Snag, string) { return s.ID, s.What })
	if b.Resources.Len() == 0 {
		_, c.resources = names([]calendar.Resource{calendar.DefaultBuilder()}, resourceName)
	}
	return c
}
