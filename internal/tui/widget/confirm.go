package widget

import "strings"

// Confirm is a question that is answered with yes or no. It stands on no.
type Confirm struct {
	question string
	yes, no  string
	onYes    bool
}

// NewConfirm makes a question; yes and no are the words of its answers, such as "remove it"
// and "keep it".
func NewConfirm(question, yes, no string) Confirm {
	return Confirm{question: question, yes: yes, no: no}
}

// Key answers: Submitted is yes, Cancelled is no. The keys are y and n, arrows and tab to
// change sides, enter for the side it stands on; esc is no.
func (c Confirm) Key(k Key) (Confirm, Outcome) {
	if k.Paste {
		return c, Stay
	}
	name := k.Name
	if name == "" {
		name = k.Text
	}
	switch name {
	case "y", "Y":
		return c, Submitted
	case "n", "N", "esc":
		return c, Cancelled
	case "left", "right", "up", "down", "tab", "shift+tab":
		c.onYes = !c.onYes
		return c, Stay
	case "enter":
		if c.onYes {
			return c, Submitted
		}
		return c, Cancelled
	}
	return c, Unused
}

// View draws the question in exactly w columns and h lines.
func (c Confirm) View(st Styles, w, h int) string {
	lines := Wrap(Clean(c.question), w)
	for i, s := range lines {
		lines[i] = st.Strong.Render(s)
	}
	yes, no := "y  "+Clean(c.yes), "n  "+Clean(c.no)
	lines = append(lines, "", side(st, no, !c.onYes, w), side(st, yes, c.onYes, w))
	return Cells(strings.Join(lines, "\n"), w, h)
}

func side(st Styles, text string, on bool, w int) string {
	if on {
		return st.Selected.Render(Fit("> "+text, w))
	}
	return "  " + text
}
