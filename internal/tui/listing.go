package tui

import (
	"context"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// listing is a page that lists an answer: the proofs, the snags, the hours. What it lists is
// worked out in a command, anew for every load of the build.
type listing struct {
	title string
	ask   func(ctx context.Context, v *answer.View, seq *answer.Sequence) listed
	list  widget.List
	has   listed
	load  int // for which it was asked last; asked of nobody where ask is nil
	known bool
}

// listed is what a listing lists.
type listed struct {
	head  string // over the rows, beside the title
	rows  []widget.Row
	facts map[string][]screen.Fact // of a row, by its ID
	focus map[string]screen.Focus
	enter map[string]screen.Effect // what enter does
	empty string
}

func newListing(title string, ask func(context.Context, *answer.View, *answer.Sequence) listed) listing {
	return listing{title: title, ask: ask, list: widget.NewList(nil, "Working it out …")}
}

func (p listing) Scope() string { return listingScope }

// Typed has no use for letters.
func (p listing) Typed(widget.Key) (screen.Screen, screen.Effect, bool) { return p, nil, false }

// With learns how long a page is; what is listed comes with a message.
func (p listing) With(d screen.Data) screen.Screen {
	p.list = p.list.Sized(max(1, d.Lines*2/3))
	return p
}

// Do moves, does what enter does with the row under the cursor, or closes the page.
func (p listing) Do(a screen.Action) (screen.Screen, screen.Effect) {
	if name, ok := listKey(a); ok {
		p.list, _ = p.list.Key(name)
		return p, nil
	}
	switch row, ok := p.list.Selected(); {
	case a == screen.Back:
		return p, closePage{}
	case a == screen.Enter && ok:
		return p, p.has.enter[row.ID]
	}
	return p, nil
}

// Focus is what the row under the cursor is about.
func (p listing) Focus() screen.Focus {
	row, _ := p.list.Selected()
	return p.has.focus[row.ID]
}

// View draws the rows, and beneath them what there is to know of the one under the cursor.
func (p listing) View(st widget.Styles, w, h int) string {
	head := p.title
	if p.has.head != "" {
		head += ": " + p.has.head
	}
	if h < 4 {
		return p.list.View(st, w, h)
	}
	row, _ := p.list.Selected()
	foot := screen.Facts(st, w, p.has.facts[row.ID]...)
	foot = foot[:min(len(foot), h/3)]
	lines := []string{st.Strong.Render(widget.Fit(widget.Clean(head), w))}
	if len(foot) == 0 || h < 8 {
		return strings.Join(append(lines, p.list.View(st, w, h-1)), "\n")
	}
	rule := st.Dim.Render(strings.Repeat("─", w))
	return strings.Join(append(lines, p.list.View(st, w, h-2-len(foot)), rule, widget.Cells(strings.Join(foot, "\n"), w, len(foot))), "\n")
}

// listedMsg brings what a listing lists.
type listedMsg struct {
	title string
	load  int
	has   listed
}

// askListing asks for what the listing on top lists, where nobody has yet for this load.
func (m Model) askListing() (Model, tea.Cmd, bool) {
	p, ok := m.top().(listing)
	if !ok || p.ask == nil || p.load == m.load && p.known == (m.data.Seq != nil) {
		return m, nil, false
	}
	p.load, p.known = m.load, m.data.Seq != nil
	ctx, load, v, seq := m.ctx, m.load, m.data.View, m.data.Seq
	return m.withTop(p), func() tea.Msg { return listedMsg{p.title, load, p.ask(ctx, v, seq)} }, true
}

func (msg listedMsg) apply(m Model) (Model, tea.Cmd) {
	p, ok := m.top().(listing)
	if !ok || p.title != msg.title || p.load != msg.load {
		return m, nil
	}
	p.has = msg.has
	if p.has.empty != "" && len(p.has.rows) == 0 {
		p.list = widget.NewList(nil, p.has.empty)
	}
	p.list = p.list.WithRows(p.has.rows)
	return m.withTop(p), nil
}
