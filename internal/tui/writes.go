package tui

import (
	"context"
	"errors"
	"fmt"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/app"
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

// writer is a change that knows how it is written, and says in words what was done.
type writer interface {
	screen.Effect
	write(ctx context.Context, a *app.App) (string, error)
}

// write carries a change out and says in words what was done.
func write(ctx context.Context, a *app.App, e screen.Effect) (string, error) {
	var c build.Change
	var err error
	switch e := e.(type) {
	case screen.StartClock:
		c, err = a.Start(ctx, e.Task)
	case screen.StopClock:
		return entered(a.Stop(ctx, app.LogRequest{}))
	case screen.CountOne:
		c, err = a.TripIn(ctx)
	case writer:
		return e.write(ctx, a)
	case screen.Choose:
		return choose(ctx, a, e.Option)
	case screen.MoveTask:
		return pinned(a.Move(ctx, e.Task, e.To))
	case screen.PinTask:
		return pinned(a.Pin(ctx, e.Task, *e.Seq))
	case screen.UnpinTask:
		return pinned(a.Unpin(ctx, e.Task))
	case screen.SaveDue:
		return saveDue(ctx, a, e)
	case screen.TakeIn:
		return takeIn(ctx, a, e)
	case saveRecord:
		c, err = a.Save(ctx, e.kind, e.key, e.row)
	case dropRecord:
		c, _, err = a.Remove(ctx, e.kind, e.key)
	case undoLast:
		c, err = a.Undo(ctx)
		return "taken back: " + c.What, nothing(err, "there is nothing to take back")
	case redoLast:
		c, err = a.Redo(ctx)
		return "done again: " + c.What, nothing(err, "there is nothing to do again")
	default:
		panic(fmt.Sprintf("effect %T is no change", e))
	}
	return c.What, err
}

func (e logEntry) write(ctx context.Context, a *app.App) (string, error) {
	make := a.Log
	if e.stop {
		make = a.Stop
	}
	what, err := entered(make(ctx, e.request))
	if err != nil || !e.request.Finished {
		return what, err
	}
	if v, err := a.View(ctx); err == nil {
		if n := len(v.Owed(e.request.Task)); n > 0 {
			what += fmt.Sprintf("; proofs it still owes: %d", n)
		}
	}
	return what, nil
}

// entered says what was entered, and what came ahead of its turn.
func entered(l app.Logged, err error) (string, error) {
	what := l.Change.What
	if n := len(l.Ahead); n > 0 {
		what += "; ahead of its turn: " + l.Ahead[0].Text
		if n > 1 {
			what += fmt.Sprintf(" and %d more", n-1)
		}
	}
	return what, err
}

// nothing says in other words that there was nothing to do.
func nothing(err error, text string) error {
	if errors.Is(err, build.ErrNothing) {
		return errors.New(text)
	}
	return err
}
