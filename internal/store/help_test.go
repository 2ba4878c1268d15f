package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/testkit"
)

// made makes a file with b in it. When the test is over, the file must be sound.
func made(t testing.TB, b build.Build) *File {
	t.Helper()
	f, err := Create(filepath.Join(t.TempDir(), "test.van"), b, "new build", testkit.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { mustBeSound(t, f) })
	return f
}

// unsound makes a file that the test may break.
func unsound(t testing.TB, b build.Build) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "test.van")
	if _, err := Create(path, b, "new build", testkit.Now); err != nil {
		t.Fatal(err)
	}
	return path
}

func mustBeSound(t testing.TB, f *File) {
	t.Helper()
	problems, err := f.Verify(context.Background())
	if err != nil || len(problems) > 0 {
		t.Errorf("Verify of %s = %v, %v", f.path, problems, err)
	}
}

func load(t testing.TB, f *File) (build.Build, build.Rev) {
	t.Helper()
	b, rev, err := f.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return b, rev
}

// loader is what loads a build: a File, a Memory.
type loader interface {
	Load(context.Context) (build.Build, build.Rev, error)
}

func records(t testing.TB, l loader) []build.Record {
	t.Helper()
	b, _, err := l.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return b.Records()
}

func mustBe(t testing.TB, what string, got, want []build.Record) {
	t.Helper()
	if diff := cmp.Diff(texts(want), texts(got)); diff != "" {
		t.Fatalf("%s (- want, + got):\n%s", what, diff)
	}
}

func texts(rs []build.Record) []string {
	out := make([]string, len(rs))
	for i, r := range rs {
		out[i] = fmt.Sprintf("%s %d %s", r.Kind, r.Key, r.Data)
	}
	return out
}

func commit(t testing.TB, f *File, what string, edits ...build.Edit) build.Change {
	t.Helper()
	_, rev := load(t, f)
	c, _, err := f.Commit(context.Background(), build.Change{At: testkit.Now, What: what, Edits: edits}, rev)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	return c
}

// addEntry adds a daybook entry, as another process might at the same time.
func addEntry(f *File, note string) error {
	ctx := context.Background()
	for {
		b, rev, err := f.Load(ctx)
		if err != nil {
			return err
		}
		e := daybook.Entry{At: testkit.Now, Task: "run-cable", Minutes: 5, Note: note}
		c := build.Change{At: testkit.Now, What: note, Edits: []build.Edit{b.Adding(build.DayKind, e, 0)}}
		if _, _, err = f.Commit(ctx, c, rev); !errors.Is(err, build.ErrStale) {
			return err
		}
	}
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func writeFile(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}
