// Package demo holds the demonstration build: DIPPER, a van that becomes a mobile
// field lab with a bunk for a river ecologist. Everything in it is invented.
//
// The build is the file dipper.json, in the form of a build file, and is edited there.
package demo

import (
	"bytes"
	_ "embed"
	"fmt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/exchange"
	"example.com/vanlog/internal/units"
)

//go:embed dipper.json
var file []byte

// present is the Wednesday that dipper.json is written for, 2026-03-04. The
// daybook ends on the Saturday before, so that no entry lies in the future on
// any day of that week.
const present units.Date = 20516

// Build gives the demonstration build, its dates moved by whole weeks so that
// its present is the week of now. It ends six weeks of daybook before that. Each call
// gives a build of its own.
func Build(now units.Instant) build.Build {
	b, err := exchange.ReadJSON(bytes.NewReader(file))
	if err != nil {
		panic(fmt.Sprintf("the demo build is at fault: %v", err)) // it is part of the program
	}
	move(&b, now.Date().Monday()-present.Monday())
	return b
}

// move moves every date of b by some days.
func move(b *build.Build, days units.Date) {
	by := days.Start()
	for _, r := range b.Resources.Rows {
		for i := range r.Off {
			r.Off[i].From += days
			r.Off[i].To += days
		}
		for i := range r.On {
			r.On[i].Date += days
		}
	}
	for _, p := range b.Parts.Rows {
		moveWhens(by, p.Ordered, p.Due, p.Arrived)
	}
	for _, t := range b.Tasks.Rows {
		moveWhens(by, t.NotBefore, t.NotAfter, t.FinishedAt)
	}
	for i := range b.Days.Rows {
		b.Days.Rows[i].At += by
	}
}

// moveWhens moves the times that are given.
func moveWhens(by units.Instant, times ...*units.When) {
	for _, w := range times {
		if w != nil {
			w.At += by
		}
	}
}
