// Package photo finds pictures in a folder. It reads names and times, never the pictures.
package photo

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// ErrNoFolder says that no folder for new pictures is set.
var ErrNoFolder = errors.New("no folder for pictures is set")

// endings are those of pictures.
func endings() []string {
	return []string{".jpg", ".jpeg", ".png", ".heic", ".webp", ".tif", ".tiff", ".dng"}
}

// Newest gives the whole path of the newest picture in a folder, by the time at which it was
// written; of those of one time the last by name. The error is ErrNoFolder for no folder, or
// says that there is no picture, or that the folder cannot be read.
func Newest(folder string) (string, error) {
	if strings.TrimSpace(folder) == "" {
		return "", ErrNoFolder
	}
	full, err := filepath.Abs(folder)
	if err != nil {
		return "", fmt.Errorf("pictures in %s: %w", folder, err)
	}
	entries, err := os.ReadDir(full)
	if err != nil {
		return "", fmt.Errorf("pictures in %s: %w", folder, err)
	}
	best, newest := "", time.Time{}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() || !isPicture(e.Name()) {
			continue
		}
		if best == "" || !info.ModTime().Before(newest) {
			best, newest = e.Name(), info.ModTime()
		}
	}
	if best == "" {
		return "", fmt.Errorf("there is no picture in %s", folder)
	}
	return filepath.Join(full, best), nil
}

// isPicture reports whether a file is a picture by its name; hidden files, and those still
// being copied, are none.
func isPicture(name string) bool {
	return !strings.HasPrefix(name, ".") && slices.Contains(endings(), strings.ToLower(filepath.Ext(name)))
}
