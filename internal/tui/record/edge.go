package record

import (
	"errors"
	"fmt"
	"slices"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/widget"
)

// edgeSheet is the form of the edge with this key; 0 for a new one.
func edgeSheet(b build.Build, key build.Key) sheet[deps.Edge] {
	c := choicesOf(b)
	return sheet[deps.Edge]{
		fresh: deps.Edge{Kind: deps.Must},
		title: func(e deps.Edge) string { return fmt.Sprintf("%s before %s", e.Before, e.After) },
		slots: []slot[deps.Edge]{
			must(pick(ask("before", "First", "the task that comes before"), c.tasks, func(e *deps.Edge) *id.Task { return &e.Before })),
			must(pick(ask("after", "Then", "the task that waits for it"), c.tasks, func(e *deps.Edge) *id.Task { return &e.After })),
			choose(ask("kind", "How binding", "must: always. should: may be broken at the price of rework"),
				[]deps.Kind{deps.Must, deps.Should}, func(e *deps.Edge) *deps.Kind { return &e.Kind }),
			perhaps(ask("lag", "Hours between", "on the clock, from the finish of the first; empty: until it has cured"),
				func(e *deps.Edge) **float64 { return &e.LagH }, number, readHours),
			amount(ask("rework", "Rework hours", "of should: what the first takes longer when the order is broken"),
				func(e *deps.Edge) *float64 { return &e.ReworkH }, readHours),
			text(ask("why", "Why", "in your words; a loop names it"), func(e *deps.Edge) *string { return &e.Why }),
		},
		final: func(e *deps.Edge, _ widget.Form) error { return edgeFits(b, key, *e) },
	}
}

// edgeFits says what is wrong with an edge in its build: above all, the loop that it closes.
func edgeFits(b build.Build, key build.Key, e deps.Edge) error {
	switch {
	case e.Before == "" || e.After == "":
		return nil
	case e.Before == e.After:
		return errors.New("a task cannot come before itself")
	case e.Kind != deps.Must:
		return nil
	}
	edges := []deps.Edge{e}
	for i, k := range b.Edges.Keys {
		if k != key {
			edges = append(edges, b.Edges.Rows[i])
		}
	}
	for _, ids := range designs(b) {
		for _, loop := range deps.Cycles(ids, edges) {
			if slices.Contains(loop, e) {
				return fmt.Errorf("this closes a loop: %s", deps.LoopText(loop))
			}
		}
	}
	return nil
}

// designs gives the tasks that are there together: those of the design that is chosen, then
// those of each that differs from it in one choice.
func designs(b build.Build) [][]id.Task {
	chosen, choice := map[string]id.Option{}, map[id.Option]string{}
	for _, o := range b.Options.Rows {
		choice[o.ID] = o.Choice
		if o.Chosen {
			chosen[o.Choice] = o.ID
		}
	}
	all := [][]id.Task{tasksOf(b.Tasks.Rows, choice, chosen, "")}
	for _, o := range b.Options.Rows {
		if !o.Chosen {
			all = append(all, tasksOf(b.Tasks.Rows, choice, chosen, o.ID))
		}
	}
	return all
}

// tasksOf gives the tasks of a design: the chosen one, but for one option put in.
func tasksOf(rows []tasks.Task, choice map[id.Option]string, chosen map[string]id.Option, instead id.Option) []id.Task {
	var ids []id.Task
	for _, t := range rows {
		on := chosen[choice[t.Option]]
		if instead != "" && choice[instead] == choice[t.Option] {
			on = instead
		}
		if t.Option == "" || t.Option == on {
			ids = append(ids, t.ID)
		}
	}
	return ids
}
