package tui

import (
	"strings"

	"example.com/vanlog/internal/tui/widget"
)

// The smallest terminal that everything works on, and the smallest with the van beside the work.
const (
	leastW, leastH = 60, 16
	sideFromW      = 100
	sideFromH      = 20
)

// headLines are the lines over the body: the build, and the screens.
const headLines = 2

// layout says how the terminal is shared out. Lines: two on top, the body, the
// message, the keys.
type layout struct {
	tooSmall     bool
	workW, bodyH int
	sideW        int // 0: the van is not beside the work
	messageH     int
}

// layout is worked out anew whenever it is needed: it is a few sums.
func (m Model) layout() layout {
	l := layout{workW: m.w, messageH: 1}
	if m.w < leastW || m.h < leastH {
		l.tooSmall = true
		return l
	}
	if m.says.bad {
		l.messageH = max(1, min(m.h/4, len(m.messageLines())))
	}
	l.bodyH = m.h - 3 - l.messageH
	if m.w >= sideFromW && m.h >= sideFromH && !m.hideVan {
		l.workW = m.w * 55 / 100
		l.sideW = m.w - l.workW - 3
	}
	return l
}

// sideSize gives the room for the van and the card; none where they are not seen.
func (m Model) sideSize() (w, h int) {
	l := m.layout()
	switch {
	case l.tooSmall:
		return 0, 0
	case l.sideW > 0:
		return l.sideW, m.h - 4
	case m.onlyVan:
		return m.w, m.h - 4
	}
	return 0, 0
}

// beside sets two blocks of h lines side by side.
func beside(st widget.Styles, left, right string, h int) string {
	l, r := strings.Split(left, "\n"), strings.Split(right, "\n")
	rule := st.Dim.Render(" │ ")
	lines := make([]string, h)
	for i := range lines {
		lines[i] = l[i] + rule + r[i]
	}
	return strings.Join(lines, "\n")
}
