package answer

import (
	"fmt"
	"testing"
)

func TestGiven(t *testing.T) {
	for _, tt := range []struct {
		name, check, days string
		want              bool
	}{
		{"no entry", `"kind": "torque", "want": "12 N·m ±10 %"`, ``, false},
		{"within", `"kind": "torque", "want": "12 N·m ±10 %"`, `{"readings": [{"check": "c", "value": "12.1 N·m"}]}`, true},
		{"outside", `"kind": "torque", "want": "12 N·m ±10 %"`, `{"readings": [{"check": "c", "value": "14 N·m"}]}`, false},
		{"the last one counts", `"kind": "torque", "want": "12 N·m ±10 %"`,
			`{"readings": [{"check": "c", "value": "12 N·m"}]}, {"readings": [{"check": "c", "value": "9 N·m"}]}`, false},
		{"another unit of the same", `"kind": "torque", "want": "12 N·m ±10 %"`, `{"readings": [{"check": "c", "value": "106 lbf·in"}]}`, true},
		{"a plain yes", `"kind": "certificate"`, `{"readings": [{"check": "c", "value": "no. 4711"}]}`, true},
		{"a plain no", `"kind": "test"`, `{"readings": [{"check": "c", "value": "Failed"}]}`, false},
		{"a photo", `"kind": "photo"`, `{"photos": ["a.jpg"]}`, true},
		{"words are no photo", `"kind": "photo"`, `{"readings": [{"check": "c", "value": "yes"}]}`, false},
	} {
		days := ""
		if tt.days != "" {
			days = fmt.Sprintf(`, "days": [%s]`, withTask(tt.days))
		}
		v := viewOf(t, monday, fmt.Sprintf(`"tasks": [{"id": "t", "hours": 1, "checks": [{"id": "c", "what": "it", %s}]}]%s`, tt.check, days))
		if got := v.Given("t", "c"); got != tt.want {
			t.Errorf("%s: given %v, want %v", tt.name, got, tt.want)
		}
		if owed := v.Owed("t"); (len(owed) == 0) != tt.want {
			t.Errorf("%s: owed %v, but given is to be %v", tt.name, owed, tt.want)
		}
	}
}

// withTask writes the time and the task into entries, an hour apart.
func withTask(days string) string {
	out, hour := "", 8
	for _, r := range days {
		out += string(r)
		if r == '{' && (len(out) < 2 || out[len(out)-2] != '[') {
			out += fmt.Sprintf(`"at": "2026-02-27T%02d:00", "task": "t", "minutes": 5, `, hour)
			hour++
		}
	}
	return out
}

func TestStatus(t *testing.T) {
	v := viewOf(t, monday, `
		"items": [{"id": "panel", "opening": {"open_min": 2}}, {"id": "tap", "covers": ["panel"]}],
		"tasks": [{"id": "tap-in", "hours": 1, "reaches": ["tap"], "state": "finished", "finished_at": "2026-02-26T12:00"},
			{"id": "panel-on", "hours": 1, "fits": ["panel"], "state": "finished", "finished_at": "2026-02-27T12:00",
			 "checks": [{"id": "photo", "kind": "photo"}]},
			{"id": "brush", "hours": 1, "state": "finished", "finished_at": "2026-02-27T12:00", "checks": [{"id": "photo", "kind": "photo"}]},
			{"id": "sweep", "hours": 1}, {"id": "wash", "hours": 1, "state": "started"}, {"id": "dry", "hours": 1},
			{"id": "after-panel", "hours": 1, "reaches": ["tap"], "state": "finished", "finished_at": "2026-02-28T12:00"}],
		"edges": [{"before": "wash", "after": "dry"}],
		"days": [{"at": "2026-02-27T11:00", "task": "brush", "minutes": 60, "photos": ["b.jpg"], "finished": true}]`)
	for task, want := range map[string]Status{"tap-in": Hidden, "panel-on": Done, "brush": Proven, "sweep": Workable,
		"wash": UnderWay, "dry": Waiting, "after-panel": Done} {
		if got := v.Status(v.Live.Tasks[v.Live.TaskAt[idOf(task)]].ID); got != want {
			t.Errorf("%s is %s, want %s", task, got, want)
		}
	}
}
