package screen

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/widget"
)

// View draws the choice under the cursor over the list of what is serviced.
func (s Designs) View(st widget.Styles, w, h int) string {
	if s.data.View == nil {
		return notYet(st, w, h)
	}
	top := append(s.choice(st, w), s.progress(st, w)...)
	if h < 12 {
		return widget.Cells(strings.Join(top, "\n"), w, h)
	}
	foot, below := s.foot(st, w), 8
	if h < 16 {
		foot, below = nil, 4 // the comparison matters more
	}
	n := min(len(top), h-below)
	top = append(top[:n:n], st.Dim.Render(strings.Repeat("─", w)), st.Strong.Render(widget.Fit(s.burdenTitle(), w)))
	foot = foot[:min(len(foot), 3)]
	lines := append(top, strings.Split(s.burden(st, w, h-len(top)-len(foot)), "\n")...)
	return widget.Cells(strings.Join(append(lines, foot...), "\n"), w, h)
}

// choice draws the options of the choice under the cursor side by side.
func (s Designs) choice(st widget.Styles, w int) []string {
	options, at := s.cursor()
	if at < 0 {
		text := "There is no choice of design yet. Press e and take \"design option\" to name a choice and its " +
			"options; then say of items and tasks which option they belong to."
		return widget.Wrap(text, w)
	}
	var mine []build.Option
	for _, o := range options {
		if o.Choice == options[at].Choice {
			mine = append(mine, o)
		}
	}
	number, of := 0, 0
	for i, o := range options {
		if i == 0 || options[i-1].Choice != o.Choice {
			of++
		}
		if i == at {
			number = of
		}
	}
	title := fmt.Sprintf("Choice %d of %d: %s", number, of, widget.Clean(options[at].Choice))
	lines := append([]string{st.Strong.Render(widget.Fit(title, w))}, s.table(st, w, mine, options[at])...)
	if len(mine) == 1 {
		text := "This is the only option of the choice, so there is nothing to compare it with. Press e and take \"design option\" to make another."
		return append(lines, widget.Wrap(text, w)...)
	}
	return append(lines, s.evens(st, w, mine)...)
}

// table draws one column for each option; where there is no room for all, those around
// the cursor.
func (s Designs) table(st widget.Styles, w int, options []build.Option, on build.Option) []string {
	const least = 17
	label := min(16, w/4)
	room := max(1, (w-label)/least)
	at := slices.IndexFunc(options, func(o build.Option) bool { return o.ID == on.ID })
	from := max(0, min(at-room/2, len(options)-room))
	seen := options[from:min(len(options), from+room)]
	cw := min(30, (w-label)/max(1, len(seen)))
	heads := make([]string, len(seen))
	for i, o := range seen {
		mark := "  "
		if o.ID == on.ID {
			mark = "> "
		}
		heads[i] = widget.Fit(mark+widget.Clean(optionTitle(o)), cw-1)
		if o.ID == on.ID {
			heads[i] = st.Selected.Render(heads[i])
		}
		heads[i] += strings.Repeat(" ", min(1, cw))
	}
	lines := []string{widget.Fit(strings.Repeat(" ", label)+strings.Join(heads, ""), w)}
	for _, r := range s.figures(seen) {
		lines = append(lines, r.lines(st, label, cw)...)
	}
	if hidden := len(options) - len(seen); hidden > 0 {
		lines = append(lines, st.Dim.Render(widget.Fit(fmt.Sprintf("%d more at the sides", hidden), w)))
	}
	return lines
}

// figure is a row of the table: what it is, and its text for each option.
type figure struct {
	label string
	cells []string
}

// lines draws a row; long texts take several lines.
func (f figure) lines(st widget.Styles, label, cw int) []string {
	cells, high := make([][]string, len(f.cells)), 1
	for i, text := range f.cells {
		cells[i] = widget.Wrap(widget.Clean(text), cw-3)
		high = max(high, min(len(cells[i]), 3))
	}
	var lines []string
	for n := range high {
		line := widget.Fit([]string{f.label, ""}[min(n, 1)], label)
		line = st.Dim.Render(line)
		for _, c := range cells {
			text := ""
			if n < len(c) {
				text = c[n]
			}
			line += widget.Fit("  "+text, cw)
		}
		lines = append(lines, line)
	}
	return lines
}

// figures gives the rows of the table; what is not worked out yet is a dash.
func (s Designs) figures(options []build.Option) []figure {
	rows := []figure{{label: ""}, {label: "hours to build"}, {label: "finish"}, {label: "mass"},
		{label: "access a year"}, {label: "worst reach"}, {label: "cannot reach"}}
	for _, o := range options {
		cells := []string{"-", "-", "-", "-", "-", "-"}
		if d, ok := s.design(o); ok {
			cells = s.cells(d)
		}
		chosen := ""
		if o.Chosen {
			chosen = "chosen"
		}
		for i, text := range append([]string{chosen}, cells...) {
			rows[i].cells = append(rows[i].cells, text)
		}
	}
	return rows
}

// design gives what was worked out for an option.
func (s Designs) design(o build.Option) (answer.Design, bool) {
	for _, ds := range s.data.Designs {
		if ds.Choice != o.Choice {
			continue
		}
		for _, d := range ds.Options {
			if d.ID == o.ID {
				return d, true
			}
		}
	}
	return answer.Design{}, false
}

func (s Designs) cells(d answer.Design) []string {
	hours, finish := work(d.WorkMin), day(d.Finish.Date())
	if d.NoOrder != "" {
		hours, finish = "-", d.NoOrder
	}
	mass := fmt.Sprintf("%.4g kg", d.MassKg)
	if d.Unweighed > 0 {
		mass += fmt.Sprintf(", %d not weighed", d.Unweighed)
	}
	worst := "all lies open"
	if d.Worst != nil {
		worst = timeOf(d.Worst.Min) + ": " + s.name(string(d.Worst.Item))
	}
	unreachable := "nothing"
	if n := len(d.Unreachable); n > 0 {
		unreachable = fmt.Sprintf("%d: %s", n, s.name(string(d.Unreachable[0])))
	}
	return []string{hours, finish, mass, yearly(d.MinutesPerYear), worst, unreachable}
}

// name gives the title of an item, also of one that the chosen design has not.
func (s Designs) name(item string) string {
	for _, x := range s.data.View.Build.Items.Rows {
		if string(x.ID) == item {
			return x.Title()
		}
	}
	return item
}

// yearly says minutes of a year as a length of time.
func yearly(minutes float64) string { return work(int(minutes + 0.5)) }

// evens says of every two options when the one that takes longer to build has given that
// back.
func (s Designs) evens(st widget.Styles, w int, options []build.Option) []string {
	title := map[string]string{}
	for _, o := range options {
		title[string(o.ID)] = optionTitle(o)
	}
	var lines []string
	for _, ds := range s.data.Designs {
		if ds.Choice != options[0].Choice {
			continue
		}
		for _, e := range ds.BreakEven {
			if title[string(e.Dearer)] != "" && title[string(e.Cheaper)] != "" {
				lines = append(lines, Facts(st, w, Fact{Text: even(title[string(e.Dearer)], title[string(e.Cheaper)], e)})...)
			}
		}
	}
	return lines
}

// even compares two options in words.
func even(dearer, cheaper string, e answer.BreakEven) string {
	saved := int(e.SavedPerYear + 0.5)
	switch {
	case e.MoreMin == 0 && saved == 0:
		return fmt.Sprintf("%s and %s take the same time to build and to get at.", dearer, cheaper)
	case e.MoreMin == 0:
		return fmt.Sprintf("%s takes as long to build as %s and saves %s a year.", dearer, cheaper, work(saved))
	case e.SavedPerYear <= -0.5:
		return fmt.Sprintf("%s takes %s more to build than %s and costs %s a year more, too: never even.",
			dearer, work(e.MoreMin), cheaper, work(int(0.5-e.SavedPerYear)))
	case e.Years == nil || saved == 0:
		return fmt.Sprintf("%s takes %s more to build than %s and gives nothing back.", dearer, work(e.MoreMin), cheaper)
	}
	return fmt.Sprintf("%s takes %s more to build than %s and gives back %s a year: even after %.1f years.",
		dearer, work(e.MoreMin), cheaper, work(saved), *e.Years)
}

// progress says how the comparison stands.
func (s Designs) progress(st widget.Styles, w int) []string {
	c := s.data.Compare
	f := Fact{Tone: widget.Quiet}
	switch {
	case c.Trouble != "":
		f = Fact{Text: c.Trouble, Tone: widget.Bad}
	case c.Working && c.Stale:
		f.Text = "The build has changed: being worked out anew."
	case c.Working:
		f.Text = "Being worked out …"
	case c.Stopped:
		f = Fact{Text: "Stopped. r works it out again.", Tone: widget.Warn}
	case c.Stale:
		f = Fact{Text: "The build has changed since.", Tone: widget.Warn}
	}
	return Facts(st, w, f)
}

func (s Designs) burdenTitle() string {
	b := s.data.Burden
	if b == nil || len(b.Items) == 0 {
		return "Getting at what is serviced, when all is fitted"
	}
	text := fmt.Sprintf("Getting at what is serviced: %s a year", yearly(b.MinutesPerYear))
	if n := len(b.Unreachable); n > 0 {
		text += fmt.Sprintf(", %s cannot be reached", count(n, "item"))
	}
	return text
}

func (s Designs) burden(st widget.Styles, w, h int) string {
	switch {
	case s.data.Burden == nil:
		return widget.Cells(st.Dim.Render(widget.Fit("Working it out …", w)), w, h)
	case len(s.data.Burden.Items) == 0:
		return widget.Cells(strings.Join(widget.Wrap("No item has a service yet: what, how often a year, how long.", w), "\n"), w, h)
	}
	return s.list.View(st, w, h)
}

// foot says of the item under the cursor what costs most of getting at it.
func (s Designs) foot(st widget.Styles, w int) []string {
	row, ok := s.list.Selected()
	if !ok || s.data.Burden == nil {
		return nil
	}
	i := slices.IndexFunc(s.data.Burden.Items, func(b answer.Burdened) bool { return string(b.ID) == row.ID })
	if i < 0 {
		return nil
	}
	b := s.data.Burden.Items[i]
	text := "nothing has to be opened"
	if b.Dearest != nil {
		text = fmt.Sprintf("%s, %s each time", s.data.thing(string(b.Dearest.Item)), minutesOf(b.Dearest.Min))
	}
	return Facts(st, w, Fact{Label: "costs most", Text: text}, Fact{Label: "the service", Text: yearly(b.ServiceMin) + " a year besides"})
}
