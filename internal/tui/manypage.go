package tui

import (
	"context"
	"fmt"
	"strings"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// addTasks makes many tasks as one change.
type addTasks struct{ list []tasks.Task }

// openList asks for a list of tasks.
type openList struct{}

func (addTasks) Effect() {}
func (openList) Effect() {}

func (e addTasks) write(ctx context.Context, a *app.App) (string, error) {
	c, err := a.AddTasks(ctx, e.list)
	return c.What, err
}

// listPage makes tasks of a list that is typed or pasted, and shows beneath what it would make.
type listPage struct {
	build  build.Build
	form   widget.Form
	list   []tasks.Task
	wrong  []string
	saving bool
}

const listField = "list"

func newListPage(b build.Build) listPage {
	return listPage{build: b, form: widget.NewForm("Many tasks from a list", widget.Field{Name: listField, Label: "List", Asks: widget.Lines, Required: true,
		Hint: "a task a line, typed or pasted, its hours at the end: Fit the pump board 3h, Frames 12-20-32 h; without hours it is taken to be one"})}
}

func (p listPage) Scope() string                                   { return formScope }
func (p listPage) Do(screen.Action) (screen.Screen, screen.Effect) { return p, nil }

// With reads the list anew beside other tasks.
func (p listPage) With(d screen.Data) screen.Screen {
	if d.View != nil {
		p.build = d.View.Build
	}
	return p.read()
}

func (p listPage) read() listPage {
	p.list, p.wrong = record.TaskList(p.build, p.form.Value(listField))
	return p
}

// Typed fills in; the tasks are made only where nothing is wrong.
func (p listPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	form, out := p.form.Key(k)
	p.form = form
	p = p.read()
	switch {
	case out == widget.Cancelled:
		return p, closePage{}, true
	case out == widget.Submitted && len(p.wrong) > 0:
		return p, sayWrong{p.wrong[0]}, true
	case out == widget.Submitted && len(p.list) > 0:
		p.saving = true
		return p, addTasks{p.list}, true
	}
	return p, nil, true
}

// Waiting reports whether the tasks were sent off.
func (p listPage) Waiting() bool { return p.saving }

// After closes the page once the tasks are made; else the list can be changed.
func (p listPage) After(err error) (screen.Screen, bool) {
	p.saving = false
	return p, err == nil
}

// View draws the list as it is typed, and beneath it what it would make.
func (p listPage) View(st widget.Styles, w, h int) string {
	var facts []screen.Fact
	for _, text := range p.wrong {
		facts = append(facts, screen.Fact{Label: "wrong", Text: text, Tone: widget.Bad})
	}
	if n := len(p.list); n > 0 {
		facts = append(facts, screen.Fact{Label: "makes", Text: fmt.Sprintf("%d tasks; ctrl+s does", n), Tone: widget.Good})
	}
	for _, t := range p.list[max(0, len(p.list)-4):] {
		facts = append(facts, screen.Fact{Label: string(t.ID), Text: fmt.Sprintf("%s, %.4g h", t.Name, t.Hours.Likely)})
	}
	foot := screen.Facts(st, w, facts...)
	foot = foot[:min(len(foot), h/2)]
	if h < 8 {
		foot = nil
	}
	return widget.Cells(p.form.View(st, w, h-len(foot))+"\n"+strings.Join(foot, "\n"), w, h)
}
