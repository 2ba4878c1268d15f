package tui

import (
	"cmp"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// running reports whether the clock runs on t.
func (m Model) running(t id.Task) bool {
	return m.data.View != nil && m.data.View.Build.Clock != nil && m.data.View.Build.Clock.Task == t
}

// askFinish asks what finishing a task would bury, of the build as it is on file.
func (m Model) askFinish(e logEntry) tea.Cmd {
	w := m.world
	return func() tea.Msg {
		v, err := w.app.View(w.ctx)
		if err != nil {
			return finishMsg{err: err}
		}
		return burials(v, e)
	}
}

// burials gives the proofs that would be buried by the finish of e's task.
func burials(v *answer.View, e logEntry) finishMsg {
	i, ok := v.Live.TaskAt[e.request.Task]
	if !ok {
		return finishMsg{err: fmt.Errorf("task %q is not in the design as it is chosen now", e.request.Task)}
	}
	t := v.Live.Tasks[i]
	if t.State == tasks.Finished {
		return finishMsg{err: fmt.Errorf("%s is finished already", t.Title())}
	}
	msg := finishMsg{entry: e, title: t.Title()}
	for _, o := range v.CloseInBy(t).NotProved {
		text := fmt.Sprintf("%s: %s", titleOf(v, o.Task), cmp.Or(o.What, string(o.Check)))
		if !slices.Contains(msg.owed, text) {
			msg.owed = append(msg.owed, text)
		}
	}
	return msg
}

// apply finishes the task; where that buries what is not proven, after a question.
func (msg finishMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		return m.fail(msg.err).answered(msg.err), nil
	}
	e := msg.entry
	e.sure = true
	if len(msg.owed) == 0 {
		return m.enqueue(e)
	}
	q := question{yes: e}
	for _, text := range msg.owed {
		q.about = append(q.about, screen.Fact{Label: "not proven", Text: text, Tone: widget.Bad})
	}
	q.ask = widget.NewConfirm(fmt.Sprintf("Finishing %s closes this in. Nobody will see it again without opening it up. Finish all the same?", msg.title),
		"finish, it stays unproven", "not yet")
	m.held = nil // they were not meant as an answer
	return m.push(q), nil
}
