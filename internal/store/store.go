// Package store keeps one build in one bbolt file.
package store

import (
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/units"
)

// File is a build on disk. It holds nothing open between calls.
type File struct{ path string }

// Open gives the build in an existing file, after looking at its schema.
func Open(path string) (*File, error) { panic("not written yet") }

// Create makes the file with b in it as its first change; build.ErrExists where there is a file.
func Create(path string, b build.Build, what string, at units.Instant) (*File, error) {
	panic("not written yet")
}
