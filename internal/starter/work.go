package starter

import (
	"slices"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// phase is one of the trades that a conversion goes through, as one task to be split up.
type phase struct {
	id                id.Task
	name, trade       string
	low, likely, high float64 // hours of one person
	place             id.Place
	cure              float64 // hours
	after             id.Task
	why               string
	checks            []tasks.Check
	licensed          bool
}

// phases are the trades in the order in which they usually come.
func phases() []phase { return slices.Concat(shell(), fitting(), finishing()) }

// shell is the work on the bare van.
func shell() []phase {
	return []phase{
		{id: "strip", name: "Take out linings and bulkhead, keep every clip", trade: "strip", low: 3, likely: 5, high: 9, place: "aisle"},
		{id: "survey", name: "Measure and photograph what will be hidden: ribs, factory holes, looms", trade: "survey",
			low: 1.5, likely: 3, high: 5, place: "aisle", after: "strip", why: "it is seen only with the linings out",
			checks: []tasks.Check{{ID: "bare-photos", Kind: "photo", What: "Every bay photographed bare", BeforeCover: true}}},
		{id: "rust", name: "Treat rust, seal the floor", trade: "body", low: 3, likely: 5, high: 12, place: "floor", cure: 24,
			after: "survey", why: "what is hidden must be sound"},
		{id: "openings", name: "Cut and fit windows, vents and roof openings", trade: "body", low: 8, likely: 14, high: 24, place: "aisle", cure: 24,
			after: "rust", why: "swarf and cut edges come before anything that they could spoil",
			checks: []tasks.Check{{ID: "edges-primed", Kind: "photo", What: "Cut edges primed", BeforeCover: true},
				{ID: "hose-test", Kind: "test", What: "No water inside after the hose test", BeforeCover: true}}},
		{id: "anchors", name: "Set threaded inserts and floor anchors", trade: "metal", low: 4, likely: 7, high: 12, place: "aisle",
			after: "openings", why: "furniture and tanks hang on them",
			checks: []tasks.Check{{ID: "anchor-pull", Kind: "test", What: "Each anchor pulled", BeforeCover: true}}},
		{id: "first-fix", name: "First fix: conduits, cables, hoses, spare draw-cords", trade: "electric", low: 14, likely: 22, high: 40, place: "aisle",
			after: "anchors", why: "it runs behind the insulation",
			checks: []tasks.Check{{ID: "runs-photo", Kind: "photo", What: "Every run photographed with a rule in the picture", BeforeCover: true},
				{ID: "continuity", Kind: "test", What: "Each core belled out and labelled", BeforeCover: true}}},
	}
}

// fitting is the work from the walls to the frames and what is mounted in them.
func fitting() []phase {
	return []phase{
		{id: "insulate", name: "Insulate walls and ceiling", trade: "insulation", low: 8, likely: 12, high: 20, place: "aisle",
			after: "first-fix", why: "cables and hoses lie behind it"},
		{id: "subfloor", name: "Battens, insulation and boards of the floor", trade: "floor", low: 6, likely: 10, high: 16, place: "floor", cure: 12,
			after: "anchors", why: "anchors go through the steel floor"},
		{id: "linings", name: "Line the walls and the ceiling", trade: "joinery", low: 10, likely: 16, high: 28, place: "aisle",
			after: "insulate", why: "the linings close the walls"},
		{id: "frames", name: "Build and bolt down the furniture frames", trade: "joinery", low: 20, likely: 32, high: 60, place: "aisle",
			after: "linings", why: "frames stand against the linings",
			checks: []tasks.Check{{ID: "frame-bolts", Kind: "torque", What: "Frame bolts torqued and marked", BeforeCover: true}}},
		{id: "water", name: "Water: tanks, pump, pipes, drain", trade: "water", low: 8, likely: 14, high: 24, place: "aisle",
			after: "frames", why: "tanks are strapped into the frames",
			checks: []tasks.Check{{ID: "leak-test", Kind: "test", What: "No drop after an hour under pressure", BeforeCover: true}}},
		{id: "power", name: "Power: batteries, fuses, charging, earth", trade: "electric", low: 14, likely: 22, high: 36, place: "aisle",
			after: "frames", why: "batteries are bolted to the frames",
			checks: []tasks.Check{{ID: "lug-torque", Kind: "torque", What: "Lugs torqued to the maker's sheet", BeforeCover: true}}},
		{id: "licensed", name: "Gas or mains, by a licensed person", trade: "licensed", low: 4, likely: 8, high: 16, place: "aisle",
			after: "frames", why: "pipes and cables are clipped to the frames", licensed: true,
			checks: []tasks.Check{{ID: "licensed-cert", Kind: "certificate", What: "Certificate of the licensed person", BeforeCover: true}}},
	}
}

// finishing is what closes all that in, and proves it.
func finishing() []phase {
	return []phase{
		{id: "fronts", name: "Fit worktops, fronts, lids and panels", trade: "joinery", low: 12, likely: 20, high: 34, place: "aisle",
			after: "water", why: "the fronts close in the tanks"},
		{id: "second-fix", name: "Second fix: lamps, sockets, taps, switches", trade: "electric", low: 8, likely: 13, high: 22, place: "aisle",
			after: "fronts", why: "they are set into linings and fronts"},
		{id: "prove", name: "Try everything: every circuit, tap, opening, restraint", trade: "test", low: 4, likely: 6, high: 10, place: "aisle",
			after: "second-fix", why: "nothing works before it is fitted"},
		{id: "weigh", name: "Weigh each axle, full and empty", trade: "test", low: 1.5, likely: 2, high: 4,
			after: "prove", why: "all must be on board",
			checks: []tasks.Check{{ID: "axle-weights", Kind: "weight", What: "Both axles within the plate"}}},
		{id: "hand-over", name: "Write the handover book", trade: "office", low: 3, likely: 5, high: 8,
			after: "weigh", why: "it has the weights in it"},
	}
}

// more are the edges that a phase has besides the one to the phase it comes after.
func more() []deps.Edge {
	return []deps.Edge{
		{Before: "subfloor", After: "frames", Kind: deps.Must, Why: "frames stand on the floor"},
		{Before: "power", After: "fronts", Kind: deps.Must, Why: "the fronts close in the batteries"},
		{Before: "licensed", After: "fronts", Kind: deps.Must, Why: "the fronts close in what must be certified"},
	}
}

// has reports whether a phase is part of the build that is asked for.
func (a Answers) has(name id.Task) bool {
	for _, p := range phases() {
		if p.id == name {
			return !p.licensed || a.Licensed
		}
	}
	return false
}

func (a Answers) work() []tasks.Task {
	var out []tasks.Task
	for _, p := range phases() {
		if !a.has(p.id) {
			continue
		}
		t := tasks.Task{ID: p.id, Name: p.name, Trade: p.trade, Hours: units.Estimate{Low: p.low, Likely: p.likely, High: p.high}, Checks: p.checks}
		if a.Places {
			t.Place = p.place
		}
		if p.cure > 0 {
			t.Cure = a.cure(p.cure)
		}
		t.SetDefaults()
		out = append(out, t)
	}
	return out
}

// cure gives a cure of some hours, in the warm where there is a warm room.
func (a Answers) cure(hours float64) *tasks.Cure {
	c := &tasks.Cure{Hours: hours}
	if a.Heated != nil {
		c.While = "warm"
	}
	return c
}

func (a Answers) order() []deps.Edge {
	var out []deps.Edge
	for _, p := range phases() {
		if p.after != "" && a.has(p.id) {
			out = append(out, deps.Edge{Before: p.after, After: p.id, Kind: deps.Must, Why: p.why})
		}
	}
	for _, e := range more() {
		if a.has(e.Before) && a.has(e.After) {
			out = append(out, e)
		}
	}
	return out
}
