package tui

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/photo"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// newestPhoto enters the newest picture of a folder for a task.
type newestPhoto struct {
	task   id.Task
	folder string
}

// correction puts another entry in the place of one.
type correction struct {
	key         build.Key
	base, entry daybook.Entry
}

// splitting splits an entry in two.
type splitting struct {
	key  build.Key
	base daybook.Entry
	rest app.Rest
}

// striking takes an entry out.
type striking struct {
	key  build.Key
	base daybook.Entry
}

// filterDays shows only some entries of the daybook.
type filterDays struct{ filter answer.DayFilter }

func (newestPhoto) Effect() {}
func (correction) Effect()  {}
func (splitting) Effect()   {}
func (striking) Effect()    {}
func (filterDays) Effect()  {}

func (e correction) write(ctx context.Context, a *app.App) (string, error) {
	return entered(a.Correct(ctx, e.key, &e.base, e.entry))
}

func (e splitting) write(ctx context.Context, a *app.App) (string, error) {
	c, err := a.Split(ctx, e.key, &e.base, e.rest)
	return c.What, err
}

func (e striking) write(ctx context.Context, a *app.App) (string, error) {
	c, err := a.Strike(ctx, e.key, &e.base)
	return c.What, err
}

func (m Model) taskNamed(t id.Task) tasks.Task {
	if i, ok := m.data.View.Live.TaskAt[t]; ok {
		return m.data.View.Live.Tasks[i]
	}
	return tasks.Task{ID: t}
}

// noteForm asks for a note on a task.
func (m Model) noteForm(t id.Task) formPage {
	return formPage{form: widget.NewForm("Note on "+m.taskNamed(t).Title(), widget.Field{Name: noteField, Label: "Note", Required: true}),
		does: func(f widget.Form) screen.Effect {
			return logEntry{request: app.LogRequest{Task: t, Note: f.Value(noteField)}}
		}}
}

// readingForm asks for the readings that a task owes, the owed ones first.
func (m Model) readingForm(t id.Task) (formPage, error) {
	task := m.taskNamed(t)
	fields := readingFields(m.data, task)
	if len(fields) == 0 {
		return formPage{}, fmt.Errorf("%s owes no reading", task.Title())
	}
	fields = append(fields, howFields(task)...)
	return formPage{form: widget.NewForm("Readings for "+task.Title(), fields...), does: func(f widget.Form) screen.Effect {
		return logEntry{request: app.LogRequest{Task: t, Readings: readingsIn(f, task)}}
	}}, nil
}

// readingsIn gives the readings that were filled in.
func readingsIn(f widget.Form, t tasks.Task) []daybook.Reading {
	var out []daybook.Reading
	for _, c := range t.Checks {
		v := strings.TrimSpace(f.Value(readingField + string(c.ID)))
		if v == "" {
			continue
		}
		r := daybook.Reading{Check: c.ID, Value: v}
		if c.Kind == tasks.Torque {
			r.Condition, r.Tool = strings.TrimSpace(f.Value(conditionField)), strings.TrimSpace(f.Value(toolField))
			r.Source, r.WitnessMark = strings.TrimSpace(f.Value(sourceField)), f.Value(markField) == "yes"
		}
		out = append(out, r)
	}
	return out
}

// addPhoto enters the newest picture of the folder where pictures arrive; without such a
// folder it asks for the path of one.
func (m Model) addPhoto(t id.Task) (Model, screen.Effect) {
	if m.photos != "" {
		return m, newestPhoto{t, m.photos}
	}
	return m.push(formPage{form: widget.NewForm("Photo of "+m.taskNamed(t).Title(),
		widget.Field{Name: photosField, Label: "File", Required: true,
			Hint: "the path of the picture; with the setting photo_folder the newest picture there is taken with one key"}),
		does: func(f widget.Form) screen.Effect {
			return logEntry{request: app.LogRequest{Task: t, Photos: []string{strings.TrimSpace(f.Value(photosField))}}}
		}}), nil
}

// write enters the newest picture, unless the task has it already.
func (e newestPhoto) write(ctx context.Context, a *app.App) (string, error) {
	path, err := photo.Newest(e.folder)
	if err != nil {
		return "", err
	}
	v, err := a.View(ctx)
	if err != nil {
		return "", err
	}
	for _, have := range v.Entries(e.task) {
		if slices.Contains(have.Photos, path) {
			return "", fmt.Errorf("the newest picture, %s, is in the daybook already", filepath.Base(path))
		}
	}
	what, err := entered(a.Log(ctx, app.LogRequest{Task: e.task, Photos: []string{path}}))
	return what + ": " + filepath.Base(path), err
}

// The names of more fields.
const (
	taskField  = "task"
	placeField = "place"
	itemField  = "item"
	fromField  = "from"
	toField    = "to"
	wordsField = "words"
)

// correctForm asks for an entry anew, with all that it has.
func (m Model) correctForm(k build.Key, e daybook.Entry) formPage {
	task := m.taskNamed(e.Task)
	finished := map[bool]string{true: "yes", false: "no"}[e.Finished]
	fields := []widget.Field{
		{Name: durationField, Label: "How long", Required: true, Check: checkDuration, Value: units.Minutes(e.Minutes).String(), Hint: "1h30, 90m, 1.5h or 9:10-10:45"},
		{Name: noteField, Label: "Note", Value: e.Note},
		{Name: visitsField, Label: "Trips in", Check: checkVisits, Value: fmt.Sprint(e.Visits)},
		{Name: finishedField, Label: "Finished", Asks: widget.YesNo, Value: finished},
		{Name: beganField, Label: "Began", Required: true, Check: checkInstant, Value: e.At.String()},
		{Name: taskField, Label: "Task", Asks: widget.Pick, Required: true, Value: string(e.Task), From: m.taskChoices()},
		{Name: photosField, Label: "Photos", Asks: widget.Lines, Value: strings.Join(e.Photos, "\n"), Hint: "file names, one a line"},
	}
	for _, f := range append(readingFields(m.data, task), howFields(task)...) {
		fields = append(fields, withReading(f, e))
	}
	return formPage{form: widget.NewForm("Correct an entry for "+task.Title(), fields...),
		does: func(f widget.Form) screen.Effect { return correction{k, e, corrected(f, task, e)} }}
}

func (m Model) taskChoices() []widget.Choice {
	var out []widget.Choice
	for _, t := range m.data.View.Live.Tasks {
		out = append(out, widget.Choice{ID: string(t.ID), Name: t.Title()})
	}
	return out
}

// withReading puts what an entry has into a field of its readings.
func withReading(f widget.Field, e daybook.Entry) widget.Field {
	var how daybook.Reading // of the last torque that says it
	for _, r := range e.Readings {
		if r.Condition+r.Tool+r.Source != "" || r.WitnessMark {
			how = r
		}
	}
	switch f.Name {
	case conditionField:
		f.Value = how.Condition
	case toolField:
		f.Value = how.Tool
	case sourceField:
		f.Value = how.Source
	case markField:
		f.Value = map[bool]string{true: "yes", false: "no"}[how.WitnessMark]
	default:
		f.Value = lastReading(e, id.Check(strings.TrimPrefix(f.Name, readingField)))
	}
	return f
}

func lastReading(e daybook.Entry, c id.Check) string {
	value := ""
	for _, r := range e.Readings {
		if r.Check == c {
			value = r.Value
		}
	}
	return value
}

// corrected gives an entry as the form has it now.
func corrected(f widget.Form, t tasks.Task, e daybook.Entry) daybook.Entry {
	r := requestIn(f, t, e.At.Date())
	out := daybook.Entry{At: e.At, Task: id.Task(f.Value(taskField)), Minutes: r.Minutes, Visits: r.Visits, Note: r.Note, Photos: r.Photos,
		Finished: r.Finished, Readings: e.Readings}
	if r.At != nil {
		out.At = *r.At
	}
	if touched(f, t) {
		out.Readings = r.Readings
	}
	return out
}

// touched reports whether something about the readings was changed: an entry may have several for
// one proof, which no form can show.
func touched(f widget.Form, t tasks.Task) bool {
	names := []string{conditionField, toolField, sourceField, markField}
	for _, c := range t.Checks {
		names = append(names, readingField+string(c.ID))
	}
	return slices.ContainsFunc(names, f.Touched)
}

// splitForm asks how an entry is split in two.
func (m Model) splitForm(k build.Key, e daybook.Entry) (formPage, error) {
	if e.Minutes < 2 {
		return formPage{}, errors.New("an entry of less than two minutes cannot be split")
	}
	title := m.taskNamed(e.Task).Title()
	return formPage{form: widget.NewForm(fmt.Sprintf("Split %s on %s", units.Minutes(e.Minutes), title),
		widget.Field{Name: durationField, Label: "Second part", Required: true, Check: checkDuration, Hint: "how long it was, such as 45m; the first part keeps the rest"},
		widget.Field{Name: taskField, Label: "Its task", Asks: widget.Pick, Value: string(e.Task), From: m.taskChoices()},
		widget.Field{Name: visitsField, Label: "Its trips in", Check: checkVisits, Hint: fmt.Sprintf("of the %d", e.Visits)},
		widget.Field{Name: noteField, Label: "Its note", Hint: "note, photos and readings of now stay with the first part"},
	), does: func(f widget.Form) screen.Effect {
		r := requestIn(f, tasks.Task{}, e.At.Date())
		return splitting{k, e, app.Rest{Minutes: r.Minutes, Visits: r.Visits, Task: id.Task(f.Value(taskField)), Note: r.Note}}
	}}, nil
}

// askStrike asks whether an entry may go.
func (m Model) askStrike(e screen.AskStrike) Model {
	text := fmt.Sprintf("Strike out %s on %s, %s?", units.Minutes(e.Base.Minutes), m.taskNamed(e.Base.Task).Title(), strings.Replace(e.Base.At.String(), "T", " ", 1))
	return m.push(question{yes: striking{e.Key, e.Base}, ask: widget.NewConfirm(text, "strike it out, its hours go from the task", "keep it")})
}

// filterForm asks which entries of the daybook to show.
func (m Model) filterForm(now answer.DayFilter) formPage {
	date := func(d *units.Date) string {
		if d == nil {
			return ""
		}
		return d.String()
	}
	var places, items []widget.Choice
	for _, p := range m.data.View.Live.Places {
		places = append(places, widget.Choice{ID: string(p.ID), Name: p.Title()})
	}
	for _, x := range m.data.View.Live.Items {
		items = append(items, widget.Choice{ID: string(x.ID), Name: x.Title()})
	}
	return formPage{form: widget.NewForm("Which entries? Those that agree with all of this",
		widget.Field{Name: wordsField, Label: "Words", Value: now.Words, Hint: "of note, task, photos or readings"},
		widget.Field{Name: taskField, Label: "Task", Asks: widget.Pick, Value: string(now.Task), From: m.taskChoices()},
		widget.Field{Name: placeField, Label: "Place", Asks: widget.Pick, Value: string(now.Place), From: places, Hint: "where the task is done, or its items lie"},
		widget.Field{Name: itemField, Label: "Item", Asks: widget.Pick, Value: string(now.Item), From: items, Hint: "that the task fits or reaches"},
		widget.Field{Name: fromField, Label: "From", Value: date(now.From), Check: checkDate, IsDay: true, Hint: "such as 2026-03-02"},
		widget.Field{Name: toField, Label: "To", Value: date(now.To), Check: checkDate, IsDay: true, Hint: "the last day, which is in it"},
	).Today(m.clock().Date(), m.wants.now.FirstWeekday == "sun"), does: func(f widget.Form) screen.Effect {
		return filterDays{answer.DayFilter{Task: id.Task(f.Value(taskField)), Place: id.Place(f.Value(placeField)), Item: id.Item(f.Value(itemField)),
			From: dateIn(f, fromField), To: dateIn(f, toField), Words: strings.TrimSpace(f.Value(wordsField))}}
	}}
}

func checkDate(text string) error {
	_, err := units.ParseDate(strings.TrimSpace(text))
	return err
}

// dateIn gives a date that was filled in; nil for none.
func dateIn(f widget.Form, name string) *units.Date {
	d, err := units.ParseDate(strings.TrimSpace(f.Value(name)))
	if err != nil {
		return nil
	}
	return &d
}
