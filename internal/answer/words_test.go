package answer

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestErrorsSayWhichThing(t *testing.T) {
	for _, tt := range []struct {
		err  error
		want string
	}{
		{&NameError{What: "task", Name: "pmup"}, `no task "pmup"`},
		{&NoWayError{NoWay{Targets: []string{"a", "b"}}}, "there is no way to a, b"},
		{&NoWayError{NoWay{Targets: []string{"a"}, StuckAt: []Stuck{{Item: "wall", Why: "has no opening"}, {Item: "bay", Why: "is shut"}}}},
			"there is no way to a: wall: has no opening; bay: is shut"},
	} {
		if got := tt.err.Error(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

// What is not in the build goes by its id.
func TestTitles(t *testing.T) {
	v := viewOf(t, monday, `"resources": [{"id": "builder", "name": "Jo"}, {"id": "inside"}],
		"items": [{"id": "pump", "name": "Pump"}, {"id": "tap"}], "tasks": [{"id": "fit", "name": "Fit it", "hours": 1}, {"id": "rest", "hours": 1}]`)
	for got, want := range map[string]string{
		v.taskTitle("fit"): "Fit it", v.taskTitle("rest"): "rest", v.taskTitle("gone"): "gone",
		v.itemTitle("pump"): "Pump", v.itemTitle("tap"): "tap", v.itemTitle("lost"): "lost",
		v.resourceTitle("builder"): "Jo", v.resourceTitle("inside"): "inside", v.resourceTitle("warm"): "warm",
	} {
		if got != want {
			t.Errorf("the title is %q, want %q", got, want)
		}
	}
}

// slowDistance is the optimal string alignment distance by its recursive definition (Damerau
// 1964, with no letter changed twice).
func slowDistance(a, b string) int {
	if a == "" || b == "" {
		return len(a) + len(b)
	}
	change := 1
	if a[0] == b[0] {
		change = 0
	}
	best := min(slowDistance(a[1:], b[1:])+change, slowDistance(a[1:], b)+1, slowDistance(a, b[1:])+1)
	if len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] {
		best = min(best, slowDistance(a[2:], b[2:])+1)
	}
	return best
}

func TestDistance(t *testing.T) {
	// Published: ca and abc are 3 apart by optimal string alignment (2 by the unrestricted
	// distance); kitten and sitting 3, the usual example of Levenshtein's distance.
	for _, tt := range []struct {
		a, b string
		want int
	}{{"ca", "abc", 3}, {"kitten", "sitting", 3}, {"pmup", "pump", 1}, {"", "pump", 4}} {
		if got := distance(tt.a, tt.b); got != tt.want {
			t.Errorf("distance(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abc-")), 0, 6, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if got, want := distance(a, b), slowDistance(a, b); got != want {
			t.Fatalf("distance(%q, %q) = %d, want %d", a, b, got, want)
		}
	})
}

// Near gives at most three names, each at most once, each one of those it was given, and
// the name itself first where it is one of them.
func TestNearLaw(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abc-")), 1, 6, -1)
	rapid.Check(t, func(t *rapid.T) {
		have := rapid.SliceOf(word).Draw(t, "have")
		name := word.Draw(t, "name")
		got := Near(name, have)
		all, there := " "+strings.Join(have, " ")+" ", false
		for _, h := range have {
			there = there || h == name
		}
		if len(got) > 3 || there && (len(got) == 0 || got[0] != name) {
			t.Fatalf("Near(%q, %q) = %q", name, have, got)
		}
		for i, n := range got {
			if !strings.Contains(all, " "+n+" ") || strings.Count(" "+strings.Join(got, " ")+" ", " "+n+" ") != 1 {
				t.Fatalf("Near(%q, %q) = %q: the name %d", name, have, got, i)
			}
		}
	})
}
