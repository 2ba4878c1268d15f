package build_test

import (
	"errors"
	"slices"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// workshop is a small van with a little of everything that refers to something.
func workshop() build.Build {
	task := func(name string, change func(*tasks.Task)) tasks.Task {
		t := tasks.Task{ID: id.Task(name), Hours: units.Sure(2)}
		t.SetDefaults()
		if change != nil {
			change(&t)
		}
		return t
	}
	edge := func(before, after string) deps.Edge {
		return deps.Edge{Before: id.Task(before), After: id.Task(after), Kind: deps.Must, Why: "it carries the other"}
	}
	return build.Build{
		Head: build.Head{Name: "Tool van"},
		Places: build.ListOf(
			access.Place{ID: "aisle"},
			access.Place{ID: "bay", ClosedBy: []id.Item{"frame"}, Ways: []access.Way{{From: "aisle", Through: []id.Item{"board"}}}}),
		Items: build.ListOf(
			access.Item{ID: "frame", Place: "aisle"},
			access.Item{ID: "board", Place: "aisle", Covers: []id.Item{"frame"}},
			access.Item{ID: "pump", Place: "bay", Blocks: []string{"board"}}),
		Tasks: build.ListOf(
			task("set-frame", func(t *tasks.Task) { t.Fits = []id.Item{"frame"} }),
			task("fit-pump", func(t *tasks.Task) { t.Place, t.Reaches = "bay", []id.Item{"pump"} }),
			task("close-up", nil)),
		Edges: build.ListOf(edge("set-frame", "fit-pump"), edge("fit-pump", "close-up")),
		Days:  build.ListOf(daybook.Entry{At: 1000, Task: "set-frame", Minutes: 30}),
	}
}

func TestWorkshopIsSound(t *testing.T) {
	if faults := workshop().Check(); len(faults) > 0 {
		t.Fatalf("Check() =\n%v", faults)
	}
}

func TestAssembleIsTheInverseOfRecords(t *testing.T) {
	want := workshop()
	got, err := build.Assemble(want.Records())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Assemble(Records()) differs (-want +got):\n%s", diff)
	}
}

// randomEdits makes a few edits that keep a build sound.
func randomEdits(t *rapid.T, b build.Build) []build.Edit {
	row := b.Tasks.Rows[rapid.IntRange(0, b.Tasks.Len()-1).Draw(t, "task")]
	switch rapid.IntRange(0, 4).Draw(t, "what") {
	case 0:
		row.ID = id.Task(rapid.StringMatching(`n[a-z0-9]{5}`).Draw(t, "id"))
		return []build.Edit{b.Adding(build.TaskKind, row, 0)}
	case 1:
		row.Name = rapid.StringMatching(`\PC{0,20}`).Draw(t, "name")
		at := slices.IndexFunc(b.Tasks.Rows, func(x tasks.Task) bool { return x.ID == row.ID })
		return []build.Edit{b.Editing(build.TaskKind, b.Tasks.Keys[at], row)}
	case 2:
		at := rapid.Int64Range(0, 3000).Draw(t, "at")
		return []build.Edit{b.Adding(build.DayKind, daybook.Entry{At: units.Instant(at), Task: row.ID, Minutes: 5}, 0)}
	case 3:
		return []build.Edit{b.Editing(build.ClockKind, 1, daybook.Clock{Task: row.ID, Since: 5})}
	}
	if b.Edges.Len() == 0 {
		return []build.Edit{b.Editing(build.HeadKind, 1, build.Head{Name: "Edgeless"})}
	}
	at := rapid.IntRange(0, b.Edges.Len()-1).Draw(t, "edge")
	return []build.Edit{b.Removing(build.EdgeKind, b.Edges.Keys[at])}
}

func TestInverseGivesTheBuildBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps, changes := []build.Build{workshop()}, []build.Change{}
		for range rapid.IntRange(1, 12).Draw(t, "changes") {
			now := steps[len(steps)-1]
			c := build.Change{Edits: randomEdits(t, now)}
			next, err := now.Apply(c)
			if err != nil {
				t.Fatalf("Apply(%+v): %v", c, err)
			}
			steps, changes = append(steps, next), append(changes, c)
		}
		for i, c := range slices.Backward(changes) {
			back, err := steps[i+1].Apply(c.Inverse())
			if err != nil {
				t.Fatalf("Apply(Inverse(%+v)): %v", c, err)
			}
			if diff := cmp.Diff(steps[i].Records(), back.Records()); diff != "" {
				t.Fatalf("undone build differs (-want +got):\n%s", diff)
			}
		}
	})
}

func TestApplyLeavesTheOldBuildAlone(t *testing.T) {
	old := workshop()
	before := old.Records()
	row := old.Tasks.Rows[0]
	row.Name = "renamed"
	if _, err := old.Apply(build.Change{Edits: []build.Edit{old.Editing(build.TaskKind, 1, row)}}); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, old.Records()); diff != "" {
		t.Errorf("the old build changed (-want +got):\n%s", diff)
	}
}

func TestApplyRefuses(t *testing.T) {
	b := workshop()
	stale := b.Editing(build.TaskKind, 1, b.Tasks.Rows[0])
	stale.Before = []byte(`{"id":"other"}`)
	if _, err := b.Apply(build.Change{Edits: []build.Edit{stale}}); !errors.Is(err, build.ErrStale) {
		t.Errorf("Apply of an edit of something else: %v, want ErrStale", err)
	}
	loop := deps.Edge{Before: "close-up", After: "set-frame", Kind: deps.Must}
	_, err := b.Apply(build.Change{Edits: []build.Edit{b.Adding(build.EdgeKind, loop, 0)}})
	var faults build.Faults
	if !errors.As(err, &faults) || len(faults) != 1 || !faults[0].Cycle {
		t.Errorf("Apply of an edge that closes a loop: %v, want one fault about the loop", err)
	}
}

func TestReplacingLeadsToTheOther(t *testing.T) {
	from, to := workshop(), workshop()
	to.Head.Name, to.Tasks.Rows[2].Name = "Another van", "Close it"
	to.Days = build.List[daybook.Entry]{}
	got, err := from.Apply(build.Change{Edits: from.Replacing(to)})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(to.Records(), got.Records()); diff != "" {
		t.Errorf("Replacing differs (-want +got):\n%s", diff)
	}
}

func TestRemovalTakesWhatMeansNothingAlone(t *testing.T) {
	b := workshop()
	for _, tt := range []struct {
		kind  build.Kind
		key   build.Key
		also  int
		inUse bool
	}{
		{build.TaskKind, 3, 1, false},  // close-up: its edge
		{build.TaskKind, 1, 0, true},   // set-frame: a daybook entry
		{build.ItemKind, 1, 3, false},  // frame: closed_by, covers, fits
		{build.ItemKind, 2, 2, false},  // board: a way through it, blocks
		{build.PlaceKind, 1, 0, true},  // aisle: items and a way
		{build.EdgeKind, 1, 0, false},  // nothing hangs on an edge
		{build.PlaceKind, 99, 0, true}, // not there
	} {
		edits, also, err := b.RemovalOf(tt.kind, tt.key)
		if (err != nil) != tt.inUse || len(also) != tt.also {
			t.Errorf("RemovalOf(%s, %d) also %q, %v; want %d, refused %v", tt.kind, tt.key, also, err, tt.also, tt.inUse)
		}
		if err != nil {
			continue
		}
		if _, err := b.Apply(build.Change{Edits: edits}); err != nil {
			t.Errorf("Apply(RemovalOf(%s, %d)): %v", tt.kind, tt.key, err)
		}
	}
}
