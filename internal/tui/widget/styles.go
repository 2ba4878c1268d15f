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

// NewStyles makes the styles for a renderer. The hues are those of Okabe and Ito (Color
// Universal Design, 2008), which colour-blind eyes can tell apart; on a light ground darker
// ones of the same hues, so that text keeps a contrast of 4.5 : 1 (WCAG 2.1, 1.4.3).
func NewStyles(r *lipgloss.Renderer, dark bool) Styles {
	hue := func(onDark, onLight string) lipgloss.Style {
		if dark {
			return r.NewStyle().Foreground(lipgloss.Color(onDark))
		}
		return r.NewStyle().Foreground(lipgloss.Color(onLight))
	}
	plain := r.NewStyle()
	return Styles{
		Text:     plain,
		Dim:      hue("#A0A0A0", "#595959"),
		Strong:   plain.Bold(true),
		Selected: plain.Reverse(true),
		Key:      hue("#56B4E9", "#005A8C"),
		Good:     hue("#009E73", "#00664A"),
		Warn:     hue("#E69F00", "#8A5A00"),
		Bad:      hue("#D55E00", "#A34700").Bold(true),
		Place:    hue("#F0E442", "#8C3D6B").Bold(true),
		Way:      hue("#CC79A7", "#8C3D6B"),
	}
}
