package tui

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/tui/widget"
)

// The actions that are not for a screen count down.
const (
	showBench screen.Action = -1 - iota
	showSequence
	showReach
	showCloseIn
	showDaybook
	showParts
	showDesigns
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
	swapMouse
	findAnything
	showProofs
	showAhead
	showSnags
	showHours
	showWeeks
	showSums
	newSnag
	copyRecord
	addMany
	comesAfter
	comesBefore
	showSettings
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
	listingScope  = "listing"  // a page that lists an answer
	findingScope  = "finding"  // the page on which everything is found
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

// chain gives the scopes whose keys work in a scope, innermost first.
func chain(s string) []string {
	switch s {
	case screen.BenchScope, screen.SequenceScope, screen.WayScope, screen.BehindScope, screen.DaybookScope, screen.DesignsScope,
		screen.LateScope:
		return []string{s, listScope, screensScope, undoScope, globalScope, alwaysScope}
	case screen.FindScope, screen.CoverScope, screen.PartsScope:
		return []string{s, listScope, screensScope, searchScope, alwaysScope}
	case historyScope:
		return []string{s, listScope, undoScope, alwaysScope}
	case recordsScope:
		return []string{s, listScope, searchScope, alwaysScope}
	case listingScope:
		return []string{s, listScope, undoScope, alwaysScope}
	case kindsScope, menuScope, keysScope, screen.CarryScope, screen.ForecastScope, screen.IdleScope:
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
	case screen.CoverScope:
		return "In Close-in, while an item is picked: letters search"
	case screen.BehindScope:
		return "In Close-in, on what is behind an item"
	case screen.DaybookScope:
		return "In the Daybook"
	case screen.DesignsScope:
		return "In the Designs"
	case screen.CarryScope:
		return "In the Sequence, while a task is moved"
	case screen.PartsScope:
		return "In the Parts: letters search"
	case screen.LateScope:
		return "In the Parts, on what if it comes late"
	case screen.ForecastScope:
		return "On the forecast"
	case screen.IdleScope:
		return "On when the builder is idle"
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

// bottomLine says what the keys do here: as many of them as there is room for, in their order.
// How to see all of them is always at the right.
func bottomLine(st widget.Styles, s string, w int) string {
	right := ""
	if k := helpKey(s); k != "" {
		right = hintGap + st.Key.Render(k) + allKeys
	}
	room, left := w-ansi.StringWidth(right), ""
	for i, b := range hintsWithin(s, room) {
		if i > 0 {
			left += hintGap
		}
		left += st.Key.Render(b.keys[0]) + " " + b.short
	}
	return widget.Fit(left, room) + right
}

// allKeys follows the key that shows all keys.
const allKeys = " all keys"

// helpKey gives the key that shows all keys of a scope; empty where there is none.
func helpKey(s string) string {
	if slices.Contains(chain(s), screensScope) {
		return keyFor(screensScope, showKeys)
	}
	return ""
}

const hintGap = "  "

// hintsWithin gives as many of the bindings that the bottom line names as there is room for.
func hintsWithin(s string, room int) []binding {
	all, used := hints(s), 0
	for i, b := range all {
		if i > 0 {
			used += len(hintGap)
		}
		if used += hintWidth(b); used > room {
			return all[:i]
		}
	}
	return all
}

func hintWidth(b binding) int { return ansi.StringWidth(b.keys[0] + " " + b.short) }

// hintSpans gives where the keys of the bottom line stand.
func hintSpans(s string, w int) []span {
	var spans []span
	room := w
	if k := helpKey(s); k != "" {
		room -= len(hintGap) + len(k) + len(allKeys)
		spans = append(spans, span{room, w, k})
	}
	x := 0
	for _, b := range hintsWithin(s, room) {
		spans = append(spans, span{x, x + hintWidth(b), b.keys[0]})
		x += hintWidth(b) + len(hintGap)
	}
	return spans
}

// hints gives the bindings that the bottom line names.
func hints(s string) []binding {
	var out []binding
	for _, in := range chain(s) {
		for _, b := range bindingsOf(in) {
			if b.short != "" {
				out = append(out, b)
			}
		}
		if in == listScope && goesBack(s) {
			out = append(out, binding{keys: []string{"esc"}, short: "back"})
		}
	}
	return out
}

// goesBack reports whether there is something that esc goes back to.
func goesBack(s string) bool {
	return !slices.Contains([]string{screen.BenchScope, screen.SequenceScope, screen.FindScope, screen.CoverScope,
		screen.DaybookScope, screen.PartsScope, screen.DesignsScope}, s)
}
