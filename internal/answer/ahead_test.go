package answer

import (
	"slices"
	"testing"
)

// A should edge is broken by work on the later task while the earlier has not begun: by the
// state where the daybook says nothing, else by its first entry.
func TestAheadOfAShouldEdge(t *testing.T) {
	for _, tt := range []struct {
		name, paint, days string
		want              bool
	}{
		{"not begun", ``, ``, true},
		{"begun, nobody wrote when", `, "state": "started"`, ``, false},
		{"begun an hour before", `, "state": "started"`, `{"at": "2026-03-02T07:00", "task": "paint", "minutes": 10}`, false},
		{"begun an hour later", `, "state": "started"`, `{"at": "2026-03-02T09:00", "task": "paint", "minutes": 10}`, true},
		{"done before", `, "state": "finished", "finished_at": "2026-03-02T07:00"`, ``, false},
		{"done, nobody knows when", `, "state": "finished"`, ``, false},
		{"done later", `, "state": "finished", "finished_at": "2026-03-02T12:00"`, `{"at": "2026-03-02T11:00", "task": "paint", "minutes": 60}`, true},
	} {
		v := viewOf(t, monday, `"tasks": [{"id": "must", "hours": 1}, {"id": "paint", "hours": 1`+tt.paint+`}, {"id": "hang", "hours": 1}],
			"edges": [{"before": "must", "after": "hang"}, {"before": "paint", "after": "hang", "kind": "should", "rework_h": 1, "why": "drips"}], "days": [`+tt.days+`]`)
		got := slices.ContainsFunc(v.Ahead("hang", at(t, monday)), func(a Ahead) bool { return a.Ref == "paint" && a.CostMin == 60 })
		if got != tt.want {
			t.Errorf("paint %s: the should edge is broken: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// What can never be got at again after t is fitted is said in words, not in minutes.
func TestAheadForGood(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "wall", "name": "Wall"}, {"id": "tap", "covers": ["wall"]}],
		"tasks": [{"id": "tap-in", "hours": 1, "reaches": ["tap"]}, {"id": "wall-up", "hours": 1, "fits": ["wall"]}],
		"edges": [{"before": "tap-in", "after": "wall-up", "why": "no way back"}]`)
	want := []Ahead{{Kind: "edge", Ref: "tap-in", Text: "tap-in is not done: no way back; with Wall fitted it cannot be reached any more"}}
	if got := v.Ahead("wall-up", at(t, monday)); !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := v.Ahead("nobody", at(t, monday)); got == nil || len(got) > 0 {
		t.Errorf("of a task that is not there: %#v", got)
	}
}

// A part that a task waits for says how it stands.
func TestPartsInWords(t *testing.T) {
	for part, want := range map[string]string{
		`"lead_days": [3, 10, 30]`: "Hose is not ordered; ordered now, it is there from Fri 2026-03-13 00:00",
		`"due": "2026-03-05"`:      "Hose is there from Fri 2026-03-06 00:00",
		`"arrived": "2026-03-04"`:  "Hose has arrived",
	} {
		v := viewOf(t, monday, `"parts": [{"id": "hose", "name": "Hose", `+part+`}], "tasks": [{"id": "a", "hours": 1, "parts": ["hose"]}]`)
		if got := v.partHold("hose").text; got != want {
			t.Errorf("%s: %q, want %q", part, got, want)
		}
	}
}
