package tui

import "example.com/vanlog/internal/tui/screen"

// wish gives the effect of an action that is not for a screen.
func (m Model) wish(a screen.Action) (screen.Effect, bool) {
	if p, ok := listingOf(a); ok {
		return openPage{p}, true
	}
	n := len(m.screens)
	switch a {
	case showBench, showSequence, showReach, showCloseIn, showDaybook, showParts, showDesigns:
		return openScreen{int(showBench - a)}, true
	case nextScreen:
		return openScreen{(m.at + 1) % n}, true
	case previousScreen:
		return openScreen{(m.at + n - 1) % n}, true
	case takeBack:
		return undoLast{}, true
	case doAgain:
		return redoLast{}, true
	case showHistory:
		return openChanges{}, true
	case editRecords:
		return openPage{newKinds()}, true
	case editSelected:
		return m.editorOfSelected(), true
	case showSettings:
		return openSettings{}, true
	case addMany:
		return openList{}, true
	case comesAfter, comesBefore:
		return m.edgeOfSelected(a == comesAfter), true
	case showMenu:
		return openMenu{}, true
	case showKeys:
		return openPage{newHelp(m.top().Scope())}, true
	case swapVan:
		return swapPanes{}, true
	case searchLonger:
		return searchOn{}, true
	case stopSearch:
		return searchEnd{}, true
	case quit, quitAlways:
		return leave{now: a == quitAlways && m.leaving}, true
	case suspend:
		return sleep{}, true
	case swapMouse:
		return swapPointer{}, true
	case findAnything:
		return openPage{newFindPage(m.top().Scope())}, true
	case newSnag:
		if m.data.View == nil {
			return nil, true
		}
		return openSnag{}, true
	}
	return nil, false
}

// snagsTitle is the title of the page of snags.
const snagsTitle = "Snags"

// listingOf gives the page that an action shows.
func listingOf(a screen.Action) (listing, bool) {
	switch a {
	case showProofs:
		return newListing("Proofs owed", listProofs), true
	case showAhead:
		return newListing("Ahead of its turn", listAhead), true
	case showSnags:
		return newListing(snagsTitle, listSnags), true
	case showHours:
		return newListing("Hours", listHours), true
	case showWeeks:
		return newListing("Weeks", listWeeks), true
	case showSums:
		return sumsMenu(), true
	}
	return listing{}, false
}
