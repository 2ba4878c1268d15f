package tui

import (
	"errors"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/screen"
)

// errKept says that a person decided against what a page asked for.
var errKept = errors.New("kept as it was")

// gate lets one change through at a time, each once, and lets Run see to those that are
// left at the end.
type gate struct {
	mu    sync.Mutex
	begun int // the number of the last change let through
}

// once carries out the n-th change, unless that was done before.
func (g *gate) once(n int, change func()) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if n > g.begun {
		g.begun = n
		change()
	}
}

// queued is a change that waits to be written.
type queued struct {
	number int
	effect screen.Effect
	page   bool // a page waits for it
}

// waiter is a page that stays until its change is written, so that nothing typed is
// lost when that fails.
type waiter interface {
	Waiting() bool
	// After is told how the change ended; done closes the page.
	After(err error) (next screen.Screen, done bool)
}

// waiting reports whether the page on top waits for its change.
func (m Model) waiting() bool {
	w, ok := m.top().(waiter)
	return ok && w.Waiting()
}

// writes reports whether an effect is a change to be written.
func writes(e screen.Effect) bool {
	switch e.(type) {
	case logEntry, correction, splitting, striking, noteSnag, closeSnag, snagTask:
		return true
	}
	return false
}

// enqueue writes a change, after those before it.
func (m Model) enqueue(e screen.Effect) (Model, tea.Cmd) {
	m.asked++
	m.queue = append(m.queue[:len(m.queue):len(m.queue)], queued{m.asked, e, m.waiting()})
	if len(m.queue) > 1 {
		return m, nil
	}
	return m, m.writeNext()
}

// writeNext writes the first of the queue.
func (m Model) writeNext() tea.Cmd {
	if len(m.queue) == 0 {
		return nil
	}
	w, q := m.world, m.queue[0]
	return func() tea.Msg {
		msg := wroteMsg{page: q.page}
		w.writes.once(q.number, func() { msg.what, msg.err = write(w.ctx, w.app, q.effect) })
		return msg
	}
}

// apply confirms a change, and reads the build with it.
func (msg wroteMsg) apply(m Model) (Model, tea.Cmd) {
	m.queue = m.queue[1:]
	if msg.err != nil {
		m = m.fail(plain(msg.err))
	} else {
		m.says = notice{text: msg.what, undo: true}
	}
	if msg.page {
		m = m.answered(msg.err)
	}
	if m.leaving && len(m.queue) == 0 {
		return m, tea.Quit
	}
	m.loading = true
	cmds := []tea.Cmd{m.writeNext(), m.read()}
	if _, ok := m.top().(historyPage); ok {
		cmds = append(cmds, m.readHistory())
	}
	return m, tea.Batch(cmds...)
}

// answered tells a waiting page how its change ended.
func (m Model) answered(err error) Model {
	if !m.waiting() {
		return m
	}
	next, done := m.top().(waiter).After(err)
	if done {
		return m.pop()
	}
	return m.withTop(next)
}

// plain says what to do where an error alone does not.
func plain(err error) error {
	if errors.Is(err, build.ErrStale) {
		return errors.New("another vanlog has changed this meanwhile: look at it again, then try once more")
	}
	return err
}
