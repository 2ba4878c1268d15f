package screen

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

func planOptions() plan.Options { return plan.Options{} }

// supplied is the workshop with a hose and a lamp besides, which nobody has ordered.
func supplied(t *testing.T) Data {
	t.Helper()
	b := testkit.Workshop()
	lead := units.Estimate{Low: 2, Likely: 3, High: 9}
	b.Parts = build.ListOf(append(slices.Clone(b.Parts.Rows),
		parts.Part{ID: "p-hose", Name: "Hose", Qty: 1, LeadDays: lead},
		parts.Part{ID: "p-lamp", Name: "Lamp", Qty: 1, LeadDays: lead},
		parts.Part{ID: "p-belt", Name: "Belt", Qty: 1, Due: &units.When{At: testkit.Now - 5*units.Day, DateOnly: true}})...)
	for i := range b.Tasks.Rows {
		switch b.Tasks.Rows[i].ID {
		case "fit-panel":
			b.Tasks.Rows[i].Parts = []id.Part{"p-lamp"}
		case "fit-grinder":
			b.Tasks.Rows[i].Parts = append(b.Tasks.Rows[i].Parts, "p-hose", "p-belt")
		}
	}
	d := dataOf(t, b)
	rows, err := d.View.PartRows(t.Context(), d.Seq)
	if err != nil {
		t.Fatal(err)
	}
	d.Parts = rows
	return d
}

func TestPartsStandByStateTheMostUrgentFirst(t *testing.T) {
	s := Parts{}.With(supplied(t)).(Parts)
	var got []string
	for _, r := range s.rows() {
		got = append(got, strings.TrimSpace(r.Text))
	}
	want := []string{"Late (1)", "Belt", "Not ordered, by when they must be (2)", "Lamp", "Hose", "Ordered (1)", "Wet grinder", "Arrived (1)", "Coolant pump"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	wantSeen(t, s, "late, due 25 Feb", "holds up 1 task", "order by", "arrived")
	for i := range s.data.Parts {
		s.data.Parts[i].OrderBy, s.data.Parts[i].SlackDays, s.data.Parts[i].NeededBy = nil, nil, nil
	}
	checkView(t, s.With(s.data), 80, 20)
}

func TestPartsDo(t *testing.T) {
	d := supplied(t)
	today := testkit.Now.Date()
	grinder := answer.Delay{Part: "p-grinder", Until: today + 8 + 7} // due in 8 days
	lamp := answer.Delay{Part: "p-lamp", Until: today + 3 + 7}       // 3 days from order to arrival
	belt := answer.Delay{Part: "p-belt", Until: today + 7}           // was due before today
	late := func(ds ...answer.Delay) Effect { return FindLate{Delays: ds} }
	dial := func(x answer.Delay, days units.Date) answer.Delay { x.Until += days; return x }
	for _, tt := range []struct {
		name string
		as   []Action
		want Effect
	}{
		{"what if the first is late", []Action{Enter}, late(belt)},
		{"the second", []Action{Down, Enter}, late(lamp)},
		{"two together", []Action{Down, Mark, Down, Down, Mark, Enter}, late(lamp, grinder)},
		{"taken and left again", []Action{Mark, Mark, Down, Enter}, late(lamp)},
		{"all marks gone", []Action{Mark, Back, Down, Enter}, late(lamp)},
		{"one that is there", []Action{Last, Enter}, Refuse{Text: "Coolant pump has arrived already."}},
		{"it has come", []Action{Down, GoodsIn}, TakeIn{Part: "p-lamp"}},
		{"it had come", []Action{Last, GoodsIn}, Refuse{Text: "Coolant pump has arrived already."}},
		{"a day later", []Action{Down, Enter, DayAfter}, late(dial(lamp, 1))},
		{"a day sooner", []Action{Down, Enter, DayBefore}, late(dial(lamp, -1))},
		{"a week later", []Action{Down, Enter, WeekAfter}, late(dial(lamp, 7))},
		{"a week sooner", []Action{Down, Enter, WeekBefore}, late(dial(lamp, -7))},
		{"never before today", []Action{Down, Enter, WeekBefore, WeekBefore, WeekBefore}, late(answer.Delay{Part: "p-lamp", Until: today})},
		{"the second of two", []Action{Down, Mark, Down, Down, Mark, Enter, Down, DayAfter}, late(lamp, dial(grinder, 1))},
		{"the first of two", []Action{Down, Mark, Down, Down, Mark, Enter, Down, Up, DayAfter}, late(dial(lamp, 1), grinder)},
		{"write the day", []Action{Down, Enter, DayAfter, WriteDue}, SaveDue{Part: "p-lamp", Due: lamp.Until + 1}},
		{"it has come after all", []Action{Down, Enter, GoodsIn}, TakeIn{Part: "p-lamp"}},
		{"back to the list", []Action{Down, Enter, Back}, FindLate{}},
		{"an action of another screen", []Action{Finer}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, got := do(Parts{}.With(d), tt.as...)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("effect (-want +got):\n%s", diff)
			}
			checkView(t, s, 80, 20)
		})
	}
}

func TestPartsSearch(t *testing.T) {
	s := typed(t, Parts{}.With(supplied(t)), "lam")
	if got := selected(s).Task; got != "fit-panel" {
		t.Errorf("the first task that waits for the lamp is %q", got)
	}
	wantSeen(t, s, "1 found", "Lamp")
	s, _ = do(s, Back)
	if s.(Parts).list.Typed() != "" {
		t.Error("back does not empty the search")
	}
	wantSeen(t, s, "Hose")
}

func TestTheThreeChoicesAreSideBySide(t *testing.T) {
	d := supplied(t)
	s, e := do(Parts{}.With(d), Down, Enter)
	wantSeen(t, s, "What if it comes on", "> Lamp", "Planning it three times")
	late, err := d.View.Late(t.Context(), e.(FindLate).Delays, planOptions())
	if err != nil {
		t.Fatal(err)
	}
	extra := 12.0
	late.Choices[0].Closes = []answer.Buried{{Closed: answer.Closed{Task: "mount-pump", BeforeMin: 2, AfterMin: &extra, ExtraMin: &extra}, By: []id.Item{"bench-panel"}},
		{Closed: answer.Closed{Task: "run-cable", ExtraMin: &extra}, Unavoidable: true}}
	late.Choices[2] = answer.LateChoice{Name: answer.OpenChoice, NoOrder: "it loops"}
	asked := e.(FindLate)
	wantSeen(t, s.(Parts).Found(asked, late, false, nil), "hold", "carry on", "no order: it loops", "1 task, 12 min more",
		"closes in Mount the coolant pump (now 2 min to get at, then 12 min), behind Bench panel", "trips in", "waiting")
	wantSeen(t, s.(Parts).Found(asked, late, true, nil), "A first look; looking closer")
	wantSeen(t, s.(Parts).Found(asked, answer.Late{}, false, errors.New("the power failed")), "the power failed")
	other, _ := do(s, DayAfter)
	if got := other.(Parts).Found(asked, late, false, nil); got.late.found != nil {
		t.Error("the answer of another day was taken")
	}
}

// TestWhatArrivesMeanwhileIsNoLongerLate: of two, one is left; of one, none.
func TestWhatArrivesMeanwhileIsNoLongerLate(t *testing.T) {
	d := supplied(t)
	two, _ := do(Parts{}.With(d), Down, Mark, Down, Down, Mark, Enter)
	one, _ := do(Parts{}.With(d), Down, Enter)
	b := d.View.Build
	b.Parts.Rows = slices.Clone(b.Parts.Rows)
	for i := range b.Parts.Rows {
		if b.Parts.Rows[i].ID == "p-lamp" {
			b.Parts.Rows[i].Arrived = &units.When{At: testkit.Now}
		}
	}
	d.View = answer.New(b, testkit.Now)
	if got := two.With(d).(Parts).Again().(FindLate).Delays; len(got) != 1 || got[0].Part != "p-grinder" {
		t.Errorf("still late: %v", got)
	}
	if s := one.With(d); s.Scope() != PartsScope {
		t.Error("the page of a part that has arrived is still there")
	}
}

// TestPartsTakeAnyAction: whatever is pressed, at any size and with names of any kind, the view has
// exactly its size, and no day before today is asked about.
func TestPartsTakeAnyAction(t *testing.T) {
	d := supplied(t)
	b := d.View.Build
	b.Parts.Rows = slices.Clone(b.Parts.Rows)
	rapid.Check(t, func(t *rapid.T) {
		for i := range b.Parts.Rows {
			b.Parts.Rows[i].Name = rapid.SampledFrom([]string{"", "Hose", "日本語の名前", "a\tb\x1b[31m\r\n\u202e", strings.Repeat("long and ", 20)}).Draw(t, "name")
		}
		d.View = answer.New(b, testkit.Now)
		s := Parts{}.With(d)
		for range rapid.IntRange(0, 15).Draw(t, "actions") {
			var e Effect
			s, e = s.Do(Action(rapid.IntRange(int(Up), int(SwapLearned)).Draw(t, "action")))
			ask, ok := e.(FindLate)
			if !ok || len(ask.Delays) == 0 {
				continue
			}
			for _, x := range ask.Delays {
				if x.Until < testkit.Now.Date() {
					t.Fatalf("%v is asked about", x)
				}
			}
			if rapid.Bool().Draw(t, "answered") {
				late, err := d.View.Late(t.Context(), ask.Delays, planOptions())
				s = s.(Parts).Found(ask, late, rapid.Bool().Draw(t, "first"), err)
			}
		}
		checkAnySize(t, s)
	})
}
