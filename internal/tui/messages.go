package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/screen"
)

// result is a message that says how something ended, and what the model is after it.
type result interface {
	apply(m Model) (Model, tea.Cmd)
}

// tickMsg comes once a second.
type tickMsg struct{}

// revMsg says at which revision the file is.
type revMsg struct {
	rev build.Rev
	err error
}

// loadedMsg brings the build, from revision rev or a later one.
type loadedMsg struct {
	rev  build.Rev
	view *answer.View
	err  error
}

// plannedMsg brings an order of work for a load: the first, or at the end of a search the best.
type plannedMsg struct {
	load   int
	search int // 0: the first order of the load
	seq    answer.Sequence
	err    error
}

// betterMsg brings a better order while the search goes on.
type betterMsg struct {
	search int
	seq    answer.Sequence
}

// beatMsg comes ten times a second while a search goes on.
type beatMsg struct{ search int }

// todayMsg brings what can be done now, for a load.
type todayMsg struct {
	load  int
	today answer.Today
}

// aheadMsg brings what came ahead of its turn, for a load.
type aheadMsg struct {
	load  int
	ahead map[build.Key][]answer.Ahead
}

// wayMsg brings the way that was asked for.
type wayMsg struct {
	asked screen.FindWay
	way   answer.Reach
	err   error
}

// sideMsg brings the card and the drawing of what is selected.
type sideMsg struct {
	key    string
	detail detail
}

// wroteMsg says how a change ended.
type wroteMsg struct {
	what string // as the person would say it
	page bool   // a page waits for it
	err  error
}

// finishMsg says what finishing a task would bury.
type finishMsg struct {
	entry logEntry
	title string
	owed  []string // proofs that would be buried
	err   error
}

// historyMsg brings the changes, newest first.
type historyMsg struct {
	changes []build.Change
	err     error
}
