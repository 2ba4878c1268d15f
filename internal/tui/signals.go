package tui

import (
	"fmt"
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// SignalError says that a signal ended the screens. The customary exit code is 128 and
// the number of the signal.
type SignalError struct{ Signal syscall.Signal }

func (e *SignalError) Error() string { return fmt.Sprintf("ended by a signal: %v", e.Signal) }

// patience is how long the screens may take to end after a signal.
const patience = 2 * time.Second

// signals waits for the signals that end a program. Bubble Tea's own handler does not know
// SIGHUP, and leaves the terminal as it is then.
type signals struct {
	in     chan os.Signal
	done   chan struct{}
	caught atomic.Pointer[syscall.Signal]
	kill   func()
}

func listen() *signals {
	s := &signals{in: make(chan os.Signal, 1), done: make(chan struct{})}
	signal.Notify(s.in, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT)
	return s
}

func (s *signals) end() {
	signal.Stop(s.in)
	close(s.done)
}

// wait is a command that ends the program after a signal. Where the program does not
// end by itself, it is killed: the terminal is put right all the same.
func (s *signals) wait() tea.Msg {
	select {
	case got := <-s.in:
		if sig, ok := got.(syscall.Signal); ok {
			s.caught.Store(&sig)
		}
		time.AfterFunc(patience, s.kill)
		return tea.Quit()
	case <-s.done:
		return nil
	}
}

// watched is a Model that also waits for signals.
type watched struct {
	Model
	sig *signals
}

// Init begins to wait.
func (w watched) Init() tea.Cmd { return tea.Batch(w.Model.Init(), w.sig.wait) }

// Update is that of the Model.
func (w watched) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := w.Model.Update(msg)
	w.Model = next.(Model)
	return w, cmd
}
