package store

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// row makes a record of a kind that goes with the workshop; n tells them apart.
func row(kind build.Kind, n int) any {
	name := fmt.Sprintf("new-%d", n)
	switch kind {
	case build.HeadKind:
		return build.Head{Name: name, Units: "metric"}
	case build.ResourceKind:
		return calendar.Resource{ID: id.Resource(name), Capacity: calendar.Capacity(1 + n%3)}
	case build.PlaceKind:
		return access.Place{ID: id.Place(name), Ways: []access.Way{{From: "cabin", EnterMin: float64(n)}}}
	case build.ItemKind:
		return access.Item{ID: id.Item(name), Place: "roof", MassKg: float64(n)}
	case build.PartKind:
		return parts.Part{ID: id.Part(name), Qty: 2, LeadDays: units.Sure(float64(n % 30))}
	case build.TaskKind:
		return tasks.Task{ID: id.Task(name), Hours: units.Sure(float64(n%9 + 1)), Visits: 1, Uses: tasks.Uses{"builder": 1}, State: tasks.Todo}
	case build.EdgeKind:
		return deps.Edge{Before: "frame-bench", After: "fit-grinder", Kind: deps.Should, ReworkH: float64(n % 5), Why: name}
	case build.OptionKind:
		return build.Option{ID: id.Option(name), Choice: name, Chosen: true}
	case build.StockKind:
		return cutlist.Stock{ID: id.Stock(name), Kerf: "2.4 mm", Lengths: []cutlist.Length{{Length: "3000 mm"}}}
	case build.CutKind:
		return cutlist.Cut{ID: id.Cut(name), Stock: "bar", Length: "712 mm", Qty: 3}
	case build.DayKind:
		return daybook.Entry{At: testkit.Now - units.Instant(n%5000), Task: "run-cable", Minutes: n % 100, Note: name}
	case build.SnagKind:
		return daybook.Snag{ID: id.Snag(name), At: testkit.Now, What: name, Item: "pump"}
	case build.ClockKind:
		return daybook.Clock{Task: "run-cable", Since: testkit.Now - units.Instant(n%60)}
	}
	panic("no kind " + kind)
}

// full is the workshop with at least one record of every kind, that nothing refers to.
func full() build.Build {
	b := testkit.Workshop()
	b.Stocks = build.ListOf(cutlist.Stock{ID: "bar", Kerf: "2 mm"}, cutlist.Stock{ID: "tube"})
	b.Cuts = build.ListOf(cutlist.Cut{ID: "c1", Stock: "bar", Length: "400 mm", Qty: 1})
	b.Options = build.ListOf(build.Option{ID: "oak", Choice: "top", Chosen: true})
	b.Snags = build.ListOf(daybook.Snag{ID: "drip", At: testkit.Now, What: "It drips"})
	b.Clock = &daybook.Clock{Task: "run-cable", Since: testkit.Now}
	return b
}

// keysOf gives the keys of the records of a kind.
func keysOf(b build.Build, kind build.Kind) (keys []build.Key) {
	for _, r := range b.Records() {
		if r.Kind == kind {
			keys = append(keys, r.Key)
		}
	}
	return keys
}

// turns makes every change of a kind that there is: add, edit, remove.
func turns(b build.Build, kind build.Kind) map[string]build.Edit {
	keys := keysOf(b, kind)
	last := keys[len(keys)-1]
	out := map[string]build.Edit{
		"edit":   b.Editing(kind, last, row(kind, 7)),
		"remove": b.Removing(kind, last),
	}
	if kind != build.HeadKind && kind != build.ClockKind {
		out["add"] = b.Adding(kind, row(kind, 8), 0)
	}
	return out
}

// Law: undo after a change gives back the build before it, redo the one after it, for
// every kind of record and every kind of change.
func TestUndoGivesBackEveryKindOfChange(t *testing.T) {
	f := made(t, full())
	for _, kind := range build.Kinds() {
		b, _ := load(t, f)
		for what, edit := range turns(b, kind) {
			commit(t, f, what+" "+string(kind), edit)
			mustTurnBack(t, f, b)
		}
	}
	b, _ := load(t, f)
	commit(t, f, "import", b.Replacing(testkit.Workshop())...)
	mustTurnBack(t, f, b)
}

// mustTurnBack undoes, redoes and undoes the newest change; before is the build without it.
func mustTurnBack(t *testing.T, f *File, before build.Build) {
	t.Helper()
	after := records(t, f)
	for _, step := range []struct {
		turn func() (build.Change, error)
		want []build.Record
	}{
		{func() (build.Change, error) { return f.Undo(ctx) }, before.Records()},
		{func() (build.Change, error) { return f.Redo(ctx) }, after},
		{func() (build.Change, error) { return f.Undo(ctx) }, before.Records()},
	} {
		c, err := step.turn()
		if err != nil {
			t.Fatal(err)
		}
		mustBe(t, "turning "+c.What, records(t, f), step.want)
	}
}

func TestWhatIsDoneMeanwhileEndsRedo(t *testing.T) {
	f := made(t, testkit.Workshop())
	for _, note := range []string{"one", "two", "three"} {
		if err := addEntry(f, note); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 {
		if _, err := f.Undo(ctx); err != nil {
			t.Fatal(err)
		}
	}
	if c, err := f.Redo(ctx); err != nil || c.What != "two" || c.Undone {
		t.Errorf("Redo = %v, %v; want two, done", c, err)
	}
	if err := addEntry(f, "four"); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Redo(ctx); !errors.Is(err, build.ErrNothing) {
		t.Errorf("Redo after something else: %v, want ErrNothing", err)
	}
	if c, err := f.Undo(ctx); err != nil || c.What != "four" || !c.Undone {
		t.Errorf("Undo = %v, %v; want four, undone", c, err)
	}
	if c, err := f.Redo(ctx); err != nil || c.What != "four" {
		t.Errorf("Redo = %v, %v; want four, not what was dropped", c, err)
	}
	for range 3 {
		if _, err := f.Undo(ctx); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := f.Undo(ctx); !errors.Is(err, build.ErrNothing) {
		t.Errorf("Undo of the making of the file: %v, want ErrNothing", err)
	}
	got, err := f.History(ctx, 3)
	if err != nil || fmt.Sprint(briefs(got)) != "[5 four - 4 three - 3 two -]" {
		t.Errorf("History = %v, %v", briefs(got), err)
	}
}

// briefs gives changes with a minus behind those that are undone.
func briefs(cs []build.Change) (out []string) {
	for _, c := range cs {
		s := fmt.Sprintf("%d %s", c.Seq, c.What)
		if c.Undone {
			s += " -"
		}
		out = append(out, s)
	}
	return out
}

// Law: the file does what the store in memory does, whatever is done in whatever order.
func TestFileLikeMemory(t *testing.T) {
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		f, err := Create(filepath.Join(dir, fmt.Sprintf("%d.van", n)), full(), "new build", testkit.Now)
		if err != nil {
			t.Fatal(err)
		}
		m := testkit.NewMemory(full())
		for step := range rapid.IntRange(1, 12).Draw(t, "steps") {
			switch rapid.SampledFrom([]string{"do", "do", "undo", "undo", "redo"}).Draw(t, "turn") {
			case "do":
				doBoth(t, f, m, step)
			case "undo":
				sameTurn(t, "undo", f.Undo, m.Undo)
			case "redo":
				sameTurn(t, "redo", f.Redo, m.Redo)
			}
			mustAgree(t, f, m)
		}
		mustBeSoundButForFaults(t, f)
	})
}

// doBoth makes a change of some random edits in both stores.
func doBoth(t *rapid.T, f *File, m *testkit.Memory, step int) {
	b, rev, _ := m.Load(ctx)
	c := build.Change{At: testkit.Now + units.Instant(step), What: fmt.Sprint("change ", step)}
	for nth := range rapid.IntRange(0, 3).Draw(t, "edits") {
		c.Edits = append(c.Edits, randomEdit(t, b, nth))
	}
	want, wantRev, wantErr := m.Commit(ctx, c, rev)
	got, gotRev, gotErr := f.Commit(ctx, c, rev)
	if errors.Is(wantErr, build.ErrStale) != errors.Is(gotErr, build.ErrStale) || (wantErr == nil) != (gotErr == nil) ||
		want.Seq != got.Seq || gotRev != wantRev {
		t.Fatalf("Commit = seq %d, rev %d, %v; in memory %d, %d, %v", got.Seq, gotRev, gotErr, want.Seq, wantRev, wantErr)
	}
}

// randomEdit may clash with another of the same change: then both stores must refuse.
func randomEdit(t *rapid.T, b build.Build, nth int) build.Edit {
	kind := rapid.SampledFrom(build.Kinds()).Draw(t, "kind")
	n := rapid.IntRange(0, 9999).Draw(t, "n")
	keys := keysOf(b, kind)
	if len(keys) == 0 || rapid.Bool().Draw(t, "add") {
		if kind == build.HeadKind || kind == build.ClockKind {
			return b.Editing(kind, 1, row(kind, n))
		}
		return b.Adding(kind, row(kind, n), nth)
	}
	key := rapid.SampledFrom(keys).Draw(t, "key")
	if rapid.Bool().Draw(t, "remove") {
		return b.Removing(kind, key)
	}
	return b.Editing(kind, key, row(kind, n))
}

// sameTurn undoes or redoes in both stores.
func sameTurn(t *rapid.T, what string, file, memory func(context.Context) (build.Change, error)) {
	want, wantErr := memory(ctx)
	got, gotErr := file(ctx)
	if errors.Is(wantErr, build.ErrNothing) != errors.Is(gotErr, build.ErrNothing) || want.Seq != got.Seq || want.Undone != got.Undone {
		t.Fatalf("%s = %d, %v; in memory %d, %v", what, got.Seq, gotErr, want.Seq, wantErr)
	}
}

// mustAgree compares all that the two stores say.
func mustAgree(t *rapid.T, f *File, m *testkit.Memory) {
	want, wantRev, err := m.Load(ctx)
	got, gotRev, gotErr := f.Load(ctx)
	if err != nil || gotErr != nil || gotRev != wantRev {
		t.Fatalf("Load: rev %d, %v; in memory %d, %v", gotRev, gotErr, wantRev, err)
	}
	if diff := cmp.Diff(texts(want.Records()), texts(got.Records())); diff != "" {
		t.Fatalf("builds differ (- memory, + file):\n%s", diff)
	}
	a, _ := m.History(ctx, 0)
	b, err := f.History(ctx, 0)
	if diff := cmp.Diff(a, b); diff != "" || err != nil {
		t.Fatalf("histories differ (- memory, + file): %v\n%s", err, diff)
	}
}

// mustBeSoundButForFaults lets random edits leave the build at fault: to refuse that is
// the work of build.Apply.
func mustBeSoundButForFaults(t *rapid.T, f *File) {
	t.Helper()
	problems, err := f.Verify(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		if p.Kind != "build" {
			t.Fatal(p)
		}
	}
}
