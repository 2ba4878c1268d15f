package widget

import (
	"slices"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// longestLine is how many characters a line takes; what is pasted beyond that is cut.
const longestLine = 10_000

// Line is one line of text that is being typed. The zero Line is empty.
type Line struct {
	text []rune
	at   int // the cursor stands before text[at]
}

// NewLine makes a line with the cursor at its end.
func NewLine(text string) Line {
	rs := []rune(text)
	return Line{text: rs, at: len(rs)}
}

// Text gives what stands in the line.
func (l Line) Text() string { return string(l.text) }

// Key types, moves the cursor (left, right, home, end, ctrl+left, ctrl+right), or
// deletes (backspace, delete, ctrl+w and alt+backspace a word, ctrl+u to the beginning,
// ctrl+k to the end). Other keys are Unused; a line is never Submitted.
func (l Line) Key(k Key) (Line, Outcome) {
	if k.Text != "" {
		return l.insert(k.Text), Stay
	}
	if to, ok := l.target(k.Name); ok {
		return Line{l.text, to}, Stay
	}
	switch k.Name {
	case "backspace":
		return l.without(l.at-1, l.at), Stay
	case "delete":
		return l.without(l.at, l.at+1), Stay
	case "ctrl+w", "alt+backspace", "ctrl+backspace":
		return l.without(l.wordLeft(), l.at), Stay
	case "ctrl+u":
		return l.without(0, l.at), Stay
	case "ctrl+k":
		return l.without(l.at, len(l.text)), Stay
	}
	return l, Unused
}

// target gives where a key moves the cursor.
func (l Line) target(key string) (int, bool) {
	switch key {
	case "left":
		return max(0, l.at-1), true
	case "right":
		return min(len(l.text), l.at+1), true
	case "home", "ctrl+a":
		return 0, true
	case "end", "ctrl+e":
		return len(l.text), true
	case "ctrl+left", "alt+left", "alt+b":
		return l.wordLeft(), true
	case "ctrl+right", "alt+right", "alt+f":
		return l.wordRight(), true
	}
	return 0, false
}

func (l Line) insert(s string) Line {
	rs := []rune(Clean(s))
	rs = rs[:min(len(rs), max(0, longestLine-len(l.text)))]
	return Line{slices.Concat(l.text[:l.at], rs, l.text[l.at:]), l.at + len(rs)}
}

// without gives the line without text[from:to], the cursor where it was cut.
func (l Line) without(from, to int) Line {
	from, to = max(0, from), min(to, len(l.text))
	if from >= to {
		return l
	}
	return Line{slices.Concat(l.text[:from], l.text[to:]), from}
}

func (l Line) wordLeft() int {
	i := l.at
	for i > 0 && unicode.IsSpace(l.text[i-1]) {
		i--
	}
	for i > 0 && !unicode.IsSpace(l.text[i-1]) {
		i--
	}
	return i
}

func (l Line) wordRight() int {
	i := l.at
	for i < len(l.text) && unicode.IsSpace(l.text[i]) {
		i++
	}
	for i < len(l.text) && !unicode.IsSpace(l.text[i]) {
		i++
	}
	return i
}

// View draws the line in exactly w columns, scrolled so that the cursor is seen; a line
// that is not focused shows no cursor.
func (l Line) View(st Styles, w int, focused bool) string {
	if !focused {
		return Fit(Clean(l.Text()), w)
	}
	left, right := Clean(string(l.text[:l.at])), Clean(string(l.text[l.at:]))
	room := max(0, w-1-min(ansi.StringWidth(right), w/4))
	if over := ansi.StringWidth(left) - room; over > 0 {
		left = ansi.TruncateLeft(left, over+1, "…")
	}
	// A bar, not only a look, so that the cursor is seen without colours.
	return Fit(left+st.Key.Render("│")+right, w)
}
