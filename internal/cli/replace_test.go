package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

func holds(t *testing.T, path, want string) {
	t.Helper()
	if text, err := os.ReadFile(path); err != nil || string(text) != want {
		t.Errorf("%s holds %q (%v), want %q", path, text, err, want)
	}
}

func TestReplaceNewAndOld(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "way.svg")
	for _, text := range []string{"first", "second, longer", ""} {
		if err := replaceFile(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		holds(t, path, text)
	}
	if in, err := os.ReadDir(dir); err != nil || len(in) != 1 {
		t.Errorf("it leaves other files behind: %v, %v", in, err)
	}
}

// A file keeps its rights, and what a link points to is written, not the link.
func TestReplaceKeepsRightsAndLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links and rights are of another kind there")
	}
	dir := t.TempDir()
	file, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	if err := errors.Join(os.WriteFile(file, []byte("old"), 0o600), os.Symlink(file, link)); err != nil {
		t.Fatal(err)
	}
	if err := replaceFile(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, file, "new")
	if at, err := os.Lstat(link); err != nil || at.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is %v (%v), want a link still", at.Mode(), err)
	}
	if at, err := os.Stat(file); err != nil || at.Mode().Perm() != 0o600 {
		t.Errorf("the rights are %v (%v), want -rw-------", at.Mode(), err)
	}
}

// Whoever mistypes FILE must not lose a build. The file is made by bbolt itself.
func TestReplaceSparesBuilds(t *testing.T) {
	path := filepath.Join(t.TempDir(), "heron.van")
	db, err := bbolt.Open(path, 0o600, nil)
	if err == nil {
		err = db.Close()
	}
	before, read := os.ReadFile(path)
	if err := errors.Join(err, read); err != nil {
		t.Fatal(err)
	}
	if err := replaceFile(path, []byte("<svg/>")); !errors.Is(err, build.ErrExists) {
		t.Errorf("over a build: %v, want ErrExists", err)
	}
	holds(t, path, string(before))
}

func TestReplaceRefuses(t *testing.T) {
	dir := t.TempDir()
	for path, why := range map[string]string{
		dir:                                   "it is a folder",
		filepath.Join(dir, "none", "way.svg"): "no such file or directory",
	} {
		err := replaceFile(path, []byte("<svg/>"))
		if err == nil || !strings.HasPrefix(err.Error(), path+": ") || strings.Contains(err.Error(), ".vanlog-") {
			t.Errorf("%s: %v, want the name and why, nothing of the file between", path, err)
		}
		if runtime.GOOS != "windows" && err != nil && !strings.HasSuffix(err.Error(), why) {
			t.Errorf("%s: %v, want %q", path, err, why)
		}
	}
}

// A pipe, as the shell makes one for >(…), is written to and stays a pipe.
func TestReplaceWritesIntoWhatIsNoFile(t *testing.T) {
	if _, err := os.Stat("/dev/fd"); err != nil {
		t.Skip("no /dev/fd here")
	}
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if err := replaceFile(fmt.Sprintf("/dev/fd/%d", w.Fd()), []byte("<svg/>")); err != nil {
		t.Fatal(err)
	}
	w.Close()
	if text, err := io.ReadAll(r); err != nil || string(text) != "<svg/>" {
		t.Errorf("the pipe gave %q (%v)", text, err)
	}
}
