package tui

import (
	"slices"
	"strings"

	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// question asks before something is done that a person may not want.
type question struct {
	about []screen.Fact // what there is to know first
	ask   widget.Confirm
	yes   screen.Effect
}

func (q question) Scope() string                                   { return questionScope }
func (q question) Do(screen.Action) (screen.Screen, screen.Effect) { return q, nil }
func (q question) With(screen.Data) screen.Screen                  { return q }

// Typed answers: every key is for the question.
func (q question) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	ask, out := q.ask.Key(k)
	q.ask = ask
	switch out {
	case widget.Submitted:
		return q, closeThen{q.yes}, true
	case widget.Cancelled:
		return q, closePage{}, true
	}
	return q, nil, true
}

// View draws what there is to know over the question.
func (q question) View(st widget.Styles, w, h int) string {
	about := screen.Facts(st, w, q.about...)
	if len(about) > 0 {
		about = append(slices.Clip(about[:min(len(about), h/2)]), "")
	}
	return widget.Cells(strings.Join(append(about, strings.Split(q.ask.View(st, w, h-len(about)), "\n")...), "\n"), w, h)
}
