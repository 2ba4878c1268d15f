package photo

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestNewest(t *testing.T) {
	dir := t.TempDir()
	begin := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	for name, minutes := range map[string]int{"a.jpg": 1, "b.JPG": 5, "c.png": 3, "notes.txt": 9, ".hidden.jpg": 9, "d.jpg.part": 9} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		at := begin.Add(time.Duration(minutes) * time.Minute)
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "z.jpg"), 0o700); err != nil {
		t.Fatal(err)
	}
	if got, err := Newest(dir); err != nil || got != filepath.Join(dir, "b.JPG") {
		t.Errorf("the newest picture is %q, %v", got, err)
	}
}

func TestNoPicture(t *testing.T) {
	if _, err := Newest(" "); !errors.Is(err, ErrNoFolder) {
		t.Errorf("no folder: %v", err)
	}
	if got, err := Newest(t.TempDir()); err == nil {
		t.Errorf("in an empty folder there is %q", got)
	}
	if _, err := Newest(filepath.Join(t.TempDir(), "none")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("in no folder: %v", err)
	}
}
