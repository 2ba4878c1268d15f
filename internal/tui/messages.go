package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
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
	hand  answer.TodayOptions // that it was asked with
	today answer.Today
}

// aheadMsg brings what came ahead of its turn, and what was closed in unproven, for a load.
type aheadMsg struct {
	load   int
	ahead  map[build.Key][]answer.Ahead
	buried map[build.Key][]answer.Owed
}

// priceMsg brings what a move costs.
type priceMsg struct {
	number int // of the question
	asked  screen.PriceMove
	price  answer.MovePrice
	more   tea.Cmd // looks closer; nil: this was it
	err    error
}

// lateMsg brings what to do when parts are late.
type lateMsg struct {
	number int
	asked  screen.FindLate
	late   answer.Late
	more   tea.Cmd
	err    error
}

// partsMsg brings by when parts are needed in an order, for a load.
type partsMsg struct {
	load int
	seq  *answer.Sequence
	rows []answer.PartRow
	err  error
}

// forecastMsg brings when the build will be done.
type forecastMsg struct {
	number   int
	forecast answer.Forecast
	err      error
}

// wayMsg brings the way that was asked for.
type wayMsg struct {
	asked screen.FindWay
	way   answer.Reach
	more  tea.Cmd // asks what else there is to know of it
	err   error
}

// aroundMsg brings what else there is to know of the way that was asked for.
type aroundMsg struct {
	asked  screen.FindWay
	around screen.Around
}

// cautionsMsg brings the warnings about an item.
type cautionsMsg struct {
	asked    screen.FindCautions
	cautions []answer.Caution
}

// closesMsg brings what will be closed in, for a load.
type closesMsg struct {
	load  int
	edges []answer.Derived
}

// owedMsg brings the proofs that items would bury, for a load.
type owedMsg struct {
	load int
	owed map[id.Item][]answer.Owed
	err  error
}

// burdenMsg brings what access costs a year.
type burdenMsg struct {
	compare int // the number of the comparison
	burden  answer.Burden
	more    tea.Cmd // works the choices out
	err     error
}

// designsMsg brings the options of the choices, as far as they are worked out.
type designsMsg struct {
	compare int
	designs answer.Designs
	more    tea.Cmd // works the next choice out; nil: there is none
	err     error
}

// compareBeatMsg comes ten times a second while designs are compared.
type compareBeatMsg struct{ compare int }

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
