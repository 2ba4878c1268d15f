// Package tui is vanlog on the whole terminal: screens, the van beside them, forms over
// them.
//
// One Model holds everything; screens and pages are values (package screen) that give
// Effects, and effects.go is the one place where an Effect becomes a command. Keys come from
// one table (keys.go), which help, menus and the bottom line are made from. Whatever takes
// time runs as a command: Update and View only move values. What the engines found
// carries the number of the load it was found for, so that what comes late is dropped.
package tui

import (
	"context"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// world is what a Model works with; it never changes.
type world struct {
	ctx     context.Context
	app     *app.App
	now     func() units.Instant
	after   func(d time.Duration, msg tea.Msg) tea.Cmd // says msg after d; tests say nothing
	improve time.Duration                              // to search for better orders; 0: the first will do
	lives   int                                        // of the forecast on the top line; 0: there is none
	photos  string                                     // the folder where pictures arrive; empty: none is set
	writes  *gate
}

// Model is all that is on the screen.
type Model struct {
	world
	st   widget.Styles
	w, h int

	data     screen.Data
	rev      build.Rev // of data
	load     int       // number of data: results for another one are dropped
	loading  bool
	loadedAt units.Instant
	time     units.Instant // what the clock showed at the last tick

	screens [7]screen.Screen
	at      int
	pages   []screen.Screen // over the screen; the last has the keys

	says    notice
	queue   []queued // changes to be written, one at a time; the first is being written
	asked   int      // changes that were put in the queue so far
	search  search
	compare search             // of the designs
	closing int                // the load for which it was asked what will be closed in
	aside   context.CancelFunc // of what is asked besides the way that is shown; nil: nothing is
	pricing asking             // what the move in hand costs
	delays  asking             // what to do when parts are late
	needs   asking             // by when parts are needed
	outlook asking             // when it will be done
	partsOf *answer.Sequence   // the order of which that was asked
	partsIn int                // and the load
	side    side
	hideVan bool         // where the van has room beside the work
	onlyVan bool         // where it has not
	pointer bool         // the mouse works
	wants   wishes       // of the person, whatever the build
	leaving bool         // as soon as everything is written
	held    []widget.Key // pressed while a page waits for its change
}

// notice is what the message line says.
type notice struct {
	text string
	bad  bool // stays until a key is pressed
	undo bool // it was a change: it can be taken back
}

func newModel(w world, st widget.Styles) Model {
	return Model{world: w, st: st, loading: true, time: w.now(), screens: [7]screen.Screen{
		screen.Bench{}, screen.Sequence{}, screen.Reach{}, screen.CloseIn{}, screen.Daybook{}, screen.Parts{}, screen.Designs{}}}
}

// Where screens stand among the screens.
const (
	benchAt    = 0
	sequenceAt = 1
	reachAt    = 2
	closeInAt  = 3
	daybookAt  = 4
	partsAt    = 5
	designsAt  = 6
)

// Init reads the build and begins to count seconds.
func (m Model) Init() tea.Cmd { return tea.Batch(m.read(), m.after(second, tickMsg{}), m.pointing()) }

const second = time.Second

// Update takes a message.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m = m.resized(msg.Width, msg.Height)
		cmd = tea.ClearScreen // resizing leaves pieces of the old frame
	case tea.KeyMsg:
		m, cmd = m.keys(split(msg))
	case tea.MouseMsg:
		m, cmd = m.mouse(msg)
	case tea.ResumeMsg:
		cmd = tea.Batch(tea.ClearScreen, m.read(), m.pointing())
	case result:
		m, cmd = msg.apply(m)
	}
	m, held := m.replay()
	m, look := m.lookAside()
	m, more := m.lookUp()
	return m, tea.Batch(cmd, held, look, more)
}

func (m Model) resized(w, h int) Model {
	m.w, m.h = w, h
	d := m.data
	d.Lines = m.layout().bodyH
	return m.show(d)
}

// keys takes keys one after another.
func (m Model) keys(ks []tea.KeyMsg) (Model, tea.Cmd) {
	var cmds []tea.Cmd
	for _, k := range ks {
		next, cmd := m.key(keyOf(k))
		m, cmds = next, append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// key goes to the keys that always work, then to what is typed into, then to the action
// that the innermost scope has for it.
func (m Model) key(k widget.Key) (Model, tea.Cmd) {
	if m.says.bad {
		m.says = notice{}
	}
	if a, ok := bound(alwaysScope, k.Name); ok {
		return m.do(a)
	}
	if m.waiting() {
		m.held = append(m.held[:len(m.held):len(m.held)], k)
		return m, nil
	}
	next, e, used := m.top().Typed(k)
	if used {
		return m.withTop(next).run(e)
	}
	if a, ok := bound(m.top().Scope(), k.Name); ok && !k.Paste {
		return m.do(a)
	}
	return m, nil
}

// replay takes the keys that were pressed while a page waited, once it waits no more.
func (m Model) replay() (Model, tea.Cmd) {
	if len(m.held) == 0 || m.waiting() {
		return m, nil
	}
	held := m.held
	m.held = nil
	var cmds []tea.Cmd
	for _, k := range held {
		next, cmd := m.key(k)
		m, cmds = next, append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// do does an action: our own, or else that of the screen.
func (m Model) do(a screen.Action) (Model, tea.Cmd) {
	if e, ours := m.wish(a); ours {
		return m.run(e)
	}
	if len(m.pages) == 0 && a == screen.Back && m.onlyVan {
		m.onlyVan = false
		return m, nil
	}
	next, e := m.top().Do(a)
	return m.withTop(next).run(e)
}

// top gives the page or screen that has the keys.
func (m Model) top() screen.Screen {
	if n := len(m.pages); n > 0 {
		return m.pages[n-1]
	}
	return m.screens[m.at]
}

func (m Model) withTop(s screen.Screen) Model {
	n := len(m.pages)
	if n == 0 {
		m.screens[m.at] = s // an array: not shared with the model before
		return m
	}
	m.pages = append(m.pages[:n-1:n-1], s)
	return m
}

// push opens a page over what is there.
func (m Model) push(p screen.Screen) Model {
	m.pages = append(m.pages[:len(m.pages):len(m.pages)], p.With(m.data))
	return m
}

// pushOr opens a page, or says why it cannot be.
func (m Model) pushOr(p screen.Screen, err error) Model {
	if err != nil {
		return m.fail(err)
	}
	return m.push(p)
}

// pop closes the page on top.
func (m Model) pop() Model {
	if n := len(m.pages); n > 0 {
		m.pages = m.pages[: n-1 : n-1]
	}
	return m
}

// show hands other data to every screen and page.
func (m Model) show(d screen.Data) Model {
	m.data = d
	for i, s := range m.screens {
		m.screens[i] = s.With(d)
	}
	pages := make([]screen.Screen, len(m.pages))
	for i, p := range m.pages {
		pages[i] = p.With(d)
	}
	m.pages = pages
	return m
}

func (m Model) fail(err error) Model {
	m.says = notice{text: err.Error(), bad: true}
	return m
}

// clock gives the time that the build lives in: the planning time where that stands still.
func (m Model) clock() units.Instant {
	if m.data.View != nil && (m.data.View.Build.Head.Now != nil || m.world.app.Stands()) {
		return m.data.View.Now
	}
	return m.time
}
