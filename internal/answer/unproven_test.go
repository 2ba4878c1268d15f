package answer

import (
	"maps"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// covered is a tap behind a panel, begun at 08:00 and fitted in an entry that ends at 12:00. More is
// what the daybook holds besides, tap what the tap's task says besides.
func covered(tap, more string) string {
	return `"items": [{"id": "panel", "opening": {"open_min": 1}}, {"id": "tap", "covers": ["panel"]}, {"id": "rail"}],
		"tasks": [{"id": "tap-in", "hours": 1, "reaches": ["tap"], "checks": [{"id": "leak", "kind": "test", "what": "dry", "before_cover": true},
				{"id": "photo", "kind": "photo", "before_cover": true}, {"id": "bill", "kind": "receipt"}]` + tap + `},
			{"id": "panel-on", "hours": 1, "fits": ["panel"], "state": "finished", "finished_at": "2026-02-27T12:00"},
			{"id": "rail-on", "hours": 1, "fits": ["rail"], "state": "finished", "finished_at": "2026-02-27T15:00"}],
		"days": [{"at": "2026-02-27T08:00", "task": "panel-on", "minutes": 60}, {"at": "2026-02-27T11:00", "task": "panel-on", "minutes": 60, "finished": true},
			{"at": "2026-02-27T14:00", "task": "rail-on", "minutes": 60, "finished": true}` + more + `]`
}

func TestBuriesUnproven(t *testing.T) {
	leak, photo := Owed{Task: "tap-in", Check: "leak", What: "dry"}, Owed{Task: "tap-in", Check: "photo"}
	reading := func(at, value string) string {
		return `, {"at": "` + at + `", "task": "tap-in", "minutes": 5, "readings": [{"check": "leak", "value": "` + value + `"}]}`
	}
	shot := `, {"at": "2026-02-26T09:00", "task": "tap-in", "minutes": 0, "photos": ["tap.jpg"]}`
	for _, tt := range []struct {
		name, more string
		want       []Owed
	}{
		{"nothing is in", ``, []Owed{leak, photo}},
		{"in before", reading("2026-02-27T10:00", "ok") + shot, nil},
		{"in by the end of the entry", reading("2026-02-27T11:55", "ok") + shot, nil},
		{"in a minute later", reading("2026-02-27T11:56", "ok") + shot, []Owed{leak}},
		{"said no by then, and yes later", reading("2026-02-27T09:00", "no") + reading("2026-02-28T09:00", "ok") + shot, []Owed{leak}},
		{"said yes by then, and no later", reading("2026-02-27T09:00", "ok") + reading("2026-02-28T09:00", "no"), []Owed{photo}},
	} {
		v := viewOf(t, monday, covered(``, tt.more))
		want := map[build.Key][]Owed{}
		if tt.want != nil {
			want[keyOf(t, v, "panel-on")] = tt.want
		}
		if diff := cmp.Diff(want, v.BuriesUnproven()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

// keyOf gives the key of the one entry that finished a task.
func keyOf(t *testing.T, v *View, task id.Task) build.Key {
	t.Helper()
	at := slices.IndexFunc(v.Build.Days.Rows, func(e daybook.Entry) bool { return e.Task == task && e.Finished })
	if at < 0 {
		t.Fatalf("no entry finished %s", task)
	}
	return v.Build.Days.Keys[at]
}

func TestAuditOfTheRecordOfCovers(t *testing.T) {
	proven := `, {"at": "2026-03-01T09:00", "task": "tap-in", "minutes": 5, "readings": [{"check": "leak", "value": "ok"}], "photos": ["tap.jpg"]}`
	bill := `, {"at": "2026-03-01T09:00", "task": "tap-in", "minutes": 5, "photos": ["tap.jpg"]}`
	done := `, "state": "finished", "finished_at": "2026-02-27T10:00"`
	for _, tt := range []struct {
		name, days string
		want       []string
	}{
		{"both came too late", proven, []string{"covered unproven tap-in", "covered unproven tap-in"}},
		{"one never came: said once", bill, []string{"proof buried tap-in", "covered unproven tap-in"}},
	} {
		if got := found(t, viewOf(t, monday, covered(done, tt.days))); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// An independent reading of the rule, on a build as it was at the time: what was fitted and
// proven later is taken out of it, the cover put on last.
func TestBuriesUnprovenIsWhatCloseInSaidThen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		got := v.BuriesUnproven()
		want := map[build.Key][]Owed{}
		for i, e := range v.Build.Days.Rows {
			if owed := askedThen(t, v.Build, e); len(owed) > 0 {
				want[v.Build.Days.Keys[i]] = owed
			}
		}
		if !maps.EqualFunc(want, got, func(a, b []Owed) bool { return slices.Equal(a, b) }) {
			t.Fatalf("buried unproven %v, but CloseIn would have said %v", got, want)
		}
	})
}

// askedThen asks CloseIn what the task of e buries, in the build as it was when e ended.
func askedThen(t *rapid.T, b build.Build, e daybook.Entry) []Owed {
	then := b
	then.Days = build.ListOf(slices.DeleteFunc(slices.Clone(b.Days.Rows), func(o daybook.Entry) bool { return o.End() > e.End() })...)
	rows := slices.Clone(b.Tasks.Rows)
	for i := range rows {
		if at := rows[i].FinishedAt; rows[i].ID == e.Task || at != nil && at.At > e.End() {
			rows[i].State, rows[i].FinishedAt = tasks.Started, nil
		}
	}
	then.Tasks = build.ListOf(rows...)
	in, err := New(then, e.End()).CloseIn(string(e.Task))
	if err != nil {
		t.Fatal(err)
	}
	return in.NotProved
}
