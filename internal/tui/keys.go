package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// The actions that are not for a screen count down.
const (
	showBench screen.Action = -1 - iota
	showSequence
	showReach
	showDaybook
	nextScreen
	previousScreen
	takeBack
	doAgain
	showHistory
	editRecords
	editSelected
	showKeys
	showMenu
	swapVan
	searchLonger
	stopSearch
	newRecord
	removeRecord
	quit
	quitAlways
	suspend
)

// The scopes that are no screen's.
const (
	listScope     = "list"     // wherever there is a cursor
	screensScope  = "screens"  // also while a target is typed
	undoScope     = "undo"     // on screens and in the history
	searchScope   = "search"   // the same where letters search
	globalScope   = "global"   // on screens, unless something is typed
	alwaysScope   = "always"   // also while a form is filled in
	historyScope  = "history"  // the page of changes
	kindsScope    = "kinds"    // the page of kinds of records
	recordsScope  = "records"  // a list of records
	menuScope     = "menu"     // what can be done here
	keysScope     = "keys"     // the page of keys
	formScope     = "form"     // a form that is filled in
	questionScope = "question" // a question to be answered
)

// binding gives keys to an action in a scope. Short is its word in the bottom line; without
// one it is not there.
type binding struct {
	scope  string
	action screen.Action
	keys   []string
	short  string
	help   string
}

// bindings is the one table of keys. Help, menus and the bottom line are made from it.
func bindings() []binding {
	return slices.Concat(screenBindings(), pageBindings(), sharedBindings())
}

func screenBindings() []binding {
	return []binding{
		{screen.BenchScope, screen.ToggleClock, []string{"s"}, "clock", "start the clock on the task, or stop it and make its entry"},
		{screen.BenchScope, screen.CountTrip, []string{"t"}, "trip in", "count a trip in on the running clock"},
		{screen.BenchScope, screen.WriteEntry, []string{"l"}, "entry", "log an entry: duration, note, trips, photos, readings"},
		{screen.BenchScope, screen.FinishTask, []string{"f"}, "finish", "finish the task"},
		{screen.BenchScope, showMenu, []string{"enter"}, "menu", "choose from what can be done with the task"},

		{screen.SequenceScope, screen.Earlier, []string{"left"}, "", "scroll the calendar back"},
		{screen.SequenceScope, screen.Later, []string{"right"}, "scroll", "scroll the calendar on"},
		{screen.SequenceScope, screen.Finer, []string{"+", "="}, "", "show fewer days, larger"},
		{screen.SequenceScope, screen.Coarser, []string{"-"}, "scale", "show more days, smaller"},
		{screen.SequenceScope, searchLonger, []string{"r"}, "search on", "search ten seconds for a better order"},
		{screen.SequenceScope, showMenu, []string{"enter"}, "menu", "choose from what can be done here"},

		{screen.FindScope, screen.Mark, []string{"space"}, "take", "take a target, or leave it again: the way is to all together"},
		{screen.FindScope, screen.Enter, []string{"enter"}, "way in", "show the way in to what is taken, or under the cursor"},

		{screen.WayScope, screen.SwapFitted, []string{"f"}, "now or finished", "as fitted now, or as it will be finished"},

		{screen.DaybookScope, screen.ToggleClock, []string{"s"}, "clock", "stop the running clock, or start it on this task"},
		{screen.DaybookScope, screen.CountTrip, []string{"t"}, "trip in", "count a trip in on the running clock"},
		{screen.DaybookScope, screen.WriteEntry, []string{"l"}, "entry", "log another entry for this task"},
		{screen.DaybookScope, showMenu, []string{"enter"}, "menu", "choose from what can be done here"},
	}
}

func pageBindings() []binding {
	return []binding{
		{kindsScope, screen.Enter, []string{"enter"}, "open", "show the records of this kind"},
		{recordsScope, screen.Enter, []string{"enter"}, "edit", "edit the record, or make a new one"},
		{recordsScope, newRecord, []string{"ctrl+n"}, "new", "make a new record"},
		{recordsScope, removeRecord, []string{"ctrl+d"}, "remove", "remove the record, after a question"},
		{menuScope, screen.Enter, []string{"enter"}, "do it", "do what is under the cursor"},
	}
}

func sharedBindings() []binding {
	return []binding{
		{listScope, screen.Up, []string{"up"}, "", "one line up"},
		{listScope, screen.Down, []string{"down"}, "", "one line down"},
		{listScope, screen.PageUp, []string{"pgup"}, "", "a page up"},
		{listScope, screen.PageDown, []string{"pgdown"}, "", "a page down"},
		{listScope, screen.First, []string{"home"}, "", "to the first line"},
		{listScope, screen.Last, []string{"end"}, "", "to the last line"},
		{listScope, screen.Back, []string{"esc"}, "", "one step back; asks before it forgets what was typed"},

		{screensScope, showBench, []string{"1"}, "", "the Bench: what now?"},
		{screensScope, showSequence, []string{"2"}, "", "the Sequence: the whole order of work"},
		{screensScope, showReach, []string{"3"}, "", "Reach: the way to anything"},
		{screensScope, showDaybook, []string{"4"}, "", "the Daybook: what was done"},
		{screensScope, nextScreen, []string{"tab"}, "", "the next screen"},
		{screensScope, previousScreen, []string{"shift+tab"}, "", "the screen before"},
		{screensScope, showKeys, []string{"?", "f1"}, "", "all keys that work here"},

		{undoScope, takeBack, []string{"u"}, "undo", "take the last change back"},
		{undoScope, doAgain, []string{"U", "ctrl+r"}, "", "do again what was taken back last"},

		{searchScope, takeBack, []string{"ctrl+b"}, "undo", "take the last change back"},
		{searchScope, doAgain, []string{"ctrl+r"}, "", "do again what was taken back last"},

		{globalScope, swapVan, []string{"v"}, "van", "show the van and the card, or hide them"},
		{globalScope, editRecords, []string{"e"}, "records", "edit tasks, edges, items, places, ways, parts"},
		{globalScope, editSelected, []string{"E"}, "", "edit what is selected"},
		{globalScope, showHistory, []string{"h"}, "", "every change, the newest first"},
		{globalScope, stopSearch, []string{"x"}, "", "stop the search for a better order, keep the best so far"},
		{globalScope, quit, []string{"q"}, "quit", "leave vanlog; everything is saved"},

		{alwaysScope, quitAlways, []string{"ctrl+c"}, "", "leave vanlog at once; what is typed in a form is lost"},
		{alwaysScope, suspend, []string{"ctrl+z"}, "", "back to the shell for a while; fg comes back"},
	}
}

// chain gives the scopes whose keys work in a scope, innermost first.
func chain(s string) []string {
	switch s {
	case screen.BenchScope, screen.SequenceScope, screen.WayScope, screen.DaybookScope:
		return []string{s, listScope, screensScope, undoScope, globalScope, alwaysScope}
	case screen.FindScope:
		return []string{s, listScope, screensScope, searchScope, alwaysScope}
	case historyScope:
		return []string{s, listScope, undoScope, alwaysScope}
	case recordsScope:
		return []string{s, listScope, searchScope, alwaysScope}
	case kindsScope, menuScope, keysScope:
		return []string{s, listScope, alwaysScope}
	}
	return []string{alwaysScope} // forms and questions take every other key themselves
}

// heading gives the words over a scope's keys.
func heading(s string) string {
	switch s {
	case screen.BenchScope:
		return "On the Bench"
	case screen.SequenceScope:
		return "In the Sequence"
	case screen.FindScope:
		return "In Reach, while a target is picked: letters search"
	case screen.WayScope:
		return "In Reach, on a way in"
	case screen.DaybookScope:
		return "In the Daybook"
	case listScope:
		return "In every list"
	case screensScope:
		return "Screens"
	case undoScope, searchScope:
		return "Changes"
	case alwaysScope:
		return "Always"
	}
	return "Everywhere but while something is typed"
}

// bound gives the action of a key in a scope.
func bound(s string, key string) (screen.Action, bool) {
	table := bindings()
	for _, in := range chain(s) {
		for _, b := range table {
			if b.scope == in && slices.Contains(b.keys, key) {
				return b.action, true
			}
		}
	}
	return 0, false
}

// bindingsOf gives the keys of one scope.
func bindingsOf(s string) []binding {
	return slices.DeleteFunc(bindings(), func(b binding) bool { return b.scope != s })
}

// keyHere gives the key of an action where keys of a scope work; empty where it has none.
func keyHere(s string, a screen.Action) string {
	for _, in := range chain(s) {
		if k := keyFor(in, a); k != "" {
			return k
		}
	}
	return ""
}

// bottomLine says what the keys do here; how to see all of them is always at the right.
func bottomLine(st widget.Styles, s string, w int) string {
	var words []string
	say := func(b binding) { words = append(words, st.Key.Render(b.keys[0])+" "+b.short) }
	for _, in := range chain(s) {
		for _, b := range bindingsOf(in) {
			if b.short != "" {
				say(b)
			}
		}
		if in == listScope && goesBack(s) {
			say(binding{keys: []string{"esc"}, short: "back"})
		}
	}
	left := strings.Join(words, "  ")
	if !slices.Contains(chain(s), screensScope) {
		return widget.Fit(left, w)
	}
	right := "  " + st.Key.Render(keyFor(screensScope, showKeys)) + " all keys"
	return widget.Fit(left, w-ansi.StringWidth(right)) + right
}

// goesBack reports whether there is something that esc goes back to.
func goesBack(s string) bool {
	return !slices.Contains([]string{screen.BenchScope, screen.SequenceScope, screen.FindScope, screen.DaybookScope}, s)
}
