package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// helpPage shows every key that works in a scope, grouped, innermost first.
type helpPage struct {
	scope string
	top   int
	page  int // lines
}

func newHelp(s string) helpPage { return helpPage{scope: s} }

func (p helpPage) Scope() string { return keysScope }

// Typed closes the page with the key that opened it.
func (p helpPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	if k.Text == "?" || k.Text == "q" {
		return p, closePage{}, true
	}
	return p, nil, false
}

// Do scrolls, or closes the page.
func (p helpPage) Do(a screen.Action) (screen.Screen, screen.Effect) {
	last := len(p.lines(widget.Styles{}, 80)) - 1
	switch a {
	case screen.Back:
		return p, closePage{}
	case screen.Up:
		p.top--
	case screen.Down:
		p.top++
	case screen.PageUp:
		p.top -= p.page
	case screen.PageDown:
		p.top += p.page
	case screen.First:
		p.top = 0
	case screen.Last:
		p.top = last
	}
	p.top = max(0, min(p.top, last))
	return p, nil
}

// With learns how long a page is.
func (p helpPage) With(d screen.Data) screen.Screen {
	p.page = max(1, d.Lines/2)
	return p
}

// View draws the keys from the first that is seen.
func (p helpPage) View(st widget.Styles, w, h int) string {
	lines := p.lines(st, w)
	top := max(0, min(p.top, len(lines)-h))
	if left := len(lines) - top - h; left > 0 && h > 1 {
		lines = append(lines[:top+h-1:top+h-1], st.Dim.Render(fmt.Sprintf("↓ %d lines more", left+1)))
	}
	return widget.Cells(strings.Join(lines[top:], "\n"), w, h)
}

func (p helpPage) lines(st widget.Styles, w int) []string {
	var lines []string
	for _, in := range chain(p.scope) {
		if len(lines) > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, st.Strong.Render(widget.Fit(heading(in), w)))
		for _, b := range bindingsOf(in) {
			keys := strings.Join(b.keys, " ")
			pad := strings.Repeat(" ", max(1, 12-ansi.StringWidth(keys)))
			lines = append(lines, "  "+st.Key.Render(keys)+pad+b.help)
		}
	}
	return lines
}

// menuPage lets a person choose from what can be done on a screen, by arrows and enter.
type menuPage struct {
	title string
	list  widget.List
	does  []screen.Action
}

// newMenu makes the menu of a scope; title says what it is about.
func newMenu(s string, title string) menuPage {
	p := menuPage{title: title}
	var rows []widget.Row
	for _, in := range chain(s) {
		for _, b := range bindingsOf(in) {
			if in == listScope || in == alwaysScope || b.action == screen.Enter || b.action == showMenu || slices.Contains(p.does, b.action) {
				continue
			}
			p.does = append(p.does, b.action)
			rows = append(rows, widget.Row{ID: string(rune('a' + len(rows))), Text: b.help, Note: b.keys[0], Tone: widget.Quiet})
		}
	}
	p.list = widget.NewList(rows, "There is nothing to do here.")
	return p
}

func (p menuPage) Scope() string { return menuScope }

// Typed has no use for letters.
func (p menuPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) { return p, nil, false }

// Do moves, does what is under the cursor, or closes the menu.
func (p menuPage) Do(a screen.Action) (screen.Screen, screen.Effect) {
	if name, ok := listKey(a); ok {
		p.list, _ = p.list.Key(name)
		return p, nil
	}
	row, ok := p.list.Selected()
	switch {
	case a == screen.Back:
		return p, closePage{}
	case a == screen.Enter && ok:
		return p, closeThen{doAction{p.does[[]rune(row.ID)[0]-'a']}}
	}
	return p, nil
}

// With learns how long a page is.
func (p menuPage) With(d screen.Data) screen.Screen {
	p.list = p.list.Sized(d.Lines - 1)
	return p
}

// View draws the menu under its title.
func (p menuPage) View(st widget.Styles, w, h int) string {
	return titled(st, p.title, p.list, w, h)
}

func titled(st widget.Styles, title string, list widget.List, w, h int) string {
	if h < 3 {
		return list.View(st, w, h)
	}
	return st.Strong.Render(widget.Fit(widget.Clean(title), w)) + "\n" + list.View(st, w, h-1)
}

// listKey gives the key by which a list knows an action.
func listKey(a screen.Action) (widget.Key, bool) {
	if a < screen.Up || a > screen.Last {
		return widget.Key{}, false
	}
	return widget.Key{Name: []string{"up", "down", "pgup", "pgdown", "home", "end"}[a-screen.Up]}, true
}
