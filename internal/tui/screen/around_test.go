package screen

import (
	"strings"
	"testing"

	"example.com/vanlog/internal/answer"
)

// foundPump gives Reach with the way to the pump, and what it asked for.
func foundPump(t *testing.T) (Reach, FindWay) {
	t.Helper()
	d := workshop(t)
	s, e := do(typed(t, Reach{}.With(d), "coolp"), Enter)
	way, err := d.View.Reach(t.Context(), []string{"pump"}, 1, answer.FittedAll)
	if err != nil {
		t.Fatal(err)
	}
	return s.(Reach).Found(e.(FindWay), way, nil), e.(FindWay)
}

func TestAWayShowsCautionsFirstAndWhatElseThereIs(t *testing.T) {
	r, asked := foundPump(t)
	if v := r.View(styles(), 100, 40); !strings.Contains(v, "Looking for the next best way") {
		t.Errorf("before it is known:\n%s", v)
	}
	r = r.FoundAround(asked, Around{
		Cautions: []answer.Caution{{Text: "let it cool first"}},
		Other: &answer.Another{MoreMin: 3, CostMin: 14.5, Without: []string{"bench-panel"},
			Steps: []answer.Step{{Do: "enter", Place: "cabin"}, {Do: "open", Item: "bench-frame"}}},
		WhileOpen: []answer.WhileOpen{{What: "service", Text: "rinse the strainer", MoreMin: 0, AloneMin: 11.5, LeftMin: 10, PerYear: 12},
			{What: "proof", Text: "clamps", MoreMin: 2, AloneMin: 9, PerYear: 1}},
	})
	inOrder(t, r.View(styles(), 110, 40), "Caution: let it cool first", "With everything in the way", "The way in:", "refit Bench panel",
		"The next best way costs 3 min more (14.5 min): it opens Bench frame; it does without Bench panel",
		"While it is open, for at most 5 min more of getting in:",
		"service: rinse the strainer, 10m of work, 12 times a year (0 min more; alone it takes 11.5 min)",
		"proof: clamps, once a year (2 min more; alone it takes 9 min)")
}

func TestAWayWithoutAnotherSaysSo(t *testing.T) {
	r, asked := foundPump(t)
	inOrder(t, r.FoundAround(asked, Around{}).View(styles(), 100, 40), "There is no other way.", "for at most 5 min more of getting in: nothing else.")
	inOrder(t, r.FoundAround(asked, Around{Trouble: "out of time"}).View(styles(), 100, 40), "out of time")
	asked.MoreMin = 60
	if v := r.FoundAround(asked, Around{}).View(styles(), 100, 40); strings.Contains(v, "no other way") {
		t.Error("the answer to another question is shown")
	}
}

func TestOneLooksFurtherWhileItIsOpen(t *testing.T) {
	r, _ := foundPump(t)
	s, e := do(r, MoreTime)
	if got := e.(FindWay).MoreMin; got != 10 {
		t.Errorf("one step further is %v min, want 10", got)
	}
	s, e = do(s, LessTime, LessTime)
	if got := e.(FindWay).MoreMin; got != 2 {
		t.Errorf("two steps back are %v min, want 2", got)
	}
	for range 20 {
		s, _ = do(s, LessTime)
	}
	if _, e = do(s, LessTime); e != nil {
		t.Errorf("below nothing it still asks for %v", e)
	}
	if got := s.(Reach).Again().(FindWay).MoreMin; got != 0 {
		t.Errorf("the least is %v min, want 0", got)
	}
	for range 20 {
		s, _ = do(s, MoreTime)
	}
	if got := s.(Reach).Again().(FindWay).MoreMin; got != 60 {
		t.Errorf("the most is %v min, want 60", got)
	}
	inOrder(t, s.View(styles(), 100, 40), "Looking for the next best way")
}

func TestOnlySomeOfWhatCouldBeDoneIsNamed(t *testing.T) {
	r, asked := foundPump(t)
	v := r.FoundAround(asked, Around{WhileOpen: make([]answer.WhileOpen, 40)}).View(styles(), 100, 60)
	if got := strings.Count(v, "alone it takes"); got != mostWhileOpen {
		t.Errorf("%d are named, want %d", got, mostWhileOpen)
	}
	inOrder(t, v, "and 28 more")
}
