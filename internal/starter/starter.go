// Package starter makes the build that a person begins with: a bare panel van with its places
// and the ways into them, hours to work in, and a first list of the trades in the order in
// which they usually come.
//
// All of it is common practice, no source, and meant to be changed: sizes are those of no
// van in particular. It knows nothing of files or screens.
package starter

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
)

// Answers are what a person says of a new build.
type Answers struct {
	Name     string
	Units    string // metric or imperial
	Van      Van
	Hours    calendar.Week // of the builder
	Helper   *calendar.Week
	Places   bool // with the places of the van
	Trades   bool // with a first list of work
	Heated   *calendar.Week
	Licensed bool // gas or mains is to be fitted, by somebody who may
}

// Van is a bare panel van, in millimetres.
type Van struct {
	Name                  string
	Wheelbase             float64
	Length, Width, Height float64 // of the load space
	FromAxle              float64 // where the load space begins, behind the front axle
}

// Vans are bare vans of three lengths, to choose from.
func Vans() []Van {
	return []Van{
		{Name: "short", Wheelbase: 3100, Length: 2600, Width: 1750, Height: 1650, FromAxle: 850},
		{Name: "medium", Wheelbase: 3650, Length: 3400, Width: 1780, Height: 1900, FromAxle: 900},
		{Name: "long", Wheelbase: 4300, Length: 4300, Width: 1780, Height: 1950, FromAxle: 900},
	}
}

// Build makes the build of a person's answers. The error is a build.Faults where the answers
// do not make one: sizes that are none, hours that overlap.
func Build(a Answers) (build.Build, error) {
	if faults := a.Van.check(); len(faults) > 0 {
		return build.Build{}, fmt.Errorf("a new build: %w", faults)
	}
	b := build.Build{Head: build.Head{Name: strings.TrimSpace(a.Name), Units: a.Units, Vehicle: a.Van.vehicle()},
		Resources: build.ListOf(a.resources()...)}
	if a.Places {
		b.Places = build.ListOf(a.Van.places()...)
	}
	if a.Trades {
		b.Tasks, b.Edges = build.ListOf(a.work()...), build.ListOf(a.order()...)
	}
	if faults := b.Check(); len(faults) > 0 {
		return build.Build{}, fmt.Errorf("a new build: %w", faults)
	}
	return b, nil
}

// Sizes of a van that can be driven on, in millimetres.
const leastSize, mostSize = 500, 20_000

func (v Van) check() build.Faults {
	var faults build.Faults
	for _, size := range []struct {
		name string
		mm   float64
	}{{"wheelbase", v.Wheelbase}, {"length", v.Length}, {"width", v.Width}, {"height", v.Height}} {
		if !(size.mm >= leastSize && size.mm <= mostSize) {
			faults.Add(size.name, "%g mm is no size of a van, want %d to %d", size.mm, leastSize, mostSize)
		}
	}
	if !(v.FromAxle >= -mostSize && v.FromAxle <= mostSize) {
		faults.Add("from axle", "%g mm is no place for a load space", v.FromAxle)
	}
	return faults
}

func (v Van) vehicle() *build.Vehicle {
	return &build.Vehicle{WheelbaseMm: v.Wheelbase,
		InsideMm: &access.Box{v.FromAxle, -v.Width / 2, 0, v.FromAxle + v.Length, v.Width / 2, v.Height}}
}

// resources are the hands and rooms that work needs.
func (a Answers) resources() []calendar.Resource {
	hours := a.Hours
	out := []calendar.Resource{{ID: "builder", Name: "Builder", Capacity: 1, Hours: &hours},
		{ID: "inside", Name: "Inside of the van", Capacity: 1}}
	if a.Helper != nil {
		out = append(out, calendar.Resource{ID: "helper", Name: "Helper", Capacity: 1, Hours: a.Helper})
	}
	if a.Heated != nil {
		out = append(out, calendar.Resource{ID: "warm", Name: "Workshop above 10 °C", Capacity: 1, Hours: a.Heated})
	}
	return out
}

// place is a place of the load space, as shares of its box.
type place struct {
	id      id.Place
	name    string
	posture string
	box     [6]float64
	enter   float64 // minutes, from the aisle
}

// places are those of a van with nothing in it yet, each entered from the aisle, and those
// around it.
func (v Van) places() []access.Place {
	out := []access.Place{{ID: "aisle", Name: "Aisle", Posture: "stand", Box: v.share([6]float64{0, 0.35, 0, 1, 0.65, 1}),
		Ways: []access.Way{{EnterMin: 0.5, Note: "through the side door or the rear doors"}}}}
	for _, p := range inside() {
		out = append(out, access.Place{ID: p.id, Name: p.name, Posture: p.posture, Box: v.share(p.box),
			Ways: []access.Way{{From: "aisle", EnterMin: p.enter}}})
	}
	cab := access.Box{-300, -v.Width / 2, 0, v.FromAxle - 50, v.Width / 2, 0.7 * v.Height}
	engine := access.Box{-900, -v.Width / 2, 0, -350, v.Width / 2, 0.45 * v.Height}
	under := access.Box{v.FromAxle, -v.Width / 2, -400, v.FromAxle + v.Length, v.Width / 2, -50}
	roof := access.Box{v.FromAxle, -v.Width / 2, v.Height + 50, v.FromAxle + v.Length, v.Width / 2, v.Height + 200}
	return append(out,
		access.Place{ID: "cab", Name: "Cab", Posture: "sit", Box: &cab, Ways: []access.Way{{EnterMin: 0.5}}},
		access.Place{ID: "engine-bay", Name: "Engine bay", Posture: "lean", Box: &engine, Ways: []access.Way{{EnterMin: 1, Note: "bonnet"}}},
		access.Place{ID: "roof", Name: "Roof", Posture: "kneel", Box: &roof, Ways: []access.Way{{EnterMin: 4, Note: "ladder"}}},
		access.Place{ID: "under-van", Name: "Under the van", Posture: "lie", Box: &under, Ways: []access.Way{{EnterMin: 3, Note: "on stands, wheels chocked"}}},
	)
}

// inside are the places of the load space beside the aisle.
func inside() []place {
	return []place{
		{"front-left", "Front left", "kneel", [6]float64{0, 0, 0, 0.34, 0.35, 1}, 0.2},
		{"middle-left", "Middle left", "kneel", [6]float64{0.34, 0, 0, 0.67, 0.35, 1}, 0.2},
		{"rear-left", "Rear left, over the wheel arch", "kneel", [6]float64{0.67, 0, 0, 1, 0.35, 1}, 0.2},
		{"front-right", "Front right, by the side door", "kneel", [6]float64{0, 0.65, 0, 0.34, 1, 1}, 0.2},
		{"middle-right", "Middle right", "kneel", [6]float64{0.34, 0.65, 0, 0.67, 1, 1}, 0.2},
		{"rear-right", "Rear right, over the wheel arch", "kneel", [6]float64{0.67, 0.65, 0, 1, 1, 1}, 0.2},
		{"floor", "Floor", "kneel", [6]float64{0, 0, 0, 1, 1, 0.04}, 0.1},
		{"ceiling", "Ceiling", "reach up", [6]float64{0, 0, 0.93, 1, 1, 1}, 0.1},
	}
}

// share gives a part of the load space, its corners as shares of length, width and height.
func (v Van) share(s [6]float64) *access.Box {
	x, y := v.FromAxle, -v.Width/2
	return &access.Box{x + s[0]*v.Length, y + s[1]*v.Width, s[2] * v.Height,
		x + s[3]*v.Length, y + s[4]*v.Width, s[5] * v.Height}
}
