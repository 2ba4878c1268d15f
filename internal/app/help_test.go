package app

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/store"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
)

var ctx = context.Background()

// Both stores are what App asks for.
var (
	_ Store = (*store.File)(nil)
	_ Store = (*testkit.Memory)(nil)
)

// workshop gives an App on the workshop in memory, and its clock.
func workshop() (*App, *testkit.Clock) {
	clock := testkit.NewClock(testkit.Now)
	return New(testkit.NewMemory(testkit.Workshop()), clock.Now), clock
}

// onFile gives an App on the workshop in a file.
func onFile(t testing.TB) *App {
	t.Helper()
	f, err := store.Create(filepath.Join(t.TempDir(), "a.van"), testkit.Workshop(), "new build", testkit.Now)
	if err != nil {
		t.Fatal(err)
	}
	return New(f, testkit.NewClock(testkit.Now).Now)
}

// now gives the build as it is.
func now(t testing.TB, a *App) build.Build {
	t.Helper()
	v, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return v.Build
}

func taskOf(t testing.TB, a *App, name id.Task) tasks.Task {
	t.Helper()
	for _, x := range now(t, a).Tasks.Rows {
		if x.ID == name {
			return x
		}
	}
	t.Fatalf("no task %s", name)
	return tasks.Task{}
}

func mustLog(t testing.TB, a *App, r LogRequest) Logged {
	t.Helper()
	l, err := a.Log(ctx, r)
	if err != nil {
		t.Fatalf("Log(%+v): %v", r, err)
	}
	return l
}

// brief gives what a log does to a task: state, hours spent, hours left, finish.
func brief(t tasks.Task) string {
	s := fmt.Sprintf("%s %v", t.State, t.SpentH)
	if t.LeftH != nil {
		s += fmt.Sprintf(" left %v", *t.LeftH)
	}
	if t.FinishedAt != nil {
		s += fmt.Sprintf(" at %v", t.FinishedAt)
	}
	return s
}

func lines(rs []build.Record) []string {
	out := make([]string, len(rs))
	for i, r := range rs {
		out[i] = fmt.Sprintf("%s %d %s", r.Kind, r.Key, r.Data)
	}
	return out
}
