package build_test

import (
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func TestCheckNamesEachFaultWithItsPath(t *testing.T) {
	left, far := -1.0, 100001.0
	for _, tt := range []struct {
		want  string
		wreck func(*build.Build)
	}{
		{`tasks[2].parts[0]: no part "p-pump"`, func(b *build.Build) { b.Tasks.Rows[2].Parts = []id.Part{"p-pump"} }},
		{`tasks[2].id: there is a task "set-frame" already`, func(b *build.Build) { b.Tasks.Rows[2].ID = "set-frame"; b.Edges = build.List[deps.Edge]{} }},
		{`tasks[2].visits: 0 is too little, want at least 1`, func(b *build.Build) { b.Tasks.Rows[2].Visits = 0 }},
		{`tasks[2].left_h: -1 is too little, want at least 0`, func(b *build.Build) { b.Tasks.Rows[2].LeftH = &left }},
		{`tasks[2].uses: no resource "crane"`, func(b *build.Build) { b.Tasks.Rows[2].Uses = tasks.Uses{"crane": 1} }},
		{`tasks[2].state: "idle" is none of todo, started, finished`, func(b *build.Build) { b.Tasks.Rows[2].State = "idle" }},
		{`tasks[2].cure.while: no resource "warm"`, func(b *build.Build) { b.Tasks.Rows[2].Cure = &tasks.Cure{Hours: 1, While: "warm"} }},
		{`places[0].ways: place "aisle" cannot be entered: no way leads there from outside`, func(b *build.Build) {
			b.Places.Rows[0].Ways = []access.Way{{From: "bay"}}
			b.Places.Rows[1].Ways = []access.Way{{From: "bay"}, {}}
			b.Places.Rows[1].Ways = b.Places.Rows[1].Ways[1:]
			b.Places.Rows[0].Ways[0].From = "aisle"
		}},
		{`places[1].ways[0].from: no place "cab"`, func(b *build.Build) { b.Places.Rows[1].Ways[0].From = "cab" }},
		{`places[1].closed_by[0]: no item "lid"`, func(b *build.Build) { b.Places.Rows[1].ClosedBy = []id.Item{"lid"} }},
		{`items[2].blocks[0]: item "pump" cannot block its own place "bay"`, func(b *build.Build) { b.Items.Rows[2].Blocks = []string{"bay"} }},
		{`items[2].blocks[0]: item "pump" cannot block itself`, func(b *build.Build) { b.Items.Rows[2].Blocks = []string{"pump"} }},
		{`items[1].opening.fasteners[0].torque: "9 lb" is no torque, for example 9 N·m or 80 lbf·in`, func(b *build.Build) {
			b.Items.Rows[1].Opening = &access.Opening{Persons: 1, Fasteners: []access.Fastener{{What: "M6", Count: 4, Torque: "9 lb"}}}
		}},
		{`edges[0]: tasks wait for each other: set-frame -> (it carries the other) fit-pump -> (it carries the other) close-up -> set-frame`, func(b *build.Build) {
			b.Edges = build.ListOf(append(b.Edges.Rows, deps.Edge{Before: "close-up", After: "set-frame", Kind: deps.Must})...)
		}},
		{`edges[0].after: no task "paint"`, func(b *build.Build) { b.Edges.Rows[0].After = "paint" }},
		{`options[0].chosen: choice "kickboard" has 2 chosen options, want exactly one`, func(b *build.Build) {
			b.Options = build.ListOf(build.Option{ID: "a", Choice: "kickboard", Chosen: true}, build.Option{ID: "b", Choice: "kickboard", Chosen: true})
		}},
		{`parts[0].cost: "12,50" is no amount, want a decimal number such as 129.00`, func(b *build.Build) {
			b.Parts = build.ListOf(parts.Part{ID: "p", Qty: 1, Cost: "12,50"})
		}},
		{`cuts[0].length: "5 kg" is no length, for example 3.2 mm or 23 3/16 in`, func(b *build.Build) {
			b.Stocks = build.ListOf(cutlist.Stock{ID: "bar"})
			b.Cuts = build.ListOf(cutlist.Cut{ID: "c", Stock: "bar", Length: "5 kg", Qty: 1})
		}},
		{`resources[0].off[0]: runs from 1970-01-03 back to 1970-01-02`, func(b *build.Build) {
			r := calendar.DefaultBuilder()
			r.Off = []calendar.Off{{From: 2, To: 1}}
			b.Resources = build.ListOf(r)
		}},
		{`days[0].readings[0].check: task "set-frame" has no check "square"`, func(b *build.Build) {
			b.Days.Rows[0].Readings = []daybook.Reading{{Check: "square", Value: "1 mm"}}
		}},
		{`tasks[1].not_after: 1970-01-02 is before not_before, 1970-01-05`, func(b *build.Build) {
			b.Tasks.Rows[1].NotBefore = &units.When{At: 4 * units.Day, DateOnly: true}
			b.Tasks.Rows[1].NotAfter = &units.When{At: 1 * units.Day, DateOnly: true}
		}},
		{`days[0].readings[0].value: has control characters or broken UTF-8 in it`, func(b *build.Build) {
			b.Tasks.Rows[0].Checks = []tasks.Check{{ID: "square", Kind: "measure"}}
			b.Days.Rows[0].Note = "two\nlines"
			b.Days.Rows[0].Readings = []daybook.Reading{{Check: "square", Value: "1\x1b mm"}}
		}},
		{`parts[0].qty: 0 is too little, want more than 0`, func(b *build.Build) { b.Parts = build.ListOf(parts.Part{ID: "p"}) }},
		{`tasks[2].hours: 1e+308 is too much, want at most 100000`, func(b *build.Build) { b.Tasks.Rows[2].Hours = units.Sure(1e308) }},
		{`tasks[2].left_h: 100001 is too much, want at most 100000`, func(b *build.Build) { b.Tasks.Rows[2].LeftH = &far }},
		{`edges[0].lag_h: 100001 is too much, want at most 100000`, func(b *build.Build) { b.Edges.Rows[0].LagH = &far }},
		{`tasks[2].cure.hours: 1e+300 is too much, want at most 100000`, func(b *build.Build) { b.Tasks.Rows[2].Cure = &tasks.Cure{Hours: 1e300} }},
		{`parts[0].lead_days: 1e+07 is too much, want at most 100000`, func(b *build.Build) {
			b.Parts = build.ListOf(parts.Part{ID: "p", Qty: 1, LeadDays: units.Sure(1e7)})
		}},
		{`stocks[0].kerf: "-2.4 mm" is too little for a length`, func(b *build.Build) {
			b.Stocks = build.ListOf(cutlist.Stock{ID: "bar", Kerf: "-2.4 mm", Trim: "0 mm"})
		}},
		{`cuts[0].length: "0 in" is too little for a length`, func(b *build.Build) {
			b.Stocks = build.ListOf(cutlist.Stock{ID: "bar"})
			b.Cuts = build.ListOf(cutlist.Cut{ID: "c", Stock: "bar", Length: "0 in", Qty: 1})
		}},
		{`stocks[0].lengths[0].length: "1000.1 m" is too much, want at most 1 km`, func(b *build.Build) {
			b.Stocks = build.ListOf(cutlist.Stock{ID: "bar", Lengths: []cutlist.Length{{Length: "1000.1 m"}}})
		}},
		{`vehicle.inside_mm: y runs from 5 back to -5`, func(b *build.Build) {
			b.Head.Vehicle = &build.Vehicle{InsideMm: &access.Box{0, 5, 0, 1, -5, 1}}
		}},
	} {
		b := workshop()
		tt.wreck(&b)
		if faults := b.Check(); len(faults) != 1 || faults[0].String() != tt.want {
			t.Errorf("Check() =\n%v\nwant\n%s", faults, tt.want)
		}
	}
}

func TestCheckGivesAllFaultsAtOnce(t *testing.T) {
	b := workshop()
	b.Tasks.Rows[0].Place, b.Tasks.Rows[1].Place, b.Edges.Rows[0].Kind = "x", "y", "may"
	if faults := b.Check(); len(faults) != 3 {
		t.Errorf("Check() =\n%v\nwant three faults", faults)
	}
}

// TestLoopInADesignNotChosen: the loop is only there once the other option is chosen.
func TestLoopInADesignNotChosen(t *testing.T) {
	b := workshop()
	b.Options = build.ListOf(build.Option{ID: "a", Choice: "c", Chosen: true}, build.Option{ID: "b", Choice: "c"})
	b.Tasks.Rows[2].Option = "b"
	b.Edges = build.ListOf(append(b.Edges.Rows, deps.Edge{Before: "close-up", After: "fit-pump", Kind: deps.Must})...)
	if faults := b.Check(); len(faults) != 1 || !faults[0].Cycle {
		t.Errorf("Check() = %v, want the loop", faults)
	}
	b.Tasks.Rows[1].Option = "a" // now the two never stand in one design
	if faults := b.Check(); len(faults) != 0 {
		t.Errorf("Check() = %v, want none", faults)
	}
}

func TestLiveDropsWhatIsNotChosen(t *testing.T) {
	b := workshop()
	b.Options = build.ListOf(build.Option{ID: "a", Choice: "c", Chosen: true}, build.Option{ID: "b", Choice: "c"})
	b.Items.Rows[1].Option = "b"
	b.Tasks.Rows[2].Option = "b"
	l := b.Live()
	if len(l.Items) != 2 || len(l.Tasks) != 2 || len(l.Edges) != 1 || !l.Places[1].Shut || len(l.Items[1].Blocks) != 0 {
		t.Errorf("Live() = %+v", l)
	}
	if len(l.Resources) != 1 || l.Resources[0].ID != "builder" {
		t.Errorf("Live().Resources = %+v, want the default builder", l.Resources)
	}
	if b.Places.Rows[1].Shut || len(b.Items.Rows[2].Blocks) != 1 {
		t.Error("Live changed the build it was made from")
	}
}

// TestPlaceThatNothingCloses: what would close the place belongs to a design that was not
// chosen, so it is open floor whatever its ways say.
func TestPlaceThatNothingCloses(t *testing.T) {
	b := workshop()
	b.Options = build.ListOf(build.Option{ID: "a", Choice: "c", Chosen: true}, build.Option{ID: "b", Choice: "c"})
	b.Items.Rows[0].Option = "b"
	if p := b.Live().Places[1]; p.Shut || len(p.Ways) != 0 || len(p.ClosedBy) != 0 {
		t.Errorf("Live().Places[1] = %+v, want open floor", p)
	}
}
