package tui

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/units"
)

func taskOf(t *testing.T, b build.Build, name string) tasks.Task {
	t.Helper()
	for _, x := range b.Tasks.Rows {
		if string(x.ID) == name {
			return x
		}
	}
	t.Fatalf("no task %s", name)
	return tasks.Task{}
}

func TestTheClockRunsAndStops(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("down", "s")
	d.see("clock 0m Run the feed cable", "undo: u", "[clock] Run the feed cable")
	d.press("t", "t")
	d.clock.Advance(50)
	d.send(tickMsg{})
	d.see("clock 50m Run the feed cable (2 in)", "today 50m")
	d.press("s")
	d.seeNot("clock 50m")
	days := d.load().Days.Rows
	got := days[len(days)-1]
	if got.Task != "run-cable" || got.Minutes != 50 || got.Visits != 2 {
		t.Errorf("the entry is %+v, want 50 minutes and 2 trips in on run-cable", got)
	}
	d.press("u")
	d.see("taken back:", "clock 50m Run the feed cable (2 in)")
	d.press("U")
	d.see("done again:")
	if n := len(d.load().Days.Rows); n != len(days) {
		t.Errorf("after undo and redo there are %d entries, want %d", n, len(days))
	}
}

func TestWhatCannotBeTakenBackIsSaidUntilAKey(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("u")
	d.see("! there is nothing to take back")
	d.send(tickMsg{})
	d.see("! there is nothing to take back")
	d.press("down")
	d.seeNot("there is nothing to take back")
	d.press("t")
	d.see("no clock is running")
}

func TestAnEntryIsFilledIn(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("end", "up", "up") // the pump
	d.see("> Mount the coolant pump")
	d.press("l", "1h7x", "enter")
	d.see("is no length of work")
	d.press("up", "backspace", "backspace", "5", "enter", "two clamps", "enter", "3", "ctrl+s")
	d.see("undo: u")
	days := d.load().Days.Rows
	got := days[len(days)-1]
	if got.Task != "mount-pump" || got.Minutes != 65 || got.Note != "two clamps" || got.Visits != 3 {
		t.Errorf("the entry is %+v, want 65 minutes, the note and 3 trips in on mount-pump", got)
	}
}

func TestAnEntryTakesReadingsAndPhotos(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("end", "up", "up", "l", "20", "tab", "tab", "tab", "tab", "4.1 parsec")
	d.press("tab")
	d.see("parsec")
	d.press("shift+tab")
	for range "parsec" {
		d.press("backspace")
	}
	d.press("N·m", "tab", "yes", "tab", "pump-1.jpg", "enter", "pump-2.jpg", "ctrl+s")
	days := d.load().Days.Rows
	got := days[len(days)-1]
	if len(got.Readings) != 2 || got.Readings[0].Value != "4.1 N·m" || got.Readings[1].Value != "yes" {
		t.Errorf("the readings are %+v", got.Readings)
	}
	if !slices.Equal(got.Photos, []string{"pump-1.jpg", "pump-2.jpg"}) {
		t.Errorf("the photos are %q", got.Photos)
	}
}

func TestEscAsksBeforeItForgetsWhatWasTyped(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("l", "45", "esc")
	d.see("Leave without saving what you changed?")
	d.press("n")
	d.see("Entry for", "45")
	d.press("esc", "y")
	d.see("> Glue the floor")
	if n := len(d.load().Days.Rows); n != 2 {
		t.Errorf("there are %d entries, want the 2 there were", n)
	}
}

func TestFinishingAsksWhereItBuriesWhatIsNotProven(t *testing.T) {
	b := testkit.Workshop()
	finishTask(b, "mount-pump")
	d := drive(t, b, 80, 24)
	for !strings.Contains(d.m.View(), "> Fit the bench panel") {
		d.press("down")
	}
	d.press("f")
	d.see("not proven", "Pump clamps torqued", "Finish all the same?")
	d.press("n")
	if got := taskOf(t, d.load(), "fit-panel").State; got != tasks.Todo {
		t.Fatalf("after no the panel is %s", got)
	}
	d.press("f", "y")
	if got := taskOf(t, d.load(), "fit-panel").State; got != tasks.Finished {
		t.Errorf("after yes the panel is %s", got)
	}
	d.press("u")
	if got := taskOf(t, d.load(), "fit-panel").State; got != tasks.Todo {
		t.Errorf("after undo the panel is %s", got)
	}
}

func finishTask(b build.Build, name string) {
	for i := range b.Tasks.Rows {
		if string(b.Tasks.Rows[i].ID) == name {
			b.Tasks.Rows[i].State = tasks.Finished
			b.Tasks.Rows[i].FinishedAt = &units.When{At: testkit.Now - 60}
		}
	}
}

func TestAFinishedEntryAsksTooAndKeepsWhatWasTyped(t *testing.T) {
	b := testkit.Workshop()
	finishTask(b, "mount-pump")
	d := drive(t, b, 80, 24)
	for !strings.Contains(d.m.View(), "> Fit the bench panel") {
		d.press("down")
	}
	d.press("l", "30", "tab", "tab", "tab", "y", "ctrl+s")
	d.see("Finish all the same?")
	d.press("esc")
	d.see("Entry for Fit the bench panel", "30")
	d.press("ctrl+s", "y")
	if got := taskOf(t, d.load(), "fit-panel"); got.State != tasks.Finished || got.SpentH != 0.5 {
		t.Errorf("the panel is %s after %v hours, want finished after 0.5", got.State, got.SpentH)
	}
	d.see("> ")
	d.seeNot("Entry for")
}

func TestFinishingWhatOwesNothingToOthersDoesNotAsk(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("end", "up", "up", "f")
	d.see("proofs it still owes: 2", "undo: u")
	d.press("1")
	if got := taskOf(t, d.load(), "mount-pump").State; got != tasks.Finished {
		t.Errorf("the pump is %s", got)
	}
}

// full is a store whose disk is full.
type full struct{ *testkit.Memory }

var errFull = errors.New("no space left on device")

func (full) Commit(context.Context, build.Change, build.Rev) (build.Change, build.Rev, error) {
	return build.Change{}, 0, errFull
}

func TestAFullDiskKeepsWhatWasTyped(t *testing.T) {
	d := driveStore(t, full{testkit.NewMemory(testkit.Workshop())}, 80, 24)
	d.press("l", "45", "tab", "half of it", "ctrl+s")
	d.see("no space left on device", "Entry for", "half of it")
	d.press("tab")
	d.see("half of it")
}

func TestHistory(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("s", "t", "h")
	d.see("Changes, newest first", "trip in 1 to Glue the floor", "start the clock on Glue the floor")
	d.press("u")
	d.see("taken back")
	d.press("esc")
	d.see("> [clock] Glue the floor")
}

func TestReachShowsTheWayInAndBack(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("3", "coolpump")
	d.see("> ", "Coolant pump", "1 found")
	d.press("enter")
	d.see("Way in to Coolant pump", "that is fitted now", "0 min")
	d.press("f")
	d.see("will be fitted in the end", "11.5 min", "Bench panel: unscrew, 4 min", "8 × M5×16", "no way round this", "torque 3 N·m", "T25 driver")
	d.press("esc")
	d.see("Search:")
	d.press("esc", "home", "space", "down", "space", "enter")
	d.see("Way in to Bench frame, Bench panel")
}

func TestReachSaysWhyThereIsNoWay(t *testing.T) {
	b := testkit.Workshop()
	b.Items.Rows[1].Opening = nil // the panel
	d := drive(t, b, 80, 24)
	d.press("3", "coolpump", "enter", "f")
	d.see("there is no way to pump", "bench-panel")
}

func TestTypingInReachIsNoShortcut(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("3", "quest1e")
	d.see("quest1e", "[3 Reach]")
	d.press("esc", "1")
	d.see("[1 Bench]")
	d.press("3", "?")
	d.see("In Reach, while a target is picked")
	d.press("?", "x", "tab")
	d.see("[4 Close-in]")
}

func TestKeysReadInOneGoAllCount(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("stt")
	if c := d.load().Clock; c == nil || c.Visits != 2 {
		t.Errorf("after stt the clock is %+v, want 2 trips in", c)
	}
}

func TestAPasteIsNoShortcut(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	for _, text := range []string{"s", "q", "l", "1"} {
		d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
	}
	d.see("> Glue the floor", "[1 Bench]")
	if d.load().Clock != nil || d.m.leaving {
		t.Error("a paste was taken for a key")
	}
	d.press("l", "tab")
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("s q l"), Paste: true})
	d.see("s q l")
}

func TestScreensAreAKeyAway(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	for _, step := range []struct{ key, want string }{
		{"2", "[2 Sequence]"}, {"5", "[5 Daybook]"}, {"tab", "[6 Parts]"}, {"tab", "[9 Designs]"}, {"tab", "[1 Bench]"}, {"shift+tab", "[9 Designs]"},
		{"4", "[4 Close-in]"}, {"5", "[5 Daybook]"}, {"9", "[9 Designs]"}, {"3", "[3 Reach]"}, {"1", "[1 Bench]"},
	} {
		d.press(step.key)
		d.see(step.want)
	}
}

func TestTheMenuDoesWhatItSays(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("enter")
	d.see("> start the clock on the task")
	d.press("enter")
	if c := d.load().Clock; c == nil || c.Task != "glue-floor" {
		t.Errorf("the clock is %+v, want it on glue-floor", c)
	}
	d.press("enter", "down", "down", "enter")
	d.see("Entry for Glue the floor", "by the clock")
}

func TestTheVanSwapsWithTheWorkOnANarrowTerminal(t *testing.T) {
	d := drive(t, goldenBuild(), 80, 24)
	d.press("v")
	d.see("Glue the floor", "Workroom", "(o)")
	d.seeNot("Workable:")
	d.press("esc")
	d.see("Workable:")
	d.send(tea.WindowSizeMsg{Width: 120, Height: 40})
	d.see("Workable:", "(o)")
	d.press("v")
	d.see("Workable:")
	d.seeNot("(o)")
}

func TestAnotherVanlogWritesToo(t *testing.T) {
	store := testkit.NewMemory(testkit.Workshop())
	d := driveStore(t, store, 120, 40)
	other := app.New(store, d.clock.Now)
	if _, err := other.Start(context.Background(), "run-cable"); err != nil {
		t.Fatal(err)
	}
	d.seeNot("clock 0m")
	d.send(tickMsg{})
	d.see("clock 0m Run the feed cable")
}

func TestALateLoadIsDropped(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	late := d.m.read()().(loadedMsg)
	d.press("s")
	d.see("clock 0m Glue the floor")
	d.send(late)
	d.see("clock 0m Glue the floor")
}

func TestLateAnswersAreDropped(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	load := d.m.load
	d.press("s")
	before := d.m.View()
	d.send(todayMsg{load: load})
	d.send(plannedMsg{load: load})
	d.send(aheadMsg{load: load})
	d.send(betterMsg{search: d.m.search.number - 1})
	d.send(beatMsg{d.m.search.number - 1})
	if after := d.m.View(); after != before {
		t.Errorf("an answer for an older load was shown:\n%s", after)
	}
}

func TestChangesAreWrittenOneAtATime(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	var cmds []tea.Cmd
	for _, e := range []screen.Effect{screen.StartClock{Task: "run-cable"}, screen.CountOne{}, screen.CountOne{}} {
		m, cmd := d.m.run(e)
		d.m, cmds = m, append(cmds, cmd)
	}
	if cmds[0] == nil || cmds[1] != nil || cmds[2] != nil {
		t.Fatalf("commands for three changes: %v, want one for the first", cmds)
	}
	d.press("q")
	if !d.m.leaving {
		t.Fatal("q does not leave")
	}
	d.see("Leaving as soon as everything is written")
	d.do(cmds[0])
	if c := d.load().Clock; c == nil || c.Visits != 2 {
		t.Errorf("the clock is %+v, want 2 trips in", c)
	}
	if !strings.Contains(d.m.says.text, "QuitMsg") {
		t.Error("everything is written, but it does not leave")
	}
}

func TestWhatIsLeftInTheQueueIsWrittenAtTheEnd(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	first, cmd := d.m.run(screen.StartClock{Task: "run-cable"})
	last, _ := first.run(screen.CountOne{})
	cmd() // written, but what it says never comes
	finishWrites(context.Background(), watched{Model: last})
	if c := d.load().Clock; c == nil || c.Visits != 1 {
		t.Errorf("the clock is %+v, want it started once and 1 trip in", c)
	}
}

func TestQuitAndSuspend(t *testing.T) {
	for key, want := range map[string]string{"q": "QuitMsg", "ctrl+c": "QuitMsg", "ctrl+z": "SuspendMsg"} {
		d := drive(t, testkit.Workshop(), 80, 24)
		d.press(key)
		if got := d.m.says.text; !strings.Contains(got, want) {
			t.Errorf("%s gives %q, want %s", key, got, want)
		}
	}
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("l", "q", "ctrl+c")
	if !strings.Contains(d.m.says.text, "QuitMsg") {
		t.Error("ctrl+c does not leave from a form")
	}
}

func TestResizingClearsTheScreen(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	_, cmd := d.m.Update(tea.WindowSizeMsg{Width: 90, Height: 30})
	if cmd == nil || cmd() != tea.ClearScreen() {
		t.Error("no ClearScreen after a resize")
	}
}

func TestLogged(t *testing.T) {
	days := []daybook.Entry{{At: testkit.Now - units.Day, Minutes: 10}, {At: testkit.Now, Minutes: 20}, {At: testkit.Now + 60, Minutes: 5}, {At: testkit.Now + units.Day, Minutes: 40}}
	if got := logged(days, testkit.Now.Date()); got != 25 {
		t.Errorf("logged = %d, want 25", got)
	}
}

func TestKeysPressedWhileAFormIsSavedAreNotLost(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("l", "45")
	m, save := d.m.Update(keyMsg("ctrl+s"))
	m, early := m.Update(keyMsg("s"))
	d.m = m.(Model)
	d.do(early)
	if d.load().Clock != nil {
		t.Fatal("a key was taken while the form was being saved")
	}
	d.see("Entry for")
	d.do(save)
	d.see("clock 0m Glue the floor")
	if n := len(d.load().Days.Rows); n != 3 {
		t.Errorf("there are %d entries, want 3", n)
	}
}

func TestUndoIsOnlyOfferedWhereItsKeyWorks(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("s")
	d.see("undo: u")
	d.press("3")
	d.see("undo: ctrl+b")
	d.press("enter")
	d.see("undo: u")
	d.press("1", "l")
	d.seeNot("undo:")
}

func TestWhatIsShownGrowsOldAndIsReadAgain(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	load := d.m.load
	d.send(tickMsg{})
	if d.m.load != load {
		t.Error("it was read again at once")
	}
	d.clock.Advance(15)
	d.send(tickMsg{})
	if d.m.load == load {
		t.Error("after a quarter of an hour it was not read again")
	}
}

func TestADayOfTheBuild(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.see("day 4") // the first entry is three days old
	d.clock.Advance(24 * 60)
	d.send(tickMsg{})
	d.see("day 5")
}

// broken is a store that cannot be read.
type broken struct{ *testkit.Memory }

func (broken) Load(context.Context) (build.Build, build.Rev, error) {
	return build.Build{}, 0, build.ErrDamaged
}

func TestADamagedFileIsSaid(t *testing.T) {
	d := driveStore(t, broken{testkit.NewMemory(testkit.Workshop())}, 80, 24)
	d.see("! ", "the file is damaged")
	d.press("down")
	d.seeNot("the file is damaged")
	d.send(tickMsg{})
	d.see("the file is damaged")
}
