package screen

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/testkit"
)

// choices gives the workshop with a choice of two options, one of one, and one of many; those
// of a choice do not stand together.
func choices() build.Build {
	b := testkit.Workshop()
	rows := []build.Option{{ID: "oak", Choice: "worktop", Name: "Oak", Chosen: true}, {ID: "led", Choice: "light", Name: "LED strip", Chosen: true},
		{ID: "steel", Choice: "worktop", Name: "Steel"}}
	for i := range 9 {
		rows = append(rows, build.Option{ID: idOf(i), Choice: "colour", Chosen: i == 0})
	}
	b.Options = build.ListOf(rows...)
	return b
}

func TestDesignsDo(t *testing.T) {
	s := Designs{}.With(dataOf(t, choices()))
	for _, tt := range []struct {
		name string
		as   []Action
		want Effect
	}{
		{"the first is chosen already", []Action{ChooseOption}, Refuse{Text: "Oak is chosen already"}},
		{"the next of the choice", []Action{OptionAfter, ChooseOption}, Choose{Option: "steel"}},
		{"on to the next choice", []Action{OptionAfter, OptionAfter, ChooseOption}, Refuse{Text: "LED strip is chosen already"}},
		{"and back", []Action{OptionAfter, OptionAfter, OptionBefore, ChooseOption}, Choose{Option: "steel"}},
		{"not past the first", []Action{OptionBefore, OptionBefore, OptionAfter, ChooseOption}, Choose{Option: "steel"}},
		{"up and down go along the list", []Action{OptionAfter, Down, Up, Last, ChooseOption}, Choose{Option: "steel"}},
		{"back does nothing", []Action{Back}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, got := do(s, tt.as...)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("effect (-want +got):\n%s", diff)
			}
		})
	}
	last := s
	for range 30 {
		last, _ = do(last, OptionAfter)
	}
	if _, got := do(last, ChooseOption); !cmp.Equal(got, Effect(Choose{Option: idOf(8)})) {
		t.Errorf("past the last the effect is %v", got)
	}
}

func TestDesignsStandSideBySide(t *testing.T) {
	d := dataOf(t, choices())
	for i := range d.Designs[0].Options {
		o := &d.Designs[0].Options[i]
		o.WorkMin, o.MassKg, o.Unweighed, o.MinutesPerYear = 600+30*i, 90.5, i, 125
	}
	d.Designs[0].Options[0].Worst = &answer.WorstReach{Item: "pump", Min: 75}
	d.Designs[0].Options[1].NoOrder = "the tasks wait for each other"
	s, _ := do(Designs{}.With(d), OptionAfter)
	inOrder(t, s.View(styles(), 100, 30), "Choice 1 of 3: worktop", "Oak", "> Steel", "chosen", "hours to build", "10h", "-", "finish", "the tasks wait for",
		"mass", "90.5 kg", "90.5 kg, 1 not weighed", "access a year", "2h05", "2h05", "worst reach", "1h15: Coolant pump", "cannot reach", "nothing",
		"Getting at what is serviced: 2h18 a year", "> Coolant pump", "2h18 a year: 12 × 11.5 min", "costs most", "Bench panel, 10 min each time", "2h a year besides")
}

// TestTheChosenOptionIsTheOnlyOneMarked: by the word, under its name.
func TestTheChosenOptionIsTheOnlyOneMarked(t *testing.T) {
	view := Designs{}.With(dataOf(t, choices())).View(styles(), 100, 30)
	if n := strings.Count(view, "chosen"); n != 1 {
		t.Errorf("%d are chosen:\n%s", n, view)
	}
}

func TestManyOptionsAreShownAroundTheCursor(t *testing.T) {
	s := Designs{}.With(dataOf(t, choices()))
	for range 7 {
		s, _ = do(s, OptionAfter)
	}
	view := s.View(styles(), 66, 30)
	inOrder(t, view, "Choice 3 of 3: colour", "> "+string(idOf(4)), "at the sides")
	checkView(t, s, 66, 30)
}

func TestDesignsSayHowToMakeAChoice(t *testing.T) {
	inOrder(t, Designs{}.With(workshop(t)).View(styles(), 80, 24), "There is no choice of design yet.", `take "design option"`)
	s, _ := do(Designs{}.With(dataOf(t, choices())), OptionAfter, OptionAfter)
	inOrder(t, s.View(styles(), 80, 24), "Choice 2 of 3: light", "This is the only option")
}

func TestDesignsSayHowTheComparisonStands(t *testing.T) {
	d := workshop(t)
	for _, tt := range []struct {
		c    Compare
		want string
	}{
		{Compare{Working: true}, "Being worked out …"},
		{Compare{Working: true, Stale: true}, "The build has changed: being worked out anew."},
		{Compare{Stopped: true, Stale: true}, "Stopped. r works it out again."},
		{Compare{Stale: true}, "The build has changed since."},
		{Compare{Trouble: "no room"}, "no room"},
	} {
		d.Compare = tt.c
		inOrder(t, Designs{}.With(d).View(styles(), 80, 24), tt.want, "Working it out …")
	}
	d.Burden = &answer.Burden{}
	inOrder(t, Designs{}.With(d).View(styles(), 80, 24), "No item has a service yet")
}

func TestWhatCannotBeReachedIsSaid(t *testing.T) {
	d := workshop(t)
	d.Burden = &answer.Burden{Unreachable: []id.Item{"pump"}, Items: []answer.Burdened{{ID: "pump", PerYear: 3}}}
	inOrder(t, Designs{}.With(d).View(styles(), 80, 24), "1 item cannot be reached", "> Coolant pump", "cannot be reached", "nothing has to be opened")
}

func TestBreakEvenInWords(t *testing.T) {
	years := 80.0 / 35
	for _, tt := range []struct {
		e    answer.BreakEven
		want string
	}{
		{answer.BreakEven{MoreMin: 80, SavedPerYear: 35, Years: &years}, "A takes 1h20 more to build than B and gives back 35m a year: even after 2.3 years."},
		{answer.BreakEven{MoreMin: 80}, "A takes 1h20 more to build than B and gives nothing back."},
		{answer.BreakEven{MoreMin: 80, SavedPerYear: -35.4}, "A takes 1h20 more to build than B and costs 35m a year more, too: never even."},
		{answer.BreakEven{SavedPerYear: 35}, "A takes as long to build as B and saves 35m a year."},
		{answer.BreakEven{}, "A and B take the same time to build and to get at."},
	} {
		if got := even("A", "B", tt.e); got != tt.want {
			t.Errorf("%+v:\n%s, want\n%s", tt.e, got, tt.want)
		}
	}
}

func idOf(i int) id.Option { return id.Option(fmt.Sprintf("colour-%d", i)) }
