package app

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// drawEntry draws an entry for one of the tasks that are not finished at the outset.
func drawEntry(t *rapid.T) LogRequest {
	began := testkit.Now - units.Instant(rapid.IntRange(0, 5000).Draw(t, "ago"))
	r := LogRequest{Task: rapid.SampledFrom([]id.Task{"mount-pump", "fit-panel", "fit-grinder"}).Draw(t, "task"), At: &began,
		Minutes: rapid.SampledFrom([]int{0, 1, 20, 45, 90, 480}).Draw(t, "minutes"), Visits: rapid.IntRange(0, 3).Draw(t, "visits"),
		Finished: rapid.IntRange(0, 4).Draw(t, "finished") == 0, Note: "n"}
	if r.Task == "mount-pump" && rapid.Bool().Draw(t, "reads") {
		r.Readings = []daybook.Reading{{Check: "clamp-torque", Value: "4.1 N·m"}}
	}
	return r
}

// booked gives what the entries of a task come to: hours and whether one finishes it, added up anew.
func booked(b build.Build, t id.Task) (minutes int, done, begun bool, end units.Instant) {
	for _, e := range b.Days.Rows {
		if e.Task != t {
			continue
		}
		minutes += e.Minutes
		begun = begun || worked(e)
		if e.Finished {
			done, end = true, e.End()
		}
	}
	return minutes, done, begun, end
}

// Whatever is logged, corrected, split and struck out, the tasks are as their entries add up,
// and taking every change back gives the first build, byte for byte.
func TestTasksFollowTheirEntries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		store := testkit.NewMemory(testkit.Workshop())
		a := New(store, testkit.NewClock(testkit.Now).Now)
		first, _, _ := store.Load(t.Context())
		changes := 0
		for range rapid.IntRange(1, 8).Draw(t, "steps") {
			c, err := step(t, a)
			if err != nil {
				t.Fatal(err)
			}
			if c.Seq != 0 {
				changes++
			}
			b, _, _ := store.Load(t.Context())
			checkBooked(t, b)
		}
		for range changes {
			if _, err := a.Undo(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
		back, _, _ := store.Load(t.Context())
		if diff := cmp.Diff(fmt.Sprint(first.Records()), fmt.Sprint(back.Records())); diff != "" {
			t.Fatalf("taken back (-first +back):\n%s", diff)
		}
	})
}

// step logs, corrects, splits or strikes an entry out.
func step(t *rapid.T, a *App) (build.Change, error) {
	v, err := a.View(t.Context())
	if err != nil {
		return build.Change{}, err
	}
	var keys []build.Key
	for i, e := range v.Build.Days.Rows {
		if e.Task != "frame-bench" && e.Task != "run-cable" {
			keys = append(keys, v.Build.Days.Keys[i])
		}
	}
	if len(keys) == 0 || rapid.IntRange(0, 3).Draw(t, "log") == 0 {
		l, err := a.Log(t.Context(), drawEntry(t))
		return l.Change, err
	}
	k := rapid.SampledFrom(keys).Draw(t, "entry")
	old, _ := v.Build.Days.ByKey(k)
	switch rapid.IntRange(0, 2).Draw(t, "how") {
	case 0:
		l, err := a.Correct(t.Context(), k, &old, drawEntry(t).entry(v.Now))
		return l.Change, err
	case 1:
		return a.Strike(t.Context(), k, &old)
	}
	if old.Minutes < 2 {
		return build.Change{}, nil
	}
	return a.Split(t.Context(), k, &old, Rest{Minutes: rapid.IntRange(1, old.Minutes-1).Draw(t, "rest"), Visits: rapid.IntRange(0, old.Visits).Draw(t, "rest visits"),
		Task: rapid.SampledFrom([]id.Task{"", "mount-pump", "fit-panel"}).Draw(t, "rest task")})
}

func checkBooked(t *rapid.T, b build.Build) {
	for _, task := range b.Tasks.Rows {
		if task.ID == "frame-bench" || task.ID == "run-cable" || task.ID == "glue-floor" {
			continue
		}
		minutes, done, begun, _ := booked(b, task.ID)
		want := tasks.Todo
		switch {
		case done:
			want = tasks.Finished
		case begun:
			want = tasks.Started
		}
		if task.State != want || plus(0, minutes) != task.SpentH || (task.FinishedAt != nil) != done {
			t.Fatalf("%s is %s with %v h, finished %v; its entries come to %d minutes: %s", task.ID, task.State, task.SpentH, task.FinishedAt, minutes, want)
		}
	}
}

// Correcting there and back gives the build as it was.
func TestCorrectingBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		store := testkit.NewMemory(testkit.Workshop())
		a := New(store, testkit.NewClock(testkit.Now).Now)
		if _, err := a.Log(t.Context(), drawEntry(t)); err != nil {
			t.Fatal(err)
		}
		before, _, _ := store.Load(t.Context())
		k := before.Days.Keys[0]
		for _, key := range before.Days.Keys {
			k = max(k, key)
		}
		old, _ := before.Days.ByKey(k)
		other := drawEntry(t).entry(testkit.Now)
		for _, to := range []daybook.Entry{other, old} {
			if _, err := a.Correct(t.Context(), k, nil, to); err != nil {
				t.Fatal(err)
			}
		}
		after, _, _ := store.Load(t.Context())
		if diff := cmp.Diff(fmt.Sprint(before.Records()), fmt.Sprint(after.Records())); diff != "" {
			t.Fatalf("there and back (-before +after):\n%s", diff)
		}
	})
}

// Splitting keeps minutes and trips in, and parts an entry where it says.
func TestSplit(t *testing.T) {
	store := testkit.NewMemory(testkit.Workshop())
	a := New(store, testkit.NewClock(testkit.Now).Now)
	l, err := a.Log(t.Context(), LogRequest{Task: "mount-pump", Minutes: 90, Visits: 5, Finished: true, Note: "both"})
	if err != nil {
		t.Fatal(err)
	}
	b, _, _ := store.Load(t.Context())
	k := b.Days.Keys[b.Days.Len()-1]
	c, err := a.Split(t.Context(), k, &l.Entry, Rest{Minutes: 30, Visits: 2, Task: "fit-panel"})
	if want := "split 1h30 of 2026-03-02 07:30 on Mount the coolant pump: 1h, then 30m on Fit the bench panel"; err != nil || c.What != want {
		t.Fatalf("%q, %v, want %q", c.What, err, want)
	}
	b, _, _ = store.Load(t.Context())
	rows := b.Days.Rows[b.Days.Len()-2:]
	want := []daybook.Entry{{At: testkit.Now - 90, Task: "mount-pump", Minutes: 60, Visits: 3, Note: "both", Finished: true},
		{At: testkit.Now - 30, Task: "fit-panel", Minutes: 30, Visits: 2}}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// What cannot be is refused with a word, and the daybook stays as it is.
func TestCorrectionsThatCannotBe(t *testing.T) {
	store := testkit.NewMemory(testkit.Workshop())
	a := New(store, testkit.NewClock(testkit.Now).Now)
	before, _, _ := store.Load(t.Context())
	k, old := before.Days.Keys[0], before.Days.Rows[0]
	other := old
	other.Minutes++
	for says, try := range map[string]func() error{
		"no entry 99":         func() error { _, err := a.Strike(t.Context(), 99, nil); return err },
		"no longer as it was": func() error { _, err := a.Strike(t.Context(), k, &other); return err },
		"is no longer there":  func() error { _, err := a.Strike(t.Context(), 99, &old); return err },
		"says nothing":        func() error { _, err := a.Correct(t.Context(), k, nil, daybook.Entry{Task: "fit-panel"}); return err },
		"more than a day": func() error {
			_, err := a.Correct(t.Context(), k, nil, daybook.Entry{Task: "fit-panel", Minutes: 1441})
			return err
		},
		`no task "pump"`: func() error {
			_, err := a.Correct(t.Context(), k, nil, daybook.Entry{Task: "pump", Minutes: 1})
			return err
		},
		"no proof": func() error {
			_, err := a.Correct(t.Context(), k, nil, daybook.Entry{Task: "fit-panel", Readings: []daybook.Reading{{Check: "x", Value: "1"}}})
			return err
		},
		"shorter than 4h10": func() error { _, err := a.Split(t.Context(), k, nil, Rest{Minutes: 250}); return err },
		"of its 3 trips in": func() error { _, err := a.Split(t.Context(), k, nil, Rest{Minutes: 20, Visits: 4}); return err },
		`no task "nobody-knows"`: func() error {
			_, err := a.Split(t.Context(), k, nil, Rest{Minutes: 20, Task: "nobody-knows"})
			return err
		},
	} {
		if err := try(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want it to say %q", err, says)
		}
	}
	if _, err := a.Strike(t.Context(), k, &other); !errors.Is(err, build.ErrStale) {
		t.Errorf("%v is not stale", err)
	}
	after, _, _ := store.Load(t.Context())
	if diff := cmp.Diff(fmt.Sprint(before.Records()), fmt.Sprint(after.Records())); diff != "" {
		t.Errorf("changed (-before +after):\n%s", diff)
	}
}
