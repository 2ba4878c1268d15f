// Package widget holds the small things that screens are made of: lists, forms,
// pickers, questions. A widget is a value: it takes keys and gives a new widget, and
// draws itself in exactly the cells it is given. It knows no build and no app.
package widget

import (
	"github.com/charmbracelet/lipgloss"
)

// Styles are the looks of text on the screens. They are made once; every mark that a
// style makes is also made in words or signs, so that no one needs to see colours.
type Styles struct {
	Text     lipgloss.Style // plain
	Dim      lipgloss.Style // less important
	Strong   lipgloss.Style // titles
	Selected lipgloss.Style // the line under the cursor; lists also put ">" before it
	Key      lipgloss.Style // a key that works here
	Good     lipgloss.Style // done, proven
	Warn     lipgloss.Style // waits, closes in
	Bad      lipgloss.Style // late, not proved, refused
	Place    lipgloss.Style // the selected thing in the van
	Way      lipgloss.Style // the way in
}

// NewStyles makes the styles for a renderer on a dark or a light ground, of the palette.
func NewStyles(r *lipgloss.Renderer, dark bool) Styles {
	p := lightPalette()
	if dark {
		p = darkPalette()
	}
	ink := func(h hue) lipgloss.Style { return r.NewStyle().Foreground(h.color()) }
	plain := r.NewStyle()
	return Styles{
		Text:     plain,
		Dim:      ink(p.dim),
		Strong:   plain.Bold(true),
		Selected: plain.Reverse(true),
		Key:      ink(p.key),
		Good:     ink(p.good),
		Warn:     ink(p.warn),
		Bad:      ink(p.bad).Bold(true),
		Place:    ink(p.place).Bold(true),
		Way:      ink(p.way),
	}
}
