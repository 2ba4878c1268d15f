package tui

import (
	"context"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tui/screen"
)

// compareFor works the designs out, one choice after another, with a search of a length for
// each option. What access costs in service comes first: it is there at once.
func (m Model) compareFor(length time.Duration) (Model, tea.Cmd) {
	m = m.stopComparing()
	if m.data.View == nil {
		return m, nil
	}
	choices := choicesOf(m.data.View)
	ctx, cancel := context.WithCancel(m.ctx)
	total := time.Duration(m.data.View.Build.Options.Len()) * length
	m.compare = search{number: m.compare.number, load: m.load, on: true, length: max(total, beat), cancel: cancel}
	m = m.showCompare(func(c *screen.Compare) { c.Working, c.Stopped, c.Trouble = true, false, "" })
	number, v := m.compare.number, m.following()
	designs := compareNext(ctx, v, number, choices, plan.Options{Time: length})
	burden := func() tea.Msg {
		b, err := v.Burden(ctx)
		return burdenMsg{number, b, designs, err}
	}
	return m, tea.Batch(burden, m.after(beat, compareBeatMsg{number}))
}

// choicesOf gives the choices in the order in which they first come.
func choicesOf(v *answer.View) []string {
	var out []string
	for _, o := range v.Build.Options.Rows {
		if !slices.Contains(out, o.Choice) {
			out = append(out, o.Choice)
		}
	}
	return out
}

// compareNext works out the first of the choices, and goes on with the rest.
func compareNext(ctx context.Context, v *answer.View, number int, choices []string, o plan.Options) tea.Cmd {
	return func() tea.Msg {
		msg := designsMsg{compare: number}
		if len(choices) == 0 {
			return msg
		}
		msg.designs, msg.err = v.Designs(ctx, choices[0], o)
		if len(choices) > 1 {
			msg.more = compareNext(ctx, v, number, choices[1:], o)
		}
		return msg
	}
}

func (msg burdenMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.compare != m.compare.number || !m.compare.on {
		return m, nil
	}
	if msg.err != nil {
		return m.compareFailed(msg.err), nil
	}
	return m.showCompare(func(c *screen.Compare) { c.Burden = &msg.burden }), msg.more
}

func (msg designsMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.compare != m.compare.number || !m.compare.on {
		return m, nil
	}
	if msg.err != nil {
		return m.compareFailed(msg.err), nil
	}
	last := msg.more == nil
	m = m.showCompare(func(c *screen.Compare) {
		if msg.designs.Choice != "" {
			c.Designs = withDesigns(c.Designs, msg.designs)
		}
		c.Working, c.Stale = !last, c.Stale && !last
	})
	if last {
		return m.compareEnded(), nil
	}
	return m, msg.more
}

// compareFailed ends the comparison and says why.
func (m Model) compareFailed(err error) Model {
	return m.compareEnded().showCompare(func(c *screen.Compare) { c.Working, c.Trouble = false, err.Error() })
}

// withDesigns puts the options of a choice in the place of what was known of them.
func withDesigns(all []answer.Designs, one answer.Designs) []answer.Designs {
	out := slices.DeleteFunc(slices.Clone(all), func(d answer.Designs) bool { return d.Choice == one.Choice })
	return append(out, one)
}

func (msg compareBeatMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.compare != m.compare.number || !m.compare.on {
		return m, nil
	}
	m.compare.beats++
	return m, m.after(beat, msg)
}

// compareEnded forgets the comparison that has ended, but for which load it was.
func (m Model) compareEnded() Model {
	if m.compare.cancel != nil {
		m.compare.cancel()
	}
	m.compare = search{number: m.compare.number + 1, load: m.compare.load}
	return m
}

// compareStopped is compareEnded because the person wants no more of it.
func (m Model) compareStopped() Model {
	return m.compareEnded().showCompare(func(c *screen.Compare) { c.Working, c.Stopped = false, true })
}

// stopComparing ends the comparison; what it still finds is dropped.
func (m Model) stopComparing() Model {
	m = m.compareEnded()
	m.compare.load = 0
	return m
}

// showCompare changes what is known of the designs. Only the Designs show it.
func (m Model) showCompare(change func(*screen.Compare)) Model {
	change(&m.data.Compare)
	m.screens[designsAt] = m.screens[designsAt].With(m.data)
	return m
}

// staleCompare marks what was found for the build as it was before.
func staleCompare(c screen.Compare) screen.Compare {
	return screen.Compare{Designs: c.Designs, Burden: c.Burden, Stale: c.Designs != nil || c.Burden != nil}
}
