package answer

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/units"
)

func TestIdle(t *testing.T) {
	for _, tt := range []struct {
		name, lists string
		from, to    string
		minutes     int
		kind, ref   string
		words       string
	}{
		{"a part", `"parts": [{"id": "p", "name": "Hose", "due": "2026-03-02"}], "tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1, "parts": ["p"]}]`,
			"2026-03-02T09:00", "2026-03-02T12:00", 180, "part", "p", "Hose is there from Tue 2026-03-03 00:00"},
		{"a cure", `"tasks": [{"id": "a", "hours": 1, "cure": {"hours": 2}}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b"}]`,
			"2026-03-02T09:00", "2026-03-02T11:00", 120, "lag", "a", "a cures until Mon 2026-03-02 11:00"},
		{"the last cure", `"tasks": [{"id": "a", "hours": 1, "cure": {"hours": 2}}]`,
			"2026-03-02T09:00", "2026-03-02T11:00", 120, "lag", "a", "a cures until Mon 2026-03-02 11:00"},
		{"a helper day", `"tasks": [{"id": "a", "hours": 4}, {"id": "lift", "hours": 1, "uses": {"builder": 1, "helper": 1}}]`,
			"2026-03-03T08:00", "2026-03-04T10:00", 360, "resource", "helper", "lift waits until Helper is there, Wed 2026-03-04 10:00"},
		{"others at work", `"tasks": [{"id": "a", "hours": 2, "uses": {}}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b"}]`,
			"2026-03-02T08:00", "2026-03-02T10:00", 120, "edge", "a", "after a"},
		{"others at work, to the end", `"tasks": [{"id": "a", "hours": 2, "uses": {}}]`,
			"2026-03-02T08:00", "2026-03-02T10:00", 120, "edge", "a", "a takes until Mon 2026-03-02 10:00"},
	} {
		s := search(t, viewOf(t, monday, workdays+", "+tt.lists))
		if len(s.Idle) != 1 {
			t.Errorf("%s: idle %+v, want one stretch", tt.name, s.Idle)
			continue
		}
		got := s.Idle[0]
		if got.From != at(t, tt.from) || got.To != at(t, tt.to) || got.Minutes != tt.minutes || got.Because.Kind != tt.kind ||
			got.Because.Ref != tt.ref || !strings.Contains(got.Because.Text, tt.words) {
			t.Errorf("%s: idle %+v, want %s to %s, %d minutes, %s %s: %s", tt.name, got, tt.from, tt.to, tt.minutes, tt.kind, tt.ref, tt.words)
		}
	}
}

func TestIdleInTheMiddleOfATask(t *testing.T) {
	s := search(t, viewOf(t, monday, `"resources": [{"id": "builder", "hours": {"mon": ["08:00-17:00"]}}, {"id": "helper", "name": "Helper", "hours": {"mon": ["08:00-09:00", "11:00-12:00"]}}],
		"tasks": [{"id": "lift", "hours": 2, "uses": {"builder": 1, "helper": 1}}]`))
	want := Because{"resource", "helper", "lift waits until Helper is there, Mon 2026-03-02 11:00", 0}
	if len(s.Idle) != 1 || s.Idle[0].Minutes != 120 || s.Idle[0].Because != want {
		t.Errorf("idle %+v, want two hours until the helper is back", s.Idle)
	}
}

func TestNoBuilderIsNeverIdle(t *testing.T) {
	s := search(t, viewOf(t, monday, `"resources": [{"id": "yard"}], "tasks": [{"id": "a", "hours": 2, "uses": {"yard": 1}, "not_before": "2026-03-03"}]`))
	if s.Idle == nil || len(s.Idle) != 0 {
		t.Errorf("idle %+v, want an empty list", s.Idle)
	}
}

// The stretches hold just those minutes of the builder's hours before the finish in which no
// row works with the builder, each in one of them, and each has its reason.
func TestLawIdle(t *testing.T) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		v := drawCrowd(t)
		seq, ok := someOrder(t, v)
		if !ok {
			return
		}
		s := newSlow(v)
		for _, r := range seq.Tasks {
			task, _ := v.task(r.ID)
			s.place(task, r.Start, r.WorkMin)
		}
		minutes := make([]int, len(seq.Idle))
		for m := v.Now; m < seq.Finish; m++ {
			in := inWeek(v.Live.Resources[0].Hours, m) && s.taken[minuteOf("builder", m)] == 0
			at := slices.IndexFunc(seq.Idle, func(i Idle) bool { return i.From <= m && m < i.To })
			switch {
			case in && at < 0:
				t.Fatalf("the builder is idle at %v, which %+v does not have", m, seq.Idle)
			case in:
				minutes[at]++
			case at >= 0 && s.taken[minuteOf("builder", m)] > 0:
				t.Fatalf("the builder works at %v, in %+v", m, seq.Idle[at])
			}
		}
		for i, idle := range seq.Idle {
			last := units.Instant(0)
			if i > 0 {
				last = seq.Idle[i-1].To
			}
			if minutes[i] != idle.Minutes || idle.Minutes == 0 || idle.Because.Text == "" || idle.From < last {
				t.Fatalf("%+v has %d minutes", idle, minutes[i])
			}
			seen++
		}
	})
	if seen == 0 {
		t.Error("no builder of any random build is ever idle")
	}
}
