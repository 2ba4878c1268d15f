package screen

import (
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/widget"
)

func styles() widget.Styles {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	return widget.NewStyles(r, true)
}

// dataOf gives what the screens are handed for a build.
func dataOf(t *testing.T, b build.Build) Data {
	t.Helper()
	v := answer.New(b, testkit.Now)
	seq, err := v.Sequence(t.Context(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	today := v.Today(&seq, answer.TodayOptions{})
	d := Data{View: v, Seq: &seq, Today: &today, Lines: 20}
	d.Closes = &Closes{Edges: v.DerivedEdges(answer.FittedNow), Owed: map[id.Item][]answer.Owed{}}
	for _, e := range d.Closes.Edges {
		in, err := v.CloseIn(string(e.Item))
		if err != nil {
			t.Fatal(err)
		}
		d.Closes.Owed[e.Item] = in.NotProved
	}
	burden, err := v.Burden(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	d.Burden = &burden
	for _, o := range b.Options.Rows {
		if slices.ContainsFunc(d.Designs, func(ds answer.Designs) bool { return ds.Choice == o.Choice }) {
			continue
		}
		ds, err := v.Designs(t.Context(), o.Choice, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		d.Designs = append(d.Designs, ds)
	}
	return d
}

func workshop(t *testing.T) Data { t.Helper(); return dataOf(t, testkit.Workshop()) }

func allScreens() []Screen {
	return []Screen{Bench{}, Sequence{}, Reach{}, CloseIn{}, Daybook{}, Parts{}, Designs{}}
}

// do does actions one after another and gives the last effect.
func do(s Screen, as ...Action) (Screen, Effect) {
	var e Effect
	for _, a := range as {
		s, e = s.Do(a)
	}
	return s, e
}

func typed(t *testing.T, s Screen, text string) Screen {
	t.Helper()
	for _, r := range text {
		next, e, used := s.Typed(widget.Key{Name: string(r), Text: string(r)})
		if !used || e != nil {
			t.Fatalf("%q is not taken: used %v, effect %v", r, used, e)
		}
		s = next
	}
	return s
}

func TestBenchDo(t *testing.T) {
	bench := Bench{}.With(workshop(t))
	for _, tt := range []struct {
		name string
		as   []Action
		want Effect
	}{
		{"start the clock", []Action{ToggleClock}, StartClock{Task: "glue-floor"}},
		{"start it on the next", []Action{Down, ToggleClock}, StartClock{Task: "run-cable"}},
		{"down and up again", []Action{Down, Up, ToggleClock}, StartClock{Task: "glue-floor"}},
		{"on the last", []Action{Last, WriteEntry}, OpenEntry{Task: "fit-grinder"}},
		{"on the first", []Action{Last, First, WriteEntry}, OpenEntry{Task: "glue-floor"}},
		{"a page down", []Action{PageDown, WriteEntry}, OpenEntry{Task: "fit-grinder"}},
		{"a page up", []Action{Last, PageUp, WriteEntry}, OpenEntry{Task: "glue-floor"}},
		{"finish", []Action{Down, Down, FinishTask}, Finish{Task: "mount-pump"}},
		{"count a trip", []Action{CountTrip}, CountOne{}},
		{"back does nothing", []Action{Back}, nil},
		{"an action of another screen", []Action{Finer}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, got := do(bench, tt.as...)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("effect (-want +got):\n%s", diff)
			}
		})
	}
}

func TestBenchStopsTheRunningClock(t *testing.T) {
	b := testkit.Workshop()
	b.Clock = &daybook.Clock{Task: "glue-floor", Since: testkit.Now - 30}
	bench := Bench{}.With(dataOf(t, b))
	if _, got := do(bench, ToggleClock); got != (StopClock{}) {
		t.Errorf("on the running task the effect is %v", got)
	}
	if _, got := do(bench, Down, ToggleClock); got != (StartClock{Task: "run-cable"}) {
		t.Errorf("on another task the effect is %v", got)
	}
}

func TestScreensWithoutDataWantNothing(t *testing.T) {
	for _, s := range allScreens() {
		for a := Up; a <= ChooseOption; a++ {
			next, e := s.Do(a)
			if e != nil && e != (CountOne{}) {
				t.Errorf("%T: action %d has the effect %v", s, a, e)
			}
			checkView(t, next, 40, 10)
		}
		if f := selected(s); f.Task != "" || len(f.Targets) > 0 {
			t.Errorf("%T without data has %+v selected", s, f)
		}
	}
}

// TestDoLeavesTheScreenBeforeAlone: a screen is a value; the one before an action is kept
// as it was, whatever is done to the one after.
func TestDoLeavesTheScreenBeforeAlone(t *testing.T) {
	for _, s := range allScreens() {
		s = s.With(workshop(t))
		before := s.View(styles(), 80, 20)
		next := s
		for a := Up; a <= ChooseOption; a++ {
			next, _ = next.Do(a)
		}
		if after := s.View(styles(), 80, 20); after != before {
			t.Errorf("%T was changed by actions on its successors", s)
		}
	}
}

func TestTheSelectionSurvivesOtherData(t *testing.T) {
	for _, s := range allScreens() {
		s, _ = do(s.With(workshop(t)), Down)
		was := selected(s)
		if got := selected(s.With(workshop(t))); !cmp.Equal(got, was) {
			t.Errorf("%T: %+v is selected after other data, before %+v", s, got, was)
		}
	}
}

func TestSequenceDo(t *testing.T) {
	seq := Sequence{}.With(workshop(t))
	order := []id.Task{"glue-floor", "mount-pump", "run-cable", "fit-panel", "fit-grinder"}
	for _, tt := range []struct {
		name string
		as   []Action
		want int
	}{
		{"first", nil, 0}, {"down", []Action{Down}, 1}, {"up at the top", []Action{Up}, 0}, {"last", []Action{Last}, 4},
		{"past the end", []Action{PageDown, Down}, 4}, {"page up", []Action{Last, PageUp}, 0}, {"home", []Action{Last, First}, 0},
		{"the calendar moves no cursor", []Action{Down, Later, Earlier, Finer, Coarser}, 1},
	} {
		s, _ := do(seq, tt.as...)
		if got := selected(s).Task; got != order[tt.want] {
			t.Errorf("%s: %s is selected, want %s", tt.name, got, order[tt.want])
		}
	}
}

func TestSequenceScrollsAndScales(t *testing.T) {
	seq := Sequence{}.With(workshop(t))
	views := map[string]string{}
	for name, as := range map[string][]Action{"all": nil, "finer": {Finer}, "coarser": {Coarser}, "later": {Later}} {
		s, _ := do(seq, as...)
		views[name] = s.View(styles(), 80, 20)
	}
	for name, v := range views {
		if name != "all" && v == views["all"] {
			t.Errorf("%s shows the same as before", name)
		}
	}
	s, _ := do(seq, Later, Earlier)
	if s.View(styles(), 80, 20) != views["all"] {
		t.Error("later and earlier do not cancel out")
	}
	for range 40 {
		s, _ = do(s, Finer)
	}
	if v := s.View(styles(), 80, 20); !strings.Contains(v, "1h a column") {
		t.Errorf("the finest scale is not an hour:\n%s", v)
	}
	for range 40 {
		s, _ = do(s, Coarser)
	}
	if v := s.View(styles(), 80, 20); !strings.Contains(v, "56 days a column") {
		t.Errorf("the coarsest scale is not 56 days:\n%s", v)
	}
}

func TestReachPicksAndAsks(t *testing.T) {
	reach := Reach{}.With(workshop(t))
	s := typed(t, reach, "coolp")
	s, e := do(s, Enter)
	if diff := cmp.Diff(Effect(FindWay{Targets: []string{"pump"}, MoreMin: 5}), e); diff != "" {
		t.Fatalf("effect (-want +got):\n%s", diff)
	}
	if s.Scope() != WayScope {
		t.Errorf("the scope is %s", s.Scope())
	}
	s, e = do(s, SwapFitted)
	if diff := cmp.Diff(Effect(FindWay{Targets: []string{"pump"}, Fitted: answer.FittedAll, MoreMin: 5}), e); diff != "" {
		t.Errorf("after swapping (-want +got):\n%s", diff)
	}
	if again := s.(Reach).Again(); !cmp.Equal(again, e) {
		t.Errorf("again asks for %v", again)
	}
	s, _ = do(s, SwapFitted, Back)
	if s.Scope() != FindScope || s.(Reach).Again() != nil {
		t.Error("back does not go back to picking")
	}
}

func TestReachTakesSeveralTargets(t *testing.T) {
	s, e := do(Reach{}.With(workshop(t)), Mark, Down, Mark, Down, Mark, Up, Mark, Enter)
	if diff := cmp.Diff(Effect(FindWay{Targets: []string{"bench-frame", "pump"}, MoreMin: 5}), e); diff != "" {
		t.Errorf("effect (-want +got):\n%s", diff)
	}
	s, _ = do(s, Back, Back)
	if _, e = do(s, First, Enter); !cmp.Equal(e, Effect(FindWay{Targets: []string{"bench-frame"}, MoreMin: 5})) {
		t.Errorf("after the marks are forgotten the effect is %v", e)
	}
}

func TestReachShowsOnlyTheAnswerToItsQuestion(t *testing.T) {
	s, e := do(typed(t, Reach{}.With(workshop(t)), "coolp"), Enter)
	r, asked := s.(Reach), e.(FindWay)
	other := r.Found(FindWay{Targets: []string{"floor"}}, answer.Reach{CostMin: 777}, nil)
	if strings.Contains(other.View(styles(), 80, 20), "777") {
		t.Error("the answer to another question is shown")
	}
	got := r.Found(asked, answer.Reach{CostMin: 777, Persons: 2, Refit: []answer.Refit{{Item: "bench-panel", Min: 6}}}, nil).View(styles(), 80, 20)
	for _, want := range []string{"777 min", "no way is below 0 min", "2 people", "refit Bench panel, 6 min"} {
		if !strings.Contains(got, want) {
			t.Errorf("the way does not show %q:\n%s", want, got)
		}
	}
	if none := r.Found(asked, answer.Reach{}, errors.New("walled in")).View(styles(), 80, 20); !strings.Contains(none, "walled in") {
		t.Errorf("why there is no way is not shown:\n%s", none)
	}
}

func TestReachScrollsALongWay(t *testing.T) {
	s, e := do(typed(t, Reach{}.With(workshop(t)), "coolp"), Enter)
	way := answer.Reach{}
	for range 40 {
		way.Steps = append(way.Steps, answer.Step{Do: "enter", Place: "cabin"})
	}
	s = s.(Reach).Found(e.(FindWay), way, nil)
	first := s.View(styles(), 80, 10)
	for _, as := range [][]Action{{Down}, {PageDown}, {Last}} {
		moved, _ := do(s, as...)
		if moved.View(styles(), 80, 10) == first {
			t.Errorf("%v does not scroll", as)
		}
		checkView(t, moved, 80, 10)
		back, _ := do(moved, First)
		up, _ := do(moved, PageUp, Up, PageUp, PageUp, PageUp, PageUp)
		if back.View(styles(), 80, 10) != first || up.View(styles(), 80, 10) != first {
			t.Errorf("after %v there is no way back to the top", as)
		}
	}
}

func TestReachLeavesShortcutsAlone(t *testing.T) {
	reach := Reach{}.With(workshop(t))
	for _, k := range []widget.Key{{Name: "1", Text: "1"}, {Name: "?", Text: "?"}, {Name: "space", Text: " "}, {Name: "tab"}, {Name: "down"}, {Name: "enter"}, {Name: "esc"}, {Name: "left"}} {
		if _, _, used := reach.Typed(k); used {
			t.Errorf("%+v is taken before anything is typed", k)
		}
	}
	s := typed(t, reach, "a1")
	if _, _, used := s.Typed(widget.Key{Name: "backspace"}); !used {
		t.Error("backspace does not edit the search")
	}
	if _, _, used := s.Typed(widget.Key{Text: "pump 1", Paste: true}); !used {
		t.Error("a paste is not taken")
	}
	s, _ = do(s, Back)
	if _, _, used := s.Typed(widget.Key{Name: "2", Text: "2"}); used {
		t.Error("after esc the search is not empty")
	}
}

func TestDaybookDo(t *testing.T) {
	b := testkit.Workshop()
	days := Daybook{}.With(dataOf(t, b))
	for _, tt := range []struct {
		name string
		as   []Action
		want Effect
	}{
		{"the newest is first", []Action{WriteEntry}, OpenEntry{Task: "run-cable"}},
		{"older ones below", []Action{Down, WriteEntry}, OpenEntry{Task: "frame-bench"}},
		{"the clock", []Action{ToggleClock}, StartClock{Task: "run-cable"}},
		{"a trip", []Action{CountTrip}, CountOne{}},
		{"back does nothing", []Action{Back}, nil},
	} {
		if _, got := do(days, tt.as...); !cmp.Equal(got, tt.want) {
			t.Errorf("%s: effect %v, want %v", tt.name, got, tt.want)
		}
	}
	b.Clock = &daybook.Clock{Task: "mount-pump", Since: testkit.Now}
	if _, got := do(Daybook{}.With(dataOf(t, b)), ToggleClock); got != (StopClock{}) {
		t.Errorf("with a running clock the effect is %v", got)
	}
}

func TestDaybookShowsAllOfAnEntry(t *testing.T) {
	b := testkit.Workshop()
	b.Days = build.ListOf(append(slices.Clone(b.Days.Rows), daybook.Entry{At: testkit.Now - 60, Task: "mount-pump", Minutes: 55, Visits: 1,
		Note: "by lamp light", Photos: []string{"p1.jpg"}, Readings: []daybook.Reading{{Check: "clamp-torque", Value: "4 N·m"}}})...)
	d := dataOf(t, b)
	key := b.Days.Keys[2]
	d.Ahead = map[build.Key][]answer.Ahead{key: {{Kind: "edge", Text: "the frame was not done", CostMin: 90}}}
	view := Daybook{}.With(d).View(styles(), 100, 24)
	for _, want := range []string{"Mon 2 Mar 2026   55m, 1 entry", "55m, 1 trip in, 1 photo, 1 reading, ahead", "08:00 to 08:55", "by lamp light", "p1.jpg",
		"Pump clamps torqued: 4 N·m (wanted: 4 N·m ±10 %)", "the frame was not done, may cost 1h30", "Fri 27 Feb 2026   4h10, 1 entry"} {
		if !strings.Contains(view, want) {
			t.Errorf("the daybook does not show %q:\n%s", want, view)
		}
	}
}

// selected gives what is selected on a screen.
func selected(s Screen) Focus { return s.(interface{ Focus() Focus }).Focus() }

func checkView(t *testing.T, s Screen, w, h int) {
	t.Helper()
	lines := strings.Split(s.View(styles(), w, h), "\n")
	if len(lines) != h {
		t.Fatalf("%T at %d×%d has %d lines", s, w, h, len(lines))
	}
	for _, line := range lines {
		if got := ansi.StringWidth(line); got != w {
			t.Fatalf("%T at %d×%d has a line %d wide: %q", s, w, h, got, line)
		}
	}
}

func TestViewIsExact(t *testing.T) {
	d := workshop(t)
	way, e := do(typed(t, Reach{}.With(d), "pump"), Enter)
	found, err := d.View.Reach(t.Context(), e.(FindWay).Targets, 1, answer.FittedAll)
	if err != nil {
		t.Fatal(err)
	}
	behind, _ := do(CloseIn{}.With(d), Enter)
	around := Around{Other: &answer.Another{MoreMin: 3}, WhileOpen: []answer.WhileOpen{{What: "work", Text: "Glue", MoreMin: 2}}}
	screens := []Screen{Bench{}.With(d), Sequence{}.With(d), Reach{}.With(d), Daybook{}.With(d), way, way.(Reach).Found(e.(FindWay), found, nil),
		way.(Reach).Found(e.(FindWay), found, nil).FoundAround(e.(FindWay), around), CloseIn{}.With(d), behind,
		CloseIn{}.With(Data{View: d.View}), Designs{}.With(d), Designs{}.With(dataOf(t, choices())), Designs{}.With(Data{View: d.View}),
		Sequence{}.With(Data{View: d.View, NoSeq: strings.Repeat("why ", 100)})}
	for _, s := range screens {
		for _, size := range [][2]int{{1, 1}, {8, 3}, {20, 5}, {33, 7}, {49, 12}, {50, 12}, {66, 36}, {80, 20}, {250, 76}} {
			checkView(t, s, size[0], size[1])
		}
	}
}

// TestBenchShowsWhatATaskBuries: with the pump mounted, the panel can be fitted, which makes
// the pump's service dearer and hides its clamps.
func TestBenchShowsWhatATaskBuries(t *testing.T) {
	b := testkit.Workshop()
	for i := range b.Tasks.Rows {
		if b.Tasks.Rows[i].ID == "mount-pump" {
			b.Tasks.Rows[i].State = tasks.Finished
		}
	}
	s := Bench{}.With(dataOf(t, b))
	for range 5 {
		if selected(s).Task != "fit-panel" {
			s, _ = do(s, Down)
		}
	}
	view := s.View(styles(), 120, 24)
	for _, want := range []string{"> Fit the bench panel", "closes in", "1 proof first", "prove first", "Mount the coolant pump: Pump clamps torqued",
		"Coolant pump: rinse the strainer", "12 times a year"} {
		if !strings.Contains(view, want) {
			t.Errorf("the Bench does not show %q:\n%s", want, view)
		}
	}
}

func TestExtraMinutes(t *testing.T) {
	five := 5.0
	for _, tt := range []struct {
		closed []answer.Closed
		want   string
	}{
		{[]answer.Closed{{ExtraMin: &five}, {ExtraMin: &five}}, "10 min"},
		{[]answer.Closed{{ExtraMin: &five}, {}}, "2 things for good"},
	} {
		if got := extra(tt.closed); got != tt.want {
			t.Errorf("extra = %q, want %q", got, tt.want)
		}
	}
}

func TestSequenceShowsWhatItBreaks(t *testing.T) {
	d := workshop(t)
	seq := *d.Seq
	seq.ShouldBroken = []answer.Broken{{Before: "run-cable", After: "glue-floor", ReworkMin: 60}}
	d.Seq = &seq
	if v := (Sequence{}).With(d).View(styles(), 100, 24); !strings.Contains(v, "Run the feed cable should come before Glue the floor: 1h of rework") {
		t.Errorf("the broken edge is not shown:\n%s", v)
	}
}

func TestAnEmptyBenchSaysWhatToDo(t *testing.T) {
	d := dataOf(t, build.Build{})
	if v := (Bench{}).With(d).View(styles(), 80, 10); !strings.Contains(v, "Press e to make the first one") {
		t.Errorf("an empty Bench shows:\n%s", v)
	}
	b := testkit.Workshop()
	for i := range b.Tasks.Rows {
		b.Tasks.Rows[i].State = tasks.Finished
	}
	if v := (Bench{}).With(dataOf(t, b)).View(styles(), 80, 10); !strings.Contains(v, "Every task is done") {
		t.Errorf("a finished build shows:\n%s", v)
	}
}

// TestTheNewestEntryStaysInSight: another entry appears above; who looked at the newest sees
// it, who looked further down is left there.
func TestTheNewestEntryStaysInSight(t *testing.T) {
	before, b := workshop(t), testkit.Workshop()
	b.Days = build.ListOf(append(slices.Clone(b.Days.Rows), daybook.Entry{At: testkit.Now, Task: "mount-pump", Minutes: 5})...)
	after := dataOf(t, b)
	top := Daybook{}.With(before).With(after)
	if got := selected(top).Task; got != "mount-pump" {
		t.Errorf("%s is selected, want the new entry", got)
	}
	below, _ := do(Daybook{}.With(before), Down)
	if got := selected(below.With(after)).Task; got != "frame-bench" {
		t.Errorf("%s is selected, want the entry that was", got)
	}
}
