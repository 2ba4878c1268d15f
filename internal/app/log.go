package app

import (
	"context"
	"fmt"
	"math"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// LogRequest is an entry to be made.
type LogRequest struct {
	Task     id.Task
	Minutes  int            // 0 to 1440; 0 for what is only a note, a photo, a reading
	At       *units.Instant // when the work began; nil: Minutes ago
	Visits   int            // trips in; 0: not counted
	Note     string
	Photos   []string
	Readings []daybook.Reading
	Finished bool
}

// Logged is an entry that was made.
type Logged struct {
	daybook.Entry
	Ahead     []answer.Ahead `json:"ahead_of_its_turn,omitempty"`
	NotProved []answer.Owed  `json:"not_proved,omitempty"` // buried by what this finished
	Change    build.Change   `json:"-"`
}

// Log makes an entry: the task's spent hours and state follow from it. Work that comes
// ahead of its turn is entered all the same, and said to be so. The error is a
// *answer.NameError for an unknown task; strange values are refused with a word.
func (a *App) Log(ctx context.Context, r LogRequest) (Logged, error) {
	var out Logged
	c, err := a.act(ctx, func(v *answer.View) (c build.Change, err error) {
		if r.empty() {
			return c, fmt.Errorf("log %s: no time, no trip in, no note, no photo, no reading: there is nothing to enter", r.Task)
		}
		out, err = entered(v, r, r.Minutes > 0 || r.Visits > 0)
		return out.Change, err
	})
	out.Change = c
	return out, err
}

// empty reports whether r says nothing.
func (r LogRequest) empty() bool {
	return r.Minutes == 0 && r.Visits == 0 && strings.TrimSpace(r.Note) == "" && len(r.Photos) == 0 &&
		len(r.Readings) == 0 && !r.Finished
}

// entered makes the entry of r and the change that enters it. Worked: the task was
// worked on, it is not just a word about it.
func entered(v *answer.View, r LogRequest, worked bool) (Logged, error) {
	t, key, err := taskNamed(v, r.Task)
	if err == nil {
		err = r.check(t)
	}
	if err != nil {
		return Logged{}, err
	}
	out := Logged{Entry: r.entry(v.Now)}
	after := t
	if worked || r.Finished {
		after = begun(t)
		out.Ahead = v.Ahead(t.ID, out.At)
	}
	after = spent(after, out.Minutes)
	add := v.Build.Adding(build.DayKind, out.Entry, 0)
	if r.Finished {
		if out.NotProved, err = buriedBy(v, add, t); err != nil {
			return Logged{}, err
		}
		after = finished(after, out.End())
	}
	out.Change = build.Change{What: whatLogged(t, out), Edits: []build.Edit{add}}
	if edit := v.Build.Editing(build.TaskKind, key, after); string(edit.After) != string(edit.Before) {
		out.Change.Edits = append(out.Change.Edits, edit)
	}
	return out, nil
}

// entry gives the entry that r asks for, made at now.
func (r LogRequest) entry(now units.Instant) daybook.Entry {
	e := daybook.Entry{At: now - units.Instant(r.Minutes), Task: r.Task, Minutes: r.Minutes, Visits: r.Visits,
		Note: strings.TrimSpace(r.Note), Photos: r.Photos, Readings: r.Readings, Finished: r.Finished}
	if r.At != nil {
		e.At = *r.At
	}
	return e
}

// taskNamed gives a task and its key; it must be one of the design that is chosen.
func taskNamed(v *answer.View, name id.Task) (tasks.Task, build.Key, error) {
	for i, t := range v.Build.Tasks.Rows {
		if t.ID != name {
			continue
		}
		if _, live := v.Live.TaskAt[name]; !live {
			return t, 0, fmt.Errorf("task %s belongs to option %s, which is not chosen", name, t.Option)
		}
		return t, v.Build.Tasks.Keys[i], nil
	}
	var names []id.Task
	for _, t := range v.Live.Tasks {
		names = append(names, t.ID)
	}
	return tasks.Task{}, 0, &answer.NameError{What: "task", Name: string(name), Near: answer.Near(string(name), names)}
}

// buriedBy gives the proofs that what t fits buries, with the entry already made: its
// readings count.
func buriedBy(v *answer.View, add build.Edit, t tasks.Task) ([]answer.Owed, error) {
	b, err := v.Build.Patch([]build.Edit{add})
	if err != nil {
		return nil, err
	}
	return answer.New(b, v.Now).CloseInBy(t).NotProved, nil
}

// begun gives t as it is once work on it has begun.
func begun(t tasks.Task) tasks.Task {
	if t.State == tasks.Todo || t.State == "" {
		t.State = tasks.Started
	}
	return t
}

// spent gives t with some more minutes of work in it.
func spent(t tasks.Task, minutes int) tasks.Task {
	t.SpentH = plus(t.SpentH, minutes)
	if t.LeftH != nil {
		left := max(0, plus(*t.LeftH, -minutes))
		t.LeftH = &left
	}
	return t
}

// finished gives t as it is once it was finished.
func finished(t tasks.Task, at units.Instant) tasks.Task {
	t.State, t.FinishedAt, t.LeftH = tasks.Finished, &units.When{At: at}, nil
	return t
}

// plus adds minutes to hours, to four decimals. What these lack to whole minutes does
// not add up: three times twenty minutes are an hour.
func plus(hours float64, minutes int) float64 {
	const lack = 60 * 0.00005 // half of the last decimal, in minutes
	sum := hours*60 + float64(minutes)
	if whole := math.Round(sum); math.Abs(sum-whole) <= lack*1.001 {
		sum = whole
	}
	return math.Round(sum/60*1e4) / 1e4
}
