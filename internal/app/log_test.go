package app

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

func at(text string) *units.Instant {
	i, err := units.ParseInstant(text)
	if err != nil {
		panic(err)
	}
	return &i
}

// The clock stands at 2026-03-02T09:00. Hours are minutes / 60, to four decimals.
func TestLog(t *testing.T) {
	for _, tt := range []struct {
		name   string
		log    []LogRequest
		began  string // the last entry
		what   string // the last change
		task   string // afterwards
		single bool   // the last change leaves the task alone
	}{
		{name: "began minutes ago", log: []LogRequest{{Task: "run-cable", Minutes: 90}},
			began: "2026-03-02T07:30", what: "log 1h30 on Run the feed cable", task: "started 2.5"},
		{name: "began when it is said", log: []LogRequest{{Task: "run-cable", Minutes: 20, At: at("2026-02-28T10:00")}},
			began: "2026-02-28T10:00", what: "log 20m on Run the feed cable", task: "started 1.3333"},
		{name: "begins the task", log: []LogRequest{{Task: "glue-floor", Minutes: 60}},
			began: "2026-03-02T08:00", what: "log 1h on Glue the floor", task: "started 1 left 1.5"},
		{name: "nothing left is nothing", log: []LogRequest{{Task: "glue-floor", Minutes: 600}},
			began: "2026-03-01T23:00", what: "log 10h on Glue the floor", task: "started 10 left 0"},
		{name: "thirds add up", log: []LogRequest{{Task: "glue-floor", Minutes: 20}, {Task: "glue-floor", Minutes: 20}, {Task: "glue-floor", Minutes: 20}},
			began: "2026-03-02T08:40", what: "log 20m on Glue the floor", task: "started 1 left 1.5"},
		{name: "finishes at the end of the entry", log: []LogRequest{{Task: "glue-floor", Minutes: 45, At: at("2026-03-01T10:00"), Finished: true}},
			began: "2026-03-01T10:00", what: "log 45m on Glue the floor, finished", task: "finished 0.75 at 2026-03-01T10:45"},
		{name: "finishes without more work", log: []LogRequest{{Task: "run-cable", Finished: true}},
			began: "2026-03-02T09:00", what: "log 0m on Run the feed cable, finished", task: "finished 1 at 2026-03-02T09:00"},
		{name: "stays finished", log: []LogRequest{{Task: "frame-bench", Minutes: 30}},
			began: "2026-03-02T08:30", what: "log 30m on Frame the bench", task: "finished 4.6667 at 2026-02-27T13:10"},
		{name: "a trip in is work", log: []LogRequest{{Task: "glue-floor", Visits: 2}},
			began: "2026-03-02T09:00", what: "log trips in on Glue the floor", task: "started 0 left 2.5"},
		{name: "a note is not", log: []LogRequest{{Task: "mount-pump", Note: " mind the hose "}}, single: true,
			began: "2026-03-02T09:00", what: "enter a note on Mount the coolant pump", task: "todo 0"},
		{name: "nor is a photo", log: []LogRequest{{Task: "mount-pump", Photos: []string{"pump.jpg"}}}, single: true,
			began: "2026-03-02T09:00", what: "enter a photo on Mount the coolant pump", task: "todo 0"},
		{name: "nor is a reading", log: []LogRequest{{Task: "mount-pump", Readings: []daybook.Reading{{Check: "clamp-torque", Value: "4.1 N·m"}}}},
			single: true, began: "2026-03-02T09:00", what: "enter a reading on Mount the coolant pump", task: "todo 0"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, _ := workshop()
			before := now(t, a)
			var got Logged
			for _, r := range tt.log {
				got = mustLog(t, a, r)
			}
			if got.At != *at(tt.began) || got.Change.What != tt.what || got.Change.At != testkit.Now {
				t.Errorf("began %v, %q; want %s, %q", got.At, got.Change.What, tt.began, tt.what)
			}
			if b := brief(taskOf(t, a, tt.log[0].Task)); b != tt.task {
				t.Errorf("the task is %q, want %q", b, tt.task)
			}
			if single := len(got.Change.Edits) == 1; single != tt.single {
				t.Errorf("%d records changed", len(got.Change.Edits))
			}
			if n := now(t, a).Days.Len(); n != before.Days.Len()+len(tt.log) {
				t.Errorf("%d entries in the daybook", n)
			}
		})
	}
}

func TestLogKeepsWhatWasSaid(t *testing.T) {
	a, _ := workshop()
	r := LogRequest{Task: "mount-pump", Minutes: 95, Visits: 7, Note: " hoses next ", Photos: []string{"pump-1.jpg", "pump-2.jpg"},
		Readings: []daybook.Reading{{Check: "clamp-torque", Value: "3 N·m"}, {Check: "dry", Value: "yes"}}, Finished: true}
	got := mustLog(t, a, r)
	want := daybook.Entry{At: testkit.Now - 95, Task: "mount-pump", Minutes: 95, Visits: 7, Note: "hoses next",
		Photos: r.Photos, Readings: r.Readings, Finished: true}
	if diff := cmp.Diff(want, got.Entry); diff != "" {
		t.Errorf("the entry (- want, + got):\n%s", diff)
	}
	v, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]daybook.Entry{want}, v.Entries("mount-pump")); diff != "" {
		t.Errorf("in the daybook (- want, + got):\n%s", diff)
	}
}

func TestLogRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		r    LogRequest
		want string
	}{
		{"nothing", LogRequest{Task: "run-cable"}, "nothing to enter"},
		{"only spaces", LogRequest{Task: "run-cable", Note: "  "}, "nothing to enter"},
		{"less than no time", LogRequest{Task: "run-cable", Minutes: -5}, "-5 minutes are less than none"},
		{"more than a day", LogRequest{Task: "run-cable", Minutes: 1441}, "24h01 are more than a day has"},
		{"less than no trips", LogRequest{Task: "run-cable", Minutes: 5, Visits: -1}, "not -1"},
		{"too many trips", LogRequest{Task: "run-cable", Minutes: 5, Visits: 1001}, "not 1001"},
		{"a photo without a name", LogRequest{Task: "run-cable", Photos: []string{"a.jpg", " "}}, "a photo without a name"},
		{"a proof that is not owed", proof("mount-pump", "torque", "4 N·m"), `no proof "torque" is owed, only clamp-torque, dry`},
		{"a proof where none is owed", proof("run-cable", "torque", "4 N·m"), `no proof "torque" is owed, nor any other`},
		{"an empty reading", proof("mount-pump", "dry", " "), "the reading for dry is empty"},
		{"a reading without a unit", proof("mount-pump", "clamp-torque", "4"), "wanted 4 N·m ±10 %"},
		{"a reading in the wrong unit", proof("mount-pump", "clamp-torque", "4 mm"), "wanted 4 N·m ±10 %"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, _ := workshop()
			before, _ := a.Rev(ctx)
			_, err := a.Log(ctx, tt.r)
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), string(tt.r.Task)) {
				t.Errorf("Log = %v, want an error with %q and the task", err, tt.want)
			}
			if after, _ := a.Rev(ctx); after != before {
				t.Error("something was written")
			}
		})
	}
}

func proof(task id.Task, check id.Check, value string) LogRequest {
	return LogRequest{Task: task, Readings: []daybook.Reading{{Check: check, Value: value}}}
}

func TestLogOnAnUnknownTask(t *testing.T) {
	a, _ := workshop()
	_, err := a.Log(ctx, LogRequest{Task: "mount-pum", Minutes: 5})
	var name *answer.NameError
	if !errors.As(err, &name) || name.What != "task" || fmt.Sprint(name.Near) != "[mount-pump]" {
		t.Errorf("Log = %v, want a NameError near mount-pump", err)
	}
	if _, err := a.Start(ctx, "mount-pum"); !errors.As(err, &name) {
		t.Errorf("Start = %v, want a NameError", err)
	}
}

func TestLogOnATaskOfAnotherDesign(t *testing.T) {
	b := testkit.Workshop()
	b.Options = build.ListOf(build.Option{ID: "belt", Choice: "drive", Chosen: true}, build.Option{ID: "direct", Choice: "drive"})
	b.Tasks.Rows[5].Option = "direct"
	a := New(testkit.NewMemory(b), testkit.NewClock(testkit.Now).Now)
	if _, err := a.Log(ctx, LogRequest{Task: "fit-grinder", Minutes: 5}); err == nil || !strings.Contains(err.Error(), "option direct, which is not chosen") {
		t.Errorf("Log = %v", err)
	}
}

func TestLogAheadOfItsTurn(t *testing.T) {
	a, _ := workshop()
	got := mustLog(t, a, LogRequest{Task: "fit-panel", Minutes: 30})
	if len(got.Ahead) != 1 || got.Ahead[0].Kind != "edge" || got.Ahead[0].Ref != "mount-pump" {
		t.Errorf("ahead of %+v, want of the edge from mount-pump", got.Ahead)
	}
	if got.Change.What != "log 30m on Fit the bench panel, ahead of its turn" {
		t.Errorf("the change is %q", got.Change.What)
	}
	if got := mustLog(t, a, LogRequest{Task: "fit-panel", Note: "scratched"}); len(got.Ahead) > 0 {
		t.Errorf("a note came ahead of %+v", got.Ahead)
	}
	if got := mustLog(t, a, LogRequest{Task: "mount-pump", Minutes: 30}); len(got.Ahead) > 0 {
		t.Errorf("mount-pump came ahead of %+v", got.Ahead)
	}
}

// The panel closes in the pump, whose clamp torque must be proven before.
func TestLogSaysWhatItBuries(t *testing.T) {
	panel := LogRequest{Task: "fit-panel", Minutes: 60, Finished: true}
	for _, tt := range []struct {
		name  string
		pump  LogRequest
		panel LogRequest
		want  string
	}{
		{"unproven", LogRequest{Task: "mount-pump", Minutes: 60, Finished: true}, panel, "[mount-pump/clamp-torque]"},
		{"out of tolerance", withReading("4.5 N·m"), panel, "[mount-pump/clamp-torque]"},
		{"proven", withReading("4.4 N·m"), panel, "[]"},
		{"not finished", LogRequest{Task: "mount-pump", Minutes: 60}, LogRequest{Task: "fit-panel", Minutes: 60}, "[]"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, _ := workshop()
			mustLog(t, a, tt.pump)
			got := mustLog(t, a, tt.panel)
			owed := []string{}
			for _, o := range got.NotProved {
				owed = append(owed, fmt.Sprintf("%s/%s", o.Task, o.Check))
			}
			if fmt.Sprint(owed) != tt.want {
				t.Errorf("buried %v, want %s", owed, tt.want)
			}
		})
	}
}

// A task may have the name of an item. Then what it fits counts, not that item.
func TestBuriesForATaskNamedLikeAnItem(t *testing.T) {
	b := testkit.Workshop()
	b.Tasks.Rows[3].ID = "pump" // fits the panel
	b.Edges.Rows[1].After = "pump"
	a := New(testkit.NewMemory(b), testkit.NewClock(testkit.Now).Now)
	got := mustLog(t, a, LogRequest{Task: "pump", Minutes: 60, Finished: true})
	if len(got.NotProved) != 1 || got.NotProved[0].Check != "clamp-torque" {
		t.Errorf("buried %+v, want the clamp torque", got.NotProved)
	}
}

func withReading(value string) LogRequest {
	r := proof("mount-pump", "clamp-torque", value)
	r.Minutes, r.Finished = 60, true
	return r
}

// TestLogOfBrokenText: JSON cannot hold bytes that are not UTF-8 (RFC 8259, section 8.1); they are
// refused, not changed into something else.
func TestLogOfBrokenText(t *testing.T) {
	a, _ := workshop()
	before := now(t, a).Days.Len()
	for _, r := range []LogRequest{
		{Task: "run-cable", Minutes: 5, Note: "M\xe4rz"},
		{Task: "run-cable", Minutes: 5, Photos: []string{"M\xe4rz.jpg"}},
		{Task: "mount-pump", Minutes: 5, Readings: []daybook.Reading{{Check: "clamp-torque", Value: "4 N\xb7m"}}},
	} {
		if l, err := a.Log(ctx, r); err == nil || !strings.Contains(err.Error(), "not UTF-8") {
			t.Errorf("Log(%+v) = %+v, %v; want a word", r, l.Entry, err)
		}
	}
	if after := now(t, a).Days.Len(); after != before {
		t.Errorf("%d entries were %d", after, before)
	}
}
