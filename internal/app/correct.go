package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Correct puts another entry in the place of the one with key k; the hours and states of its
// task follow. Base is the entry as it was read: the error is build.ErrStale where it is no longer so, or
// gone; nil does not ask. Otherwise the errors are those of Log. A change without a Seq
// changed nothing.
func (a *App) Correct(ctx context.Context, k build.Key, base *daybook.Entry, e daybook.Entry) (Logged, error) {
	out := Logged{Entry: e}
	c, err := a.act(ctx, func(v *answer.View) (build.Change, error) {
		old, err := entryAt(v, k, base)
		if err != nil {
			return build.Change{}, err
		}
		if err := checkEntry(v, e); err != nil {
			return build.Change{}, err
		}
		if worked(e) {
			out.Ahead = v.Ahead(e.Task, e.At)
		}
		l := newLedger(v)
		l.replace(k, old, e)
		return l.change(fmt.Sprintf("correct %s on %s to %s on %s", short(old), titleOf(v, old.Task), short(e), titleOf(v, e.Task))), nil
	})
	out.Change = c
	return out, err
}

// Strike takes an entry out of the daybook; the hours and state of its task follow. Base is
// as for Correct.
func (a *App) Strike(ctx context.Context, k build.Key, base *daybook.Entry) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		old, err := entryAt(v, k, base)
		if err != nil {
			return build.Change{}, err
		}
		l := newLedger(v)
		l.strike(k, old)
		return l.change(fmt.Sprintf("strike %s on %s out", short(old), titleOf(v, old.Task))), nil
	})
}

// Rest is the second part of an entry that is split.
type Rest struct {
	Minutes int     // of the entry's; the first part keeps the others
	Visits  int     // of the entry's trips in, likewise
	Task    id.Task // empty: the same
	Note    string
}

// Split splits the entry with key k in two: what it has of minutes and trips in is shared out.
// Note, photos and readings stay with the first part. What was finished with the entry is
// finished with its last part. Base is as for Correct.
func (a *App) Split(ctx context.Context, k build.Key, base *daybook.Entry, r Rest) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		old, err := entryAt(v, k, base)
		if err != nil {
			return build.Change{}, err
		}
		first, second, err := split(old, r)
		if err == nil {
			err = checkEntry(v, second)
		}
		if err != nil {
			return build.Change{}, err
		}
		l := newLedger(v)
		l.replace(k, old, first)
		l.add(second)
		return l.change(fmt.Sprintf("split %s on %s: %s, then %s on %s", short(old), titleOf(v, old.Task),
			units.Minutes(first.Minutes), units.Minutes(second.Minutes), titleOf(v, second.Task))), nil
	})
}

// split gives the two parts of an entry.
func split(e daybook.Entry, r Rest) (first, second daybook.Entry, err error) {
	switch {
	case r.Minutes <= 0 || r.Minutes >= e.Minutes:
		return e, e, fmt.Errorf("split %s: the second part must be longer than nothing and shorter than %s, not %s",
			short(e), units.Minutes(e.Minutes), units.Minutes(r.Minutes))
	case r.Visits < 0 || r.Visits > e.Visits:
		return e, e, fmt.Errorf("split %s: of its %d trips in the second part cannot have %d", short(e), e.Visits, r.Visits)
	}
	first = e
	first.Minutes, first.Visits = e.Minutes-r.Minutes, e.Visits-r.Visits
	second = daybook.Entry{Task: cmp.Or(r.Task, e.Task), At: first.End(), Minutes: r.Minutes, Visits: r.Visits, Note: strings.TrimSpace(r.Note)}
	if e.Finished && second.Task == e.Task {
		first.Finished, second.Finished = false, true
	}
	return first, second, nil
}

// entryAt gives the entry with key k, which must be as base has it, if any.
func entryAt(v *answer.View, k build.Key, base *daybook.Entry) (daybook.Entry, error) {
	e, ok := v.Build.Days.ByKey(k)
	switch {
	case !ok && base == nil:
		return e, fmt.Errorf("there is no entry %d in the daybook", k)
	case !ok:
		return e, fmt.Errorf("entry %d is no longer there: %w", k, build.ErrStale)
	case base != nil && !reflect.DeepEqual(*base, e):
		return e, fmt.Errorf("entry %d is no longer as it was: %w", k, build.ErrStale)
	}
	return e, nil
}

// checkEntry refuses what Log would refuse.
func checkEntry(v *answer.View, e daybook.Entry) error {
	t, _, err := taskNamed(v, e.Task)
	if err != nil {
		return err
	}
	r := LogRequest{Task: e.Task, Minutes: e.Minutes, Visits: e.Visits, Note: e.Note, Photos: e.Photos, Readings: e.Readings, Finished: e.Finished}
	if r.empty() {
		return errors.New("an entry without time, trip in, note, photo and reading says nothing: strike it out instead")
	}
	return r.check(t)
}

// short says how long an entry is and when it began.
func short(e daybook.Entry) string {
	return units.Minutes(e.Minutes).String() + " of " + strings.Replace(e.At.String(), "T", " ", 1)
}
