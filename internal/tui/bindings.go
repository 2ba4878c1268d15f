package tui

import (
	"slices"

	"example.com/vanlog/internal/tui/screen"
)

// bindings is the one table of keys. Help, menus and the bottom line are made from it.
func bindings() []binding {
	return slices.Concat(screenBindings(), planBindings(), pageBindings(), sharedBindings(), globalBindings())
}

func screenBindings() []binding {
	return []binding{
		{screen.BenchScope, screen.ToggleClock, []string{"s"}, "clock", "start the clock on the task, or stop it and make its entry"},
		{screen.BenchScope, screen.CountTrip, []string{"t"}, "trip in", "count a trip in on the running clock"},
		{screen.BenchScope, screen.WriteEntry, []string{"l"}, "entry", "log an entry: duration, note, trips, photos, readings"},
		{screen.BenchScope, screen.FinishTask, []string{"f"}, "finish", "finish the task"},
		{screen.BenchScope, screen.WriteNote, []string{"n"}, "note", "write a note on the task that the clock runs on, or else this one"},
		{screen.BenchScope, screen.TakePhoto, []string{"o"}, "photo", "enter the newest picture of the photo folder for it, or a path"},
		{screen.BenchScope, screen.TakeReading, []string{"r"}, "reading", "enter readings for its proofs"},
		{screen.BenchScope, screen.HoursAtHand, []string{"a"}, "hours", "cut the list to what fits into 1, 2, 4 or 8 hours at hand; then all again"},
		{screen.BenchScope, screen.HelperHere, []string{"p"}, "helper", "a helper is here today, or is not"},
		{screen.BenchScope, showMenu, []string{"enter"}, "menu", "choose from what can be done with the task"},

		{screen.FindScope, screen.Mark, []string{"space"}, "take", "take a target, or leave it again: the way is to all together"},
		{screen.FindScope, screen.Enter, []string{"enter"}, "way in", "show the way in to what is taken, or under the cursor"},

		{screen.WayScope, screen.SwapFitted, []string{"f"}, "now or finished", "as fitted now, or as it will be finished"},
		{screen.WayScope, screen.MoreTime, []string{"+", "="}, "look further", "show what more could be done while it is open, for more minutes"},
		{screen.WayScope, screen.LessTime, []string{"-"}, "", "show only what costs fewer minutes more"},

		{screen.CoverScope, screen.Enter, []string{"enter"}, "what is behind", "show everything that the item closes in"},

		{screen.BehindScope, screen.FinishTask, []string{"f"}, "finish", "finish the task that fits the item"},
		{screen.BehindScope, screen.WriteEntry, []string{"l"}, "entry", "log an entry for the task that fits it: readings, photos, time"},
		{screen.BehindScope, showMenu, []string{"enter"}, "menu", "choose from what can be done here"},

		{screen.DaybookScope, screen.ToggleClock, []string{"s"}, "clock", "stop the running clock, or start it on this task"},
		{screen.DaybookScope, screen.CountTrip, []string{"t"}, "trip in", "count a trip in on the running clock"},
		{screen.DaybookScope, screen.WriteEntry, []string{"l"}, "entry", "log another entry for this task"},
		{screen.DaybookScope, screen.CorrectEntry, []string{"c"}, "correct", "correct the entry: time, task, note, trips, photos, readings, finished"},
		{screen.DaybookScope, screen.SplitEntry, []string{"b"}, "break in two", "split the entry in two, for the same task or another"},
		{screen.DaybookScope, screen.StrikeEntry, []string{"ctrl+d"}, "strike", "strike the entry out, after a question"},
		{screen.DaybookScope, screen.FilterEntries, []string{"w"}, "which", "show only entries of a task, a place, an item, some days, some words"},
		{screen.DaybookScope, screen.WriteNote, []string{"n"}, "", "write a note on the task that the clock runs on, or else this one"},
		{screen.DaybookScope, screen.TakePhoto, []string{"o"}, "", "enter the newest picture of the photo folder for it, or a path"},
		{screen.DaybookScope, screen.TakeReading, []string{"r"}, "", "enter readings for its proofs"},
		{screen.DaybookScope, showMenu, []string{"enter"}, "menu", "choose from what can be done here"},

		{screen.DesignsScope, screen.OptionBefore, []string{"left"}, "", "the option on the left, or of the choice before"},
		{screen.DesignsScope, screen.OptionAfter, []string{"right"}, "option", "the option on the right, or of the next choice"},
		{screen.DesignsScope, screen.ChooseOption, []string{"c"}, "choose", "build it with the option under the cursor"},
		{screen.DesignsScope, searchLonger, []string{"r"}, "work out again", "work it out again, ten seconds for each option"},
		{screen.DesignsScope, showMenu, []string{"enter"}, "menu", "choose from what can be done here"},
	}
}

// planBindings are the keys of the order of work, of what it waits for, and of when it ends.
func planBindings() []binding {
	return []binding{
		{screen.SequenceScope, screen.Carry, []string{"m"}, "move", "take the task in hand and see what it costs to stand elsewhere"},
		{screen.SequenceScope, screen.TogglePin, []string{"p"}, "pin", "pin the task where it stands, or take its pins away"},
		{screen.SequenceScope, screen.AskLate, []string{"l"}, "late part", "what if the parts that the task waits for come late?"},
		{screen.SequenceScope, screen.SeeForecast, []string{"f"}, "forecast", "when it will be done, and how sure that is"},
		{screen.SequenceScope, screen.SeeIdle, []string{"i"}, "idle", "when the builder has no work, and why"},
		{screen.SequenceScope, searchLonger, []string{"r"}, "search on", "search ten seconds for a better order"},
		{screen.SequenceScope, showMenu, []string{"enter"}, "menu", "choose from what can be done here"},
		{screen.SequenceScope, screen.Earlier, []string{"left"}, "", "scroll the calendar back"},
		{screen.SequenceScope, screen.Later, []string{"right"}, "", "scroll the calendar on"},
		{screen.SequenceScope, screen.Finer, []string{"+", "="}, "", "show fewer days, larger"},
		{screen.SequenceScope, screen.Coarser, []string{"-"}, "", "show more days, smaller"},

		{screen.CarryScope, screen.Enter, []string{"enter"}, "take the move", "move the task here; it is pinned with the word of who moved it"},

		{screen.PartsScope, screen.Mark, []string{"space"}, "take", "take a part, or leave it again; all taken come late together"},
		{screen.PartsScope, screen.Enter, []string{"enter"}, "what if late", "what to do if what is taken, or under the cursor, comes late"},
		{screen.PartsScope, screen.GoodsIn, []string{"ctrl+g"}, "arrived", "the part has arrived"},

		{screen.LateScope, screen.DayBefore, []string{"left"}, "", "a day sooner"},
		{screen.LateScope, screen.DayAfter, []string{"right"}, "a day", "a day later"},
		{screen.LateScope, screen.WeekBefore, []string{"-"}, "", "a week sooner"},
		{screen.LateScope, screen.WeekAfter, []string{"+", "="}, "a week", "a week later"},
		{screen.LateScope, screen.WriteDue, []string{"d"}, "write it as due", "write the day to the part as the day on which it is due"},
		{screen.LateScope, screen.GoodsIn, []string{"a"}, "arrived", "the part has arrived"},

		{screen.ForecastScope, screen.DayBefore, []string{"left"}, "", "ask about the day before"},
		{screen.ForecastScope, screen.DayAfter, []string{"right"}, "a day", "ask about the day after"},
		{screen.ForecastScope, screen.WeekBefore, []string{"-"}, "", "ask about a week sooner"},
		{screen.ForecastScope, screen.WeekAfter, []string{"+", "="}, "a week", "ask about a week later"},
		{screen.ForecastScope, screen.SwapLearned, []string{"l"}, "apply what was learned", "apply what finished work says of each trade, or do not"},
	}
}

func pageBindings() []binding {
	return []binding{
		{kindsScope, screen.Enter, []string{"enter"}, "open", "show the records of this kind"},
		{recordsScope, screen.Enter, []string{"enter"}, "edit", "edit the record, or make a new one"},
		{recordsScope, newRecord, []string{"ctrl+n"}, "new", "make a new record"},
		{recordsScope, copyRecord, []string{"ctrl+y"}, "copy", "make a new record like this one"},
		{recordsScope, removeRecord, []string{"ctrl+d"}, "remove", "remove the record, after a question"},
		{listingScope, screen.Enter, []string{"enter"}, "go on", "go to what is under the cursor, or deal with it"},
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
		{screensScope, showCloseIn, []string{"4"}, "", "Close-in: what will be buried, and what is missing behind it"},
		{screensScope, showDaybook, []string{"5"}, "", "the Daybook: what was done"},
		{screensScope, showParts, []string{"6"}, "", "the Parts: what is bought, and what if it comes late"},
		{screensScope, showDesigns, []string{"9"}, "", "the Designs: choices side by side, and what access costs a year"},
		{screensScope, nextScreen, []string{"tab"}, "", "the next screen"},
		{screensScope, previousScreen, []string{"shift+tab"}, "", "the screen before"},
		{screensScope, showKeys, []string{"?", "f1"}, "", "all keys that work here"},

		{undoScope, takeBack, []string{"u"}, "undo", "take the last change back"},
		{undoScope, doAgain, []string{"U", "ctrl+r"}, "", "do again what was taken back last"},

		{searchScope, takeBack, []string{"ctrl+b"}, "undo", "take the last change back"},
		{searchScope, doAgain, []string{"ctrl+r"}, "", "do again what was taken back last"},

		{alwaysScope, quitAlways, []string{"ctrl+c"}, "", "leave vanlog at once; what is typed in a form is lost"},
		{alwaysScope, suspend, []string{"ctrl+z"}, "", "back to the shell for a while; fg comes back"},
	}
}

func globalBindings() []binding {
	return []binding{
		{globalScope, findAnything, []string{"/"}, "find", "find anything by a few letters: what there is, and what can be done"},
		{searchScope, findAnything, []string{"ctrl+f"}, "find", "find anything by a few letters: what there is, and what can be done"},
		{globalScope, showProofs, []string{"P"}, "", "the proofs that are owed, those first that will be hidden soonest"},
		{globalScope, showAhead, []string{"A"}, "", "all work that came ahead of its turn, and what that may cost"},
		{globalScope, showSnags, []string{"S"}, "", "the snags: faults that were found"},
		{globalScope, newSnag, []string{"N"}, "", "note a snag: a fault that was found"},
		{globalScope, showHours, []string{"H"}, "", "how long work really took, by trade, month and task"},
		{globalScope, showWeeks, []string{"W"}, "", "the daybook by weeks"},
		{globalScope, showSums, []string{"C"}, "", "the sums at the bench: torque, wire, fractions, recess, bead"},
		{globalScope, swapVan, []string{"v"}, "van", "show the van and the card, or hide them"},
		{globalScope, editRecords, []string{"e"}, "records", "edit tasks, edges, items, places, ways, parts"},
		{globalScope, addMany, []string{"L"}, "", "make many tasks from a list that is typed or pasted"},
		{globalScope, comesAfter, []string{">"}, "", "this task comes after another: pick which, and why"},
		{globalScope, comesBefore, []string{"<"}, "", "this task comes before another: pick which, and why"},
		{globalScope, editSelected, []string{"E"}, "", "edit what is selected"},
		{globalScope, showHistory, []string{"h"}, "", "every change, the newest first"},
		{globalScope, stopSearch, []string{"x"}, "", "stop what is being searched or worked out, keep the best so far"},
		{globalScope, showSettings, []string{","}, "", "the settings: colours, mouse, where pictures arrive"},
		{globalScope, swapMouse, []string{"M"}, "", "the mouse works, or does not; while it does, shift marks text"},
		{globalScope, quit, []string{"q"}, "quit", "leave vanlog; everything is saved"},
	}
}
