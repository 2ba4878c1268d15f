package exchange

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func merged(t *testing.T, b build.Build, kind build.Kind, text string) (build.Build, string) {
	t.Helper()
	out, added, changed, err := ReadCSV(strings.NewReader(text), b, kind)
	if err != nil {
		t.Fatalf("ReadCSV: %v\n%s", err, text)
	}
	return out, fmt.Sprintf("%d new, %d changed", added, changed)
}

// The same table in every form that a spreadsheet gives it.
func TestFormsOfTables(t *testing.T) {
	want := []parts.Part{
		{ID: "p-pump", Name: "Pump, 12 V", Qty: 1, LeadDays: units.Estimate{Low: 3, Likely: 10, High: 30.5}, Cost: "129.00"},
		{ID: "p-hose", Name: `Hose 1/2" clear`, Qty: 2.5, Cost: "7"},
	}
	comma := "id,name,qty,lead_low_days,lead_likely_days,lead_high_days,cost\np-pump,\"Pump, 12 V\",1,3,10,30.5,129.00\np-hose,\"Hose 1/2\"\" clear\",2.5,,,,7\n"
	semicolon := "id;name;qty;lead_low_days;lead_likely_days;lead_high_days;cost\np-pump;Pump, 12 V;1;3;10;30,5;129,00\np-hose;\"Hose 1/2\"\" clear\";2,5;;;;7\n"
	for name, text := range map[string]string{
		"commas":          comma,
		"CRLF":            strings.ReplaceAll(comma, "\n", "\r\n"),
		"with a mark":     "\ufeff" + comma,
		"semicolons":      semicolon,
		"tabs":            strings.ReplaceAll(semicolon, ";", "\t"),
		"no end of line":  strings.TrimSuffix(comma, "\n"),
		"empty rows":      "\n" + strings.ReplaceAll(comma, "\n", "\n,,,,,,\n\n"),
		"unused columns":  strings.ReplaceAll(comma, "\n", ",,\n"),
		"sep=,":           "sep=,\r\n" + strings.ReplaceAll(comma, "\n", "\r\n"),
		"sep=;":           "sep=;\n" + semicolon,
		"a mark, sep=tab": "\ufeffsep=\t\n" + strings.ReplaceAll(semicolon, ";", "\t"),
		"heads as titles": strings.Replace(comma, "id,name,qty,lead_low_days", "ID, Name ,Qty,Lead low days", 1),
	} {
		out, said := merged(t, build.Build{}, "", text)
		if diff := cmp.Diff(want, out.Parts.Rows); diff != "" || said != "2 new, 0 changed" {
			t.Errorf("%s: %s (-want +got):\n%s", name, said, diff)
		}
	}
}

func TestTableOfTasks(t *testing.T) {
	b := read(t, file(t, "example.json"))
	text := "id,hours,uses,cure_hours,cure_while,cure_holds,visits,left_h,not_before,fits,parts,state\n" +
		"b,2.5,,,,,,1,-,,,\n" +
		"mount-pump-board,,builder=1 inside,-,,,,,,-,p-hose;p-pump,started\n" +
		"new-one,0.5,-,12,warm,inside builder,3,,2026-05-01T08:30,pump-board boot-tray,,\n"
	out, said := merged(t, b, "", text)
	if said != "1 new, 2 changed" {
		t.Errorf("%s, want 1 new, 2 changed", said)
	}
	left, start := 1.0, units.When{At: 29627070}
	if start.String() != "2026-05-01T08:30" {
		t.Fatalf("the test means %s", start)
	}
	want := map[int]tasks.Task{0: b.Tasks.Rows[0], 2: b.Tasks.Rows[2]}
	board, second := want[0], want[2]
	board.Uses, board.Cure, board.Fits, board.Parts, board.State = tasks.Uses{"builder": 1, "inside": 1}, nil, nil, []id.Part{"p-hose", "p-pump"}, tasks.Started
	second.Hours, second.LeftH, second.NotBefore = units.Sure(2.5), &left, nil
	all := []tasks.Task{board, b.Tasks.Rows[1], second, b.Tasks.Rows[3], {
		ID: "new-one", Hours: units.Sure(0.5), Uses: tasks.Uses{}, Visits: 3, State: tasks.Todo, NotBefore: &start,
		Cure: &tasks.Cure{Hours: 12, While: "warm", Holds: []id.Resource{"inside", "builder"}}, Fits: []id.Item{"pump-board", "boot-tray"},
	}}
	if diff := cmp.Diff(build.List[tasks.Task]{Keys: []build.Key{1, 2, 3, 4, 5}, Rows: all}, out.Tasks); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestTableOfItems(t *testing.T) {
	b := read(t, file(t, "example.json"))
	text := "id;place;opening_how;opening_open_min;opening_tools;opening_single_use;at_x_mm;at_y_mm;at_z_mm;mass_kg;fitted\n" +
		"bench-kickboard;-;;2,5;\"T25 driver; \"\"a;b\"\"\";TRUE;-;-;-;3;yes\n" +
		"pump-board;;;;;;100;-20,5;0;;\n" +
		"hatch;aisle;lift off;1;;no;;;;0,25;\n"
	out, said := merged(t, b, "", text)
	if said != "1 new, 2 changed" {
		t.Errorf("%s, want 1 new, 2 changed", said)
	}
	board := b.Items.Rows[0]
	opening := *board.Opening
	opening.OpenMin, opening.Tools, opening.SingleUse = 2.5, []string{"T25 driver", "a;b"}, true
	board.Place, board.Opening, board.At, board.MassKg, board.Fitted = "", &opening, nil, 3, true
	pump := b.Items.Rows[5]
	pump.At = &access.Point{100, -20.5, 0}
	hatch := access.Item{ID: "hatch", Place: "aisle", Opening: &access.Opening{How: "lift off", OpenMin: 1, Persons: 1}, MassKg: 0.25}
	for i, want := range map[int]access.Item{0: board, 5: pump, 7: hatch} {
		if diff := cmp.Diff(want, out.Items.Rows[i]); diff != "" {
			t.Errorf("item %d (-want +got):\n%s", i, diff)
		}
	}
}

func TestFaultsOfTables(t *testing.T) {
	b := read(t, file(t, "example.json"))
	for _, tt := range []struct{ name, text, want string }{
		{"nothing", "", "file: is empty, want a table whose first row names the columns"},
		{"empty rows", "\n,,\n", "file: is empty, want a table whose first row names the columns"},
		{"UTF-16", "\xff\xfei\x00", "file: is UTF-16 text, save it as UTF-8"},
		{"Latin-1", "id,qty,name\np-pump,1,Schl\xe4uche\n", "line 2: is not UTF-8 text, save the table as CSV UTF-8"},
		{"a stray quote", "id,name\na,23\" bar\n", `line 2, column 5: no table: bare " in non-quoted-field; a cell with quotes in it is written "23 3/16"" bar"`},
		{"an open quote", "id,name\na,\"23 bar\n", `line 2, column 11: no table: extraneous or missing " in quoted-field; a cell with quotes in it is written "23 3/16"" bar"`},
		{"no kind", "id,name\na,b\n", "row 1: the columns (id, name) do not say whether these are tasks, items or parts: say which, or add a column such as hours, mass_kg or qty"},
		{"another table", "\nx,y\n1,2\n", "row 2: the columns (x, y) do not say whether these are tasks, items or parts: say which, or add a column such as hours, mass_kg or qty"},
		{"unknown columns", "id,hours,plase,colour,,hours\na,1,,,1,2\n", `row 1, plase: unknown column, did you mean "place"?` + "\n" +
			"row 1, colour: unknown column, want one of id, name, trade, hours, low_h, likely_h, high_h, place, fits, reaches, visits, uses, cure_hours, cure_while, cure_holds, parts, not_before, not_after, state, spent_h, left_h, finished_at, option\n" +
			"row 1, column 5: has no name\nrow 1, hours: is there twice"},
		{"no id", "hours,visits\n1,1\n", "row 1, id: missing: without it no row can be told from another"},
		{"a row without an id", "id,hours\n,1\na,1\n", "row 2, id: missing"},
		{"an id twice", "id,hours\na,1\nb,1\n\na,2\n", `row 5, id: "a" is in row 2 already`},
		{"a bad id", "id,hours\nA b,1\n", `row 2, id: "A b" is no id: want 1 to 40 of a-z, 0-9 and hyphens, not beginning with a hyphen`},
		{"a new one without hours", "id,visits,place\nx,1,aisle\n", "row 2, hours: missing"},
		{"bad cells", "id,hours,visits,not_before,uses,left_h,spent_h\na,1.5x,2.5,yesterday,inside=x,NaN,1e999\n",
			"row 2, hours: want a number, have \"1.5x\"\nrow 2, visits: want a whole number, have \"2.5\"\n" +
				"row 2, uses: want a whole number, have \"x\"\n" +
				"row 2, not_before: \"yesterday\" is no date (2026-03-02) or time (2026-03-02T08:00)\n" +
				"row 2, spent_h: 1e999 is too large a number\nrow 2, left_h: want a number, have \"NaN\""},
		{"a decimal comma between commas", "id,hours\na,\"1,5\"\n", `row 2, hours: want a number, have "1,5"`},
		{"a thousands point", "id;hours\na;1.234,5\n", `row 2, hours: want a number, have "1.234,5"`},
		{"names of nothing", "id,hours,place,fits,uses,cure_hours,cure_while\na,1,cellar,pump-board lid,cat,1,dog\n",
			"row 2, place: no place \"cellar\"\nrow 2, fits: no item \"lid\"\nrow 2, uses: no resource \"cat\"\nrow 2, cure_while: no resource \"dog\""},
		{"a use twice", "id,hours,uses\na,1,inside inside\n", `row 2, uses: names "inside" twice`},
		{"numbers out of range", "id,hours,visits,spent_h\na,-1,0,-2\n", "row 2, hours: want one number, or [low, likely, high] in rising order, none below 0\n" +
			"row 2, visits: 0 is too little, want at least 1\nrow 2, spent_h: -2 is too little, want at least 0"},
		{"half an estimate", "id,low_h,likely_h,high_h\na,1,2,\n", "row 2, low_h: want all of low_h, likely_h and high_h, or none"},
		{"an estimate upside down", "id,low_h,likely_h,high_h\na,3,2,1\n", "row 2, low_h: want one number, or [low, likely, high] in rising order, none below 0"},
		{"two estimates", "id,hours,low_h,likely_h,high_h\na,1,1,2,3\n", "row 2, hours: want either hours or low_h, likely_h and high_h"},
		{"half a position", "id,at_x_mm,at_y_mm,at_z_mm\npump-board,1,-,3\n", "row 2, at_x_mm: want all of at_x_mm, at_y_mm and at_z_mm, or none"},
		{"yes or no", "id,fitted,runs_hot\npump-board,perhaps,0\n", `row 2, fitted: want yes or no, have "perhaps"`},
		{"no cure", "id,hours,cure_while\na,1,warm\n", "row 2, cure_while: there is no cure: give its cure_hours"},
		{"a control character", "id,hours,name\na,1,x\ay\n", `row 2, name: has the control character '\a'`},
		{"a line break", "id,hours,name\na,1,\"x\ny\"\nb,x,\n", "row 2, name: has the control character '\\n'\nrow 3, hours: want a number, have \"x\""},
		{"more cells than heads", "id,hours\na,1,2\n", "row 2, column 3: stands right of the last column of the header"},
		{"a cost", "id,qty,cost\np-pump,1,many\n", `row 2, cost: "many" is no amount, want a decimal number such as 129.00`},
		{"tools", "id,opening_tools\nboot-tray,\"a\"\"b\"\n", `row 2, opening_tools: want texts with ; between them, have "a\"b"`},
	} {
		out, added, changed, err := ReadCSV(strings.NewReader(tt.text), b, "")
		var faults build.Faults
		if !errors.As(err, &faults) || added != 0 || changed != 0 {
			t.Errorf("%s: %d new, %d changed, %T %v, want faults", tt.name, added, changed, err, err)
			continue
		}
		if diff := cmp.Diff(tt.want, err.Error()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
		if diff := cmp.Diff(b, out); diff != "" {
			t.Errorf("%s changed the build:\n%s", tt.name, diff)
		}
	}
}

// A fault that a row brings about in a field it has not got is still that row's; one
// elsewhere keeps its path, after those of the rows.
func TestFaultsBesideATable(t *testing.T) {
	b := read(t, file(t, "example.json"))
	b.Items.Rows[0].Blocks = []string{"tank-bay"}
	b.Edges.Rows[0].After = "nowhere"
	_, _, _, err := ReadCSV(strings.NewReader("id,place,mass_kg\nbench-kickboard,tank-bay,2\ncab-step,,-1\n"), b, "")
	want := "row 2, blocks[0]: item \"bench-kickboard\" cannot block its own place \"tank-bay\"\n" +
		"row 3, mass_kg: -1 is too little, want at least 0\nedges[0].after: no task \"nowhere\""
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// The kind, where it is given, needs no columns of its own.
func TestTableOfAKind(t *testing.T) {
	b := read(t, file(t, "example.json"))
	out, said := merged(t, b, build.ItemKind, "id,name\ncab-step,Step\nnew,New\n")
	if said != "1 new, 1 changed" || out.Items.Rows[2].Name != "Step" {
		t.Errorf("%s, item %v", said, out.Items.Rows[2])
	}
	for _, kind := range []build.Kind{build.DayKind, "cheese"} {
		want := fmt.Sprintf("file: there is no table of kind %q, want task, item or part", kind)
		if _, _, _, err := ReadCSV(strings.NewReader("id\nx\n"), b, kind); err == nil || err.Error() != want {
			t.Errorf("ReadCSV of kind %s: %v, want %s", kind, err, want)
		}
		if err := WriteCSV(&bytes.Buffer{}, b, kind); err == nil || err.Error() != want {
			t.Errorf("WriteCSV of kind %s: %v, want %s", kind, err, want)
		}
	}
}

func TestTableAsWritten(t *testing.T) {
	b := read(t, file(t, "example.json"))
	var out bytes.Buffer
	if err := WriteCSV(&out, b, build.PartKind); err != nil {
		t.Fatal(err)
	}
	want := "id,name,qty,lead_low_days,lead_likely_days,lead_high_days,ordered,due,arrived,cost\n" +
		"p-pump,Water pump 12 V,1,3,10,30,2026-01-12,2026-02-20,,129.00\np-hose,,2.5,4,4,4,,,,\n"
	if diff := cmp.Diff(want, out.String()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if err := WriteCSV(failing{}, b, build.PartKind); !errors.Is(err, errFull) {
		t.Errorf("WriteCSV to a full disk: %v, want %v", err, errFull)
	}
	if _, _, _, err := ReadCSV(failing{}, b, ""); !errors.Is(err, errFull) {
		t.Errorf("ReadCSV of a broken disk: %v, want %v", err, errFull)
	}
}
