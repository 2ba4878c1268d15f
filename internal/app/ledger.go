package app

import (
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// ledger makes a change of entries that are in the daybook already, with what follows from it
// for the hours and states of their tasks.
type ledger struct {
	view  *answer.View
	edits []build.Edit                // of entries
	tasks map[build.Key]tasks.Task    // as they are after that
	keys  map[id.Task]build.Key       // of tasks
	gone  map[build.Key]bool          // entries that were taken out or changed
	fresh map[id.Task][]daybook.Entry // entries that were put in
	idle  map[build.Key]bool          // tasks of which work was taken out
}

func newLedger(v *answer.View) *ledger {
	l := &ledger{view: v, tasks: map[build.Key]tasks.Task{}, keys: map[id.Task]build.Key{}, gone: map[build.Key]bool{},
		fresh: map[id.Task][]daybook.Entry{}, idle: map[build.Key]bool{}}
	for i, t := range v.Build.Tasks.Rows {
		l.keys[t.ID] = v.Build.Tasks.Keys[i]
	}
	return l
}

// strike takes an entry out.
func (l *ledger) strike(k build.Key, e daybook.Entry) {
	l.edits = append(l.edits, l.view.Build.Removing(build.DayKind, k))
	l.gone[k] = true
	l.unbook(e, e.Minutes)
}

// replace puts another entry in the place of one. Of the same task only what differs is
// booked: hours and dates typed by hand may be other than the entries say.
func (l *ledger) replace(k build.Key, old, e daybook.Entry) {
	l.edits = append(l.edits, l.view.Build.Editing(build.DayKind, k, e))
	l.gone[k] = true
	if old.Task != e.Task {
		l.unbook(old, old.Minutes)
		l.book(e, e.Minutes)
		return
	}
	was, is := old, e
	was.Finished = old.Finished && (!e.Finished || old.End() != e.End())
	is.Finished = e.Finished && (!old.Finished || old.End() != e.End())
	l.unbook(was, 0)
	l.book(is, e.Minutes-old.Minutes)
}

// add puts an entry in.
func (l *ledger) add(e daybook.Entry) {
	l.edits = append(l.edits, l.view.Build.Adding(build.DayKind, e, 0))
	l.book(e, e.Minutes)
}

// task gives a task as it is by now; false where there is none.
func (l *ledger) task(name id.Task) (build.Key, tasks.Task, bool) {
	k, ok := l.keys[name]
	if !ok {
		return 0, tasks.Task{}, false
	}
	if t, changed := l.tasks[k]; changed {
		return k, t, true
	}
	t, ok := l.view.Build.Tasks.ByKey(k)
	return k, t, ok
}

// unbook takes what an entry did to its task back, and so many minutes.
func (l *ledger) unbook(e daybook.Entry, minutes int) {
	k, t, ok := l.task(e.Task)
	if !ok {
		return
	}
	t = spent(t, -minutes)
	if e.Finished && t.State == tasks.Finished && !l.others(e.Task, func(o daybook.Entry) bool { return o.Finished }) {
		t.State, t.FinishedAt = tasks.Started, nil
	}
	l.tasks[k] = t
	l.idle[k] = l.idle[k] || worked(e)
}

// book does to the task of an entry what the entry does, with so many minutes more.
func (l *ledger) book(e daybook.Entry, minutes int) {
	k, t, ok := l.task(e.Task)
	if !ok {
		return
	}
	if worked(e) {
		t = begun(t)
	}
	t = spent(t, minutes)
	if e.Finished {
		t = finished(t, e.End())
	}
	l.tasks[k] = t
	l.fresh[e.Task] = append(l.fresh[e.Task], e)
}

// worked reports whether an entry is work, and no mere word about it.
func worked(e daybook.Entry) bool { return e.Minutes > 0 || e.Visits > 0 || e.Finished }

// others reports whether another entry of a task is such.
func (l *ledger) others(t id.Task, such func(daybook.Entry) bool) bool {
	for _, e := range l.fresh[t] {
		if such(e) {
			return true
		}
	}
	days := l.view.Build.Days
	for i, e := range days.Rows {
		if e.Task == t && !l.gone[days.Keys[i]] && such(e) {
			return true
		}
	}
	return false
}

// change gives all that has to be changed.
func (l *ledger) change(what string) build.Change {
	c := build.Change{What: what}
	for _, e := range l.edits {
		if string(e.Before) != string(e.After) {
			c.Edits = append(c.Edits, e)
		}
	}
	for _, k := range l.view.Build.Tasks.Keys {
		t, ok := l.tasks[k]
		if !ok {
			continue
		}
		t.SpentH = max(0, t.SpentH)
		if l.idle[k] && t.State == tasks.Started && t.SpentH == 0 && !l.others(t.ID, worked) {
			t.State = tasks.Todo
		}
		if edit := l.view.Build.Editing(build.TaskKind, k, t); string(edit.Before) != string(edit.After) {
			c.Edits = append(c.Edits, edit)
		}
	}
	return c
}
