package screen

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/widget"
)

func TestCloseInDo(t *testing.T) {
	s := CloseIn{}.With(workshop(t))
	for _, tt := range []struct {
		name  string
		as    []Action
		want  Effect
		scope string
	}{
		{"open the page", []Action{Enter}, FindCautions{Item: "bench-panel"}, BehindScope},
		{"finish what fits it", []Action{Enter, FinishTask}, Finish{Task: "fit-panel"}, BehindScope},
		{"an entry for what fits it", []Action{Enter, WriteEntry}, OpenEntry{Task: "fit-panel"}, BehindScope},
		{"back to the list", []Action{Enter, Back}, nil, CoverScope},
		{"no finishing from the list", []Action{FinishTask}, nil, CoverScope},
		{"back does nothing in the list", []Action{Back}, nil, CoverScope},
		{"scrolling wants nothing", []Action{Enter, Down, PageDown, Last, Up, PageUp, First}, nil, BehindScope},
	} {
		t.Run(tt.name, func(t *testing.T) {
			next, got := do(s, tt.as...)
			if diff := cmp.Diff(tt.want, got); diff != "" || next.Scope() != tt.scope {
				t.Errorf("scope %s, want %s; effect (-want +got):\n%s", next.Scope(), tt.scope, diff)
			}
		})
	}
}

// TestCloseInOfWhatNobodyFits: the panel is fitted already, and in the way of open work.
func TestCloseInOfWhatNobodyFits(t *testing.T) {
	b := testkit.Workshop()
	b.Items.Rows[1].Fitted = true
	b.Tasks.Rows = slices.DeleteFunc(slices.Clone(b.Tasks.Rows), func(x tasks.Task) bool { return x.ID == "fit-panel" })
	b.Tasks = build.ListOf(b.Tasks.Rows...)
	b.Edges = build.ListOf(slices.DeleteFunc(slices.Clone(b.Edges.Rows), func(e deps.Edge) bool { return e.After == "fit-panel" })...)
	s, _ := do(CloseIn{}.With(dataOf(t, b)), Enter)
	if _, got := do(s, FinishTask); !cmp.Equal(got, Effect(Refuse{Text: "no open task fits Bench panel"})) {
		t.Errorf("finishing gives %v", got)
	}
	if v := s.View(styles(), 80, 20); !strings.Contains(v, "it is fitted already") {
		t.Errorf("the page does not say that it is fitted:\n%s", v)
	}
}

func TestCloseInShowsWhatIsMissingBeforeWhatIsIn(t *testing.T) {
	b := testkit.Workshop()
	b.Days = build.ListOf(append(slices.Clone(b.Days.Rows), daybook.Entry{At: testkit.Now - 60, Task: "mount-pump", Minutes: 5,
		Readings: []daybook.Reading{{Check: "no-drip", Value: "yes"}}})...)
	for i, x := range b.Tasks.Rows {
		if x.ID == "mount-pump" {
			b.Tasks.Rows[i].Checks = append(slices.Clone(x.Checks), tasks.Check{ID: "no-drip", Kind: "test", What: "No drip in an hour"})
		}
	}
	s, e := do(CloseIn{}.With(dataOf(t, b)), Enter)
	s = s.(CloseIn).Warned(e.(FindCautions), []answer.Caution{{Text: "Bench panel takes 2 people", Source: "a book"}})
	other := s.(CloseIn).Warned(FindCautions{Item: "pump"}, nil)
	for _, s := range []Screen{s, other} {
		inOrder(t, s.View(styles(), 100, 24), "Behind Bench panel", "Caution: Bench panel takes 2 people (a book)", "Fitted by: Fit the bench panel, in the plan from",
			"From then on: ", "1 proof to be in before it is fitted", "Pump clamps torqued (wanted: 4 N·m ±10 %)", "It closes in:",
			"Mount the coolant pump (now 0 min to get at, then", "Proofs that are in:", "No drip in an hour")
	}
}

// inOrder fails where the texts do not stand in a view one after another.
func inOrder(t *testing.T, view string, texts ...string) {
	t.Helper()
	rest := view
	for _, text := range texts {
		_, after, found := strings.Cut(rest, text)
		if !found {
			t.Fatalf("%q is not there, or not in its turn:\n%s", text, view)
		}
		rest = after
	}
}

// TestCloseInInTheOrderOfThePlan: first what is fitted, sooner before later, then what has no
// place in the plan, then what is fitted already.
func TestCloseInInTheOrderOfThePlan(t *testing.T) {
	d := workshop(t)
	extra := 5.0
	edge := func(item id.Item, by id.Task) answer.Derived {
		return answer.Derived{Item: item, FitBy: by, Closed: answer.Closed{Task: "run-cable", ExtraMin: &extra}}
	}
	d.Closes = &Closes{Edges: []answer.Derived{edge("pump", ""), edge("grinder", "fit-grinder"), edge("floor", "not-planned"), edge("bench-panel", "fit-panel"),
		edge("grinder", "fit-grinder")}}
	var got []id.Item
	for _, c := range coversOf(d) {
		got = append(got, c.item)
	}
	if want := []id.Item{"bench-panel", "grinder", "floor", "pump"}; !slices.Equal(got, want) {
		t.Errorf("the order is %v, want %v", got, want)
	}
	inOrder(t, CloseIn{}.With(d).View(styles(), 80, 24), "Will be fitted, in the order of the plan (3)", "Wet grinder", "10 min more",
		"Fitted already, or no task fits it (1)", "Coolant pump")
}

func TestPriceWords(t *testing.T) {
	ninety, five := 90.0, 5.0
	task := func(extra *float64) answer.Derived {
		return answer.Derived{Closed: answer.Closed{Task: "a", ExtraMin: extra}}
	}
	service := answer.Derived{Closed: answer.Closed{Service: "rinse", ExtraMin: &ninety}}
	for _, tt := range []struct {
		edges []answer.Derived
		want  string
	}{
		{[]answer.Derived{task(&five), task(&five)}, "10 min more"},
		{[]answer.Derived{task(&ninety)}, "1h30 more"},
		{[]answer.Derived{service, task(&five), task(nil)}, "1 for good, 5 min more, 1h30 more a year"},
		{nil, "costs no more"},
	} {
		if got := priceOf(tt.edges).words("%d for good"); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestCloseInFocusIsTheItemAndWhatIsBehind(t *testing.T) {
	s := CloseIn{}.With(workshop(t))
	want := Focus{Targets: []string{"bench-panel"}, Behind: []string{"pump"}}
	if got := selected(s); !cmp.Equal(got, want) {
		t.Errorf("in the list: %+v, want %+v", got, want)
	}
	s, _ = do(s, Enter)
	if got := selected(s); !cmp.Equal(got, want) {
		t.Errorf("on the page: %+v, want %+v", got, want)
	}
}

func TestCloseInSearches(t *testing.T) {
	s := CloseIn{}.With(workshop(t))
	for _, k := range []widget.Key{{Name: "5", Text: "5"}, {Name: "9", Text: "9"}, {Name: "?", Text: "?"}, {Name: "down"}, {Name: "enter"}, {Name: "esc"}} {
		if _, _, used := s.Typed(k); used {
			t.Errorf("%+v is taken before anything is typed", k)
		}
	}
	none := typed(t, s, "zz5")
	if _, got := do(none, Enter); got != nil {
		t.Errorf("enter on nothing gives %v", got)
	}
	back, _ := do(none, Back)
	if next, _ := do(typed(t, back, "panel"), Enter); next.Scope() != BehindScope {
		t.Error("the item that was searched for is not opened")
	}
}

// TestThePageClosesWithItsItem: another design does not have it.
func TestThePageClosesWithItsItem(t *testing.T) {
	s, _ := do(CloseIn{}.With(workshop(t)), Enter)
	d := workshop(t)
	d.View = answer.New(build.Build{Items: build.ListOf(access.Item{ID: "other"})}, testkit.Now)
	if got := s.With(d).Scope(); got != CoverScope {
		t.Errorf("the scope is %s", got)
	}
}

func TestCloseInSaysWhenNothingIsClosedIn(t *testing.T) {
	d := workshop(t)
	page, _ := do(CloseIn{}.With(d), Enter)
	d.Closes = &Closes{Stale: true}
	if v := (CloseIn{}).With(d).View(styles(), 80, 10); !strings.Contains(v, "Nothing is closed in") {
		t.Errorf("an empty list shows:\n%s", v)
	}
	inOrder(t, page.With(d).View(styles(), 80, 10), "being worked out anew", "It closes nothing in.")
}

func TestTheDaybookSaysWhatWasClosedInUnproven(t *testing.T) {
	d := workshop(t)
	key := d.View.Build.Days.Keys[1]
	d.Buried = map[build.Key][]answer.Owed{key: {{Task: "mount-pump", Check: "clamp-torque", What: "Pump clamps torqued"}}}
	inOrder(t, Daybook{}.With(d).View(styles(), 100, 24), "1h, buried unproven", "buried unproven  ", "Mount the coolant pump: Pump clamps torqued")
}
