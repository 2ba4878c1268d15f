package record_test

import (
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/record"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

func p[T any](v T) *T { return &v }

func when(t *testing.T, s string) *units.When {
	t.Helper()
	w, err := units.ParseWhen(s)
	if err != nil {
		t.Fatal(err)
	}
	return &w
}

// full is a build in which the first record of every list has every field set.
func full(t *testing.T) build.Build {
	span := []calendar.Span{{From: 480, To: 720}, {From: 780, To: 1020}}
	return build.Build{
		Head: build.Head{Name: "The van", Units: "metric", Now: p(units.Instant(29_000_000)), Vehicle: &build.Vehicle{
			WheelbaseMm: 4325, InsideMm: &access.Box{900, -890, 0, 5200, 890, 2000},
			EmptyKg: &build.Axles{Front: 1180, Rear: 960.5}, LimitsKg: &build.Limits{Total: 3500, Front: 2100, Rear: 2430},
		}},
		Resources: build.ListOf(
			calendar.Resource{
				ID: "builder", Name: "Builder", Capacity: 2, Hours: &calendar.Week{span, span, span, nil, span, {{From: 540, To: 780}}},
				Off: []calendar.Off{{From: 20_000, To: 20_003}, {From: 20_010, To: 20_010}},
				On:  []calendar.On{{Date: 20_020, Hours: span}, {Date: 20_021, Hours: []calendar.Span{}}},
			},
			calendar.Resource{ID: "warm", Name: "Workshop above 10 °C", Capacity: 1},
			calendar.Resource{ID: "inside", Capacity: 1, Hours: &calendar.Week{}},
		),
		Places: build.ListOf(
			access.Place{
				ID: "tank-bay", Name: "Tank bay", Posture: "kneel", Box: &access.Box{2600, -850.5, 0, 4100, 850, 700},
				ClosedBy: []id.Item{"kickboard", "pump"},
				Ways: []access.Way{
					{From: "aisle", Through: []id.Item{"kickboard"}, EnterMin: 2.25, Note: "mind; the hose\nand the tap"},
					{Through: []id.Item{"pump"}, EnterMin: 0.5},
				},
			},
			access.Place{ID: "aisle", Name: "Aisle"},
		),
		Items: build.ListOf(
			access.Item{
				ID: "kickboard", Name: "Lab bench kickboard", Place: "aisle", Covers: []id.Item{"pump"},
				Opening: &access.Opening{
					How: "lift out", OpenMin: 1.5, RefitMin: 2, Persons: 2, Tools: []string{"T25 driver", "a; b"}, SingleUse: true,
					Fasteners: []access.Fastener{{What: "M6×20 button head", Count: 4, Torque: "9 N·m"}, {What: "clip; loose", Count: 1}},
				},
				Blocks: []string{"tank-bay", "pump"}, MassKg: 2.1, At: &access.Point{2200, 500.5, 90}, Label: "K1",
				Service: []access.Service{{What: "clean the pump strainer", PerYear: 4, Minutes: 10}, {What: "look", PerYear: 0.5}},
				RunsHot: true, Fitted: true, Option: "captive",
			},
			access.Item{ID: "pump", Name: "Pump board", Place: "tank-bay"},
		),
		Parts: build.ListOf(parts.Part{
			ID: "p-pump", Name: "Water pump 12 V", Qty: 2.5, LeadDays: units.Estimate{Low: 3, Likely: 10, High: 30},
			Ordered: when(t, "2026-01-12"), Due: when(t, "2026-02-20"), Arrived: when(t, "2026-02-19T09:30"), Cost: "129.00",
		}),
		Tasks: build.ListOf(
			tasks.Task{
				ID: "mount", Name: "Mount the pump board", Trade: "water", Hours: units.Estimate{Low: 3, Likely: 4, High: 8.5},
				Place: "tank-bay", Fits: []id.Item{"pump"}, Reaches: []id.Item{"kickboard", "pump"}, Visits: 12,
				Uses: tasks.Uses{"builder": 2, "inside": 1}, Cure: &tasks.Cure{Hours: 24, While: "warm", Holds: []id.Resource{"inside"}},
				Parts: []id.Part{"p-pump"}, NotBefore: when(t, "2026-03-02"), NotAfter: when(t, "2026-03-20T17:00"),
				Checks: []tasks.Check{
					{ID: "strap-torque", Kind: "torque", What: "Tank straps torqued", Want: "12 N·m ±10 %", BeforeCover: true},
					{ID: "seen", Kind: "photo", What: "odd; words"},
				},
				State: tasks.Started, SpentH: 1.5, LeftH: p(0.0), FinishedAt: when(t, "2026-03-04T12:00"), Option: "captive",
			},
			tasks.Task{ID: "close", Name: "Close up", Hours: units.Sure(2), Visits: 1, Uses: tasks.Uses{}, State: tasks.Todo},
			tasks.Task{ID: "paint", Name: "Paint", Hours: units.Sure(2), Visits: 1, Uses: tasks.Uses{"builder": 1}, State: tasks.Todo, Cure: &tasks.Cure{}},
		),
		Edges: build.ListOf(
			deps.Edge{Before: "mount", After: "close", Kind: deps.Must, LagH: p(0.0), Why: "the pump must be tested"},
			deps.Edge{Before: "close", After: "paint", Kind: deps.Should, ReworkH: 1.5, Why: "scratches"},
		),
		Options: build.ListOf(build.Option{ID: "captive", Choice: "kickboard fixing", Name: "Captive screws", Chosen: true}),
		Stocks: build.ListOf(cutlist.Stock{ID: "t40", Name: "40 × 40 T-slot bar", Kerf: "2.4 mm", Trim: "5 mm", KgPerM: 1.5, Lengths: []cutlist.Length{
			{Length: "3000 mm", Have: p(4), Cost: "41.00"}, {Length: "6000 mm", Cost: "74.00"}, {Length: "1 m", Have: p(0)},
		}}),
		Snags: build.ListOf(daybook.Snag{ID: "drip", At: units.Instant(29_000_000), What: "It drips", Item: "pump", Task: "mount", Place: "bay",
			Became: "close", Closed: p(units.Instant(29_000_100))}),
		Cuts: build.ListOf(cutlist.Cut{ID: "c1", Stock: "t40", Length: "23 3/16 in", Qty: 6, Task: "mount", Note: "left"}),
	}
}

func rowsOf(b build.Build, kind build.Kind) []any {
	var out []any
	for _, l := range []struct {
		kind build.Kind
		rows any
	}{
		{build.TaskKind, b.Tasks.Rows}, {build.EdgeKind, b.Edges.Rows}, {build.PlaceKind, b.Places.Rows}, {build.ItemKind, b.Items.Rows},
		{build.PartKind, b.Parts.Rows}, {build.ResourceKind, b.Resources.Rows}, {build.OptionKind, b.Options.Rows},
		{build.StockKind, b.Stocks.Rows}, {build.CutKind, b.Cuts.Rows}, {build.SnagKind, b.Snags.Rows}, {build.HeadKind, []build.Head{b.Head}},
	} {
		v := reflect.ValueOf(l.rows)
		for i := 0; l.kind == kind && i < v.Len(); i++ {
			out = append(out, v.Index(i).Interface())
		}
	}
	return out
}

// keys makes keys of names; what begins with ' is typed, "_" as a blank; pasted where it begins with ".
func press(e record.Editor, script string) (record.Editor, widget.Outcome) {
	out := widget.Stay
	for _, w := range strings.Fields(script) {
		text, isText := strings.CutPrefix(w, "'")
		if !isText {
			e, out = e.Key(widget.Key{Name: w})
			continue
		}
		for _, r := range strings.ReplaceAll(text, "_", " ") {
			e, out = e.Key(widget.Key{Name: string(r), Text: string(r)})
		}
	}
	return e, out
}

// TestFullIsFull: the rows of the build have no field that is zero, so that the round trip
// below means something.
func TestFullIsFull(t *testing.T) {
	b := full(t)
	for _, kind := range record.Kinds() {
		v := reflect.ValueOf(rowsOf(b, kind)[0])
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			if v.Field(i).IsZero() && !strings.Contains("Shut ReworkH", name) {
				t.Errorf("%s: %s is not set", kind, name)
			}
		}
	}
}

func TestEditingWithoutChangesGivesTheEqualRow(t *testing.T) {
	b := full(t)
	for _, kind := range record.Kinds() {
		for i, want := range rowsOf(b, kind) {
			walk := strings.Repeat("tab ", 30) + "ctrl+s"
			e, out := press(record.New(kind, b, build.Key(i+1)), walk)
			got, err := e.Row()
			if err != nil || out != widget.Submitted || e.Changed() {
				t.Errorf("%s %d: %v, %v, changed %v", kind, i, out, err, e.Changed())
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s %d: %s", kind, i, cmp.Diff(want, got))
			}
			if e.Kind() != kind || e.RecordKey() != build.Key(i+1) {
				t.Errorf("%s %d: to be saved as %s %d", kind, i, e.Kind(), e.RecordKey())
			}
		}
	}
}

// TestEachFieldReadsWhatItShows: every field is emptied or turned and put back as it was
// shown; the row is then equal but for what a line cannot say.
func TestEachFieldReadsWhatItShows(t *testing.T) {
	b := full(t)
	for _, kind := range record.Kinds() {
		want := rowsOf(b, kind)[0]
		for n := range 30 {
			e, _ := press(record.New(kind, b, 1), strings.Repeat("tab ", n)+"end 'x backspace right left")
			got, err := e.Row()
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("%s, field %d: %v %s", kind, n, err, cmp.Diff(want, got))
			}
		}
	}
}

func TestEditingOneFieldKeepsTheOthers(t *testing.T) {
	b := full(t)
	name := " anew"
	for _, kind := range []build.Kind{build.TaskKind, build.PlaceKind, build.ItemKind, build.PartKind, build.ResourceKind, build.StockKind} {
		e, out := press(record.New(kind, b, 1), "'_anew ctrl+s")
		got, err := e.Row()
		if err != nil || out != widget.Submitted {
			t.Fatalf("%s: %v %v", kind, out, err)
		}
		v := reflect.New(reflect.TypeOf(got)).Elem()
		v.Set(reflect.ValueOf(rowsOf(b, kind)[0]))
		v.FieldByName("Name").SetString(v.FieldByName("Name").String() + name)
		if !reflect.DeepEqual(got, v.Interface()) {
			t.Errorf("%s: %s", kind, cmp.Diff(v.Interface(), got))
		}
	}
}

func TestNewRecords(t *testing.T) {
	for _, tt := range []struct {
		kind   build.Kind
		script string
		want   any
	}{
		{build.TaskKind, "'Mount_the_water_filter tab tab 'water tab '3_4_8 tab 'tank enter enter '_ enter tab ctrl+s", tasks.Task{
			ID: "mount-the-water-filter", Name: "Mount the water filter", Trade: "water", Hours: units.Estimate{Low: 3, Likely: 4, High: 8},
			Place: "tank-bay", Fits: []id.Item{"kickboard"}, Visits: 1, Uses: tasks.Uses{"builder": 1}, State: tasks.Todo,
		}},
		{build.TaskKind, "'Close_up tab tab tab '1h30 ctrl+s", tasks.Task{
			ID: "close-up", Name: "Close up", Hours: units.Sure(1.5), Visits: 1, Uses: tasks.Uses{"builder": 1}, State: tasks.Todo,
		}},
		{build.TaskKind, "'Glue tab tab tab '1 tab tab tab tab tab ctrl+u tab tab '2026-03-02 tab '2026-03-02_18:00 tab '24 tab 'warm enter tab " +
			"'torque;_Straps_torqued;_12_N·m_±10_%;_before_cover enter 'photo;_Seen;_before_cover enter 'p7;_test;_Tight ctrl+s", tasks.Task{
			ID: "glue", Name: "Glue", Hours: units.Sure(1), Visits: 1, Uses: tasks.Uses{}, State: tasks.Todo,
			NotBefore: when(t, "2026-03-02"), NotAfter: when(t, "2026-03-02T18:00"), Cure: &tasks.Cure{Hours: 24, While: "warm"},
			Checks: []tasks.Check{
				{ID: "straps-torqued", Kind: "torque", What: "Straps torqued", Want: "12 N·m ±10 %", BeforeCover: true},
				{ID: "seen", Kind: "photo", What: "Seen", BeforeCover: true},
				{ID: "p7", Kind: "test", What: "Tight"},
			},
		}},
		{build.EdgeKind, "'mount enter 'paint enter 's tab '1h30 tab '0.5 tab 'scratches ctrl+s",
			deps.Edge{Before: "mount", After: "paint", Kind: deps.Should, LagH: p(1.5), ReworkH: 0.5, Why: "scratches"}},
		{build.PlaceKind, "'Left_locker tab tab 'stand tab '1000_-890_1300_3600,-500,1950 tab 'pump '_ enter enter enter " +
			"'aisle;_kickboard_pump;_2.5;_mind_it enter 'outside ctrl+s", access.Place{
			ID: "left-locker", Name: "Left locker", Posture: "stand", Box: &access.Box{1000, -890, 1300, 3600, -500, 1950}, ClosedBy: []id.Item{"pump"},
			Ways: []access.Way{{From: "aisle", Through: []id.Item{"kickboard", "pump"}, EnterMin: 2.5, Note: "mind it"}, {}},
		}},
		{build.ItemKind, "'Locker_back tab tab 'aisle enter 'pump enter enter right tab '2000_-400_1300 tab '2.5 tab tab 'unscrew tab '3 tab '0h30 tab tab 'T25_driver;_step tab right tab " +
			"'M6;_4;_9_N·m enter 'clip ctrl+s", access.Item{
			ID: "locker-back", Name: "Locker back", Place: "aisle", Covers: []id.Item{"pump"}, Fitted: true, At: &access.Point{2000, -400, 1300}, MassKg: 2.5,
			Opening: &access.Opening{How: "unscrew", OpenMin: 3, RefitMin: 30, Persons: 1, Tools: []string{"T25 driver", "step"}, SingleUse: true,
				Fasteners: []access.Fastener{{What: "M6", Count: 4, Torque: "9 N·m"}, {What: "clip", Count: 1}}},
		}},
		{build.ItemKind, "'Pump_board ctrl+s", access.Item{ID: "pump-board", Name: "Pump board"}},
		{build.PartKind, "'Hose_10_m tab tab ctrl+u '2.5 tab '3_10_30 tab '2026-01-12 tab tab tab '12.50 ctrl+s", parts.Part{
			ID: "hose-10-m", Name: "Hose 10 m", Qty: 2.5, LeadDays: units.Estimate{Low: 3, Likely: 10, High: 30}, Ordered: when(t, "2026-01-12"), Cost: "12.50",
		}},
		{build.ResourceKind, "'Helper tab tab tab 'sat-sun_09:00-13:00 enter 'mon_18:00-20:00_21:00-22:00 enter enter '2026-04-03_2026-04-06 enter enter '2026-04-12_10:00-14:00 ctrl+s", calendar.Resource{
			ID: "helper", Name: "Helper", Capacity: 1,
			Hours: &calendar.Week{{{From: 1080, To: 1200}, {From: 1260, To: 1320}}, nil, nil, nil, nil, {{From: 540, To: 780}}, {{From: 540, To: 780}}},
			Off:   []calendar.Off{{From: 20546, To: 20549}}, On: []calendar.On{{Date: 20555, Hours: []calendar.Span{{From: 600, To: 840}}}},
		}},
		{build.OptionKind, "'kickboard_fixing tab 'Magnets ctrl+s", build.Option{ID: "magnets", Choice: "kickboard fixing", Name: "Magnets"}},
		{build.OptionKind, "'bed tab 'Fixed_bed ctrl+s", build.Option{ID: "fixed-bed", Choice: "bed", Name: "Fixed bed", Chosen: true}},
		{build.StockKind, "'Bar tab tab '1/8_in tab '5_mm tab '1.5 tab '3000_mm;_4;_41.00 enter '6000_mm;_any;_74.00 ctrl+s", cutlist.Stock{
			ID: "bar", Name: "Bar", Kerf: "1/8 in", Trim: "5 mm", KgPerM: 1.5,
			Lengths: []cutlist.Length{{Length: "3000 mm", Have: p(4), Cost: "41.00"}, {Length: "6000 mm", Cost: "74.00"}},
		}},
		{build.CutKind, "'t40 enter '23_3/16_in tab ctrl+u '6 tab 'mount enter 'left_upright ctrl+s", cutlist.Cut{
			ID: "left-upright", Stock: "t40", Length: "23 3/16 in", Qty: 6, Task: "mount", Note: "left upright",
		}},
	} {
		e, out := press(record.New(tt.kind, full(t), 0), tt.script)
		got, err := e.Row()
		if out != widget.Submitted || err != nil {
			t.Errorf("%s: %v, %v\n%s", tt.script, out, err, e.View(plain(), 100, 40))
		}
		if !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%s: %s", tt.script, cmp.Diff(tt.want, got))
		}
		if e.RecordKey() != 0 {
			t.Errorf("%s: key %d of a new record", tt.kind, e.RecordKey())
		}
	}
}

func plain() widget.Styles {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	return widget.NewStyles(r, true)
}

func TestWays(t *testing.T) {
	b := full(t)
	before := b.Places.Rows[0].Ways[0]
	e, out := press(record.NewWay(b, 1, 1), "'aisle enter tab ctrl+u '4 ctrl+s")
	row, err := e.Row()
	got := row.(access.Place)
	want := []access.Way{before, {From: "aisle", Through: []id.Item{"pump"}, EnterMin: 4}}
	if err != nil || out != widget.Submitted || !reflect.DeepEqual(got.Ways, want) || e.Kind() != build.PlaceKind || e.RecordKey() != 1 {
		t.Errorf("edited: %v %v %s", out, err, cmp.Diff(want, got.Ways))
	}
	e, _ = press(record.NewWay(b, 1, -1), "'aisle enter tab '1 tab 'mind ctrl+s")
	row, err = e.Row()
	got = row.(access.Place)
	if want := (access.Way{From: "aisle", EnterMin: 1, Note: "mind"}); err != nil || len(got.Ways) != 3 || !reflect.DeepEqual(got.Ways[2], want) {
		t.Errorf("new: %v %+v", err, got.Ways)
	}
	if len(b.Places.Rows[0].Ways) != 2 || b.Places.Rows[0].Ways[1].From != "" {
		t.Errorf("the build was changed: %+v", b.Places.Rows[0].Ways)
	}
	e, out = press(record.NewWay(b, 1, -1), "'tank enter ctrl+s")
	if out != widget.Stay || !strings.Contains(e.View(plain(), 100, 20), "cannot come from the place") {
		t.Errorf("a way from itself: %v\n%s", out, e.View(plain(), 100, 20))
	}
}

func TestALoopIsShownAndHoldsTheForm(t *testing.T) {
	b := full(t)
	e, out := press(record.New(build.EdgeKind, b, 0), "'close enter 'mount enter ctrl+s")
	view := e.View(plain(), 100, 20)
	if out != widget.Stay || !strings.Contains(view, "this closes a loop: mount -> (the pump must be tested) close -> mount") {
		t.Fatalf("%v\n%s", out, view)
	}
	if _, err := e.Row(); err == nil {
		t.Error("Row gives an edge that closes a loop")
	}
	if _, out = press(e, "'s ctrl+s"); out != widget.Submitted {
		t.Errorf("the loop undone: %v", out)
	}
	e, out = press(record.New(build.EdgeKind, b, 0), "'close enter 'mount enter 's ctrl+s")
	if out != widget.Submitted {
		t.Errorf("a should edge may go round: %v\n%s", out, e.View(plain(), 100, 20))
	}
	// The edge that is edited does not count twice: turned round it closes no loop.
	e, out = press(record.New(build.EdgeKind, b, 1), "'close enter 'mount enter ctrl+s")
	if out != widget.Submitted {
		t.Errorf("turned round: %v\n%s", out, e.View(plain(), 100, 20))
	}
	if _, out = press(record.New(build.EdgeKind, b, 0), "'paint enter 'paint enter ctrl+s"); out != widget.Stay {
		t.Errorf("before itself: %v", out)
	}
}

// TestNoLoopBetweenDesigns: tasks of two answers to one choice are never there together.
func TestNoLoopBetweenDesigns(t *testing.T) {
	b := full(t)
	b.Options = build.ListOf(build.Option{ID: "captive", Choice: "c", Chosen: true}, build.Option{ID: "other", Choice: "c"})
	b.Tasks.Rows[1].Option = "other" // mount has captive
	if e, out := press(record.New(build.EdgeKind, b, 0), "'close enter 'mount enter ctrl+s"); out != widget.Submitted {
		t.Errorf("%v\n%s", out, e.View(plain(), 100, 20))
	}
	b.Tasks.Rows[0].Option = "" // now they are, in the design that is not chosen
	if _, out := press(record.New(build.EdgeKind, b, 0), "'close enter 'mount enter ctrl+s"); out != widget.Stay {
		t.Errorf("a loop in the other design: %v", out)
	}
}

func TestFaultsAsTyped(t *testing.T) {
	name := "'Name "
	for _, tt := range []struct {
		kind         build.Kind
		script, want string
	}{
		{build.TaskKind, name + "tab ctrl+u 'Not_Valid", "an id is 1 to 40"},
		{build.TaskKind, name + "tab ctrl+u 'mount", `"mount" is taken`},
		{build.TaskKind, name + "tab tab tab '4_3_8", "low, likely and high in rising order"},
		{build.TaskKind, name + "tab tab tab '3_4", "want one number, or low"},
		{build.TaskKind, name + "tab tab tab '1,5", `"1,5" are no hours`},
		{build.TaskKind, name + "tab tab tab '-1", `"-1" are no hours`},
		{build.TaskKind, name + "tab tab tab '1e999", "are no hours"},
		{build.TaskKind, name + "tab tab tab 'NaN", "are no hours"},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab ctrl+u '0", "is no count"},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab ctrl+u 'buildr", `no resource "buildr"`},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab ctrl+u 'warm_2_3", "a resource and how many"},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab tab tab '2.3.2026", "is no date"},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab tab tab tab tab tab tab tab 'x;_y", `line 1: "y" is no kind of proof`},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab tab tab tab tab tab tab tab 'torque;_x;_12", "12"},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab tab tab tab tab tab tab tab 'torque;_x enter 'photo;_x", `two proofs are called "x"`},
		{build.TaskKind, name + "tab tab tab '1 tab tab tab tab tab tab tab tab tab tab 'w enter", "how many hours the cure takes"},
		{build.PlaceKind, name + "tab tab tab '1_2_3", "want 6 numbers"},
		{build.PlaceKind, name + "tab tab tab '1_2_3_0_2_3", "x runs from 1 back to 0"},
		{build.PlaceKind, name + "tab tab tab tab tab 'ailse", `no place "ailse"`},
		{build.PlaceKind, name + "tab tab tab tab tab 'tank", `no place "tank"; is it tank-bay?`},
		{build.PlaceKind, name + "tab tab tab tab tab 'aisle;_lid", `no item "lid"`},
		{build.ItemKind, name + "tab tab tab tab tab tab tab tab tab tab tab tab tab tab 'M6;_4;_9_lb", `"9 lb" is no torque`},
		{build.PartKind, name + "tab tab ctrl+u '0", "more than 0"},
		{build.PartKind, name + "tab tab tab tab tab tab tab '12,50", "is no amount"},
		{build.ResourceKind, name + "tab tab tab 'mon-fry_08:00-12:00", "are no weekdays"},
		{build.ResourceKind, name + "tab tab tab 'mon_8-12", "are no hours of a day"},
		{build.ResourceKind, name + "tab tab tab 'mon_08:00-12:00 enter 'mon-tue_13:00-14:00", "mon has hours in two lines"},
		{build.ResourceKind, name + "tab tab tab tab '2026-04-06_2026-04-03", "runs from 2026-04-06 back"},
		{build.StockKind, name + "tab tab '2.4", "2.4"},
		{build.StockKind, name + "tab tab '5_kg", `"5 kg" is no length`},
		{build.CutKind, "'t40 enter '589", "589"},
	} {
		e, _ := press(record.New(tt.kind, full(t), 0), tt.script)
		view := strings.Join(strings.Fields(e.View(plain(), 160, 60)), " ")
		if !strings.Contains(view, "!") || !strings.Contains(view[strings.Index(view, "!"):], tt.want) {
			t.Errorf("%s: %q is not said:\n%s", tt.script, tt.want, e.View(plain(), 160, 60))
		}
		if e, out := press(e, "ctrl+s"); out != widget.Stay {
			_, err := e.Row()
			t.Errorf("%s: saved all the same: %v, %v", tt.script, out, err)
		}
	}
}

func TestProposedIDs(t *testing.T) {
	b := full(t)
	for _, tt := range []struct{ typed, want string }{
		{"Mount_the_pump_board", "mount-the-pump-board"},
		{"Mount", "mount-2"}, // taken
		{"Föhn_&_Söhne", "foehn-soehne"},
		{"Réglage_(2×)", "reglage-2"},
		{"e\u0301te\u0301", "ete"},
		{"A_very_long_name_that_goes_on_beyond_forty_characters", "a-very-long-name-that-goes-on-beyond-for"},
		{"面板", ""},
	} {
		e, _ := press(record.New(build.TaskKind, b, 0), "'"+tt.typed)
		view := e.View(plain(), 100, 30)
		line := ""
		for _, l := range strings.Split(view, "\n") {
			if strings.HasPrefix(l, "  Id ") {
				line = strings.TrimSpace(strings.TrimPrefix(l, "  Id "))
			}
		}
		if line != tt.want {
			t.Errorf("%s: id %q, want %q", tt.typed, line, tt.want)
		}
	}
	e, _ := press(record.New(build.TaskKind, b, 0), "'Mount_it tab ctrl+u 'own shift+tab '_now tab tab tab '1 ctrl+s")
	if row, err := e.Row(); err != nil || row.(tasks.Task).ID != "own" {
		t.Errorf("an id of one's own: %v, %v", row, err)
	}
}

// TestHostileText: what a record holds never moves the cursor and is never changed by
// looking at it.
func TestHostileText(t *testing.T) {
	const bad = "\x1b[31mred\x1b]0;x\a\ttab\r\nline;; \u202eturned 面板 \x00"
	b := full(t)
	b.Tasks.Rows[0].Name, b.Tasks.Rows[0].Checks[0].What = bad, bad
	b.Items.Rows[0].Name, b.Items.Rows[0].Opening.Tools = bad, []string{bad, ""}
	b.Items.Rows[0].Service[0].What, b.Items.Rows[0].Opening.Fasteners[1].What = bad, bad
	b.Places.Rows[0].Ways[0].Note, b.Edges.Rows[0].Why = bad, bad
	b.Head.Name, b.Stocks.Rows[0].Lengths[0].Length, b.Options.Rows[0].Name = bad, bad, bad
	for _, kind := range record.Kinds() {
		e := record.New(kind, b, 1)
		for range 25 {
			for _, wh := range [][2]int{{80, 24}, {40, 10}, {20, 3}, {1, 1}} {
				lines := strings.Split(e.View(plain(), wh[0], wh[1]), "\n")
				if len(lines) != wh[1] {
					t.Fatalf("%s: %d lines at %v", kind, len(lines), wh)
				}
				for _, l := range lines {
					if ansi.StringWidth(l) != wh[0] || strings.ContainsFunc(l, func(r rune) bool { return r < ' ' || r == '\u202e' }) {
						t.Fatalf("%s at %v: %q", kind, wh, l)
					}
				}
			}
			e, _ = e.Key(widget.Key{Name: "tab"})
		}
		if got, want := mustRow(t, e), rowsOf(b, kind)[0]; !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %s", kind, cmp.Diff(want, got))
		}
		for _, entry := range record.Lists(b, kind) {
			if entry.Title == "" || entry.Key == 0 {
				t.Errorf("%s: entry %+v", kind, entry)
			}
		}
	}
}

func mustRow(t *testing.T, e record.Editor) any {
	t.Helper()
	row, err := e.Row()
	if err != nil && !strings.Contains(err.Error(), "Lengths") {
		t.Fatal(err)
	}
	if err != nil {
		t.Log(err)
	}
	return row
}

func TestLists(t *testing.T) {
	b := full(t)
	var got []string
	for _, kind := range record.Kinds() {
		e := record.Lists(b, kind)[0]
		got = append(got, fmt.Sprintf("%s %d: %s | %s", record.Word(kind), e.Key, e.Title, e.Subtitle))
	}
	want := []string{
		"task 1: Mount the pump board | mount, water, started, 4 h",
		"what comes before what 1: Mount the pump board before Close up | must, the pump must be tested",
		"place 1: Tank bay | tank-bay, kneel, 2 ways in",
		"item 1: Lab bench kickboard | kickboard, in aisle, lift out",
		"part 1: Water pump 12 V | p-pump, arrived 2026-02-19T09:30",
		"resource 1: Builder | builder, mon-wed 08:00-12:00 13:00-17:00, fri 08:00-12:00 13:00-17:00, sat 09:00-13:00",
		"design option 1: Captive screws | kickboard fixing, captive, chosen",
		"bar stock 1: 40 × 40 T-slot bar | 3 lengths",
		"cut 1: 6 × 23 3/16 in | c1, from t40, left",
		"snag 1: It drips | drip, closed, pump, mount, bay",
		"build and van 1: The van | name, units, sizes and masses of the van",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
