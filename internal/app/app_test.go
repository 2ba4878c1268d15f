package app

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

func TestViewIsTheSameWhileNothingChanges(t *testing.T) {
	a, clock := workshop()
	first, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := a.View(ctx); again != first {
		t.Error("it was made anew")
	}
	clock.Advance(1)
	later, _ := a.View(ctx)
	if later == first || later.Now != testkit.Now+1 {
		t.Errorf("a minute later it is of %v", later.Now)
	}
	mustLog(t, a, LogRequest{Task: "run-cable", Minutes: 5})
	if after, _ := a.View(ctx); after == later || after.Build.Days.Len() != later.Build.Days.Len()+1 {
		t.Error("the entry is not in it")
	}
	if later.Build.Days.Len() != 2 {
		t.Error("the old view has changed")
	}
}

func TestPlanningTime(t *testing.T) {
	b := testkit.Workshop()
	own := testkit.Now + 10*units.Day
	b.Head.Now = &own
	s := testkit.NewMemory(b)
	for _, tt := range []struct {
		name string
		a    *App
		want units.Instant
	}{
		{"the build's own", New(s, testkit.NewClock(testkit.Now).Now), own},
		{"whatever the build says", NewAt(s, testkit.Now-units.Day), testkit.Now - units.Day},
	} {
		v, err := tt.a.View(ctx)
		if err != nil || v.Now != tt.want {
			t.Errorf("%s: %v, %v; want %v", tt.name, v.Now, err, tt.want)
		}
		if l := mustLog(t, tt.a, LogRequest{Task: "run-cable", Minutes: 10}); l.End() != tt.want {
			t.Errorf("%s: logged until %v, want %v", tt.name, l.End(), tt.want)
		}
	}
}

func TestSave(t *testing.T) {
	a, _ := workshop()
	edge := deps.Edge{Before: "run-cable", After: "fit-panel", Kind: deps.Must, Why: "it runs behind"}
	c, err := a.Save(ctx, build.EdgeKind, 0, edge)
	if err != nil || c.What != "add edge run-cable -> fit-panel" || c.Seq != 2 {
		t.Fatalf("Save = %d %q, %v", c.Seq, c.What, err)
	}
	b := now(t, a)
	key := b.Edges.Keys[b.Edges.Len()-1]
	edge.Kind = deps.Should
	if c, err := a.Save(ctx, build.EdgeKind, key, edge); err != nil || c.What != "change edge run-cable -> fit-panel" {
		t.Errorf("Save over it = %q, %v", c.What, err)
	}
	if got, _ := now(t, a).Edges.ByKey(key); got.Kind != deps.Should {
		t.Errorf("the edge is %+v", got)
	}
	if c, err := a.Save(ctx, build.EdgeKind, key, edge); err != nil || c.Seq != 0 {
		t.Errorf("Save of the same = seq %d, %v; want no change", c.Seq, err)
	}
	if _, err := a.Save(ctx, build.EdgeKind, 99, edge); !errors.Is(err, build.ErrStale) {
		t.Errorf("Save over nothing = %v, want ErrStale", err)
	}
	var faults build.Faults
	edge = deps.Edge{Before: "fit-panel", After: "mount-pump", Kind: deps.Must}
	if _, err := a.Save(ctx, build.EdgeKind, 0, edge); !errors.As(err, &faults) || !faults[0].Cycle {
		t.Errorf("Save of a loop = %v, want its fault", err)
	}
	if c, err := a.Save(ctx, build.HeadKind, 0, build.Head{Name: "Grindstone"}); err != nil || c.What != "change the head of the build" {
		t.Errorf("Save of the head = %q, %v", c.What, err)
	}
	if h, err := a.History(ctx, 0); err != nil || len(h) != 4 || h[0].Edits != nil {
		t.Errorf("History = %v, %v", h, err)
	}
}

// A form is open on a task while somebody logs work on it: the work must not be lost.
func TestSaveOver(t *testing.T) {
	a, _ := workshop()
	base := taskOf(t, a, "run-cable")
	mine := base
	mine.Name = "Run the long cable"
	mustLog(t, a, LogRequest{Task: "run-cable", Minutes: 60})
	if _, err := a.SaveOver(ctx, build.TaskKind, 2, base, mine); !errors.Is(err, build.ErrStale) {
		t.Errorf("SaveOver = %v, want ErrStale", err)
	}
	base = taskOf(t, a, "run-cable")
	mine = base
	mine.Name = "Run the long cable"
	if _, err := a.SaveOver(ctx, build.TaskKind, 2, base, mine); err != nil {
		t.Error(err)
	}
	if got := taskOf(t, a, "run-cable"); got.Name != mine.Name || got.SpentH != 2 {
		t.Errorf("the task is %+v", got)
	}
}

func TestRemove(t *testing.T) {
	a, _ := workshop()
	c, also, err := a.Remove(ctx, build.TaskKind, 4)
	if err != nil || c.What != "remove task Fit the bench panel" || len(also) != 1 {
		t.Fatalf("Remove = %q, %v, %v", c.What, also, err)
	}
	if b := now(t, a); b.Tasks.Len() != 5 || b.Edges.Len() != 3 {
		t.Errorf("%d tasks, %d edges are left", b.Tasks.Len(), b.Edges.Len())
	}
	var inUse *build.InUseError
	if _, _, err := a.Remove(ctx, build.TaskKind, 1); !errors.As(err, &inUse) {
		t.Errorf("Remove of a task with entries = %v, want InUseError", err)
	}
	if _, _, err := a.Remove(ctx, build.TaskKind, 4); !errors.Is(err, build.ErrStale) {
		t.Errorf("Remove once more = %v, want ErrStale", err)
	}
	if _, err := a.Start(ctx, "run-cable"); err != nil {
		t.Fatal(err)
	}
	if c, _, err := a.Remove(ctx, build.ClockKind, 1); err != nil || c.What != "remove the clock" || now(t, a).Clock != nil {
		t.Errorf("Remove of the clock = %q, %v", c.What, err)
	}
}

func TestImportIsOneChange(t *testing.T) {
	a := onFile(t)
	before := lines(now(t, a).Records())
	next := build.Build{Tasks: build.ListOf(tasks.Task{ID: "paint", Hours: units.Sure(2), Visits: 1, State: tasks.Todo, Uses: tasks.Uses{"builder": 1}})}
	if c, err := a.Import(ctx, next, "import other.json"); err != nil || c.What != "import other.json" {
		t.Fatalf("Import = %q, %v", c.What, err)
	}
	if b := now(t, a); b.Tasks.Len() != 1 || b.Items.Len() != 0 || b.Head.Name != "" {
		t.Errorf("%d tasks, %d items, %q", b.Tasks.Len(), b.Items.Len(), b.Head.Name)
	}
	if c, err := a.Save(ctx, build.HeadKind, 1, build.Head{Name: "Painted"}); err != nil {
		t.Errorf("%s: %v", c.What, err)
	}
	for range 2 {
		if _, err := a.Undo(ctx); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(before, lines(now(t, a).Records())); diff != "" {
		t.Errorf("undone (- before, + now):\n%s", diff)
	}
	if c, err := a.Redo(ctx); err != nil || c.What != "import other.json" {
		t.Errorf("Redo = %q, %v", c.What, err)
	}
	bad := build.Build{Tasks: build.ListOf(tasks.Task{ID: "Paint!"})}
	var faults build.Faults
	if _, err := a.Import(ctx, bad, "import bad.json"); !errors.As(err, &faults) {
		t.Errorf("Import of a build at fault = %v, want its faults", err)
	}
	if problems, err := a.Verify(ctx); err != nil || len(problems) > 0 {
		t.Errorf("Verify = %v, %v", problems, err)
	}
}

// TestMergeIsOfTheBuildAsItIs: a rival logs work between our reading and our writing. Neither its
// entry nor the running clock is lost.
func TestMergeIsOfTheBuildAsItIs(t *testing.T) {
	a := onFile(t)
	if _, err := a.Start(ctx, "glue-floor"); err != nil {
		t.Fatal(err)
	}
	rival, asked := New(a.store, a.now), 0
	merge := func(b build.Build) (build.Build, string, error) {
		if asked++; asked == 1 {
			if _, err := rival.Log(ctx, LogRequest{Task: "run-cable", Minutes: 5, Note: "the rival"}); err != nil {
				t.Fatal(err)
			}
		}
		b.Head.Name = "Merged"
		return b, "import head.csv", nil
	}
	if c, err := a.Merge(ctx, merge); err != nil || c.What != "import head.csv" || len(c.Edits) != 1 {
		t.Fatalf("Merge = %+v, %v; want one edit", c, err)
	}
	b := now(t, a)
	if b.Head.Name != "Merged" || b.Clock == nil || b.Days.Rows[b.Days.Len()-1].Note != "the rival" || asked != 2 {
		t.Errorf("after %d asks: %q, clock %v, last entry %+v", asked, b.Head.Name, b.Clock, b.Days.Rows[b.Days.Len()-1])
	}
	same := func(b build.Build) (build.Build, string, error) { return b, "nothing", nil }
	if c, err := a.Merge(ctx, same); err != nil || c.Seq != 0 {
		t.Errorf("Merge of no difference = %+v, %v; want no change", c, err)
	}
}

// rival is a store that another process writes to just before each commit of ours.
type rival struct {
	*testkit.Memory
	times int
}

func (r *rival) Commit(ctx context.Context, c build.Change, rev build.Rev) (build.Change, build.Rev, error) {
	if r.times != 0 {
		r.times--
		other := New(r.Memory, testkit.NewClock(testkit.Now).Now)
		if _, err := other.Log(ctx, LogRequest{Task: "run-cable", Minutes: 60, Note: "rival"}); err != nil {
			return c, 0, err
		}
	}
	return r.Memory.Commit(ctx, c, rev)
}

func TestChangesOfOthersAreNotLost(t *testing.T) {
	s := &rival{Memory: testkit.NewMemory(testkit.Workshop()), times: 3}
	a := New(s, testkit.NewClock(testkit.Now).Now)
	mustLog(t, a, LogRequest{Task: "run-cable", Minutes: 30})
	if got := brief(taskOf(t, a, "run-cable")); got != "started 4.5" { // 1 and 3 × 1 and 0.5
		t.Errorf("the task is %q", got)
	}
}

func TestGivingUpOnOthers(t *testing.T) {
	s := &rival{Memory: testkit.NewMemory(testkit.Workshop()), times: -1}
	gone, cancel := context.WithCancel(ctx)
	tries := 0
	a := New(s, func() units.Instant {
		if tries++; tries == 9 {
			cancel()
		}
		return testkit.Now
	})
	if _, err := a.Log(gone, LogRequest{Task: "run-cable", Minutes: 30}); !errors.Is(err, context.Canceled) {
		t.Errorf("Log of somebody who has gone = %v, want context.Canceled", err)
	}
}

func TestManyAtOnceLoseNothing(t *testing.T) {
	const people, each = 4, 10
	one := onFile(t)
	var wait sync.WaitGroup
	for n := range people {
		a := one
		if n%2 == 1 { // some share an App, some have their own
			a = New(one.store, one.now)
		}
		wait.Go(func() {
			for range each {
				if _, err := a.Log(ctx, LogRequest{Task: "run-cable", Minutes: 30}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	if got := brief(taskOf(t, one, "run-cable")); got != "started 21" { // 1 and 40 × 0.5
		t.Errorf("the task is %q", got)
	}
	if problems, err := one.Verify(ctx); err != nil || len(problems) > 0 {
		t.Errorf("Verify = %v, %v", problems, err)
	}
}

// Law: whatever was done, undo gives the first build back step by step, and redo the last.
func TestUndoOfEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, clock := workshop()
		states := [][]string{records(t, a)}
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			clock.Advance(rapid.IntRange(0, 90).Draw(t, "minutes"))
			before, _ := a.Rev(ctx)
			doSomething(t, a)
			if after, _ := a.Rev(ctx); after != before {
				states = append(states, records(t, a))
			}
		}
		for i := len(states) - 2; i >= 0; i-- {
			turn(t, a.Undo, a, states[i])
		}
		if _, err := a.Undo(ctx); !errors.Is(err, build.ErrNothing) {
			t.Fatalf("one Undo too many = %v", err)
		}
		for _, want := range states[1:] {
			turn(t, a.Redo, a, want)
		}
		if problems, err := a.Verify(ctx); err != nil || len(problems) > 0 {
			t.Fatal(problems, err)
		}
	})
}

func records(t *rapid.T, a *App) []string {
	v, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return lines(v.Build.Records())
}

func turn(t *rapid.T, step func(context.Context) (build.Change, error), a *App, want []string) {
	c, err := step(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, records(t, a)); diff != "" {
		t.Fatalf("turning %q (- want, + got):\n%s", c.What, diff)
	}
}

// doSomething does what a person might; that it is refused is as good.
func doSomething(t *rapid.T, a *App) {
	task := rapid.SampledFrom(testkit.Workshop().Tasks.Rows).Draw(t, "task").ID
	var err error
	switch rapid.IntRange(0, 6).Draw(t, "action") {
	case 0, 1:
		_, err = a.Log(ctx, LogRequest{Task: task, Minutes: rapid.IntRange(1, 300).Draw(t, "minutes"), Finished: rapid.Bool().Draw(t, "finished")})
	case 2:
		_, err = a.Start(ctx, task)
	case 3:
		_, err = a.Stop(ctx, LogRequest{})
	case 4:
		_, err = a.TripIn(ctx)
	case 5:
		_, _, err = a.Remove(ctx, rapid.SampledFrom(build.Kinds()[1:]).Draw(t, "kind"), build.Key(rapid.IntRange(1, 6).Draw(t, "key")))
	case 6:
		row := deps.Edge{Before: task, After: "fit-grinder", Kind: deps.Should, Why: fmt.Sprint(rapid.IntRange(0, 5).Draw(t, "why"))}
		_, err = a.Save(ctx, build.EdgeKind, build.Key(rapid.IntRange(0, 4).Draw(t, "key")), row)
	}
	if errors.Is(err, build.ErrBusy) || errors.Is(err, build.ErrDamaged) {
		t.Fatal(err)
	}
}
