package tui

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/find"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// findPage finds everything while words are typed: what can be done here, and what there is.
type findPage struct {
	line  widget.Line
	index *find.Index // nil: it is being made
	load  int         // for which it was asked last
	does  []binding   // what can be done where it was opened
	hits  []find.Hit
	all   int
	list  widget.List
	lines int
}

// doThing is the kind of a hit that is an action.
const doThing = "do"

// mostHits is how many hits are shown.
const mostHits = 200

func newFindPage(scope string) findPage {
	p := findPage{list: widget.NewList(nil, "Type a few letters: of tasks, items, places, parts, notes, readings, or of what you want to do.")}
	for _, in := range chain(scope) {
		for _, b := range bindingsOf(in) {
			if in != listScope && in != alwaysScope && b.action != showMenu && b.action != screen.Enter && b.action != findAnything {
				p.does = append(p.does, b)
			}
		}
	}
	return p
}

func (p findPage) Scope() string { return findingScope }

// With learns how long a page is.
func (p findPage) With(d screen.Data) screen.Screen {
	p.lines = max(1, d.Lines-2)
	p.list = p.list.Sized(p.lines)
	return p
}

// Do has no actions of its own: every key is typed, or moves in the list.
func (p findPage) Do(screen.Action) (screen.Screen, screen.Effect) { return p, nil }

// Typed looks for what is typed; enter goes to the hit under the cursor.
func (p findPage) Typed(k widget.Key) (screen.Screen, screen.Effect, bool) {
	switch k.Name {
	case "esc":
		if p.line.Text() == "" {
			return p, closePage{}, true
		}
		p.line = widget.Line{}
		return p.look(), nil, true
	case "enter":
		row, ok := p.list.Selected()
		if !ok {
			return p, nil, true
		}
		return p, p.goes(row), true
	case "up", "down", "pgup", "pgdown":
		p.list, _ = p.list.Key(k)
		return p, nil, true
	}
	line, _ := p.line.Key(k)
	changed := line.Text() != p.line.Text()
	p.line = line
	if changed {
		p = p.look()
	}
	return p, nil, true
}

// look finds what is typed now.
func (p findPage) look() findPage {
	p.hits, p.all = nil, 0
	if p.index != nil {
		p.hits, p.all = p.index.Find(p.line.Text(), mostHits)
	}
	rows := make([]widget.Row, len(p.hits))
	for i, h := range p.hits {
		rows[i] = widget.Row{ID: strconv.Itoa(i), Text: fmt.Sprintf("%-9s %s", h.Kind, hitTitle(h)), Note: h.More, Tone: widget.Quiet}
	}
	empty := "Nothing has these words."
	if p.line.Text() == "" {
		empty = "Type a few letters: of tasks, items, places, parts, notes, readings, or of what you want to do."
	} else if p.index == nil {
		empty = "Getting everything ready …"
	}
	p.list = widget.NewList(rows, empty).Sized(p.lines)
	return p
}

// hitTitle gives the title of a hit, or its ID where it has none.
func hitTitle(h find.Hit) string {
	if strings.TrimSpace(h.Title) == "" {
		return h.ID
	}
	return h.Title
}

// goes gives what enter does with a row.
func (p findPage) goes(row widget.Row) screen.Effect {
	i, err := strconv.Atoi(row.ID)
	if err != nil || i >= len(p.hits) {
		return nil
	}
	h := p.hits[i]
	if h.Kind != doThing {
		return closeThen{goTo{h.Kind, h.ID}}
	}
	n, err := strconv.Atoi(h.ID)
	if err != nil || n >= len(p.does) {
		return nil
	}
	return closeThen{doAction{p.does[n].action}}
}

// View draws what is typed over what was found.
func (p findPage) View(st widget.Styles, w, h int) string {
	count := ""
	switch {
	case p.all > len(p.hits):
		count = fmt.Sprintf("%d found, the best %d", p.all, len(p.hits))
	case len(p.hits) > 0 && p.hits[0].Guess:
		count = fmt.Sprintf("%d found, spelt nearly so", p.all)
	case p.line.Text() != "":
		count = fmt.Sprintf("%d found", p.all)
	}
	head := "Find: " + p.line.View(st, max(1, w-8-len(count)), true) + " " + st.Dim.Render(count)
	if h < 2 {
		return widget.Cells(head, w, h)
	}
	return widget.Cells(head+"\n"+p.list.View(st, w, h-1), w, h)
}

// indexMsg brings everything that can be found.
type indexMsg struct {
	load  int
	index *find.Index
}

// askIndex asks for the index of the find page on top, where nobody has yet for this load.
func (m Model) askIndex() (Model, tea.Cmd, bool) {
	p, ok := m.top().(findPage)
	if !ok || p.load == m.load {
		return m, nil, false
	}
	p.load = m.load
	load, v := m.load, m.data.View
	var does []find.Thing
	for i, b := range p.does {
		does = append(does, find.Thing{Kind: doThing, ID: strconv.Itoa(i), Title: b.help, More: strings.Join(b.keys, " ")})
	}
	return m.withTop(p), func() tea.Msg { return indexMsg{load, find.New(append(does, v.Things()...))} }, true
}

func (msg indexMsg) apply(m Model) (Model, tea.Cmd) {
	p, ok := m.top().(findPage)
	if !ok || p.load != msg.load {
		return m, nil
	}
	p.index = msg.index
	return m.withTop(p.look()), nil
}

// goTo shows a thing of a kind of package answer: where it is dealt with.
type goTo struct{ kind, id string }

func (goTo) Effect() {}

// goTo shows the screen that has a thing, with the cursor on it.
func (m Model) goTo(e goTo) (Model, tea.Cmd) {
	m.onlyVan = false
	switch e.kind {
	case answer.TaskThing, answer.CheckThing, answer.EdgeThing:
		return m.goToTask(id.Task(e.id)), nil
	case answer.ItemThing, answer.PlaceThing:
		m.at, m.pages = reachAt, nil
		next, ask := m.screens[reachAt].(screen.Reach).To(e.id)
		m.screens[reachAt] = next
		return m.run(ask)
	case answer.PartThing:
		m.at, m.pages = partsAt, nil
		m.screens[partsAt] = m.screens[partsAt].(screen.Parts).On(id.Part(e.id))
	case answer.EntryThing:
		k, err := strconv.ParseUint(e.id, 10, 64)
		if err == nil {
			m.at, m.pages = daybookAt, nil
			m.screens[daybookAt] = m.screens[daybookAt].(screen.Daybook).On(build.Key(k))
		}
	case answer.OptionThing:
		m.at, m.pages = designsAt, nil
	case answer.SnagThing:
		return m.push(newListing(snagsTitle, listSnags)), nil
	case answer.ResourceThing:
		return m.editRow(build.ResourceKind, func(b build.Build) build.Key {
			return keyWhere(b.Resources, func(i int) bool { return string(b.Resources.Rows[i].ID) == e.id })
		}), nil
	case answer.CutThing:
		return m.editRow(build.CutKind, func(b build.Build) build.Key {
			return keyWhere(b.Cuts, func(i int) bool { return string(b.Cuts.Rows[i].ID) == e.id })
		}), nil
	}
	return m, nil
}

// goToTask shows a task in the order of work; one that is not in it, by its entries.
func (m Model) goToTask(t id.Task) Model {
	m.pages = nil
	if s := m.screens[sequenceAt].(screen.Sequence); s.Shows(t) {
		m.at, m.screens[sequenceAt] = sequenceAt, s.On(t)
		return m
	}
	m.at = daybookAt
	m.screens[daybookAt] = m.screens[daybookAt].(screen.Daybook).Filtered(answer.DayFilter{Task: t})
	return m
}

// editRow opens the form of a record, where it is there.
func (m Model) editRow(kind build.Kind, key func(build.Build) build.Key) Model {
	k := key(m.data.View.Build)
	if k == 0 {
		return m
	}
	return m.push(editorPage{editor: record.New(kind, m.data.View.Build, k)})
}
