package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// The effects of our own pages and keys.
type (
	openScreen  struct{ at int }               // by its place among them
	openPage    struct{ page screen.Screen }   // over what is there
	closePage   struct{}                       // the one on top
	closeThen   struct{ then screen.Effect }   // closes the page on top, and goes on
	doAction    struct{ action screen.Action } // as if its key were pressed
	openEditor  struct{ editor record.Editor } // a form over a record
	openChanges struct{}                       // the page of changes
	sayWrong    struct{ text string }          // in the message line
	openMenu    struct{}                       // what can be done here
	swapPanes   struct{}                       // the van, or the work
	searchOn    struct{}                       // for a better order
	searchEnd   struct{}                       // keep the best so far
	leave       struct{ now bool }             // vanlog
	sleep       struct{}                       // back to the shell
	swapPointer struct{}                       // the mouse works, or does not
	openSnag    struct{}                       // a form for a fault that was found
	undoLast    struct{}                       // take the last change back
	redoLast    struct{}                       // do it again
	askRemoval  struct {
		kind  build.Kind
		key   build.Key
		title string
	} // may this record go?
	askWay struct {
		place build.Key
		way   int
	} // may this way into a place go?
	dropRecord struct {
		kind build.Kind
		key  build.Key
	} // remove it
)

// logEntry makes an entry in the daybook.
type logEntry struct {
	request app.LogRequest
	stop    bool // it is the running clock's
	sure    bool // the person knows what finishing buries
}

// saveRecord puts a record in its list; key 0 makes a new one.
type saveRecord struct {
	kind build.Kind
	key  build.Key
	row  any
}

func (openScreen) Effect()  {}
func (openPage) Effect()    {}
func (closePage) Effect()   {}
func (closeThen) Effect()   {}
func (doAction) Effect()    {}
func (openEditor) Effect()  {}
func (openChanges) Effect() {}
func (sayWrong) Effect()    {}
func (openMenu) Effect()    {}
func (swapPanes) Effect()   {}
func (searchOn) Effect()    {}
func (searchEnd) Effect()   {}
func (leave) Effect()       {}
func (sleep) Effect()       {}
func (swapPointer) Effect() {}
func (openSnag) Effect()    {}
func (undoLast) Effect()    {}
func (redoLast) Effect()    {}
func (askRemoval) Effect()  {}
func (askWay) Effect()      {}
func (dropRecord) Effect()  {}
func (logEntry) Effect()    {}
func (saveRecord) Effect()  {}

// run is the one place where an effect becomes a command. What only changes the model
// gives none.
func (m Model) run(e screen.Effect) (Model, tea.Cmd) {
	switch e := e.(type) {
	case nil:
		return m, nil
	case screen.StopClock:
		if _, forgotten := m.data.View.Forgotten(m.clock()); forgotten {
			return m.push(newEntryForm(m.data, m.data.View.Build.Clock.Task, m.clock())), nil
		}
		return m.enqueue(e)
	case screen.StartClock, screen.CountOne, screen.Choose, screen.MoveTask, screen.PinTask, screen.UnpinTask, screen.SaveDue, screen.TakeIn,
		saveRecord, dropRecord, undoLast, redoLast:
		return m.enqueue(e)
	case logEntry:
		if e.request.Finished && !e.sure {
			return m, m.askFinish(e)
		}
		return m.enqueue(e)
	case writer:
		return m.enqueue(e)
	case screen.Finish:
		return m, m.askFinish(logEntry{request: app.LogRequest{Task: e.Task, Finished: true}, stop: m.running(e.Task)})
	case goTo:
		return m.goTo(e)
	case screen.AddPhoto:
		next, photo := m.addPhoto(e.Task)
		return next.run(photo)
	case openChanges:
		return m, m.readHistory()
	case searchOn:
		return m.searchOn()
	case leave:
		return m.leave(e.now)
	case sleep:
		return m, tea.Suspend
	case swapPointer:
		return m.swapPointer()
	case keepSettings:
		return m, m.keepSettings(e)
	case closeThen:
		return m.pop().run(e.then)
	case doAction:
		return m.do(e.action)
	}
	return m.runAsking(e)
}

// runAsking puts a question to the engines, if an effect is one.
func (m Model) runAsking(e screen.Effect) (Model, tea.Cmd) {
	switch e := e.(type) {
	case screen.FindWay:
		return m.findWay(e)
	case screen.FindCautions:
		return m, m.findCautions(e)
	case screen.PriceMove:
		return m.priceMove(e)
	case screen.FindLate:
		return m.findLate(e)
	case screen.ShowLate:
		return m.showLate(e)
	case screen.FindForecast:
		return m.findForecast(e)
	case screen.ShowForecast:
		return m.showForecast()
	case screen.AskToday:
		return m, m.askToday(m.data.Seq)
	}
	return m.runHere(e), nil
}

// runHere does what needs no command.
func (m Model) runHere(e screen.Effect) Model {
	if next, opened := m.openForm(e); opened {
		return next
	}
	switch e := e.(type) {
	case openScreen:
		m.at, m.pages, m.onlyVan = e.at, nil, false
		return m
	case openPage:
		return m.push(e.page)
	case screen.ShowIdle:
		return m.push(screen.Idle{})
	case closePage, screen.ClosePage:
		return m.pop().answered(errKept)
	case openMenu:
		return m.push(newMenu(m.top().Scope(), m.focusTitle()))
	case filterDays:
		m.at, m.pages = daybookAt, nil
		m.screens[daybookAt] = m.screens[daybookAt].(screen.Daybook).Filtered(e.filter)
		return m
	case setField:
		if p, ok := m.top().(editorPage); ok {
			p.editor = p.editor.With(e.name, e.text)
			return m.withTop(p)
		}
		return m
	case openEditor:
		return m.push(editorPage{editor: e.editor.Today(m.clock().Date(), m.wants.now.FirstWeekday == "sun")})
	case askRemoval:
		return m.askRemoval(e)
	case askWay:
		return m.askWay(e)
	case sayWrong:
		m.says = notice{text: e.text, bad: true}
		return m
	case screen.Refuse:
		m.says = notice{text: e.Text, bad: true}
		return m
	case swapPanes:
		if m.layout().sideW > 0 || m.hideVan {
			m.hideVan = !m.hideVan
		} else {
			m.onlyVan = !m.onlyVan
		}
		return m
	case searchEnd:
		return m.endSearch()
	}
	panic(fmt.Sprintf("effect %T has no runner", e)) // a test goes over all effects
}

// openForm opens the form that an effect asks for; it is false for an effect that asks for none.
func (m Model) openForm(e screen.Effect) (Model, bool) {
	switch e := e.(type) {
	case screen.OpenEntry:
		m = m.push(newEntryForm(m.data, e.Task, m.clock()))
	case screen.OpenNote:
		m = m.push(m.noteForm(e.Task))
	case screen.OpenReading:
		m = m.pushOr(m.readingForm(e.Task))
	case screen.OpenCorrection:
		m = m.push(m.correctForm(e.Key, e.Base))
	case screen.OpenSplit:
		m = m.pushOr(m.splitForm(e.Key, e.Base))
	case screen.AskStrike:
		m = m.askStrike(e)
	case screen.OpenFilter:
		m = m.push(m.filterForm(e.Filter))
	case openSpot:
		m = m.push(newSpotPage(m.data.View.Build, e.name, e.label, e.text, e.box))
	case openSettings:
		m = m.push(m.settingsForm())
	case openList:
		if m.data.View != nil {
			m = m.push(newListPage(m.data.View.Build))
		}
	case openSnag:
		m = m.push(m.snagForm())
	case askSnag:
		m = m.askSnag(e)
	default:
		return m, false
	}
	return m, true
}

func (m Model) readHistory() tea.Cmd {
	w := m.world
	return func() tea.Msg {
		changes, err := w.app.History(w.ctx, historyLength)
		return historyMsg{changes, err}
	}
}

func (msg historyMsg) apply(m Model) (Model, tea.Cmd) {
	if msg.err != nil {
		return m.fail(msg.err), nil
	}
	if h, ok := m.top().(historyPage); ok {
		return m.withTop(h.with(msg.changes)), nil
	}
	return m.push(historyPage{}.with(msg.changes)), nil
}

// askRemoval asks whether a record may go, and says what would go with it.
func (m Model) askRemoval(e askRemoval) Model {
	_, also, err := m.data.View.Build.RemovalOf(e.kind, e.key)
	if err != nil {
		return m.fail(err)
	}
	q := question{yes: dropRecord{e.kind, e.key}}
	for _, text := range also {
		q.about = append(q.about, screen.Fact{Label: "goes too", Text: text, Tone: widget.Warn})
	}
	q.ask = widget.NewConfirm(fmt.Sprintf("Remove %s %q?", record.Word(e.kind), e.title), "remove it", "keep it")
	return m.push(q)
}

// askWay asks whether a way into a place may go.
func (m Model) askWay(e askWay) Model {
	p, ok := m.data.View.Build.Places.ByKey(e.place)
	if !ok || e.way >= len(p.Ways) {
		return m.fail(build.ErrStale)
	}
	ask := widget.NewConfirm(fmt.Sprintf("Remove the way into %s %s?", p.Title(), wayWords(p.Ways[e.way])), "remove it", "keep it")
	p.Ways = slices.Delete(slices.Clone(p.Ways), e.way, e.way+1)
	return m.push(question{ask: ask, yes: saveRecord{build.PlaceKind, e.place, access.Place(p)}})
}

// leave ends vanlog once everything is written; at once where the person insists.
func (m Model) leave(now bool) (Model, tea.Cmd) {
	m.leaving = true
	if now || len(m.queue) == 0 {
		return m.stopSearching(), tea.Quit
	}
	return m, nil
}
