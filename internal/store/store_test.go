package store

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

var ctx = context.Background()

func TestCreateThenLoadIsEqual(t *testing.T) {
	want := testkit.Workshop()
	f := made(t, want)
	mustBe(t, "loaded", records(t, f), want.Records())
	again, err := Open(f.Path())
	if err != nil {
		t.Fatal(err)
	}
	mustBe(t, "opened and loaded", records(t, again), want.Records())
	if h, err := again.History(ctx, 0); err != nil || len(h) != 1 || h[0].What != "new build" || h[0].At != testkit.Now {
		t.Errorf("History = %v, %v", h, err)
	}
}

func TestCreateNeverWritesOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.van")
	writeFile(t, path, []byte("precious"))
	if _, err := Create(path, build.Build{}, "", 0); !errors.Is(err, build.ErrExists) {
		t.Errorf("Create over a file: %v, want ErrExists", err)
	}
	if got := readFile(t, path); string(got) != "precious" {
		t.Errorf("the file is now %q", got)
	}
}

func TestCreateLeavesNothingBehind(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.van")
	bad := build.Build{Tasks: build.ListOf(tasks.Task{ID: "Not A Name", Hours: units.Sure(1)})}
	var faults build.Faults
	if _, err := Create(path, bad, "", 0); !errors.As(err, &faults) {
		t.Errorf("Create of a build at fault: %v, want its faults", err)
	}
	f := &File{path: path}
	stop := errors.New("stop")
	if err := f.create(func(*bolt.Tx) error { return stop }); !errors.Is(err, stop) {
		t.Errorf("create = %v", err)
	}
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the file is there: %v", err)
	}
}

func TestWhatIsNoBuild(t *testing.T) {
	dir := t.TempDir()
	for name, data := range map[string]string{
		"empty": "", "short": "x", "text": strings.Repeat("notes\n", 5000), "zeros": strings.Repeat("\x00", 1<<16),
	} {
		writeFile(t, filepath.Join(dir, name), []byte(data))
	}
	foreign(t, filepath.Join(dir, "foreign"))
	for _, tt := range []struct {
		name string
		want error
	}{
		{"absent", build.ErrAbsent}, {".", build.ErrAbsent}, {"empty", build.ErrDamaged}, {"short", build.ErrDamaged},
		{"text", build.ErrDamaged}, {"zeros", build.ErrDamaged}, {"foreign", build.ErrDamaged},
	} {
		path := filepath.Join(dir, tt.name)
		before, _ := os.ReadFile(path)
		_, err := Open(path)
		if !errors.Is(err, tt.want) || !strings.Contains(err.Error(), path) {
			t.Errorf("Open(%s) = %v, want %v and the name of the file", tt.name, err, tt.want)
		}
		if after, _ := os.ReadFile(path); string(after) != string(before) {
			t.Errorf("Open(%s) has changed the file", tt.name)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "absent")); err == nil {
		t.Error("Open has made a file")
	}
}

// foreign makes a bbolt file of some other program.
func foreign(t *testing.T, path string) {
	t.Helper()
	rawUpdate(t, path, func(tx *bolt.Tx) error {
		_, err := tx.CreateBucket([]byte("songs"))
		return err
	})
}

// rawUpdate changes a file behind our back.
func rawUpdate(t testing.TB, path string, fn func(*bolt.Tx) error) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.Update(fn); err != nil {
		t.Fatal(err)
	}
}

func TestCommitChecksWhatWasThere(t *testing.T) {
	f := made(t, testkit.Workshop())
	b, rev := load(t, f)
	task, _ := b.Tasks.ByKey(2)
	task.Name = "Run the long feed cable"
	good := build.Change{What: "rename", Edits: []build.Edit{b.Editing(build.TaskKind, 2, task)}}
	stale := good
	stale.Edits = []build.Edit{good.Edits[0]}
	stale.Edits[0].Before = []byte(`{"id":"run-cable","hours":1}`)
	before := records(t, f)

	if _, _, err := f.Commit(ctx, good, rev+1); !errors.Is(err, build.ErrStale) {
		t.Errorf("at another revision: %v, want ErrStale", err)
	}
	if _, _, err := f.Commit(ctx, stale, rev); !errors.Is(err, build.ErrStale) {
		t.Errorf("with another record before: %v, want ErrStale", err)
	}
	if _, _, err := f.Commit(ctx, build.Change{Edits: []build.Edit{{Kind: build.TaskKind, Key: 9, After: []byte(`{`)}}}, rev); err == nil {
		t.Error("half a record was taken")
	}
	if _, _, err := f.Commit(ctx, build.Change{Edits: []build.Edit{{Kind: "boat", Key: 9, After: []byte(`{}`)}}}, rev); err == nil {
		t.Error("a record of no kind was taken")
	}
	mustBe(t, "after refusals", records(t, f), before)

	c, next, err := f.Commit(ctx, good, rev)
	if err != nil || c.Seq != 2 || next != rev+1 {
		t.Fatalf("Commit = seq %d, rev %d, %v; want 2, %d", c.Seq, next, err, rev+1)
	}
	after, at := load(t, f)
	if got, _ := after.Tasks.ByKey(2); got.Name != task.Name || at != next {
		t.Errorf("the task is %q at %d, want %q at %d", got.Name, at, task.Name, next)
	}
}

func TestSpacesInARecordMeanNothing(t *testing.T) {
	f := made(t, testkit.Workshop())
	b, _ := load(t, f)
	e := b.Removing(build.EdgeKind, 1)
	e.Before = []byte(strings.Replace(string(e.Before), `,`, ` ,  `, 1))
	commit(t, f, "unlink", e)
}

func TestAHeadThatSaysNothing(t *testing.T) {
	f := made(t, testkit.Workshop())
	b, _ := load(t, f)
	commit(t, f, "forget the head", b.Editing(build.HeadKind, 1, build.Head{}))
	b, _ = load(t, f)
	commit(t, f, "name it again", b.Editing(build.HeadKind, 1, build.Head{Name: "Grindstone"}))
	if b, _ = load(t, f); b.Head.Name != "Grindstone" {
		t.Errorf("the name is %q", b.Head.Name)
	}
}

func TestRevSeesWhatOthersWrite(t *testing.T) {
	mine := made(t, testkit.Workshop())
	theirs, err := Open(mine.Path())
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		if err := addEntry(theirs, "theirs"); err != nil {
			t.Fatal(err)
		}
		if i == 3 {
			if _, err := theirs.Undo(ctx); err != nil {
				t.Fatal(err)
			}
		}
		_, want := load(t, theirs)
		if got, err := mine.Rev(ctx); err != nil || got != want {
			t.Errorf("Rev = %d, %v; want %d", got, err, want)
		}
		if !mine.seen.Load().stillAt(mine.path) {
			t.Error("asked again, it would lock the file")
		}
	}
}

func TestRevOfAFileThatWasReplaced(t *testing.T) {
	f := made(t, testkit.Workshop())
	if err := addEntry(f, "one"); err != nil {
		t.Fatal(err)
	}
	other := made(t, build.Build{})
	if err := os.Rename(other.Path(), f.Path()); err != nil {
		t.Fatal(err)
	}
	if rev, err := f.Rev(ctx); err != nil || rev != 1 {
		t.Errorf("Rev = %d, %v; want that of the other file, 1", rev, err)
	}
	if b, _ := load(t, f); b.Tasks.Len() != 0 {
		t.Error("the old build was loaded")
	}
	copyForCleanup(t, f.Path(), other.Path())
}

// copyForCleanup puts a file back where the cleanup of a test looks for it.
func copyForCleanup(t *testing.T, from, to string) {
	t.Helper()
	writeFile(t, to, readFile(t, from))
}

func TestBusy(t *testing.T) {
	f := made(t, testkit.Workshop())
	db, err := bolt.Open(f.Path(), 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Load(ctx); !errors.Is(err, build.ErrBusy) {
		t.Errorf("Load beside a writer: %v, want ErrBusy", err)
	}
	gone, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := f.Undo(gone); !errors.Is(err, context.Canceled) || errors.Is(err, build.ErrBusy) {
		t.Errorf("Undo of somebody who has gone: %v", err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Load(ctx); err != nil {
		t.Errorf("afterwards: %v", err)
	}
}

func TestReadOnly(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write every file")
	}
	f := made(t, testkit.Workshop())
	if err := os.Chmod(f.Path(), 0o400); err != nil {
		t.Fatal(err)
	}
	b, rev := load(t, f)
	c := build.Change{Edits: []build.Edit{b.Removing(build.EdgeKind, 1)}}
	if _, _, err := f.Commit(ctx, c, rev); !errors.Is(err, build.ErrReadOnly) || !errors.Is(err, os.ErrPermission) {
		t.Errorf("Commit = %v, want ErrReadOnly and its cause", err)
	}
	if err := os.Chmod(filepath.Dir(f.Path()), 0o500); err != nil {
		t.Fatal(err)
	}
	if _, err := Create(f.Path()+"2", b, "", 0); !errors.Is(err, build.ErrReadOnly) {
		t.Errorf("Create = %v, want ErrReadOnly", err)
	}
	if err := os.Chmod(filepath.Dir(f.Path()), 0o700); err != nil {
		t.Fatal(err)
	}
}
