package tui

import (
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// openSpot sets a position or a box on the drawing.
type openSpot struct {
	name, label, text string
	box               bool
}

func (openSpot) Effect() {}

// editorPage is the form of a record.
type editorPage struct {
	editor record.Editor
	saving bool // sent off: it stays until that has worked
}

func (p editorPage) Scope() string                                   { return formScope }
func (p editorPage) Do(screen.Action) (screen.Screen, screen.Effect) { return p, nil }
func (p editorPage) With(screen.Data) screen.Screen                  { return p }

// Typed fills in; every key is for the form.
func (p editorPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	if name, label, text, box := p.editor.Spot(); name != "" && k.Name == "ctrl+o" {
		return p, openSpot{name, label, text, box}, true
	}
	editor, out := p.editor.Key(k)
	p.editor = editor
	switch out {
	case widget.Cancelled:
		return p, closePage{}, true
	case widget.Submitted:
		row, err := p.editor.Row()
		if err != nil {
			return p, sayWrong{err.Error()}, true
		}
		p.saving = true
		return p, saveRecord{p.editor.Kind(), p.editor.RecordKey(), row}, true
	}
	return p, nil, true
}

// Waiting reports whether the record was sent off.
func (p editorPage) Waiting() bool { return p.saving }

// After closes the form once the record is saved; else what was typed can be changed.
func (p editorPage) After(err error) (screen.Screen, bool) {
	p.saving = false
	return p, err == nil
}

// View draws the form.
func (p editorPage) View(st widget.Styles, w, h int) string { return p.editor.View(st, w, h) }
