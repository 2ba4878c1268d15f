package tui

import (
	"context"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/tui/welcome"
	"example.com/vanlog/internal/tui/widget"
)

// Welcome asks how to begin where there is no build, and begins: begin makes or opens the
// build, and where it cannot its error is shown and the person asked again. It reports
// whether begin has done so; false where the person left. Says is why there is no build,
// empty where there never was one. Other errors are those of Run.
func Welcome(ctx context.Context, o Options, w welcome.World, says string, begin func(welcome.Beginning) error) (bool, error) {
	if !onTerminal(o) {
		return false, ErrNoTerminal
	}
	m := starting{page: welcome.New(w, says), st: widget.NewStyles(renderer(o), dark(o)), begin: begin}
	sig := listen()
	defer sig.end()
	p := tea.NewProgram(m, tea.WithContext(ctx), tea.WithInput(o.In), tea.WithOutput(o.Out), tea.WithAltScreen(), tea.WithoutSignalHandler())
	sig.kill = p.Kill
	last, err := p.Run()
	if s := sig.caught.Load(); s != nil {
		return false, &SignalError{*s}
	}
	if err != nil {
		return false, fmt.Errorf("the screens stopped: %w", err)
	}
	end, ok := last.(starting)
	return ok && end.begun, nil
}

// starting is the welcome on the whole terminal.
type starting struct {
	page  welcome.Page
	st    widget.Styles
	w, h  int
	begin func(welcome.Beginning) error
	busy  bool // beginning
	begun bool
}

// begunMsg says how beginning went.
type begunMsg struct{ err error }

// Init waits for the size of the terminal.
func (m starting) Init() tea.Cmd { return nil }

// Update takes a message.
func (m starting) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
		return m, tea.ClearScreen
	case begunMsg:
		m.busy = false
		if msg.err != nil {
			m.page = m.page.Refused(msg.err.Error())
			return m, nil
		}
		m.begun = true
		return m, tea.Quit
	case tea.KeyMsg:
		return m.keys(msg)
	}
	return m, nil
}

func (m starting) keys(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	for _, k := range split(msg) {
		if k.Type == tea.KeyCtrlC {
			return m, tea.Quit
		}
		if m.busy {
			return m, nil
		}
		page, out := m.page.Key(keyOf(k))
		m.page = page
		switch out {
		case welcome.Left:
			return m, tea.Quit
		case welcome.Begun:
			m.busy = true
			return m, func() tea.Msg { return begunMsg{m.begin(page.Beginning())} }
		}
	}
	return m, nil
}

// View draws the page in exactly the cells of the terminal.
func (m starting) View() string {
	if m.w < 1 || m.h < 1 {
		return "…"
	}
	return m.page.View(m.st, m.w, m.h)
}
