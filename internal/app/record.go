package app

import (
	"context"
	"fmt"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tasks"
)

// Save puts a record in its list: in place of the one with key k, or at the end for key 0.
// Row is the domain type of the kind; where it has another id than before, what names it names it
// so, too. The error is a build.Faults where the build would
// be at fault with it, build.ErrStale where the record with key k is gone. A row that
// changes nothing gives a change without a Seq.
func (a *App) Save(ctx context.Context, kind build.Kind, k build.Key, row any) (build.Change, error) {
	return a.save(ctx, kind, k, nil, row)
}

// AddTasks puts tasks at the end of their list, as one change. The error is a build.Faults where the
// build would be at fault with one of them.
func (a *App) AddTasks(ctx context.Context, list []tasks.Task) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		c := build.Change{What: fmt.Sprintf("add %d tasks", len(list))}
		for i, t := range list {
			c.Edits = append(c.Edits, v.Build.Adding(build.TaskKind, t, i))
		}
		return c, nil
	})
}

// SaveOver is Save for a row that was made by changing base, the record as it was read
// before: build.ErrStale where somebody else has changed it since.
func (a *App) SaveOver(ctx context.Context, kind build.Kind, k build.Key, base, row any) (build.Change, error) {
	return a.save(ctx, kind, k, base, row)
}

func (a *App) save(ctx context.Context, kind build.Kind, k build.Key, base, row any) (build.Change, error) {
	if kind == build.HeadKind || kind == build.ClockKind {
		k = 1 // there is only one
	}
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		if k == 0 {
			return build.Change{What: "add " + named(kind, row), Edits: []build.Edit{v.Build.Adding(kind, row, 0)}}, nil
		}
		edit := v.Build.Editing(kind, k, row)
		c := build.Change{What: "change " + named(kind, row)}
		switch {
		case edit.Before == nil && kind != build.HeadKind && kind != build.ClockKind:
			return c, fmt.Errorf("%s is no longer there: %w", named(kind, row), build.ErrStale)
		case base != nil && string(v.Build.Editing(kind, k, base).After) != string(edit.Before):
			return c, fmt.Errorf("%s is no longer as it was: %w", named(kind, row), build.ErrStale)
		case string(edit.Before) != string(edit.After):
			c.Edits = append([]build.Edit{edit}, v.Build.Carrying(kind, k, row)...)
		}
		if n := len(c.Edits); n > 1 {
			c.What = fmt.Sprintf("rename %s, in %d other records too", named(kind, row), n-1)
		}
		return c, nil
	})
}

// Remove removes a record and what means nothing without it; also says what went with it.
// The error is a *build.InUseError where something still needs it, build.ErrStale where
// it is gone already.
func (a *App) Remove(ctx context.Context, kind build.Kind, k build.Key) (c build.Change, also []string, err error) {
	c, err = a.act(ctx, func(v *answer.View) (c build.Change, err error) {
		c.Edits, also, err = v.Build.RemovalOf(kind, k)
		c.What = "remove " + named(kind, rowOf(v.Build, kind, k))
		return c, err
	})
	return c, also, err
}

// Import replaces the build by another, as one change; the running clock goes. The error
// is a build.Faults where b is at fault.
func (a *App) Import(ctx context.Context, b build.Build, what string) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		return build.Change{What: what, Edits: v.Build.Replacing(b)}, nil
	})
}

// Merge changes the build to what merged gives of it, as one change of no more than what
// differs: a clock that runs goes on. Where another process was quicker, merged is asked
// again, with what that one left. The change says what was done; without a Seq nothing
// differed. The errors are those of merged, or a build.Faults.
func (a *App) Merge(ctx context.Context, merged func(build.Build) (b build.Build, what string, err error)) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		b, what, err := merged(v.Build)
		if err != nil {
			return build.Change{}, err
		}
		return build.Change{What: what, Edits: v.Build.Differing(b)}, nil
	})
}
