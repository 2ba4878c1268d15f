package tui

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// side is what stands beside the work: the van, and the card of what is selected.
type side struct {
	key    string // of what is drawn
	asking bool
	drawn  string
}

// detail is what there is to know of the selected thing, made in a command.
type detail struct {
	title     string
	facts     []screen.Fact
	top, view draw.Canvas
	w, h      int
}

// lookAside asks for the card and the drawing of what is selected, where they are
// seen and not there yet; one at a time.
func (m Model) lookAside() (Model, tea.Cmd) {
	w, h := m.sideSize()
	if w == 0 || m.data.View == nil || m.side.asking {
		return m, nil
	}
	f := m.focus()
	key := fmt.Sprintf("%d %d×%d %q %q %s %q", m.load, w, h, f.Task, f.Targets, f.Fitted, f.Behind)
	if key == m.side.key {
		return m, nil
	}
	m.side.asking = true
	ctx, v := m.ctx, m.data.View
	return m, func() tea.Msg { return sideMsg{key, describe(ctx, v, f, w, h)} }
}

// selector is what the four screens are, and pages are not: something is selected on it.
type selector interface{ Focus() screen.Focus }

// focus is what is selected on the page on top, if it has such a thing, else on the screen.
func (m Model) focus() screen.Focus {
	if p, ok := m.top().(listing); ok {
		return p.Focus()
	}
	return m.screens[m.at].(selector).Focus()
}

func (msg sideMsg) apply(m Model) (Model, tea.Cmd) {
	m.side = side{key: msg.key, drawn: msg.detail.render(m.st)}
	return m, nil
}

// describe asks everything about the selected thing.
func describe(ctx context.Context, v *answer.View, f screen.Focus, w, h int) detail {
	d := detail{w: w, h: h, title: "Nothing is selected"}
	scene := draw.Scene{Vehicle: v.Build.Head.Vehicle, Places: v.Live.Places}
	targets, visits := f.Targets, 1
	if i, ok := v.Live.TaskAt[f.Task]; ok {
		targets, visits = targetsOf(v.Live.Tasks[i]), int(v.Live.Tasks[i].Visits)
		d.task(v, v.Live.Tasks[i])
	} else if f.Task != "" {
		d.title, d.facts = string(f.Task), []screen.Fact{{Text: "not in the design as it is chosen now"}}
	}
	if len(f.Targets) > 0 {
		d.things(v, f.Targets)
	}
	switch {
	case len(f.Behind) > 0:
		scene.Selected, scene.Way = marksOf(v, targets), d.behind(v, f.Behind)
	case len(targets) > 0:
		scene.Selected = marksOf(v, targets)
		way, err := v.Reach(ctx, targets, visits, orNow(f.Fitted))
		scene.Way = d.way(v, way, err)
		d.coveredBy(v, targets)
	}
	if i, ok := v.Live.TaskAt[f.Task]; ok {
		d.owes(v, v.Live.Tasks[i])
	}
	scene.Items = spoken(v.Live.Items, scene)
	vanW, topH, viewH := d.shares()
	d.top, d.view = draw.Top(scene, vanW, topH), draw.Side(scene, vanW, viewH)
	return d
}

// spoken gives the items that the scene speaks of: a van full of marks shows nothing.
func spoken(items []access.Item, s draw.Scene) []access.Item {
	named := map[id.Item]bool{}
	for _, t := range s.Selected {
		named[t.Item] = true
	}
	for _, m := range s.Way {
		named[m.Target.Item] = true
	}
	return slices.DeleteFunc(slices.Clone(items), func(i access.Item) bool { return !named[i.ID] })
}

func orNow(f answer.Fitted) answer.Fitted {
	if f == "" {
		return answer.FittedNow
	}
	return f
}

// targetsOf gives what a person must get at for a task.
func targetsOf(t tasks.Task) []string {
	var targets []string
	for _, x := range slices.Concat(t.Fits, t.Reaches) {
		targets = append(targets, string(x))
	}
	if t.Place != "" {
		targets = append(targets, string(t.Place))
	}
	return targets
}

// task says how a task stands, and where.
func (d *detail) task(v *answer.View, t tasks.Task) {
	d.title = t.Title()
	d.facts = append(d.facts, screen.Fact{Label: "state", Text: string(v.Status(t.ID)), Tone: widget.Good})
	if t.Place != "" {
		d.facts = append(d.facts, screen.Fact{Label: "place", Text: placeWords(v, t.Place)})
	}
}

// owes names the proofs that are missing.
func (d *detail) owes(v *answer.View, t tasks.Task) {
	for n, o := range v.Owed(t.ID) {
		c, _ := t.Check(o.Check)
		text := string(c.Kind) + ": " + cmp.Or(o.What, string(o.Check))
		if c.Want != "" {
			text += " (" + c.Want + ")"
		}
		d.facts = append(d.facts, screen.Fact{Label: []string{"owes", ""}[min(n, 1)], Text: text, Tone: widget.Warn})
	}
}

func placeWords(v *answer.View, p id.Place) string {
	i, ok := v.Live.PlaceAt[p]
	if !ok {
		return string(p)
	}
	place := v.Live.Places[i]
	if place.Posture == "" {
		return place.Title()
	}
	return place.Title() + " (" + place.Posture + ")"
}

// things says what is known of items and places.
func (d *detail) things(v *answer.View, names []string) {
	var titles []string
	for _, name := range names {
		titles = append(titles, thingTitle(v, name))
		d.facts = append(d.facts, screen.Fact{Label: "state", Text: thingStatus(v, name)})
		if i, ok := v.Live.ItemAt[id.Item(name)]; ok && v.Live.Items[i].Place != "" {
			d.facts = append(d.facts, screen.Fact{Label: "place", Text: placeWords(v, v.Live.Items[i].Place)})
		}
	}
	d.title = strings.Join(titles, ", ")
}

func thingStatus(v *answer.View, name string) string {
	if _, ok := v.Live.ItemAt[id.Item(name)]; !ok {
		return "a place"
	}
	if slices.Contains(v.Live.FittedNow(), id.Item(name)) {
		return "fitted"
	}
	return "not fitted yet"
}

func thingTitle(v *answer.View, name string) string {
	if i, ok := v.Live.ItemAt[id.Item(name)]; ok {
		return v.Live.Items[i].Title()
	}
	if i, ok := v.Live.PlaceAt[id.Place(name)]; ok {
		return v.Live.Places[i].Title()
	}
	return name
}

// coveredBy names what lies over the items and closes the places, and counts what will.
func (d *detail) coveredBy(v *answer.View, names []string) {
	fitted := v.Live.FittedNow()
	var seen []id.Item
	var covers []string
	for _, x := range covering(v, names) {
		if slices.Contains(seen, x) {
			continue
		}
		seen = append(seen, x)
		if slices.Contains(fitted, x) {
			covers = append(covers, thingTitle(v, string(x)))
		}
	}
	text := strings.Join(covers, ", ")
	if later := len(seen) - len(covers); later > 0 && text != "" {
		text += fmt.Sprintf("; later also by %d more", later)
	} else if later > 0 {
		text = fmt.Sprintf("nothing yet, later by %d", later)
	}
	d.facts = append(d.facts, screen.Fact{Label: "covered by", Text: text})
}

func covering(v *answer.View, names []string) []id.Item {
	var over []id.Item
	for _, name := range names {
		if i, ok := v.Live.ItemAt[id.Item(name)]; ok {
			over = append(over, v.Live.Items[i].Covers...)
		} else if i, ok := v.Live.PlaceAt[id.Place(name)]; ok {
			over = append(over, v.Live.Places[i].ClosedBy...)
		}
	}
	return over
}

// mostMarks is how many things behind an item are drawn: more hide the drawing.
const mostMarks = 9

// behind names what an item closes in, and gives it as marks for the drawing.
func (d *detail) behind(v *answer.View, names []string) []draw.Mark {
	var words []string
	var marks []draw.Mark
	for i, t := range marksOf(v, names[:min(len(names), mostMarks)]) {
		words = append(words, fmt.Sprintf("%d %s", i+1, thingTitle(v, names[i])))
		marks = append(marks, draw.Mark{Step: i + 1, Target: t})
	}
	text := strings.Join(words, ", ")
	if more := len(names) - len(words); more > 0 {
		text += fmt.Sprintf(", and %d more", more)
	}
	d.facts = append(d.facts, screen.Fact{Label: "behind it", Text: text, Tone: widget.Warn})
	return marks
}

// way says how to get in, and gives the steps as marks for the drawing.
func (d *detail) way(v *answer.View, way answer.Reach, err error) []draw.Mark {
	if err != nil {
		d.facts = append(d.facts, screen.Fact{Label: "no way in", Text: err.Error(), Tone: widget.Bad})
		return nil
	}
	var words []string
	var marks []draw.Mark
	for i, s := range way.Steps {
		n := i + 1
		switch s.Do {
		case string(access.Enter):
			words = append(words, fmt.Sprintf("%d into %s", n, thingTitle(v, s.Place)))
			marks = append(marks, draw.Mark{Step: n, Target: draw.Target{Place: id.Place(s.Place)}})
		case string(access.Open):
			words = append(words, fmt.Sprintf("%d open %s", n, thingTitle(v, s.Item)))
			marks = append(marks, draw.Mark{Step: n, Target: draw.Target{Item: id.Item(s.Item)}})
		}
	}
	if len(words) == 0 {
		words = []string{"nothing is in the way"}
	}
	text := fmt.Sprintf("%.4g min: %s", way.CostMin, strings.Join(words, ", "))
	d.facts = append(d.facts, screen.Fact{Label: "way in", Text: text},
		screen.Fact{Label: "tools", Text: strings.Join(way.Tools, ", ")})
	return marks
}

func marksOf(v *answer.View, names []string) []draw.Target {
	var out []draw.Target
	for _, name := range names {
		if _, ok := v.Live.ItemAt[id.Item(name)]; ok {
			out = append(out, draw.Target{Item: id.Item(name)})
		} else {
			out = append(out, draw.Target{Place: id.Place(name)})
		}
	}
	return out
}

// shares gives the sizes of the two drawings. On a narrow terminal they stand beside
// the card, else above it.
func (d detail) shares() (w, topH, viewH int) {
	if d.beside() {
		return d.w * 3 / 5, d.h / 2, d.h - d.h/2
	}
	return d.w, d.h * 3 / 10, d.h * 3 / 10
}

func (d detail) beside() bool { return d.h < 24 }

// render draws the van and the card in exactly the cells they were asked for.
func (d detail) render(st widget.Styles) string {
	w, topH, viewH := d.shares()
	van := canvasLines(st, d.top) + "\n" + canvasLines(st, d.view)
	if d.top.Text() == d.view.Text() { // both say why there is nothing to see
		van = canvasLines(st, d.top) + strings.Repeat("\n", viewH)
	}
	van = widget.Cells(van, w, topH+viewH)
	if d.beside() {
		cardW := d.w - w - 3
		return beside(st, van, d.card(st, cardW, d.h), d.h)
	}
	return van + "\n" + d.card(st, d.w, d.h-topH-viewH)
}

func (d detail) card(st widget.Styles, w, h int) string {
	lines := append([]string{st.Strong.Render(widget.Fit(widget.Clean(d.title), w))}, screen.Facts(st, w, d.facts...)...)
	return widget.Cells(strings.Join(lines, "\n"), w, h)
}

// canvasLines gives a drawing its looks, one style for each run of cells.
func canvasLines(st widget.Styles, c draw.Canvas) string {
	var lines []string
	for _, runs := range c.Lines() {
		var line strings.Builder
		for _, r := range runs {
			line.WriteString(drawn(st, r))
		}
		lines = append(lines, line.String())
	}
	return strings.Join(lines, "\n")
}

func drawn(st widget.Styles, r draw.Run) string {
	switch r.Class {
	case draw.Outline:
		return st.Dim.Render(r.Text)
	case draw.Place, draw.Item:
		return st.Text.Render(r.Text)
	case draw.Label:
		return st.Text.Render(r.Text)
	case draw.Selected:
		return st.Place.Render(r.Text)
	case draw.Way:
		return st.Way.Render(r.Text)
	}
	return r.Text
}
