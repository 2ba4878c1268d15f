package answer

import (
	"slices"
	"strings"
	"testing"
)

// waitsOf gives the kinds and things that a task waits for, as "kind ref until".
func waitsOf(today Today, task string) []string {
	for _, c := range today.Cannot {
		if string(c.ID) != task {
			continue
		}
		var out []string
		for _, w := range c.WaitsFor {
			until := "never"
			if w.Until != nil {
				until = w.Until.String()
			}
			out = append(out, strings.Join([]string{w.Kind, w.Ref, until}, " "))
		}
		return out
	}
	return nil
}

func canOf(today Today) []string {
	var out []string
	for _, c := range today.Can {
		out = append(out, string(c.ID))
	}
	return out
}

func TestToday(t *testing.T) {
	today := viewOf(t, monday, bench).Today(nil, TodayOptions{})
	// lay: seal is done 09:00 at the earliest, and cures 24 hours; fill: plumb is done at 10:00,
	// and the lag is 2 hours; the hose is there the day after it is due.
	for task, want := range map[string][]string{
		"lay":  {"edge seal 2026-03-03T09:00"},
		"fill": {"edge plumb 2026-03-02T12:00", "part hose 2026-03-04T00:00"},
		"lift": {"resource helper 2026-03-03T10:00"},
	} {
		if got := waitsOf(today, task); !slices.Equal(got, want) {
			t.Errorf("%s waits for %v, want %v", task, got, want)
		}
	}
	if got := canOf(today); len(got) != 3 || slices.Contains(got, "straps") {
		t.Errorf("can: %v, want plumb, seal and close", got)
	}
}

func TestTodaySaysWhatItBuries(t *testing.T) {
	today := viewOf(t, monday, bench).Today(nil, TodayOptions{})
	for _, c := range today.Can {
		if c.ID != "close" {
			continue
		}
		if len(c.ClosesIn) != 3 || len(c.OwedFirst) != 1 || c.OwedFirst[0].Check != "torque" {
			t.Errorf("close buries %+v and wants first %+v", c.ClosesIn, c.OwedFirst)
		}
		return
	}
	t.Error("the kickboard cannot be fitted")
}

func TestTodayWithAHelper(t *testing.T) {
	today := viewOf(t, monday, bench).Today(nil, TodayOptions{Helper: true})
	if !slices.Contains(canOf(today), "lift") {
		t.Errorf("with a helper here: can %v, want lift among them", canOf(today))
	}
}

func TestTodayPutsFirstWhatFits(t *testing.T) {
	v := viewOf(t, monday, `"tasks": [{"id": "long", "hours": 3}, {"id": "short", "hours": 1}]`)
	if got := canOf(v.Today(nil, TodayOptions{})); !slices.Equal(got, []string{"long", "short"}) {
		t.Errorf("can %v", got)
	}
	if got := canOf(v.Today(nil, TodayOptions{Hours: 1})); !slices.Equal(got, []string{"short", "long"}) {
		t.Errorf("with one hour: can %v", got)
	}
}

func TestTodayFollowsTheSequence(t *testing.T) {
	v := viewOf(t, monday, bench)
	seq := search(t, v)
	var want []string
	for _, r := range seq.Tasks {
		want = append(want, string(r.ID))
	}
	got := canOf(v.Today(&seq, TodayOptions{}))
	want = slices.DeleteFunc(want, func(id string) bool { return !slices.Contains(got, id) })
	if !slices.Equal(got, want) {
		t.Errorf("can %v, in the sequence they stand %v", got, want)
	}
}

func TestTodayOutOfTheBuildersHours(t *testing.T) {
	v := viewOf(t, "2026-03-01T20:00", `"tasks": [{"id": "a", "hours": 1}]`)
	if got := canOf(v.Today(nil, TodayOptions{})); !slices.Equal(got, []string{"a"}) {
		t.Errorf("on a Sunday night: can %v, want a: who asks is there", got)
	}
}

func TestTodayWaitsForCures(t *testing.T) {
	v := viewOf(t, monday, `"resources": [{"id": "builder"}, {"id": "inside"}],
		"tasks": [{"id": "seal", "hours": 1, "state": "finished", "finished_at": "2026-03-02T07:00", "cure": {"hours": 5, "holds": ["inside"]}},
			{"id": "line", "hours": 1, "uses": {"builder": 1, "inside": 1}}, {"id": "roof", "hours": 1}, {"id": "next", "hours": 1}, {"id": "soon", "hours": 1}],
		"edges": [{"before": "seal", "after": "next"}, {"before": "seal", "after": "soon", "lag_h": 2}]`)
	today := v.Today(nil, TodayOptions{})
	for task, want := range map[string][]string{
		"line": {"cure seal 2026-03-02T12:00"},
		"next": {"cure seal 2026-03-02T12:00"},
		"soon": {"lag seal 2026-03-02T09:00"},
		"roof": nil,
	} {
		if got := waitsOf(today, task); !slices.Equal(got, want) {
			t.Errorf("%s waits for %v, want %v", task, got, want)
		}
	}
}

func TestTodaySaysWhatCannotBeReached(t *testing.T) {
	v := viewOf(t, monday, `"items": [{"id": "wall", "fitted": true}, {"id": "tank", "covers": ["wall"]}],
		"tasks": [{"id": "look", "hours": 1, "reaches": ["tank"]}]`)
	if got := waitsOf(v.Today(nil, TodayOptions{}), "look"); !slices.Equal(got, []string{"reach wall never"}) {
		t.Errorf("look waits for %v, want the wall", got)
	}
}

func TestTodayTakesMoreThanThereIs(t *testing.T) {
	v := viewOf(t, monday, `"tasks": [{"id": "lift", "hours": 1, "uses": {"builder": 2}}, {"id": "saw", "hours": 1}]`)
	today := v.Today(nil, TodayOptions{Helper: true})
	if got := canOf(today); !slices.Equal(got, []string{"saw"}) {
		t.Errorf("can %v, want no lift for two with one builder", got)
	}
	if got := waitsOf(today, "lift"); !slices.Equal(got, []string{"resource builder never"}) {
		t.Errorf("lift waits for %v", got)
	}
}

// A lag below nothing lets a task start before the one before it is done: today says so as soon as
// the sequence has come to that, and not before.
func TestTodayOverlaps(t *testing.T) {
	v := viewOf(t, monday, `"resources": [{"id": "builder", "capacity": 2}],
		"tasks": [{"id": "wire", "hours": 3}, {"id": "clip", "hours": 1}, {"id": "test", "hours": 1}],
		"edges": [{"before": "wire", "after": "clip", "lag_h": -3}, {"before": "wire", "after": "test", "lag_h": -2}]`)
	seq := search(t, v)
	today := v.Today(&seq, TodayOptions{})
	if got := waitsOf(today, "clip"); got != nil {
		t.Errorf("clip waits for %v, the sequence starts it now", got)
	}
	if got := waitsOf(today, "test"); !slices.Equal(got, []string{"edge wire 2026-03-02T09:00"}) {
		t.Errorf("test waits for %v, want until two hours before the wiring is done", got)
	}
	if got := waitsOf(v.Today(nil, TodayOptions{}), "clip"); got == nil {
		t.Error("without a sequence nothing says that the wiring is under way")
	}
}
