package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"example.com/vanlog/internal/build"
)

// replaceFile writes a file so that there is always a whole one under its name. A link to a file
// stays a link, and the file keeps its rights; a device or a pipe is written to, not replaced. A build
// is never written over: the error wraps build.ErrExists. Errors name path.
func replaceFile(path string, text []byte) error {
	if err := replace(path, text); err != nil {
		var at *fs.PathError // of the file that is written before it gets its name
		var between *os.LinkError
		switch {
		case errors.As(err, &at):
			err = at.Err
		case errors.As(err, &between):
			err = between.Err
		}
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

func replace(path string, text []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return writeWhole(path, text, 0o644)
	case err != nil:
		return err
	case info.IsDir():
		return errors.New("it is a folder")
	case !info.Mode().IsRegular():
		return writeInto(path, text)
	}
	is, err := isBuild(path)
	if err != nil {
		return err
	}
	if is {
		return fmt.Errorf("it is a build: %w", build.ErrExists)
	}
	return writeWhole(path, text, info.Mode().Perm())
}

// isBuild reports whether a file looks like one that a build is kept in: a bbolt file, whose first
// page has this number behind its header of 16 bytes (bbolt, internal/common, Magic).
func isBuild(path string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	head := make([]byte, 20)
	if _, err := io.ReadFull(f, head); err != nil {
		return false, nil // too short to be one
	}
	little, big := []byte{0xED, 0xDA, 0x0C, 0xED}, []byte{0xED, 0x0C, 0xDA, 0xED}
	return bytes.Equal(head[16:], little) || bytes.Equal(head[16:], big), nil
}

// writeInto writes to what is no file, such as a pipe.
func writeInto(path string, text []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if closing := f.Close(); err == nil {
		err = closing
	}
	return err
}

// writeWhole writes a file beside path and then gives it that name.
func writeWhole(path string, text []byte, rights fs.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".vanlog-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // it is gone once it has been renamed
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Chmod(f.Name(), rights)
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
