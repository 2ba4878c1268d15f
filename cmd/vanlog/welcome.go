package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/vanlog/internal/cli"
	"example.com/vanlog/internal/tui"
	"example.com/vanlog/internal/tui/welcome"
)

// greet asks a person who has no build how to begin.
func greet(ctx context.Context, says string, begin func(cli.Beginning) error) (bool, error) {
	w := welcome.World{Files: buildsHere, There: there, Read: func(path string) ([]byte, error) { return os.ReadFile(home(path)) }}
	o, err := onTerminal()
	if err != nil {
		return false, err
	}
	begun, err := tui.Welcome(ctx, o, w, says, func(b welcome.Beginning) error {
		b.Path = home(b.Path)
		return begin(cli.Beginning(b))
	})
	return begun, ended(err)
}

// buildsHere gives the builds in this folder, by their names.
func buildsHere() []string {
	found, err := filepath.Glob("*.van")
	if err != nil {
		return nil
	}
	return found
}

func there(path string) bool {
	_, err := os.Stat(home(path))
	return !errors.Is(err, fs.ErrNotExist)
}

// home gives a path that a person typed: where it begins with ~, in the home folder.
func home(path string) string {
	rest, ok := strings.CutPrefix(path, "~/")
	dir, err := os.UserHomeDir()
	if !ok || err != nil {
		return path
	}
	return filepath.Join(dir, rest)
}
