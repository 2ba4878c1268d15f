package answer

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/id"
)

// kinds gives cautions as "kind ref".
func kinds(cs []Caution) []string {
	out := []string{}
	for _, c := range cs {
		out = append(out, c.Kind+" "+c.Ref)
	}
	return out
}

// 23 kg is the load constant of the revised NIOSH lifting equation (Publication 94-110); 5 kg
// the least zone of the HSE filter (L23) at arm's length, from memory. That what runs hot
// cools first, and that gas and mains are for licensed people, is common practice, no source.
func TestItemCautions(t *testing.T) {
	for _, tt := range []struct {
		item, posture string
		want          []string
	}{
		{`"opening": {"persons": 2}`, "stand", []string{"persons x"}},
		{`"opening": {"persons": 1}`, "stand", []string{}},
		{`"opening": {"single_use": true}`, "stand", []string{"single-use x"}},
		{`"runs_hot": true`, "stand", []string{"hot x"}},
		{`"mass_kg": 23`, "stand", []string{}},
		{`"mass_kg": 23.1`, "stand", []string{"mass x"}},
		{`"mass_kg": 4.9`, "kneel", []string{}},
		{`"mass_kg": 5`, "kneel", []string{"mass x"}},
		{`"mass_kg": 5`, "Standing", []string{}},
		{`"mass_kg": 27`, "crawl", []string{"mass x", "mass x"}},
		{`"mass_kg": 22`, "", []string{}}, // not said: no claim
	} {
		v := viewOf(t, monday, fmt.Sprintf(`"places": [{"id": "p", "posture": %q}], "items": [{"id": "x", "place": "p", %s}]`, tt.posture, tt.item))
		got := v.ItemCautions("x")
		if !slices.Equal(kinds(got), tt.want) {
			t.Errorf("%s in a place to %s: %v, want %v", tt.item, tt.posture, got, tt.want)
		}
		for _, c := range got {
			if c.Text == "" || c.Kind == "mass" && !strings.Contains(c.Source, "94-110") {
				t.Errorf("%s: a caution without its word or source: %+v", tt.item, c)
			}
		}
	}
	if got := viewOf(t, monday, bench).ItemCautions("nothing"); got == nil || len(got) > 0 {
		t.Errorf("of an item that is not there: %#v", got)
	}
}

func TestCautions(t *testing.T) {
	v := viewOf(t, monday, `"places": [{"id": "locker", "posture": "kneel", "ways": [{"through": ["lid"], "enter_min": 1}]}],
		"items": [{"id": "lid", "opening": {"open_min": 1, "persons": 2, "single_use": true}},
			{"id": "bottle", "place": "locker", "mass_kg": 11, "opening": {"persons": 2}}, {"id": "strap", "place": "locker"}, {"id": "stove"}],
		"tasks": [{"id": "a", "hours": 1, "trade": "heating and gas", "place": "locker", "fits": ["bottle"], "state": "finished"},
			{"id": "b", "hours": 1, "trade": "LPG", "reaches": ["bottle"]},
			{"id": "c", "hours": 1, "name": "Mains lead to the socket", "reaches": ["strap"]},
			{"id": "d", "hours": 1, "trade": "gasket", "fits": ["stove"]}]`)
	for targets, want := range map[string][]string{
		// Two tasks at the bottle say the same: it is said once.
		"bottle": {"persons lid", "single-use lid", "persons bottle", "mass bottle", "gas bottle"},
		"locker": {"persons lid", "single-use lid", "gas locker"},
		"strap":  {"persons lid", "single-use lid", "mains strap"},
		"stove":  {},
	} {
		r, err := v.Reach(t.Context(), []string{targets}, 1, FittedAll)
		if err != nil {
			t.Fatal(err)
		}
		if got := kinds(v.Cautions(r)); !slices.Equal(got, want) {
			t.Errorf("on the way to %s: %v, want %v", targets, got, want)
		}
	}
	if got := v.Cautions(Reach{}); got == nil {
		t.Error("of no way at all: nil, want an empty list")
	}
}

// A mass is written out as it was weighed, to the gram.
func TestCautionMass(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "a", "mass_kg": 27}, {"id": "b", "mass_kg": 23.125}, {"id": "c", "mass_kg": 12345}]`)
	for x, want := range map[id.Item]string{"a": "a: 27 kg, above", "b": "b: 23.125 kg, above", "c": "c: 12345 kg, above"} {
		if got := v.ItemCautions(x); len(got) != 1 || !strings.HasPrefix(got[0].Text, want) {
			t.Errorf("%s: %v, want %q", x, got, want)
		}
	}
}
