package widget

import (
	"slices"
	"strings"
)

// longestBlock is how many lines a block takes; what is pasted beyond that is left out.
const longestBlock = 1000

// block is text of one or several lines that is being typed.
type block struct {
	above []string
	line  Line
	below []string
}

// newBlock makes a block with the cursor at its end.
func newBlock(text string) block {
	lines := strings.Split(text, "\n")
	last := len(lines) - 1
	return block{above: lines[:last:last], line: NewLine(lines[last])}
}

// text gives the lines that are not blank.
func (b block) text() string {
	lines := slices.DeleteFunc(b.lines(), func(s string) bool { return strings.TrimSpace(s) == "" })
	return strings.Join(lines, "\n")
}

func (b block) lines() []string {
	return slices.Concat(b.above, []string{b.line.Text()}, b.below)
}

// key edits. It is Unused at the edges: up in the first line, down in the last, enter
// in a blank one.
func (b block) key(k Key) (block, Outcome) {
	if k.Paste {
		return b.paste(k.Text), Stay
	}
	switch k.Name {
	case "up":
		return b.up()
	case "down":
		return b.down()
	case "enter":
		return b.enter()
	case "backspace":
		if b.line.at == 0 && len(b.above) > 0 {
			return b.join(), Stay
		}
	case "delete":
		if b.line.at == len(b.line.text) && len(b.below) > 0 {
			next, _ := b.down()
			next.line.at = 0
			return next.join(), Stay
		}
	}
	line, out := b.line.Key(k)
	b.line = line
	return b, out
}

func (b block) up() (block, Outcome) {
	last := len(b.above) - 1
	if last < 0 {
		return b, Unused
	}
	return b.onto(b.above[:last:last], b.above[last], slices.Concat([]string{b.line.Text()}, b.below)), Stay
}

func (b block) down() (block, Outcome) {
	if len(b.below) == 0 {
		return b, Unused
	}
	return b.onto(slices.Concat(b.above, []string{b.line.Text()}), b.below[0], b.below[1:]), Stay
}

// onto gives a block with these lines, the cursor in the column where it was.
func (b block) onto(above []string, text string, below []string) block {
	line := NewLine(text)
	line.at = min(b.line.at, line.at)
	return block{above, line, below}
}

// enter breaks the line at the cursor.
func (b block) enter() (block, Outcome) {
	if strings.TrimSpace(b.line.Text()) == "" {
		return b, Unused
	}
	if len(b.above)+len(b.below) >= longestBlock {
		return b, Stay
	}
	b.above = slices.Concat(b.above, []string{string(b.line.text[:b.line.at])})
	b.line = Line{text: slices.Clone(b.line.text[b.line.at:])}
	return b, Stay
}

// join puts the line at the end of the one above.
func (b block) join() block {
	last := len(b.above) - 1
	line := NewLine(b.above[last])
	at := line.at
	line = line.insert(b.line.Text())
	line.at = at
	return block{b.above[:last:last], line, b.below}
}

// paste puts text in at the cursor, its line ends kept.
func (b block) paste(text string) block {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	for i, s := range strings.Split(text, "\n") {
		if i > 0 {
			b, _ = b.enter()
		}
		b.line = b.line.insert(s)
	}
	return b
}
