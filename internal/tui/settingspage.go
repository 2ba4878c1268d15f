package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/settings"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// openSettings asks what the person wants of vanlog, whatever the build.
type openSettings struct{}

// keepSettings keeps that, and lives by it from then on.
type keepSettings struct{ want settings.Settings }

func (openSettings) Effect() {}
func (keepSettings) Effect() {}

// wishes is what the screens need to know of settings.
type wishes struct {
	now   settings.Settings
	keep  func(settings.Settings) error // nil: there is no place for them
	looks func(settings.Settings) widget.Styles
}

// settingsForm asks for each setting.
func (m Model) settingsForm() formPage {
	var fields []widget.Field
	for _, f := range settings.Fields() {
		field := widget.Field{Name: f.Name, Label: f.Name, Hint: f.About, Value: m.wants.now.Get(f.Name)}
		if len(f.Words) > 0 {
			field.Asks, field.Words = widget.Choose, f.Words
		}
		fields = append(fields, field)
	}
	return formPage{form: widget.NewForm("Settings, whatever the build; units are kept in the build: e, build and van", fields...),
		does: func(f widget.Form) screen.Effect {
			var want settings.Settings
			for _, field := range settings.Fields() {
				var err error
				if want, err = want.With(field.Name, f.Value(field.Name)); err != nil {
					return sayWrong{err.Error()}
				}
			}
			return keepSettings{want}
		}}
}

// keptMsg says how keeping settings went.
type keptMsg struct {
	want settings.Settings
	err  error
}

func (m Model) keepSettings(e keepSettings) tea.Cmd {
	keep := m.wants.keep
	return func() tea.Msg {
		if keep == nil {
			return keptMsg{e.want, nil}
		}
		return keptMsg{e.want, keep(e.want)}
	}
}

func (msg keptMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		return m.fail(msg.err), nil
	}
	m.wants.now, m.photos = msg.want, msg.want.PhotoFolder
	if m.wants.looks != nil {
		m.st = m.wants.looks(msg.want)
	}
	m.side = side{} // it was drawn in other colours
	m.says = notice{text: "The settings are kept."}
	if on := msg.want.Mouse == "on"; on != m.pointer {
		next, cmd := m.swapPointer()
		return next, cmd
	}
	return m, nil
}
