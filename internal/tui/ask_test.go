package tui

import (
	"errors"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/screen"
)

// TestAPanelIsFittedFromItsPage: what is behind it, the question over what is missing, and
// the panel gone from the list.
func TestAPanelIsFittedFromItsPage(t *testing.T) {
	b := testkit.Workshop()
	finishTask(b, "mount-pump")
	d := drive(t, b, 120, 40)
	d.press("4")
	d.see("> Bench panel", "1 unproven", "behind it", "1 Coolant pump")
	d.press("panel", "enter")
	d.see("Behind Bench panel", "Pump clamps torqued (wanted: 4 N·m")
	d.press("f")
	d.see("not proven", "Finish all the same?")
	d.press("y")
	if got := taskOf(t, d.load(), "fit-panel").State; got != tasks.Finished {
		t.Fatalf("the panel is %s", got)
	}
	d.see("it is fitted already", "undo: u")
	d.press("5")
	d.see("finished, buried unproven", "buried unproven  ", "Mount the coolant pump: Pump clamps torqued")
	d.press("u", "4")
	d.see("Fitted by: Fit the bench panel")
	d.press("f", "n", "l")
	d.see("Entry for Fit the bench panel")
	d.press("esc", "E")
	d.see("item: Bench panel")
	d.press("esc", "f", "y", "f")
	d.see("no open task fits Bench panel")
}

func TestCloseInIsAskedForOnceItIsSeen(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	if d.m.data.Closes != nil {
		t.Error("it was asked for before anybody looked")
	}
	d.press("4")
	first := d.m.data.Closes
	d.press("down", "up", "5", "4")
	if d.m.data.Closes != first {
		t.Error("it was asked for again, though nothing changed")
	}
	load := d.m.load
	d.press("1", "s")
	if !d.m.data.Closes.Stale {
		t.Error("after a change it is not marked as old")
	}
	d.press("4")
	if d.m.data.Closes.Stale {
		t.Error("it is not asked for again after a change")
	}
	edges := d.m.data.Closes
	d.send(closesMsg{load: load})
	d.send(owedMsg{load: load})
	if d.m.data.Closes != edges {
		t.Error("an answer for an older load was shown")
	}
	d.send(owedMsg{load: d.m.load, err: errors.New("no time left")})
	d.see("the proofs behind what is closed in: no time left")
}

func TestTheWayToldIsNotTheWayAskedBefore(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("3", "coolpump", "enter", "f")
	d.see("While it is open, for at most 5 min more of getting in", "rinse the strainer")
	d.press("+")
	d.see("for at most 10 min more of getting in")
	d.press("-", "-")
	d.see("for at most 2 min more of getting in")
	d.send(aroundMsg{asked: screen.FindWay{Targets: []string{"floor"}}, around: screen.Around{Trouble: "of another way"}})
	d.seeNot("of another way")
	d.press("s", "1", "s", "3")
	d.see("for at most 2 min more of getting in", "rinse the strainer")
}

// TestTheClockGivesWayToTheScreens: where there is no room, the name of the task goes first.
func TestTheClockGivesWayToTheScreens(t *testing.T) {
	b := testkit.Workshop()
	b.Clock = &daybook.Clock{Task: "run-cable", Since: testkit.Now - 65, Visits: 2}
	d := drive(t, b, 80, 24)
	for _, tt := range []struct {
		w    int
		want string
	}{
		{0, "…"}, {8, "clock 1…"}, {10, "clock 1h05"}, {17, "clock 1h05 (2 in)"}, {27, "clock 1h05 (2 in)"}, {28, "clock 1h05 Run the f… (2 in)"},
		{80, "clock 1h05 Run the feed cable (2 in)"},
	} {
		if got := d.m.clockText(tt.w); got != tt.want && tt.w > 0 {
			t.Errorf("in %d columns: %q, want %q", tt.w, got, tt.want)
		}
		if got := ansi.StringWidth(d.m.clockText(tt.w)); got > tt.w {
			t.Errorf("in %d columns the clock takes %d", tt.w, got)
		}
	}
	for w := leastW; w <= 130; w++ {
		d.m.w = w
		line := d.m.tabLine()
		if got := ansi.StringWidth(line); got != w {
			t.Errorf("the line of screens is %d wide, want %d", got, w)
		}
		for _, tab := range tabs() {
			if !strings.Contains(line, tab.key) || w >= 80 && !strings.Contains(line, tab.name) {
				t.Errorf("at %d columns %s %s is missing: %q", w, tab.key, tab.name, line)
			}
		}
	}
}

func TestChoosingSaysWhatComesAndGoes(t *testing.T) {
	d := drive(t, goldenBuild(), 120, 40)
	d.press("9", "c")
	d.see("! Screws is chosen already")
	d.press("right", "c")
	d.see("choose Magnets for how the panel is held; in: tasks 1, items 1; out: tasks 1, items 1", "undo: u")
	if rows := d.load().Options.Rows; rows[0].Chosen || !rows[1].Chosen {
		t.Errorf("the options are %+v", rows)
	}
	d.press("4")
	d.see("Bench panel on magnets")
	d.press("esc", "ctrl+b")
	if rows := d.load().Options.Rows; !rows[0].Chosen || rows[1].Chosen {
		t.Errorf("after undo the options are %+v", rows)
	}
	m, cmd := d.m.run(screen.Choose{Option: "glue"})
	d.m = m
	d.do(cmd)
	d.see(`no option "glue"`)
}

func TestMeaning(t *testing.T) {
	with := func(names ...string) *answer.View {
		var ts []tasks.Task
		for _, n := range names {
			ts = append(ts, tasks.Task{ID: id.Task(n), Name: strings.ToUpper(n)})
		}
		return answer.New(build.Build{Tasks: build.ListOf(ts...)}, testkit.Now)
	}
	for _, tt := range []struct {
		before, after *answer.View
		want          string
	}{
		{with("a"), with("a"), ""},
		{with("a"), with("a", "b"), "; in: B"},
		{with("a", "b", "c"), with("a"), "; out: 2 tasks"},
		{with("a"), with("b"), "; in: B; out: A"},
	} {
		if got := meaning(tt.before, tt.after); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

// TestOnlySomeOfWhatIsBehindIsDrawn: a van full of numbers shows nothing.
func TestOnlySomeOfWhatIsBehindIsDrawn(t *testing.T) {
	v := answer.New(demo.Build(testkit.Now), testkit.Now)
	var names []string
	for _, x := range v.Live.Items[:mostMarks+3] {
		names = append(names, string(x.ID))
	}
	var d detail
	marks := d.behind(v, names)
	if len(marks) != mostMarks || marks[0].Step != 1 || string(marks[mostMarks-1].Item) != names[mostMarks-1] {
		t.Errorf("the marks are %+v", marks)
	}
	if text := d.facts[0].Text; !strings.HasPrefix(text, "1 "+v.Live.Items[0].Title()+", 2 ") || !strings.HasSuffix(text, ", and 3 more") {
		t.Errorf("the card says %q", text)
	}
}
