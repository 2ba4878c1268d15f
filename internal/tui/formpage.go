package tui

import (
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// formPage asks a person for a few things. What comes of it is an effect; where that is a
// change, the page stays until it is written.
type formPage struct {
	form   widget.Form
	about  []screen.Fact // what there is to know first
	does   func(widget.Form) screen.Effect
	saving bool
}

func (p formPage) Scope() string                                   { return formScope }
func (p formPage) Do(screen.Action) (screen.Screen, screen.Effect) { return p, nil }
func (p formPage) With(screen.Data) screen.Screen                  { return p }

// Typed fills in; every key is for the form.
func (p formPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	form, out := p.form.Key(k)
	p.form = form
	switch out {
	case widget.Cancelled:
		return p, closePage{}, true
	case widget.Submitted:
		e := p.does(p.form)
		if _, wrong := e.(sayWrong); wrong {
			return p, e, true
		}
		if _, writes := e.(writer); !writes {
			return p, closeThen{e}, true
		}
		p.saving = true
		return p, e, true
	}
	return p, nil, true
}

// Waiting reports whether the change was sent off.
func (p formPage) Waiting() bool { return p.saving }

// After closes the page once the change is written; else what was typed can be changed.
func (p formPage) After(err error) (screen.Screen, bool) {
	p.saving = false
	return p, err == nil
}

// View draws what there is to know over the form.
func (p formPage) View(st widget.Styles, w, h int) string {
	about := screen.Facts(st, w, p.about...)
	about = about[:min(len(about), max(0, h/3))]
	out := p.form.View(st, w, h-len(about))
	for i := len(about) - 1; i >= 0; i-- {
		out = widget.Fit(about[i], w) + "\n" + out
	}
	return out
}
