package tui

import (
	"context"
	"fmt"
	"strings"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// noteSnag puts a fault on the list.
type noteSnag struct{ about, what string }

// askSnag asks what becomes of an open snag.
type askSnag struct{ id id.Snag }

// closeSnag says that a snag is mended.
type closeSnag struct{ id id.Snag }

// snagTask makes a task of a snag.
type snagTask struct {
	id    id.Snag
	hours float64
}

func (noteSnag) Effect()  {}
func (askSnag) Effect()   {}
func (closeSnag) Effect() {}
func (snagTask) Effect()  {}

const (
	aboutField = "about"
	whatField  = "what"
	thenField  = "then"
	hoursField = "hours"
)

// snagForm asks for a fault that was found; about what is selected is proposed.
func (m Model) snagForm() formPage {
	var from []widget.Choice
	for _, x := range m.data.View.Live.Items {
		from = append(from, widget.Choice{ID: string(x.ID), Name: x.Title()})
	}
	from = append(from, m.taskChoices()...)
	for _, p := range m.data.View.Live.Places {
		from = append(from, widget.Choice{ID: string(p.ID), Name: p.Title()})
	}
	f := m.focus()
	about := string(f.Task)
	if len(f.Targets) > 0 {
		about = f.Targets[0]
	}
	return formPage{form: widget.NewForm("Note a snag: a fault that was found",
		widget.Field{Name: whatField, Label: "What is wrong", Required: true},
		widget.Field{Name: aboutField, Label: "About", Asks: widget.Pick, From: from, Value: about, Hint: "an item, a task or a place; backspace for none of these"},
	), does: func(f widget.Form) screen.Effect { return noteSnag{f.Value(aboutField), f.Value(whatField)} }}
}

const (
	isMended = "it is mended"
	makeTask = "make a task of it"
)

// askSnag asks what becomes of a snag.
func (m Model) askSnag(e askSnag) Model {
	return m.push(formPage{form: widget.NewForm("The snag "+string(e.id),
		widget.Field{Name: thenField, Label: "What now", Asks: widget.Choose, Words: []string{isMended, makeTask}, Value: isMended},
		widget.Field{Name: hoursField, Label: "Hours", Check: checkDuration, Hint: "that mending takes, for the task, such as 45m"},
	), does: func(f widget.Form) screen.Effect {
		if f.Value(thenField) == isMended {
			return closeSnag(e)
		}
		minutes, err := units.ParseMinutes(f.Value(hoursField))
		if err != nil {
			return sayWrong{"a task needs its hours, such as 45m"}
		}
		return snagTask{e.id, float64(minutes) / 60}
	}})
}

func (e noteSnag) write(ctx context.Context, a *app.App) (string, error) {
	_, c, err := a.NoteSnag(ctx, e.about, e.what)
	return c.What, err
}

func (e closeSnag) write(ctx context.Context, a *app.App) (string, error) {
	c, err := a.CloseSnag(ctx, e.id)
	return c.What, err
}

func (e snagTask) write(ctx context.Context, a *app.App) (string, error) {
	t, c, err := a.SnagTask(ctx, e.id, units.Sure(e.hours))
	return strings.TrimSpace(fmt.Sprintf("%s: %s", c.What, t.ID)), err
}
