package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
)

func TestMigrationsAreInOrder(t *testing.T) {
	for i, m := range migrations {
		if m.to != uint32(i+1) {
			t.Errorf("migration %d leads to schema %d", i, m.to)
		}
	}
}

// goldenFile gives the name of the file kept of a schema.
func goldenFile(schema uint32) string { return fmt.Sprintf("testdata/schema%d.van.golden", schema) }

func TestEveryMigrationHasAnOldFile(t *testing.T) {
	for _, m := range migrations {
		if _, err := os.Stat(goldenFile(m.to - 1)); err != nil {
			t.Errorf("the migration to schema %d has no %s to be tested with", m.to, goldenFile(m.to-1))
		}
	}
}

// Every file that was ever written can be opened, comes out sound and can be written to.
// The golden files are never made anew: they are what users have.
func TestOldFilesOpen(t *testing.T) {
	for schema := range latest() + 1 {
		t.Run(fmt.Sprint("schema ", schema), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "old.van")
			old := readFile(t, goldenFile(schema))
			writeFile(t, path, old)
			f, err := Open(path)
			if err != nil {
				t.Fatal(err)
			}
			mustBeSound(t, f)
			if schema > 0 {
				if notes := notesOf(t, f); notes["as far as the step"] != 1 || notes["golden 3"] != 1 {
					t.Errorf("its daybook holds %v", notes)
				}
				if err := addEntry(f, "today"); err != nil {
					t.Error(err)
				}
			}
			b, _ := load(t, f)
			commit(t, f, "rename", b.Editing(build.HeadKind, 1, build.Head{Name: "Renamed"}))
			if _, err := f.Undo(ctx); err != nil {
				t.Error(err)
			}
			mustBeSound(t, f)
			kept, err := os.ReadFile(fmt.Sprintf("%s.bak-v%d", path, schema))
			if wanted := 0 < schema && schema < latest(); wanted != (err == nil) {
				t.Errorf("a copy of the old file was kept: %v, want %v (%d bytes)", err == nil, wanted, len(kept))
			}
		})
	}
}

func TestNewerFilesAreRefused(t *testing.T) {
	path := unsound(t, testkit.Workshop())
	open := &File{path: path}
	load(t, open)
	rawUpdate(t, path, func(tx *bolt.Tx) error { return putSchema(tx, latest()+1) })
	want := readFile(t, path)
	if _, err := Open(path); !errors.Is(err, build.ErrNewer) {
		t.Errorf("Open = %v, want ErrNewer", err)
	}
	if _, _, err := open.Load(ctx); !errors.Is(err, build.ErrNewer) {
		t.Errorf("Load of one that was open before = %v, want ErrNewer", err)
	}
	if _, err := open.Undo(ctx); !errors.Is(err, build.ErrNewer) {
		t.Errorf("Undo = %v, want ErrNewer", err)
	}
	if string(readFile(t, path)) != string(want) {
		t.Error("the file was written to")
	}
}

// Each migration may count on the one before, none runs twice, and all or none are kept.
func TestMigrateRunsWhatIsDue(t *testing.T) {
	path := unsound(t, testkit.Workshop())
	var ran []string
	now := latest()
	step := func(to uint32, err error) migration {
		return migration{to, func(tx *bolt.Tx) error {
			have, _ := schemaOf(tx)
			ran = append(ran, fmt.Sprintf("%d->%d", have, to))
			return err
		}}
	}
	bad := errors.New("cannot")
	db, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = db.Update(func(tx *bolt.Tx) error {
		return migrate(tx, []migration{step(now, bad), step(now+1, nil), step(now+2, bad)})
	})
	if !errors.Is(err, bad) || !strings.Contains(err.Error(), fmt.Sprintf("from schema %d to %d", now+1, now+2)) {
		t.Errorf("migrate = %v", err)
	}
	err = db.Update(func(tx *bolt.Tx) error {
		return migrate(tx, []migration{step(now, bad), step(now+1, nil), step(now+2, nil)})
	})
	if err != nil {
		t.Error(err)
	}
	once := fmt.Sprintf("%d->%d %d->%d", now, now+1, now+1, now+2)
	if got := fmt.Sprint(ran); got != "["+once+" "+once+"]" {
		t.Errorf("ran %s; the first time must have left nothing behind", got)
	}
	_ = db.View(func(tx *bolt.Tx) error {
		if have, err := schemaOf(tx); have != now+2 || err != nil {
			t.Errorf("schema %d, %v; want %d", have, err, now+2)
		}
		return nil
	})
}

func TestMigrateKeepsACopy(t *testing.T) {
	path := unsound(t, testkit.Workshop())
	f := &File{path: path}
	if err := f.migrate(ctx, 1); err != nil {
		t.Fatal(err)
	}
	mustBe(t, "the copy", records(t, &File{path: path + ".bak-v1"}), records(t, f))
	if err := f.migrate(ctx, 1); err != nil { // again, after a failure half way
		t.Error(err)
	}
}
