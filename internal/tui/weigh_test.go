package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/screen"
)

// pinsOf gives the pins on file as "before→after".
func pinsOf(b build.Build) []string {
	var out []string
	for _, e := range b.Edges.Rows {
		if answer.IsPin(e) {
			out = append(out, string(e.Before)+"→"+string(e.After))
		}
	}
	return out
}

func partOf(t *testing.T, b build.Build, name string) parts.Part {
	t.Helper()
	for _, p := range b.Parts.Rows {
		if string(p.ID) == name {
			return p
		}
	}
	t.Fatalf("no part %s", name)
	return parts.Part{}
}

// onTask puts the cursor of the Sequence on a task, and gives how many rows it went down.
func (d *driver) onTask(name string) {
	d.t.Helper()
	d.press("2", "home")
	for range 50 {
		if string(d.m.focus().Task) == name {
			return
		}
		d.press("down")
	}
	d.t.Fatalf("%s is in no row", name)
}

func TestAMoveIsPricedTakenAndTakenBack(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.onTask("fit-panel")
	d.press("m", "up")
	d.see("moving", "move    Fit the bench panel before", "finish  no later", "hours")
	if pins := pinsOf(d.load()); pins != nil {
		t.Errorf("before it is taken the move is on file: %v", pins)
	}
	to := d.m.screens[sequenceAt].(screen.Sequence).Again().(screen.PriceMove).To
	d.press("enter")
	d.see("move Fit the bench panel before", "undo: u", "pinned")
	if pins := pinsOf(d.load()); !slices.Equal(pins, []string{"fit-panel→" + string(to.Before)}) {
		t.Errorf("the pins on file are %v, the move was to %v", pins, to)
	}
	d.press("u")
	d.see("taken back: move Fit the bench panel")
	d.seeNot("pinned")
	if pins := pinsOf(d.load()); pins != nil {
		t.Errorf("after it was taken back the pins are %v", pins)
	}
}

func TestEscLeavesAMove(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	before := d.load()
	d.onTask("fit-panel")
	d.press("m", "up", "esc")
	d.seeNot("moving")
	d.see("> Fit the bench panel")
	if !slices.Equal(pinsOf(d.load()), pinsOf(before)) {
		t.Error("a move was made that was left")
	}
}

// An edge of the workshop: the pump comes before the panel that closes it in.
func TestAMoveAgainstAMustEdgeIsRefused(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.onTask("mount-pump")
	d.press("m", "down", "down")
	d.see("Mount the coolant pump must come before", "the panel closes the bench")
	d.press("enter")
	d.see("! It cannot stand there")
	if pins := pinsOf(d.load()); pins != nil {
		t.Errorf("it was moved all the same: %v", pins)
	}
	d.press("esc")
	d.seeNot("moving")
}

// TestOnlyTheLastPriceCounts hands over the prices of two places in the wrong order.
func TestOnlyTheLastPriceCounts(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.onTask("glue-floor")
	d.press("m")
	m, first := d.m.key(keyOf(keyMsg("down")))
	m, second := m.key(keyOf(keyMsg("down")))
	d.m = m
	d.do(second)
	d.see("finish")
	frame := d.m.View()
	d.do(first) // was broken off
	if got := d.m.View(); got != frame {
		t.Errorf("a price that nobody asks for any more is shown:\n%s", got)
	}
	d.send(priceMsg{number: d.m.pricing.number - 1, price: answer.MovePrice{LaterMin: 99 * 24 * 60}})
	d.seeNot("99 days")
}

// TestAChangeMeanwhileAsksForThePriceAgain: the build of the price is no longer that on file.
func TestAChangeMeanwhileAsksForThePriceAgain(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.onTask("fit-panel")
	d.press("m", "up")
	number := d.m.pricing.number
	if _, err := d.m.world.app.Start(t.Context(), "run-cable"); err != nil {
		t.Fatal(err)
	}
	d.send(tickMsg{})
	d.see("moving", "finish", "hours")
	if d.m.pricing.number == number {
		t.Error("the price is still that of the build before")
	}
}

func TestPinAndUnpin(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.onTask("run-cable")
	d.press("p")
	d.see("pin Run the feed cable where it stands", "undo: u", "pinned")
	if len(pinsOf(d.load())) == 0 {
		t.Error("no pin is on file")
	}
	d.press("p")
	d.see("unpin Run the feed cable")
	if pins := pinsOf(d.load()); pins != nil {
		t.Errorf("pins are left: %v", pins)
	}
	m, cmd := d.m.run(screen.UnpinTask{Task: "run-cable"})
	d.m = m
	d.do(cmd)
	d.see("! nothing to change")
	if e := (deps.Edge{Before: "a", After: "b"}); answer.IsPin(e) {
		t.Error("an edge without a reason is taken for a pin")
	}
}

func TestALatePartIsDialledAndWritten(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.onTask("fit-grinder")
	d.press("l")
	due := testkit.Now.Date() + 8 // as on file
	d.see("[6 Parts]", "What if it comes on", "< "+(due+7).Format("Mon 2 Jan 2006")+" >", "hold", "carry on", "7 days later")
	d.press("+", "+", "right", "left", "-")
	d.see("< "+(due+14).Format("Mon 2 Jan 2006")+" >", "14 days later")
	d.press("d")
	d.see("Wet grinder: due "+(due+14).Format("Mon 2 Jan 2006"), "undo: u", "no later")
	if got := partOf(t, d.load(), "p-grinder").Due.At.Date(); got != due+14 {
		t.Errorf("on file it is due %s", got)
	}
	d.press("d")
	d.see("! Wet grinder: that is written already")
	d.press("u")
	if got := partOf(t, d.load(), "p-grinder").Due.At.Date(); got != due {
		t.Errorf("taken back it is due %s, was %s", got, due)
	}
	d.press("a")
	d.see("Wet grinder: arrived", "undo: ctrl+b", "Arrived (2)")
	if got := partOf(t, d.load(), "p-grinder").Arrived; got == nil || got.At != testkit.Now {
		t.Errorf("on file it arrived %v", got)
	}
	d.press("ctrl+b")
	d.see("Arrived (1)")
}

func TestThePartIsEdited(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("6", "enter", "E")
	d.see("Wet grinder", "410.00") // what it cost
}

func TestGoodsInOnTheList(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("6", "ctrl+g")
	d.see("Wet grinder: arrived", "Arrived (2)")
	d.press("ctrl+g")
	d.see("has arrived already")
}

func TestOnlyTheLastDayCounts(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("6", "enter")
	m, first := d.m.key(keyOf(keyMsg("+")))
	m, second := m.key(keyOf(keyMsg("+")))
	d.m = m
	d.do(second)
	d.see("21 days later")
	d.do(first)
	d.see("21 days later")
	d.send(partsMsg{load: d.m.load - 1})
	d.press("esc")
	d.see("Wet grinder")
	d.send(partsMsg{load: d.m.load, seq: d.m.partsOf, err: build.ErrBusy})
	d.see("! by when parts are needed")
}

func TestTheForecastIsARangeOnTheTopLine(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.m.lives = 150
	m, cmd := d.m.foresee()
	d.m = m
	d.do(cmd)
	f := d.m.data.Forecast
	if f == nil || f.Samples != 150 {
		t.Fatalf("the forecast is %+v", f)
	}
	d.see("expected "+f.P50.Format("2 Jan"), f.P80.Format("2 Jan 2006")+" (P50 to P80)")
	d.press("2", "f")
	d.see("When it will be done", "150 lives", "about ")
	number := d.m.outlook.number
	d.press("right")
	d.seeNot("about ")
	d.see("by " + (f.P80.Date() + 1).Format("Mon 2 Jan 2006"))
	d.send(forecastMsg{number: number, forecast: answer.Forecast{Samples: 7}})
	d.seeNot("7 lives")
	d.press("l")
	d.see("applied")
	if !d.m.data.Forecast.Applied {
		t.Error("what was learned is not applied")
	}
	d.press("esc", "1", "s") // a change: it is worked out again, as it was asked for last
	if !d.m.data.Forecast.Applied || d.m.data.Aged || d.m.data.Looking {
		t.Errorf("after a change the outlook is %+v", d.m.data.Outlook)
	}
}

// TestAChangeMarksTheForecastAsOld until the next one comes.
func TestAChangeMarksTheForecastAsOld(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("2", "f")
	d.press("esc", "1", "s")
	d.see("(P50 to P80) …")
	d.press("2", "f")
	d.see("When it will be done")
	d.seeNot("(P50 to P80) …")
}

func TestNoForecastWithoutAnOrder(t *testing.T) {
	d := drive(t, build.Build{}, 80, 24)
	d.press("2", "f")
	d.see("no forecast", "everything is done")
	d.m.data.NoSeq = "it loops"
	d.press("esc", "f")
	d.see("there is no order of work: it loops")
}

func TestTodayIsCutToTheHoursAtHand(t *testing.T) {
	d := drive(t, testkit.Workshop(), 120, 40)
	d.press("a", "a")
	d.see("At hand: 2 h", "Not in these hours:")
	d.seeNot("Workable:")
	d.send(todayMsg{load: d.m.load, hand: answer.TodayOptions{Hours: 8}, today: answer.Today{}})
	d.see("Mount the coolant pump")
	d.press("s") // after a change it is cut as before
	d.see("At hand: 2 h", "[clock] ")
	d.press("p")
	d.see("a helper is here")
	d.press("a", "a", "a", "p")
	d.see("Workable:")
	d.seeNot("At hand")
}

func TestIdleAndBack(t *testing.T) {
	d := drive(t, testkit.Workshop(), 80, 24)
	d.press("2", "i")
	d.see("The builder has no work for", "Wet grinder is there from")
	d.press("esc")
	d.see("[2 Sequence]", "builder idle")
	if !strings.Contains(d.m.View(), "Glue the floor") {
		t.Error("the Sequence is not there again")
	}
}

// BenchmarkMovesToFrame is a press of a key and the frame after it, with 10,000 tasks: while a task
// is moved, on the Parts, and on the pages over the Sequence. What is asked beside it is not in it.
func BenchmarkMovesToFrame(b *testing.B) {
	large := large(10_000)
	for i := range large.Tasks.Rows {
		if i%20 == 0 {
			p := parts.Part{ID: id.Part(fmt.Sprintf("p-%d", i)), Name: fmt.Sprintf("Part %d", i), Qty: 1}
			large.Parts = build.ListOf(append(large.Parts.Rows, p)...)
			if i%2000 == 0 { // by when each of these is needed takes a second to work out
				large.Tasks.Rows[i].Parts = append(large.Tasks.Rows[i].Parts, p.ID)
			}
		}
	}
	d := drive(b, large, 120, 40)
	d.m.st = colourful()
	for _, s := range []struct {
		name string
		keys []string
		two  [2]string
	}{
		{"sequence", []string{"2"}, [2]string{"down", "up"}},
		{"moving", []string{"2", "pgdown", "m"}, [2]string{"down", "up"}},
		{"idle", []string{"esc", "2", "i"}, [2]string{"down", "up"}},
		{"parts", []string{"esc", "6"}, [2]string{"down", "up"}},
		{"parts, search", []string{"6"}, [2]string{"p", "backspace"}},
	} {
		d.press(s.keys...)
		b.Run(s.name, func(b *testing.B) {
			m := tea.Model(d.m)
			keys := []tea.KeyMsg{keyMsg(s.two[0]), keyMsg(s.two[1])}
			for i := range b.N {
				m, _ = m.Update(keys[i%2])
				if m.View() == "" {
					b.Fatal("no frame")
				}
			}
		})
	}
}
