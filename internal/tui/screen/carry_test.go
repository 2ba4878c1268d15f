package screen

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/testkit"
)

// The order of the workshop is glue-floor, mount-pump, run-cable, fit-panel, fit-grinder.
func TestCarryDo(t *testing.T) {
	seq := Sequence{}.With(workshop(t))
	for _, tt := range []struct {
		name  string
		as    []Action
		want  Effect
		scope string
	}{
		{"taken in hand", []Action{Carry}, nil, CarryScope},
		{"one down", []Action{Carry, Down}, PriceMove{"glue-floor", answer.Place{After: "mount-pump"}}, CarryScope},
		{"two down", []Action{Carry, Down, Down}, PriceMove{"glue-floor", answer.Place{After: "run-cable"}}, CarryScope},
		{"one up", []Action{Last, Carry, Up}, PriceMove{"fit-grinder", answer.Place{Before: "fit-panel"}}, CarryScope},
		{"to the first", []Action{Last, Carry, First}, PriceMove{"fit-grinder", answer.Place{Before: "glue-floor"}}, CarryScope},
		{"to the last", []Action{Carry, Last}, PriceMove{"glue-floor", answer.Place{After: "fit-grinder"}}, CarryScope},
		{"there and back", []Action{Carry, Down, Up}, PriceMove{}, CarryScope},
		{"no further than the first", []Action{Carry, Up}, nil, CarryScope},
		{"left", []Action{Carry, Down, Back}, PriceMove{}, SequenceScope},
		{"taken where it stands", []Action{Carry, Enter}, PriceMove{}, SequenceScope},
		{"no other action meanwhile", []Action{Carry, TogglePin}, nil, CarryScope},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, got := do(seq, tt.as...)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("effect (-want +got):\n%s", diff)
			}
			if s.Scope() != tt.scope {
				t.Errorf("the scope is %s, want %s", s.Scope(), tt.scope)
			}
			checkView(t, s, 80, 20)
		})
	}
}

func seen(t *testing.T, s Screen) string {
	t.Helper()
	return s.View(styles(), 110, 40)
}

func wantSeen(t *testing.T, s Screen, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if frame := seen(t, s); !strings.Contains(frame, text) {
			t.Errorf("%q is not shown:\n%s", text, frame)
		}
	}
}

// TestTheMoveIsTakenOnceItsPriceIsSeen, and not before.
func TestTheMoveIsTakenOnceItsPriceIsSeen(t *testing.T) {
	s, ask := do(Sequence{}.With(workshop(t)), Carry, Down)
	_, e := s.Do(Enter)
	if _, refused := e.(Refuse); !refused {
		t.Errorf("before its price is known the move gives %#v", e)
	}
	fifteen := 15.0
	price := answer.MovePrice{LaterMin: 3 * 24 * 60, MoreWorkMin: 90, MoreAccessMin: 40,
		Is:           answer.Figures{Finish: testkit.Now + 20*24*60},
		Dearer:       []answer.Closed{{Task: "mount-pump", BeforeMin: 2, AfterMin: &fifteen, Visits: 4}},
		ShouldBroken: []answer.Broken{{Before: "run-cable", After: "glue-floor", ReworkMin: 60}},
		Replaces:     []deps.Edge{{Before: "fit-panel", After: "run-cable"}}}
	first := s.(Sequence).Priced(ask.(PriceMove), price, true, nil)
	wantSeen(t, first, "3 days later", "a first look")
	closer := first.Priced(ask.(PriceMove), price, false, nil)
	wantSeen(t, closer, "moving", "3 days later: Sun 22 Mar 2026", "1h30 more work, 40m more of it getting in",
		"Mount the coolant pump (now 2 min to get at, then 15 min, 4 times)", "Run the feed cable should come before Glue the floor: 1h of rework",
		"the pin Fit the bench panel before Run the feed cable")
	if strings.Contains(seen(t, closer), "a first look") {
		t.Error("the closer look is said to be a first one")
	}
	next, e := closer.Do(Enter)
	if diff := cmp.Diff(MoveTask{Task: "glue-floor", To: answer.Place{After: "mount-pump"}}, e); diff != "" {
		t.Errorf("effect (-want +got):\n%s", diff)
	}
	if next.Scope() != SequenceScope {
		t.Error("the task is still in hand")
	}
}

func TestAPriceOfAnotherPlaceIsLeftAlone(t *testing.T) {
	s, _ := do(Sequence{}.With(workshop(t)), Carry, Down)
	for _, asked := range []PriceMove{{}, {"glue-floor", answer.Place{After: "run-cable"}}, {"run-cable", answer.Place{After: "mount-pump"}}} {
		if got := s.(Sequence).Priced(asked, answer.MovePrice{}, false, nil); got.carry.price != nil {
			t.Errorf("the price of %v was taken", asked)
		}
	}
	if got := (Sequence{}).Priced(PriceMove{}, answer.MovePrice{}, false, nil); got.carry != nil {
		t.Error("a price was taken with no task in hand")
	}
}

func TestAMoveThatAnEdgeForbidsIsRefusedWithItsReason(t *testing.T) {
	d := workshop(t)
	s, ask := do(Sequence{}.With(d), Down, Carry, Last)
	asked := ask.(PriceMove)
	_, err := d.View.Move(t.Context(), "mount-pump", answer.Place{After: "fit-panel"}, planOptions())
	s = s.(Sequence).Priced(asked, answer.MovePrice{}, false, err)
	wantSeen(t, s, "Mount the coolant pump must come before Fit the bench panel (the panel closes the bench)")
	if _, e := s.Do(Enter); e == nil || !strings.Contains(e.(Refuse).Text, "cannot stand there") {
		t.Errorf("it gives %#v", e)
	}
	s = s.(Sequence).Priced(asked, answer.MovePrice{}, false, errors.New("the power failed"))
	wantSeen(t, s, "the power failed")
}

// TestWithATaskInHandTheOthersCloseUp holds the rows against a list from which the task was taken
// out and into which it was put again, and the place against what stands beside it there.
func TestWithATaskInHandTheOthersCloseUp(t *testing.T) {
	d := workshop(t)
	var order []id.Task
	for _, r := range d.Seq.Tasks {
		order = append(order, r.ID)
	}
	rapid.Check(t, func(t *rapid.T) {
		from, to := rapid.IntRange(0, len(order)-1).Draw(t, "from"), rapid.IntRange(0, len(order)-1).Draw(t, "to")
		var s Screen = Sequence{}.With(d)
		for range from {
			s, _ = s.Do(Down)
		}
		s, _ = s.Do(Carry)
		for i := from; i != to; {
			a, step := Down, 1
			if to < from {
				a, step = Up, -1
			}
			s, _ = s.Do(a)
			i += step
		}
		want := slices.Delete(slices.Clone(order), from, from+1)
		want = slices.Insert(want, to, order[from])
		seq := s.(Sequence)
		for i := range want {
			if got := seq.barAt(i).ID; got != want[i] {
				t.Fatalf("from %d to %d: row %d is %s, want %s", from, to, i, got, want[i])
			}
		}
		place := answer.Place{}
		if to < from {
			place.Before = want[to+1]
		} else if to > from {
			place.After = want[to-1]
		}
		if seq.to() != place {
			t.Fatalf("from %d to %d: the place is %v, want %v", from, to, seq.to(), place)
		}
	})
}

// TestATaskInHandStaysInHand while a better order comes, and is let go when it is done.
func TestATaskInHandStaysInHand(t *testing.T) {
	d := workshop(t)
	s, _ := do(Sequence{}.With(d), Carry, Down)
	better := *d.Seq
	better.Tasks = slices.Clone(d.Seq.Tasks)
	slices.Reverse(better.Tasks)
	d.Seq = &better
	s = s.With(d)
	if s.Scope() != CarryScope || s.(Sequence).Focus().Task != "glue-floor" {
		t.Errorf("in hand: %v on %v", s.Scope(), s.(Sequence).Focus())
	}
	checkView(t, s, 80, 20)
	gone := better
	gone.Tasks = slices.DeleteFunc(slices.Clone(better.Tasks), func(r answer.Row) bool { return r.ID == "glue-floor" })
	d.Seq = &gone
	if s = s.With(d); s.Scope() != SequenceScope {
		t.Error("a task that is no longer in the order is still in hand")
	}
}

func TestPinsAreMarkedAndTakenAway(t *testing.T) {
	d := workshop(t)
	s, e := do(Sequence{}.With(d), TogglePin)
	if got, ok := e.(PinTask); !ok || got.Task != "glue-floor" || got.Seq != d.Seq {
		t.Errorf("pinning gives %#v", e)
	}
	if strings.Contains(seen(t, s), "pinned") {
		t.Error("a pin is marked that is not there")
	}
	b := testkit.Workshop()
	pin, _, err := d.View.PinFor("run-cable", answer.Place{Before: "fit-panel"})
	if err != nil {
		t.Fatal(err)
	}
	b.Edges = build.ListOf(append(slices.Clone(b.Edges.Rows), pin)...)
	s = Sequence{}.With(dataOf(t, b))
	for s.(Sequence).Focus().Task != "run-cable" {
		s, _ = s.Do(Down)
	}
	_, e = s.Do(TogglePin)
	if diff := cmp.Diff(Effect(UnpinTask{Task: "run-cable"}), e); diff != "" {
		t.Errorf("effect (-want +got):\n%s", diff)
	}
	wantSeen(t, s, " pinned ", "Run the feed cable before Fit the bench panel")
}

func TestWhatIfTheRowsPartIsLate(t *testing.T) {
	s := Sequence{}.With(workshop(t))
	_, e := do(s, Last, AskLate)
	if diff := cmp.Diff(ShowLate{Parts: []id.Part{"p-grinder"}}, e); diff != "" {
		t.Errorf("effect (-want +got):\n%s", diff)
	}
	for _, up := range []Action{First, Down} { // no part at all; one that has arrived
		s, e = do(s, up, AskLate)
		if r, ok := e.(Refuse); !ok || !strings.Contains(r.Text, "waits for no part") {
			t.Errorf("on %v it gives %#v", selected(s), e)
		}
	}
	for a, want := range map[Action]Effect{SeeForecast: ShowForecast{}, SeeIdle: ShowIdle{}} {
		if _, e := s.Do(a); e != want {
			t.Errorf("action %d gives %#v, want %#v", a, e, want)
		}
	}
}

func TestClockSpans(t *testing.T) {
	for minutes, want := range map[int]string{5: "5m", 90: "1h30", 24 * 60: "1 day", 36 * 60: "1.5 days", 48*60 - 1: "2 days", 21 * 24 * 60: "21 days"} {
		if got := clockSpan(minutes); got != want {
			t.Errorf("%d min are %q, want %q", minutes, got, want)
		}
	}
	for _, tt := range []struct {
		more, access int
		want         string
	}{{0, 0, "as much work"}, {60, 0, "1h more work"}, {-60, -5, "1h less work, 5m less of it getting in"}, {0, 5, "as much work, 5m more of it getting in"}} {
		if got := moreHours(tt.more, tt.access); got != tt.want {
			t.Errorf("%d and %d: %q, want %q", tt.more, tt.access, got, tt.want)
		}
	}
	for later, want := range map[int]string{60: "1h later", -60: "1h sooner", 0: "no later"} {
		if f := finishFact("", later); f.Text != want {
			t.Errorf("%d min: %q, want %q", later, f.Text, want)
		}
	}
}

func TestTheIdlePageScrolls(t *testing.T) {
	d := workshop(t)
	d.Seq.Idle = nil
	for i := range 30 {
		d.Seq.Idle = append(d.Seq.Idle, answer.Idle{From: testkit.Now, To: testkit.Now + 60, Minutes: 60,
			Because: answer.Because{Text: fmt.Sprintf("reason number %d.", i)}})
	}
	s := Idle{}.With(d)
	wantSeen(t, s, "no work for 30h before the finish", "reason number 0.", "10:00: reason")
	s, _ = do(s, Last)
	wantSeen(t, s, "reason number 29.")
	if _, e := s.Do(Back); e != (ClosePage{}) {
		t.Errorf("back gives %#v", e)
	}
	d.Seq.Idle = nil
	wantSeen(t, Idle{}.With(d), "The builder has work until the finish.")
	checkView(t, Idle{}, 40, 5)
}
