package tui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/units"
)

// staleAfter is how long an answer to "what now?" holds while nothing is written: parts
// arrive and cures end meanwhile.
const staleAfter = units.Hour / 4

// read reads the build. The revision is asked for first: what is written in between
// shows as newer at the next tick, and is read again.
func (m Model) read() tea.Cmd {
	w := m.world
	return func() tea.Msg {
		rev, err := w.app.Rev(w.ctx)
		if err != nil {
			return loadedMsg{err: err}
		}
		v, err := w.app.View(w.ctx)
		return loadedMsg{rev: rev, view: v, err: err}
	}
}

// apply asks for the revision of the file: others write it, too.
func (tickMsg) apply(m Model) (Model, tea.Cmd) {
	m.time = m.now()
	w := m.world
	ask := func() tea.Msg {
		rev, err := w.app.Rev(w.ctx)
		return revMsg{rev, err}
	}
	return m, tea.Batch(ask, m.after(second, tickMsg{}))
}

// apply reads the build where the file has another revision, or where what is shown has
// grown old.
func (msg revMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		return m.fail(msg.err), nil
	}
	old := m.time-m.loadedAt >= staleAfter || m.time.Date() != m.loadedAt.Date()
	if m.loading || msg.rev == m.rev && !old {
		return m, nil
	}
	if msg.rev < m.rev {
		m.rev = 0 // an older copy was put in the file's place: what it says counts
	}
	m.loading = true
	return m, m.read()
}

// apply shows the build, and begins to plan.
func (msg loadedMsg) apply(m Model) (Model, tea.Cmd) {
	m.loading = false
	if msg.err != nil {
		return m.fail(msg.err), nil
	}
	if msg.rev < m.rev {
		return m, nil // late: a newer one is shown already
	}
	m.time = m.now()
	m.rev, m.loadedAt = msg.rev, m.time
	m.load++
	d := m.data
	d.View, d.Today = msg.view, stillOpen(d.Today, msg.view)
	d.Closes, d.Compare = staleCloses(d.Closes), staleCompare(d.Compare)
	d.Outlook.Aged = d.Forecast != nil
	m = m.show(d).stopSearching().stopComparing().stopForeseeing()
	m.pricing, m.delays, m.needs = m.pricing.stopped(), m.delays.stopped(), m.needs.stopped()
	cmds := []tea.Cmd{m.lookBack(msg.view)}
	for _, again := range []screen.Effect{m.screens[reachAt].(screen.Reach).Again(), m.screens[closeInAt].(screen.CloseIn).Again(),
		m.screens[sequenceAt].(screen.Sequence).Again(), m.screens[partsAt].(screen.Parts).Again()} {
		next, cmd := m.run(again)
		m, cmds = next, append(cmds, cmd)
	}
	m, first := m.planFirst()
	return m, tea.Batch(append(cmds, first)...)
}

// stillOpen takes from an older answer what has been finished since, so that it cannot be
// finished twice while the new answer is worked out.
func stillOpen(t *answer.Today, v *answer.View) *answer.Today {
	if t == nil {
		return nil
	}
	out := answer.Today{Cannot: t.Cannot}
	for _, c := range t.Can {
		if i, ok := v.Live.TaskAt[c.ID]; ok && v.Live.Tasks[i].State != tasks.Finished {
			out.Can = append(out.Can, c)
		}
	}
	return &out
}

// lookBack asks which entries came ahead of their turn, and which closed in what was not
// proven.
func (m Model) lookBack(v *answer.View) tea.Cmd {
	load := m.load
	return func() tea.Msg {
		ahead := map[build.Key][]answer.Ahead{}
		for i, e := range v.Build.Days.Rows {
			if as := v.Ahead(e.Task, e.At); len(as) > 0 {
				ahead[v.Build.Days.Keys[i]] = as
			}
		}
		return aheadMsg{load, ahead, v.BuriesUnproven()}
	}
}

func (msg aheadMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.load != m.load {
		return m, nil
	}
	d := m.data
	d.Ahead, d.Buried = msg.ahead, msg.buried
	return m.show(d), nil
}

// askToday asks what can be done now, in the order of a sequence.
func (m Model) askToday(seq *answer.Sequence) tea.Cmd {
	load, v, hand := m.load, m.data.View, m.atHand()
	if v == nil {
		return nil
	}
	return func() tea.Msg { return todayMsg{load, hand, v.Today(seq, hand)} }
}

// atHand gives the hours and the helper that are said to be at hand.
func (m Model) atHand() answer.TodayOptions { return m.screens[benchAt].(screen.Bench).AtHand() }

func (msg todayMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.load != m.load || msg.hand != m.atHand() {
		return m, nil
	}
	d := m.data
	d.Today = &msg.today
	return m.show(d), nil
}

// following gives the build with searches beginning with the order on the screen, so that it stays
// as it is but for what a change moves, or what is better.
func (m Model) following() *answer.View { return m.data.View.Following(m.data.Seq) }

// planFirst asks for the first order of work: it is there at once. After a change it is what the
// order before has become.
func (m Model) planFirst() (Model, tea.Cmd) {
	ctx, cancel := context.WithCancel(m.ctx)
	m.search.cancel = cancel
	load, v := m.load, m.following()
	return m, func() tea.Msg {
		seq, err := v.Sequence(ctx, plan.Options{})
		return plannedMsg{load: load, seq: seq, err: err}
	}
}
