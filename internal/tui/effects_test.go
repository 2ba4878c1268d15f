package tui

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/settings"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/screen"
	"example.com/vanlog/internal/units"
)

// allEffects has every effect once, with values that something can be done with.
func allEffects(b build.Build) []screen.Effect {
	return []screen.Effect{
		screen.StartClock{Task: "run-cable"}, screen.CountOne{}, screen.StopClock{}, screen.OpenEntry{Task: "run-cable"},
		screen.Finish{Task: "run-cable"}, screen.FindWay{Targets: []string{"pump"}}, openMenu{},
		screen.FindCautions{Item: "pump"}, screen.Choose{Option: "magnets"}, screen.Refuse{Text: "no"},
		screen.AskToday{}, screen.PriceMove{Task: "mount-pump", To: answer.Place{Before: "run-cable"}},
		screen.MoveTask{Task: "mount-pump", To: answer.Place{Before: "run-cable"}}, screen.PinTask{Task: "run-cable", Seq: &answer.Sequence{}},
		screen.UnpinTask{Task: "run-cable"}, screen.ShowLate{Parts: []id.Part{"p-grinder"}}, screen.ShowForecast{}, screen.ShowIdle{},
		screen.FindLate{Delays: []answer.Delay{{Part: "p-grinder", Until: testkit.Now.Date() + 30}}}, screen.FindForecast{Learn: true},
		screen.SaveDue{Part: "p-grinder", Due: testkit.Now.Date() + 30}, screen.TakeIn{Part: "p-grinder"}, screen.ClosePage{},
		openScreen{2}, openPage{newKinds()}, closePage{}, closeThen{nil}, doAction{screen.Down},
		openEditor{record.New(build.TaskKind, b, b.Tasks.Keys[0])}, openChanges{}, sayWrong{"no"}, swapPanes{}, searchOn{},
		searchEnd{}, leave{}, sleep{}, swapPointer{}, undoLast{}, redoLast{}, askRemoval{build.ItemKind, b.Items.Keys[0], "frame"},
		askWay{b.Places.Keys[0], 0}, dropRecord{build.PartKind, b.Parts.Keys[1]},
		openSpot{"at", "Position", "", false}, setField{"at", "1 2 3"}, openSettings{}, keepSettings{settings.Settings{Theme: "light"}}, openList{}, addTasks{[]tasks.Task{{ID: "t1", Name: "T", Hours: units.Sure(1), Visits: 1, State: tasks.Todo, Uses: tasks.Uses{"builder": 1}}}},
		openSnag{}, noteSnag{"pump", "it drips"}, askSnag{"drip"}, closeSnag{"drip"}, snagTask{"drip", 1}, goTo{answer.TaskThing, "run-cable"},
		screen.OpenNote{Task: "run-cable"}, screen.AddPhoto{Task: "run-cable"}, screen.OpenReading{Task: "mount-pump"},
		screen.OpenCorrection{Key: b.Days.Keys[0], Base: b.Days.Rows[0]}, screen.OpenSplit{Key: b.Days.Keys[0], Base: b.Days.Rows[0]},
		screen.AskStrike{Key: b.Days.Keys[0], Base: b.Days.Rows[0]}, screen.OpenFilter{}, newestPhoto{task: "run-cable", folder: "."},
		correction{b.Days.Keys[0], b.Days.Rows[0], b.Days.Rows[0]}, splitting{b.Days.Keys[0], b.Days.Rows[0], app.Rest{Minutes: 5}},
		striking{b.Days.Keys[0], b.Days.Rows[0]}, filterDays{answer.DayFilter{Words: "step"}},
		logEntry{request: app.LogRequest{Task: "run-cable", Minutes: 5}}, saveRecord{build.PlaceKind, b.Places.Keys[2], b.Places.Rows[2]},
	}
}

// TestEveryEffectRuns finds the effects in the source, so that none is forgotten.
func TestEveryEffectRuns(t *testing.T) {
	b := goldenBuild()
	var names []string
	for _, e := range allEffects(b) {
		names = append(names, reflect.TypeOf(e).Name())
		d := drive(t, b, 80, 24)
		m, cmd := d.m.run(e) // panics where nothing is known of e
		d.m = m
		d.do(cmd)
		checkSize(t, reflect.TypeOf(e).Name(), d.m.View(), 80, 24)
	}
	for _, name := range effectsInSource(t) {
		if !slices.Contains(names, name) {
			t.Errorf("the effect %s is not tested", name)
		}
	}
}

func effectsInSource(t *testing.T) []string {
	t.Helper()
	var names []string
	method := regexp.MustCompile(`(?m)^func \((?:\w+ )?(\w+)\) Effect\(\)`)
	for _, pattern := range []string{"*.go", "screen/*.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("no files %s: %v", pattern, err)
		}
		for _, f := range files {
			src, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range method.FindAllSubmatch(src, -1) {
				names = append(names, string(m[1]))
			}
		}
	}
	if len(names) < 20 {
		t.Fatalf("only %v were found", names)
	}
	return names
}
