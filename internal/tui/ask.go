package tui

import (
	"context"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
)

// lookUp asks for what the screen that is shown needs and nobody has asked for yet.
func (m Model) lookUp() (Model, tea.Cmd) {
	if m.data.View == nil {
		return m, nil
	}
	for _, ask := range []func() (Model, tea.Cmd, bool){m.askListing, m.askIndex} {
		if next, cmd, asked := ask(); asked {
			return next, cmd
		}
	}
	switch {
	case m.at == closeInAt && m.closing != m.load:
		return m.askCloses()
	case m.at == partsAt && (m.partsIn != m.load || !m.search.on && m.partsOf != m.data.Seq):
		return m.askParts()
	case m.at == designsAt && m.compare.load != m.load:
		return m.compareFor(m.improve)
	}
	return m, nil
}

// findWay asks for a way, then for what else there is to know of it.
func (m Model) findWay(e screen.FindWay) (Model, tea.Cmd) {
	if m.aside != nil {
		m.aside() // nobody will see the answer to the question before
	}
	ctx, cancel := context.WithCancel(m.ctx)
	m.aside = cancel
	v := m.data.View
	return m, func() tea.Msg {
		way, err := v.Reach(ctx, e.Targets, 1, orNow(e.Fitted))
		msg := wayMsg{asked: e, way: way, err: err}
		if err == nil {
			msg.more = func() tea.Msg { return aroundMsg{e, around(ctx, v, e, way)} }
		}
		return msg
	}
}

func (msg wayMsg) apply(m Model) (Model, tea.Cmd) {
	m.screens[reachAt] = m.screens[reachAt].(screen.Reach).Found(msg.asked, msg.way, msg.err)
	return m, msg.more
}

// around asks what else there is to know of a way.
func around(ctx context.Context, v *answer.View, e screen.FindWay, way answer.Reach) screen.Around {
	a := screen.Around{Cautions: v.Cautions(way)}
	other, found, err := v.Another(ctx, e.Targets, 1, orNow(e.Fitted))
	if found {
		a.Other = &other
	}
	if err == nil {
		a.WhileOpen, err = v.WhileOpen(ctx, e.Targets, orNow(e.Fitted), e.MoreMin)
	}
	if err != nil {
		a.Trouble = err.Error()
	}
	return a
}

func (msg aroundMsg) apply(m Model) (Model, tea.Cmd) {
	m.screens[reachAt] = m.screens[reachAt].(screen.Reach).FoundAround(msg.asked, msg.around)
	return m, nil
}

func (m Model) findCautions(e screen.FindCautions) tea.Cmd {
	v := m.data.View
	return func() tea.Msg { return cautionsMsg{e, v.ItemCautions(e.Item)} }
}

func (msg cautionsMsg) apply(m Model) (Model, tea.Cmd) {
	m.screens[closeInAt] = m.screens[closeInAt].(screen.CloseIn).Warned(msg.asked, msg.cautions)
	return m, nil
}

// askCloses asks what will be closed in; the proofs behind it come after, for they take longer.
func (m Model) askCloses() (Model, tea.Cmd) {
	m.closing = m.load
	load, v := m.load, m.data.View
	return m, func() tea.Msg { return closesMsg{load, v.DerivedEdges(answer.FittedNow)} }
}

func (msg closesMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.load != m.load {
		return m, nil
	}
	d := m.data
	d.Closes = &screen.Closes{Edges: msg.edges}
	m = m.show(d)
	ctx, load, v := m.ctx, m.load, m.data.View
	return m, func() tea.Msg {
		owed, err := owedBehind(ctx, v, msg.edges)
		return owedMsg{load, owed, err}
	}
}

// owedBehind gives the proofs that are missing behind each item that closes something in or
// is still to be fitted. It takes in what is done, of which nothing else has to be reached.
func owedBehind(ctx context.Context, v *answer.View, edges []answer.Derived) (map[id.Item][]answer.Owed, error) {
	items := map[id.Item]bool{}
	for _, e := range edges {
		items[e.Item] = true
	}
	for _, t := range v.Live.Tasks {
		for _, x := range t.Fits {
			items[x] = items[x] || t.State != tasks.Finished
		}
	}
	owed := map[id.Item][]answer.Owed{}
	for x, wanted := range items {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if !wanted {
			continue
		}
		in, err := v.CloseIn(string(x))
		if err != nil {
			return nil, err
		}
		if len(in.NotProved) > 0 {
			owed[x] = in.NotProved
		}
	}
	return owed, nil
}

func (msg owedMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.load != m.load || m.data.Closes == nil {
		return m, nil
	}
	if msg.err != nil {
		return m.fail(fmt.Errorf("the proofs behind what is closed in: %w", msg.err)), nil
	}
	d := m.data
	d.Closes = &screen.Closes{Edges: d.Closes.Edges, Owed: msg.owed}
	return m.show(d), nil
}

// staleCloses marks what was found for the build as it was before.
func staleCloses(c *screen.Closes) *screen.Closes {
	if c == nil {
		return nil
	}
	return &screen.Closes{Edges: c.Edges, Owed: c.Owed, Stale: true}
}

// choose chooses an option, and says what comes and goes with it.
func choose(ctx context.Context, a *app.App, o id.Option) (string, error) {
	before, err := a.View(ctx)
	if err != nil {
		return "", err
	}
	c, err := a.Choose(ctx, o)
	if err != nil {
		return "", err
	}
	after, err := a.View(ctx)
	if err != nil {
		return c.What, nil // it is chosen all the same
	}
	return c.What + meaning(before, after), nil
}

// meaning says what another design has more and less than the one before.
func meaning(before, after *answer.View) string {
	text := ""
	if in := onlyIn(after, before); in != "" {
		text += "; in: " + in
	}
	if out := onlyIn(before, after); out != "" {
		text += "; out: " + out
	}
	return text
}

// onlyIn names what the one design has and the other has not: by itself, or, of several, how
// many there are.
func onlyIn(v, other *answer.View) string {
	var titles []string
	for _, t := range v.Live.Tasks {
		if _, both := other.Live.TaskAt[t.ID]; !both {
			titles = append(titles, t.Title())
		}
	}
	tasks := len(titles)
	for _, x := range v.Live.Items {
		if _, both := other.Live.ItemAt[x.ID]; !both {
			titles = append(titles, x.Title())
		}
	}
	switch {
	case len(titles) < 2:
		return strings.Join(titles, "")
	case tasks == len(titles):
		return fmt.Sprintf("%d tasks", tasks)
	}
	return fmt.Sprintf("tasks %d, items %d", tasks, len(titles)-tasks)
}
