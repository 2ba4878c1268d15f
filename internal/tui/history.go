package tui

import (
	"strconv"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// historyLength is how many changes the page of changes shows.
const historyLength = 500

// historyPage shows the changes, newest first.
type historyPage struct{ list widget.List }

func (p historyPage) with(changes []build.Change) historyPage {
	rows := make([]widget.Row, len(changes))
	for i, c := range changes {
		rows[i] = widget.Row{ID: strconv.FormatUint(c.Seq, 10), Text: c.At.Format("Mon 2 Jan 15:04") + "  " + c.What}
		if c.Undone {
			rows[i].Note, rows[i].Tone = "taken back", widget.Warn
		}
	}
	p.list = p.list.WithRows(rows)
	return p
}

func (p historyPage) Scope() string { return historyScope }

// Typed has no use for letters.
func (p historyPage) Typed(widget.Key) (screen.Screen, screen.Effect, bool) { return p, nil, false }

// Do moves, or closes the page.
func (p historyPage) Do(a screen.Action) (screen.Screen, screen.Effect) {
	if k, ok := listKey(a); ok {
		p.list, _ = p.list.Key(k)
	} else if a == screen.Back {
		return p, closePage{}
	}
	return p, nil
}

// With learns how long a page is.
func (p historyPage) With(d screen.Data) screen.Screen {
	p.list = p.list.Sized(d.Lines - 1)
	return p
}

// View draws the changes.
func (p historyPage) View(st widget.Styles, w, h int) string {
	return titled(st, "Changes, newest first", p.list, w, h)
}
