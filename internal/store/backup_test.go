package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
)

func TestBackupAndRestore(t *testing.T) {
	f := made(t, testkit.Workshop())
	for i := range 3 {
		if err := addEntry(f, fmt.Sprint("before ", i)); err != nil {
			t.Fatal(err)
		}
	}
	want := records(t, f)
	to := filepath.Join(t.TempDir(), "backup.van")
	if err := f.Backup(ctx, to); err != nil {
		t.Fatal(err)
	}
	if err := f.Backup(ctx, to); !errors.Is(err, build.ErrExists) {
		t.Errorf("over a backup: %v, want ErrExists", err)
	}
	mustBe(t, "the backup", records(t, &File{path: to}), want)

	for range 3 { // so that the backup's revision comes round again, with another build
		if _, err := f.Undo(ctx); err != nil {
			t.Fatal(err)
		}
	}
	_, old := load(t, f)
	if err := Restore(ctx, to, f.Path()); err != nil {
		t.Fatal(err)
	}
	if rev, err := f.Rev(ctx); err != nil || rev <= old {
		t.Errorf("Rev = %d, %v; want it above %d, or nobody notices", rev, err, old)
	}
	mustBe(t, "restored", records(t, f), want)
	if c, err := f.Undo(ctx); err != nil || c.What != "before 2" {
		t.Errorf("Undo = %v, %v; the history should have come back", c.What, err)
	}
	mustHaveNoOthers(t, filepath.Dir(to), filepath.Dir(f.Path()))
}

// mustHaveNoOthers checks that no half copies were left behind.
func mustHaveNoOthers(t *testing.T, dirs ...string) {
	t.Helper()
	for _, dir := range dirs {
		if files, err := os.ReadDir(dir); err != nil || len(files) != 1 {
			t.Errorf("%s holds %v (%v), want one file", dir, files, err)
		}
	}
}

func TestRestoreOverADamagedFile(t *testing.T) {
	f := made(t, testkit.Workshop())
	to := filepath.Join(t.TempDir(), "backup.van")
	if err := f.Backup(ctx, to); err != nil {
		t.Fatal(err)
	}
	want := records(t, f)
	for name, bad := range map[string][]byte{"empty": nil, "short": readFile(t, to)[:9000], "junk": []byte("junk")} {
		load(t, f) // so that the file in order is remembered
		writeFile(t, f.Path(), bad)
		if _, err := f.Rev(ctx); !errors.Is(err, build.ErrDamaged) {
			t.Errorf("%s: Rev = %v, want ErrDamaged", name, err)
		}
		if err := Restore(ctx, to, f.Path()); err != nil {
			t.Fatalf("over %s: %v", name, err)
		}
		mustBe(t, "restored", records(t, f), want)
	}
}

func TestADamagedFileIsNoBackup(t *testing.T) {
	path := unsound(t, testkit.Workshop())
	good := readFile(t, path)
	sealed := seal(string(build.EdgeKind), keyOf(2), records2(t, path, build.EdgeKind, 2))
	for _, at := range occurrences(good, sealed) {
		good[at+len(sealed)-3] ^= 1
	}
	writeFile(t, path, good)
	dir := t.TempDir()
	if err := (&File{path: path}).Backup(ctx, filepath.Join(dir, "b.van")); !errors.Is(err, build.ErrDamaged) {
		t.Errorf("Backup of a damaged file: %v, want ErrDamaged", err)
	}
	to := filepath.Join(dir, "c.van")
	if err := Restore(ctx, path, to); !errors.Is(err, build.ErrDamaged) {
		t.Errorf("Restore of a damaged file: %v, want ErrDamaged", err)
	}
	if files, _ := os.ReadDir(dir); len(files) > 0 {
		t.Errorf("it left %v behind", files)
	}
}

func records2(t *testing.T, path string, kind build.Kind, key build.Key) []byte {
	t.Helper()
	for _, r := range records(t, &File{path: path}) {
		if r.Kind == kind && r.Key == key {
			return r.Data
		}
	}
	t.Fatalf("no %s %d", kind, key)
	return nil
}

// Where one meta page is bad, the file can be read, and a copy of it written to.
func TestHalfAFile(t *testing.T) {
	path := wornFile(t, testkit.Workshop())
	bad := readFile(t, path)
	bad[70] ^= 1
	writeFile(t, path, bad)
	f := &File{path: path}
	load(t, f)
	if err := addEntry(f, "over the damage"); !errors.Is(err, build.ErrDamaged) {
		t.Errorf("written to: %v, want ErrDamaged", err)
	}
	if problems, err := f.Verify(ctx); err != nil || len(problems) != 1 || problems[0].Kind != "pages" {
		t.Errorf("Verify = %v, %v; want the one meta page", problems, err)
	}
	to := filepath.Join(t.TempDir(), "copy.van")
	if err := f.Backup(ctx, to); err != nil {
		t.Fatal(err)
	}
	copied := &File{path: to}
	if err := addEntry(copied, "into the copy"); err != nil {
		t.Error(err)
	}
	mustBeSound(t, copied)
}
