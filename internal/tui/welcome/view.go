package welcome

import (
	"strings"

	"example.com/vanlog/internal/tui/widget"
)

// View draws the page in exactly w columns and h lines.
func (p Page) View(st widget.Styles, w, h int) string {
	head, foot := p.head(st, w), p.foot(st, w)
	if h < len(head)+len(foot)+6 {
		head, foot = nil, foot[:min(len(foot), max(0, h-6))]
	}
	body := p.body(st, w, max(1, h-len(head)-len(foot)))
	return widget.Cells(strings.Join(append(append(head, strings.Split(body, "\n")...), foot...), "\n"), w, h)
}

func (p Page) head(st widget.Styles, w int) []string {
	if p.step != choosing {
		return nil
	}
	lines := []string{st.Strong.Render(widget.Fit("vanlog", w)), ""}
	lines = append(lines, widget.Wrap("It plans and logs the conversion of a van: what can be done now, in which order, what a panel buries, "+
		"and the way to everything. Everything is kept in one file. How do you want to begin?", w)...)
	return append(lines, "")
}

func (p Page) body(st widget.Styles, w, h int) string {
	switch p.step {
	case choosing:
		return p.menu.View(st, w, h)
	case opening:
		return p.files.View(st, w, h)
	}
	return p.form.View(st, w, h)
}

// foot says what went wrong, and what a table would make.
func (p Page) foot(st widget.Styles, w int) []string {
	var lines []string
	if p.step == matching {
		lines = append(append(lines, st.Dim.Render(strings.Repeat("─", w))), p.table.preview(st, w)...)
	}
	if p.says != "" {
		for _, text := range strings.Split(p.says, "\n") {
			for _, s := range widget.Wrap("! "+widget.Clean(text), w) {
				lines = append(lines, st.Bad.Render(s))
			}
		}
	}
	if p.step == choosing || p.step == opening {
		lines = append(lines, st.Dim.Render(widget.Fit("up/down choose   enter take   esc back", w)))
	}
	return lines
}
