package app

import (
	"context"
	"slices"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
)

// Move moves a task by hand: it adds the pin, in place of one the other way round. Where the
// pin is there already the change has no Seq. The errors are those of answer.View.PinFor.
func (a *App) Move(ctx context.Context, task id.Task, to answer.Place) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		edits, err := pinEdits(v, task, to, 0)
		name := titleOf(v, task)
		if to.After != "" {
			return build.Change{What: "move " + name + " after " + titleOf(v, to.After), Edits: edits}, err
		}
		return build.Change{What: "move " + name + " before " + titleOf(v, to.Before), Edits: edits}, err
	})
}

// pinEdits gives the edits that make a pin, the nth of its change; none where it is there.
func pinEdits(v *answer.View, task id.Task, to answer.Place, nth int) ([]build.Edit, error) {
	pin, replaces, err := v.PinFor(task, to)
	if err != nil {
		return nil, err
	}
	same := func(e deps.Edge) bool {
		return answer.IsPin(e) && e.Before == pin.Before && e.After == pin.After
	}
	if slices.ContainsFunc(v.Build.Edges.Rows, same) {
		return nil, nil
	}
	var edits []build.Edit
	for _, k := range replaces {
		edits = append(edits, v.Build.Removing(build.EdgeKind, k))
	}
	return append(edits, v.Build.Adding(build.EdgeKind, pin, nth)), nil
}

// Pin fixes a task where it stands in seq: pins after the row before it and before the row after
// it, on every resource that it uses. Where all are there already the change has no Seq. The
// error is a *answer.NameError where the task is not in seq, a *answer.MoveError where must edges
// lead the other way, since the build is no longer that of seq.
func (a *App) Pin(ctx context.Context, task id.Task, seq answer.Sequence) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		places, err := v.Neighbours(task, seq)
		c := build.Change{What: "pin " + titleOf(v, task) + " where it stands"}
		if err != nil {
			return c, err
		}
		added := 0
		for _, to := range places {
			edits, err := pinEdits(v, task, to, added)
			if err != nil {
				return c, err
			}
			if len(edits) > 0 {
				added++
			}
			c.Edits = append(c.Edits, edits...)
		}
		return c, nil
	})
}

// Unpin removes the pins of a task. Where it has none the change has no Seq. The error is a
// *answer.NameError for an unknown task.
func (a *App) Unpin(ctx context.Context, task id.Task) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		c := build.Change{What: "unpin " + titleOf(v, task)}
		if _, _, err := taskNamed(v, task); err != nil {
			return c, err
		}
		for i, e := range v.Build.Edges.Rows {
			if answer.IsPin(e) && (e.Before == task || e.After == task) {
				c.Edits = append(c.Edits, v.Build.Removing(build.EdgeKind, v.Build.Edges.Keys[i]))
			}
		}
		return c, nil
	})
}
