package screen

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// Fact is a label and what there is to say under it. An empty text says nothing and takes
// no line.
type Fact struct {
	Label, Text string
	Tone        widget.Tone
}

// Facts sets facts beneath each other in lines of at most w columns.
func Facts(st widget.Styles, w int, facts ...Fact) []string {
	lw := 0
	for _, f := range facts {
		if f.Text != "" {
			lw = max(lw, ansi.StringWidth(widget.Clean(f.Label)))
		}
	}
	lw = min(lw, w*2/5)
	var lines []string
	for _, f := range facts {
		if f.Text != "" {
			lines = append(lines, f.lines(st, lw, w)...)
		}
	}
	return lines
}

func (f Fact) lines(st widget.Styles, lw, w int) []string {
	if lw == 0 {
		return styled(toned(st, f.Tone), widget.Wrap(widget.Clean(f.Text), w))
	}
	label := st.Dim.Render(widget.Fit(widget.Clean(f.Label), lw)) + "  "
	lines := styled(toned(st, f.Tone), widget.Wrap(widget.Clean(f.Text), w-lw-2))
	for i := range lines {
		if i == 0 {
			lines[i] = label + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", lw+2) + lines[i]
		}
	}
	return lines
}

func styled(s lipgloss.Style, lines []string) []string {
	for i, text := range lines {
		lines[i] = s.Render(text)
	}
	return lines
}

func toned(st widget.Styles, t widget.Tone) lipgloss.Style {
	switch t {
	case widget.Quiet:
		return st.Dim
	case widget.Good:
		return st.Good
	case widget.Warn:
		return st.Warn
	case widget.Bad:
		return st.Bad
	}
	return st.Text
}

// work gives a length of work as it is typed: 1h30.
func work(minutes int) string { return units.Minutes(minutes).String() }

// minutesOf gives minutes of getting at things, which can be parts of one.
func minutesOf(m float64) string { return fmt.Sprintf("%.4g min", m) }

// timeOf gives minutes as such where they are few, else as a length of work: 1h30.
func timeOf(m float64) string {
	if m < 60 {
		return minutesOf(m)
	}
	return work(int(m + 0.5))
}

func at(i units.Instant) string { return i.Format("Mon 2 Jan 15:04") }

func day(d units.Date) string { return d.Format("Mon 2 Jan 2006") }

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// task gives a task by name; one that is not in the design now has only its name.
func (d Data) task(t id.Task) tasks.Task {
	if i, ok := d.View.Live.TaskAt[t]; ok {
		return d.View.Live.Tasks[i]
	}
	return tasks.Task{ID: t}
}

// thing gives the title of an item or a place.
func (d Data) thing(name string) string {
	if i, ok := d.View.Live.ItemAt[id.Item(name)]; ok {
		return d.View.Live.Items[i].Title()
	}
	if i, ok := d.View.Live.PlaceAt[id.Place(name)]; ok {
		return d.View.Live.Places[i].Title()
	}
	return name
}

// running reports whether the clock runs on t.
func (d Data) running(t id.Task) bool {
	return d.View.Build.Clock != nil && d.View.Build.Clock.Task == t
}

// closes says what a thing that is closed in costs from then on.
func (d Data) closes(c answer.Closed) string {
	what := d.task(c.Task).Title()
	if c.Service != "" {
		what = fmt.Sprintf("%s: %s", d.thing(string(c.Of)), c.Service)
	}
	if c.AfterMin == nil {
		return what + " (for good: no way in any more)"
	}
	text := fmt.Sprintf("%s (now %s to get at, then %s", what, minutesOf(c.BeforeMin), minutesOf(*c.AfterMin))
	if c.Visits > 1 {
		text += fmt.Sprintf(", %.4g times", c.Visits)
		if c.Service != "" {
			text += " a year"
		}
	}
	return text + ")"
}

// owed says which proof is missing, and of what.
func (d Data) owed(o answer.Owed) string {
	return fmt.Sprintf("%s: %s", d.task(o.Task).Title(), cmp.Or(o.What, string(o.Check)))
}

// notYet is what a screen shows before the build is read.
func notYet(st widget.Styles, w, h int) string {
	return widget.Cells(st.Dim.Render(widget.Fit("Reading the build …", w)), w, h)
}

// stacked draws a body over a foot of at most a third of the height, in exactly w × h.
func stacked(st widget.Styles, w, h int, foot []string, body func(w, h int) string) string {
	return stackedTo(st, w, h, h/3, foot, body)
}

// stackedTo is stacked with a foot of at most so many lines.
func stackedTo(st widget.Styles, w, h, most int, foot []string, body func(w, h int) string) string {
	n := min(len(foot), most)
	if n == 0 || h < 8 {
		return body(w, h)
	}
	rule := st.Dim.Render(strings.Repeat("─", w))
	return strings.Join([]string{body(w, h-n-1), rule, widget.Cells(strings.Join(foot, "\n"), w, n)}, "\n")
}

// scrolled gives the first fact that is seen after an action; a page is half of the lines.
func scrolled(top int, a Action, lines, facts int) int {
	switch a {
	case Up:
		top--
	case Down:
		top++
	case PageUp:
		top -= max(1, lines/2)
	case PageDown:
		top += max(1, lines/2)
	case First:
		top = 0
	case Last:
		top = facts
	}
	return max(0, min(top, facts-1))
}

// scrolledFacts sets facts from the first that is seen, at most h lines; the last says that
// there are more.
func scrolledFacts(st widget.Styles, w, h int, facts []Fact, top int) []string {
	var lines []string
	for _, f := range facts[min(top, len(facts)):] {
		if len(lines) > h {
			break
		}
		lines = append(lines, Facts(st, w, f)...)
	}
	if len(lines) > h && h > 1 {
		lines = append(lines[:h-1:h-1], st.Dim.Render(widget.Fit("↓ more", w)))
	}
	return lines
}

// searches reports whether a key is for the search of a list in which letters search:
// some are keys there, too.
func searches(k widget.Key, typed string) bool {
	switch {
	case k.Paste:
		return true
	case k.Text == " " || k.Text == "?":
		return false
	case typed == "" && (k.Text == "" || strings.Contains(ScreenKeys, k.Text)):
		return false
	}
	return !movesList(k.Name)
}
