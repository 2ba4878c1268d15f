package app

import (
	"context"
	"fmt"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Start sets the clock running on t; a clock that runs on another task is stopped first,
// and its work entered. build.ErrNothing where it runs on t already.
func (a *App) Start(ctx context.Context, t id.Task) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		task, _, err := taskNamed(v, t)
		if err != nil {
			return build.Change{}, err
		}
		c := build.Change{What: "start the clock on " + task.Title()}
		if clock := v.Build.Clock; clock != nil {
			if clock.Task == t {
				return c, fmt.Errorf("the clock runs on %s since %s: %w", t, clock.Since, build.ErrNothing)
			}
			stopped, err := stopped(v, LogRequest{})
			if err != nil {
				return c, err
			}
			c.What += ", after " + units.Minutes(stopped.Minutes).String() + " on " + titleOf(v, clock.Task)
			c.Edits = stopped.Change.Edits
		}
		next := daybook.Clock{Task: t, Since: v.Now}
		c.Edits = append(c.Edits, v.Build.Editing(build.ClockKind, 1, next))
		return c, nil
	})
}

// Stop stops the clock and makes its entry, with what r adds: note, photos, readings,
// trips in, finished. Task is the clock's; so are begin and minutes, unless At and Minutes
// say when and how long the work really was: that they must where the clock ran for longer than
// a day. build.ErrNothing where no clock runs.
func (a *App) Stop(ctx context.Context, r LogRequest) (Logged, error) {
	var out Logged
	c, err := a.act(ctx, func(v *answer.View) (c build.Change, err error) {
		if v.Build.Clock == nil {
			return c, fmt.Errorf("stop the clock: none is running: %w", build.ErrNothing)
		}
		if out, err = stopped(v, r); err != nil {
			return c, err
		}
		out.Change.Edits = append(out.Change.Edits, v.Build.Removing(build.ClockKind, 1))
		return out.Change, nil
	})
	out.Change = c
	return out, err
}

// stopped makes the entry of the running clock; its edits leave the clock itself alone.
func stopped(v *answer.View, r LogRequest) (Logged, error) {
	clock := *v.Build.Clock
	ran := max(0, int(v.Now-clock.Since)) // a clock put back ran for nothing
	if r.Minutes == 0 && ran <= mostMinutes {
		r.Minutes = ran
	} else if r.Minutes == 0 {
		return Logged{}, fmt.Errorf("the clock on %s runs since %s, that is %s: stop it with the time it really took",
			clock.Task, clock.Since, units.Minutes(ran))
	}
	r.Task = clock.Task
	if r.At == nil {
		r.At = &clock.Since
	}
	r.Visits += clock.Visits
	return entered(v, r, true)
}

// TripIn counts a trip in on the running clock; build.ErrNothing where none runs.
func (a *App) TripIn(ctx context.Context) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		if v.Build.Clock == nil {
			return build.Change{}, fmt.Errorf("count a trip in: no clock is running: %w", build.ErrNothing)
		}
		clock := *v.Build.Clock
		clock.Visits++
		return build.Change{
			What:  fmt.Sprintf("trip in %d to %s", clock.Visits, titleOf(v, clock.Task)),
			Edits: []build.Edit{v.Build.Editing(build.ClockKind, 1, clock)},
		}, nil
	})
}
