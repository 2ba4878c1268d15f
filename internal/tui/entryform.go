package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// entryForm is the form of an entry in the daybook.
type entryForm struct {
	task   tasks.Task
	today  units.Date
	clock  bool // the entry of the running clock: how long is known
	form   widget.Form
	saving bool // sent off: it stays until that has worked
}

// The names of the fields; readings have the name of their check behind readingField.
const (
	durationField = "duration"
	beganField    = "began"
	noteField     = "note"
	visitsField   = "visits"
	finishedField = "finished"
	photosField   = "photos"
	readingField  = "reading "
)

// newEntryForm makes the form for a task at a time. Where the clock runs on the task, the
// form stops it.
func newEntryForm(d screen.Data, t id.Task, now units.Instant) entryForm {
	f := entryForm{task: tasks.Task{ID: t}, today: now.Date()}
	if i, ok := d.View.Live.TaskAt[t]; ok {
		f.task = d.View.Live.Tasks[i]
	}
	duration := widget.Field{Name: durationField, Label: "How long", Check: checkDuration,
		Hint: "1h30, 90m, 1.5h, 90 (minutes) or 9:10-10:45; empty: only a word, a photo or a reading"}
	visits := widget.Field{Name: visitsField, Label: "Trips in", Check: checkVisits, Hint: "how often you went in; empty: not counted"}
	if c := d.View.Build.Clock; c != nil && c.Task == t {
		f.clock = true
		duration = clockDuration(d.View, now)
		if c.Visits > 0 {
			visits.Hint = fmt.Sprintf("besides the %d counted by the clock", c.Visits)
		}
	}
	fields := []widget.Field{duration,
		{Name: noteField, Label: "Note"},
		visits,
		{Name: finishedField, Label: "Finished", Asks: widget.YesNo, Value: "no"},
	}
	fields = append(fields, readingFields(d, f.task)...)
	fields = append(fields, widget.Field{Name: photosField, Label: "Photos", Asks: widget.Lines, Hint: "file names, one a line"})
	if !f.clock {
		fields = append(fields, widget.Field{Name: beganField, Label: "Began", Check: checkInstant,
			Hint: "such as " + now.String() + "; empty: it ends now"})
	}
	fields = append(fields, howFields(f.task)...)
	f.form = widget.NewForm("Entry for "+f.task.Title(), fields...)
	return f
}

// clockDuration shows how long the clock has run. Where it seems to have been forgotten, the
// person must say how long the work was; until the end of the hours is proposed.
func clockDuration(v *answer.View, now units.Instant) widget.Field {
	since := v.Build.Clock.Since
	text := units.Minutes(max(0, now-since)).String()
	end, forgotten := v.Forgotten(now)
	if !forgotten && now-since <= units.Day {
		return widget.Field{Name: durationField, Label: "How long", Locked: true, Value: text + " by the clock"}
	}
	f := widget.Field{Name: durationField, Label: "How long", Required: true, Check: checkDuration,
		Hint: "the clock has run for " + text + ": how long was the work?"}
	if forgotten {
		f.Value = units.Minutes(end - since).String()
		f.Hint = fmt.Sprintf("the clock has run for %s, past your hours: until %s it is %s. How long was the work?", text, end.Format("Mon 15:04"), f.Value)
	}
	return f
}

// readingFields gives a field for each proof that is read off something, those still
// owed first.
func readingFields(d screen.Data, t tasks.Task) []widget.Field {
	var owed, given []widget.Field
	for _, c := range t.Checks {
		if c.Kind == tasks.Photo {
			continue
		}
		field := widget.Field{Name: readingField + string(c.ID), Label: cmp.Or(c.What, string(c.ID)), Check: checkReading(c)}
		field.Hint = string(c.Kind) + ": yes or no"
		if c.Want != "" {
			field.Hint = string(c.Kind) + ", wanted: " + c.Want
		}
		if d.View.Given(t.ID, c.ID) {
			field.Hint += " (given already)"
			given = append(given, field)
		} else {
			owed = append(owed, field)
		}
	}
	return append(owed, given...)
}

// The names of the fields that say how torques were come by.
const (
	conditionField = "condition"
	toolField      = "tool"
	sourceField    = "torque source"
	markField      = "witness mark"
)

// howFields ask how the torques of an entry were come by; none for a task that owes no torque.
func howFields(t tasks.Task) []widget.Field {
	if !slices.ContainsFunc(t.Checks, func(c tasks.Check) bool { return c.Kind == tasks.Torque }) {
		return nil
	}
	return []widget.Field{
		{Name: conditionField, Label: "Thread", Hint: "of the torques: dry, oiled, thread lock; a torque for dry threads overloads oiled ones"},
		{Name: toolField, Label: "Tool", Hint: "of the torques: the wrench that they were set with"},
		{Name: sourceField, Label: "Wanted by", Hint: "of the torques: manual, table, maker's sheet"},
		{Name: markField, Label: "Witness mark", Asks: widget.YesNo, Value: "no", Hint: "a line over bolt and part shows later that it has not turned"},
	}
}

func checkDuration(text string) error {
	_, _, _, err := units.ParseWorked(text)
	return err
}

func checkVisits(text string) error {
	if n, err := strconv.Atoi(strings.TrimSpace(text)); err != nil || n < 0 {
		return fmt.Errorf("%q is no number of trips in", text)
	}
	return nil
}

func checkInstant(text string) error {
	_, err := units.ParseInstant(strings.TrimSpace(text))
	return err
}

// checkReading refuses what cannot be compared with what is wanted. A reading that is out
// of its limits is a fact, and is taken.
func checkReading(c tasks.Check) func(string) error {
	return func(text string) error {
		if c.Want == "" {
			return nil
		}
		q, err := units.ParseQuantity(text)
		if err != nil {
			return err
		}
		w, err := units.ParseWant(c.Want)
		if err != nil {
			return err
		}
		_, err = w.Holds(q)
		return err
	}
}

// entry gives what was filled in.
func (f entryForm) entry() logEntry {
	r := requestIn(f.form, f.task, f.today)
	r.Task = f.task.ID
	return logEntry{request: r, stop: f.clock}
}

// requestIn gives what was filled in for an entry of a task. A piece of a day is one of the day
// on which it began, if that is said, else of the day that is given. The form lets nothing else
// through, but what the clock says, or nothing.
func requestIn(f widget.Form, t tasks.Task, day units.Date) app.LogRequest {
	r := app.LogRequest{Note: strings.TrimSpace(f.Value(noteField)), Finished: f.Value(finishedField) == "yes", Readings: readingsIn(f, t)}
	if text := f.Value(photosField); text != "" {
		r.Photos = strings.Split(text, "\n")
	}
	if n, err := strconv.Atoi(strings.TrimSpace(f.Value(visitsField))); err == nil {
		r.Visits = n
	}
	if began, err := units.ParseInstant(strings.TrimSpace(f.Value(beganField))); err == nil {
		r.At, day = &began, began.Date()
	}
	if n, from, timed, err := units.ParseWorked(f.Value(durationField)); err == nil {
		r.Minutes = int(n)
		if timed {
			at := day.Start() + units.Instant(from)
			r.At = &at
		}
	}
	return r
}

func (f entryForm) Scope() string                                   { return formScope }
func (f entryForm) Do(screen.Action) (screen.Screen, screen.Effect) { return f, nil }
func (f entryForm) With(screen.Data) screen.Screen                  { return f }

// Typed fills in; every key is for the form.
func (f entryForm) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	form, out := f.form.Key(k)
	f.form = form
	switch out {
	case widget.Cancelled:
		return f, closePage{}, true
	case widget.Submitted:
		f.saving = true
		return f, f.entry(), true
	}
	return f, nil, true
}

// Waiting reports whether the entry was sent off.
func (f entryForm) Waiting() bool { return f.saving }

// After closes the form once the entry is made; else it can be changed again.
func (f entryForm) After(err error) (screen.Screen, bool) {
	f.saving = false
	return f, err == nil
}

// View draws the form.
func (f entryForm) View(st widget.Styles, w, h int) string { return f.form.View(st, w, h) }
