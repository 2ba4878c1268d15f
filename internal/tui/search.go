package tui

import (
	"context"
	"errors"
	"time"

	"github.com/charmbracelet/bubbles/progress"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

const (
	beat       = 100 * time.Millisecond
	longSearch = 10 * time.Second
)

// search is a search for a better order that is under way, or for one for each design.
type search struct {
	number int // of the search: results of another one are dropped
	load   int // that it is for, where it compares designs
	on     bool
	beats  int // tenths of a second since it began
	length time.Duration
	better chan answer.Sequence
	cancel context.CancelFunc // nil: nothing to stop
}

// stopSearching ends the search; what it still finds is dropped.
func (m Model) stopSearching() Model {
	if m.search.cancel != nil {
		m.search.cancel()
	}
	m.search = search{number: m.search.number + 1}
	return m
}

// apply shows an order of work, and goes on to a better one.
func (msg plannedMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.load != m.load || msg.search != 0 && msg.search != m.search.number {
		return m, nil
	}
	m = m.stopSearching()
	if msg.search != 0 && msg.err != nil {
		m.says = notice{text: "The search was stopped before it found anything better."}
		return m.foresee()
	}
	d := m.data
	d.NoSeq, d.Seq = "", &msg.seq
	if msg.err != nil {
		d.NoSeq, d.Seq = m.noSequence(msg.err), nil
	}
	m = m.show(d)
	today := m.askToday(d.Seq)
	if msg.err != nil || msg.search != 0 || m.improve == 0 || msg.seq.Proven {
		m, outlook := m.foresee()
		return m, tea.Batch(today, outlook)
	}
	m, more := m.searchFor(m.improve)
	return m, tea.Batch(today, more)
}

// noSequence says why there is no order of work.
func (m Model) noSequence(err error) string {
	text := err.Error()
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		text = titleOf(m.data.View, none.ID) + ": " + none.Why
	}
	return text
}

// searchFor begins a search of a length. What it finds on the way comes through a channel
// that a second command reads: the search never waits for the screen.
func (m Model) searchFor(length time.Duration) (Model, tea.Cmd) {
	if m.data.View == nil || m.data.Seq == nil {
		return m, nil
	}
	m = m.stopSearching()
	ctx, cancel := context.WithCancel(m.ctx)
	better := make(chan answer.Sequence, 1)
	m.search = search{number: m.search.number, on: true, length: length, better: better, cancel: cancel}
	load, number, v := m.load, m.search.number, m.following()
	o := plan.Options{Time: length, Better: func(s plan.Sequence) { replace(better, soFar(v, s)) }}
	find := func() tea.Msg {
		defer close(better)
		seq, err := v.Sequence(ctx, o)
		return plannedMsg{load: load, search: number, seq: seq, err: err}
	}
	return m, tea.Batch(find, m.nextBetter(), m.after(beat, beatMsg{number}))
}

// replace puts s in the channel in place of what was not taken yet. There is one sender.
func replace(ch chan answer.Sequence, s answer.Sequence) {
	select {
	case <-ch:
	default:
	}
	ch <- s
}

// soFar gives an order as the screens know it, without reasons, which cost time. Package
// answer puts the open tasks to package plan in the order of the build.
func soFar(v *answer.View, s plan.Sequence) answer.Sequence {
	var open []id.Task
	for _, t := range v.Live.Tasks {
		if t.State != tasks.Finished {
			open = append(open, t.ID)
		}
	}
	out := answer.Sequence{Now: v.Now, Finish: s.Finish, BoundFinish: s.Bound, Proven: s.Proven, WorkMin: s.Work}
	for _, r := range s.Rows {
		out.AccessMin += r.Reach
		out.Tasks = append(out.Tasks, answer.Row{ID: open[r.Job], Start: r.Start, Finish: r.Finish, WorkMin: r.Work,
			AccessMin: r.Reach, ReworkMin: r.Rework, CureEnd: r.CureEnd, Because: []answer.Because{
				{Kind: "search", Text: "the reasons come when the search ends"}}})
	}
	return out
}

// nextBetter waits for the next better order; it says nothing once the search has ended.
func (m Model) nextBetter() tea.Cmd {
	number, better := m.search.number, m.search.better
	return func() tea.Msg {
		seq, ok := <-better
		if !ok {
			return nil
		}
		return betterMsg{number, seq}
	}
}

func (msg betterMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.search != m.search.number || !m.search.on {
		return m, nil
	}
	d := m.data
	d.Seq = &msg.seq
	return m.show(d), m.nextBetter()
}

func (msg beatMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.search != m.search.number || !m.search.on {
		return m, nil
	}
	m.search.beats++
	return m, m.after(beat, msg)
}

// searchOn searches for longer: for a better order, or, on the Designs, for one for each
// option.
func (m Model) searchOn() (Model, tea.Cmd) {
	if m.at == designsAt {
		return m.compareFor(longSearch)
	}
	return m.searchFor(longSearch)
}

// endSearch stops what the person sees being worked out.
func (m Model) endSearch() Model {
	if m.at == designsAt && m.compare.on {
		return m.compareStopped()
	}
	if m.search.cancel != nil {
		m.search.cancel()
	}
	return m
}

// progressText says how far what is being worked out has come; empty where nothing is.
func (m Model) progressText() string {
	if m.compare.on && (m.at == designsAt || !m.search.on) {
		return m.compare.progressText(m.st, "comparing", m.at == designsAt)
	}
	return m.search.progressText(m.st, "looking for a better order", true)
}

// progressText draws how far the search has come; empty where there is none.
func (s search) progressText(st widget.Styles, what string, stops bool) string {
	if !s.on {
		return ""
	}
	bar := progress.New(progress.WithWidth(10), progress.WithoutPercentage(), progress.WithColorProfile(termenv.Ascii))
	done := float64(time.Duration(s.beats)*beat) / float64(s.length)
	text := what + " " + bar.ViewAs(min(done, 1))
	if stops {
		text += "  " + st.Key.Render(keyFor(globalScope, stopSearch)) + " stop"
	}
	return text
}

// keyFor gives the key of an action.
func keyFor(s string, a screen.Action) string {
	for _, b := range bindingsOf(s) {
		if b.action == a {
			return b.keys[0]
		}
	}
	return ""
}
