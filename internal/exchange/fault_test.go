package exchange

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/build"
)

const headOnly = `"format": "vanlog-build", "version": 1`

// faultLines gives what ReadJSON says of a file, a line a fault.
func faultLines(t *testing.T, text string) string {
	t.Helper()
	b, err := ReadJSON(strings.NewReader(text))
	if err == nil {
		return ""
	}
	var faults build.Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		t.Fatalf("the error is %T %v, want build.Faults", err, err)
	}
	if diff := cmp.Diff(build.Build{}, b); diff != "" {
		t.Errorf("a build came with the faults:\n%s", diff)
	}
	return err.Error()
}

func TestNoBuildFiles(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"nothing", "", `file: is empty, want a build file`},
		{"spaces", " \n\t", `file: is empty, want a build file`},
		{"a list", "[]", `file: want a build file, have a list`},
		{"null", "null", `file: want a build file, have null`},
		{"another format", `{"format": "recipe", "version": 9, "butter": 1}`, `format: want "vanlog-build", have "recipe"`},
		{"a later version", `{"format": "vanlog-build", "version": 2, "x": 1}`, `version: this vanlog reads version 1, the file has 2`},
		{"no head", `{}`, "format: missing\nversion: missing"},
		{"UTF-16", "\xff\xfe{\x00}\x00", `file: is UTF-16 text, save it as UTF-8`},
		{"cut off", "{\n  \"format\": \"vanlog-build\",\n  \"tas", `line 3, column 7: no JSON: unexpected end of JSON input`},
		{"a comma too many", "{\n  \"name\": \"ö\",}", `line 2, column 15: no JSON: invalid character '}' looking for beginning of object key string`},
		{"NaN", `{"x": NaN}`, `line 1, column 7: no JSON: invalid character 'N' looking for beginning of value`},
		{"something after it", "{" + headOnly + "}\n{}", `line 2, column 1: no JSON: invalid character '{' after top-level value`},
		{"a bare line break", "{\"name\": \"a\nb\"}", `line 1, column 12: no JSON: invalid character '\n' in string literal`},
	} {
		if diff := cmp.Diff(tt.want, faultLines(t, tt.text)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

func TestFaultsOfAField(t *testing.T) {
	for _, tt := range []struct{ field, want string }{
		{`"name": 5`, `name: want text in quotes, have 5`},
		{`"name": "a\u0007b"`, `name: has the control character '\a'`},
		{`"name": "a\nb"`, `name: has the control character '\n'`},
		{`"name": "a` + "\xff" + `b"`, `name: is not UTF-8 text`},
		{`"name": "\ud83d"`, `name: has half a \u pair: no character`},
		{`"name": "\ude00\ud83d"`, `name: has half a \u pair: no character`},
		{`"name": "x", "name": "y"`, `name: given twice`},
		{`"nmae": "x"`, `nmae: unknown field, did you mean "name"?`},
		{`"Name": "x"`, `Name: unknown field, did you mean "name"?`},
		{`"units": "furlongs"`, `units: "furlongs" is neither metric nor imperial`},
		{`"now": "tomorrow"`, `now: "tomorrow" is no date (2026-03-02) or time (2026-03-02T08:00)`},
		{`"now": 5`, `now: want text in quotes, have 5`},
		{`"vehicle": []`, `vehicle: want an object, have a list`},
		{`"vehicle": {"wheelbase_mm": "4325"}`, `vehicle.wheelbase_mm: want a number, have "4325"`},
		{`"vehicle": {"wheelbase_mm": 1e999}`, `vehicle.wheelbase_mm: 1e999 is too large a number`},
		{`"vehicle": {"wheelbase_mm": -1}`, `vehicle.wheelbase_mm: -1 is too little, want at least 0`},
		{`"vehicle": {"inside_mm": [0, 1, 2]}`, `vehicle.inside_mm: want 6 numbers, have 3`},
		{`"vehicle": {"inside_mm": 5}`, `vehicle.inside_mm: want a list of 6 numbers, have 5`},
		{`"vehicle": {"inside_mm": [0, 0, 0, 1, "1", null]}`, "vehicle.inside_mm[4]: want a number, have \"1\"\nvehicle.inside_mm[5]: null, want a value"},
		{`"vehicle": {"empty_kg": {"front": 1}}`, `vehicle.empty_kg.rear: missing`},
		{`"tasks": {}`, `tasks: want a list, have an object`},
		{`"tasks": ["x"]`, `tasks[0]: want an object, have "x"`},
		{`"tasks": [null]`, `tasks[0]: null, want a value`},
		{`"tasks": [{}]`, "tasks[0].id: missing\ntasks[0].hours: missing"},
		{`"tasks": [{"id": null, "hours": 1}]`, `tasks[0].id: missing`},
		{`"tasks": [{"id": "Bad Id", "hours": 1}]`, `tasks[0].id: "Bad Id" is no id: want 1 to 40 of a-z, 0-9 and hyphens, not beginning with a hyphen`},
		{`"resources": [{"id": "r", "hours": {"mon": ["8-12"], "funday": [], "tue": 5}}]`,
			"resources[0].hours.mon[0]: \"8-12\" are no hours of a day, want for example 08:00-12:00\n" +
				"resources[0].hours.funday: no weekday, want one of mon, tue, wed, thu, fri, sat, sun\n" +
				"resources[0].hours.tue: want a list, have 5"},
		{`"resources": [{"id": "r", "hours": {"mon": [], "mon": []}}]`, `resources[0].hours.mon: given twice`},
		{`"resources": [{"id": "r", "hours": "always"}]`, `resources[0].hours: want an object such as {"mon": ["08:00-12:00"]}, have "always"`},
		{`"resources": [{"id": "r", "capacity": 0}]`, `resources[0].capacity: 0 is too little, want at least 1`},
		{`"items": [{"id": "x", "opening": {"colour": "red"}}]`,
			`items[0].opening.colour: unknown field, want one of how, open_min, refit_min, persons, tools, single_use, fasteners`},
		{`"items": [{"id": "x", "runs_hot": "yes"}]`, `items[0].runs_hot: want true or false, have "yes"`},
		{`"items": [{"id": "x", "service": [{"per_year": -1}]}]`, "items[0].service[0].what: missing\nitems[0].service[0].per_year: -1 is too little, want at least 0"},
	} {
		if diff := cmp.Diff(tt.want, faultLines(t, "{"+headOnly+", "+tt.field+"}")); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.field, diff)
		}
	}
}

func TestFaultsOfATask(t *testing.T) {
	for _, tt := range []struct{ field, want string }{
		{`"visits": "3"`, `visits: want a whole number, have "3"`},
		{`"visits": 2.5`, `visits: want a whole number, have 2.5`},
		{`"visits": 1e30`, `visits: 1e30 is too large a number`},
		{`"visits": 1e999`, `visits: 1e999 is too large a number`},
		{`"visits": 0`, `visits: 0 is too little, want at least 1`},
		{`"visits": true`, `visits: want a whole number, have true`},
		{`"spent_h": -2`, `spent_h: -2 is too little, want at least 0`},
		{`"uses": {"builder": "1"}`, `uses.builder: want a whole number, have "1"`},
		{`"uses": {"builder": null}`, `uses.builder: null, want a value`},
		{`"uses": {"builder": 1, "builder": 2}`, `uses.builder: given twice`},
		{`"uses": []`, `uses: want an object, have a list`},
		{`"fits": "x"`, `fits: want a list, have "x"`},
		{`"fits": [1]`, `fits[0]: want text in quotes, have 1`},
		{`"cure": {"hour": 24}`, `cure.hours: missing` + "\n" + `tasks[0].cure.hour: unknown field, did you mean "hours"?`},
		{`"cure": {"hours": 24, "while": "sunny"}`, `cure.while: no resource "sunny"`},
		{`"not_before": "2026-02-30"`, `not_before: "2026-02-30" is no date (2026-03-02) or time (2026-03-02T08:00)`},
		{`"not_before": 20260302`, `not_before: want text in quotes, have 20260302`},
		{`"state": "doing"`, `state: "doing" is none of todo, started, finished`},
		{`"name": ["` + strings.Repeat("x", 80) + `"]`, `name: want text in quotes, have a list`},
		{`"visits": "` + strings.Repeat("x", 80) + `"`, `visits: want a whole number, have text`},
	} {
		text := "{" + headOnly + `, "tasks": [{"id": "t", "hours": 1, ` + tt.field + "}]}"
		if diff := cmp.Diff("tasks[0]."+tt.want, faultLines(t, text)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.field, diff)
		}
	}
}

func TestFaultsOfHours(t *testing.T) {
	for _, hours := range []string{`"3"`, `[1, 2]`, `[3, 2, 1]`, `-1`, `[0, 1, 1e400]`, `1e400`, `{}`, `[null, 1, 2]`, `[1, 2, 3, 4]`, `["1", 2, 3]`} {
		text := "{" + headOnly + `, "tasks": [{"id": "t", "hours": ` + hours + "}]}"
		if got := faultLines(t, text); !strings.HasPrefix(got, "tasks[0].hours: want one number, or [low, likely, high] in rising order") {
			t.Errorf("hours %s: %q", hours, got)
		}
	}
}

// All faults come at once, those of the form and those of names, in the order of the file.
func TestFaultsInTheOrderOfTheFile(t *testing.T) {
	want := strings.Join([]string{
		`tasks[0].place: no place "cellar"`,
		`tasks[0].visits: want a whole number, have "3"`,
		`tasks[1].parts[1]: no part "p-bolt"`,
		`days[0].task: no task "later"`,
		`days[1].minutes: want a whole number, have 1.5`,
		`days[2].task: no task "first"`,
		`edges[0].kinds: unknown field, did you mean "kind"?`,
		`edges[0].after: no task "z"`,
	}, "\n")
	got := faultLines(t, file(t, "faults.json"))
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Where records or ids are missing, what names them is not called at fault.
func TestNoEchoes(t *testing.T) {
	text := "{" + headOnly + `, "tasks": [{"id": 5, "hours": 1}, {"id": "b", "hours": 1}], "edges": [{"before": "a", "after": "b"}]}`
	if diff := cmp.Diff(`tasks[0].id: want text in quotes, have 5`, faultLines(t, text)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	text = "{" + headOnly + `, "tasks": [{"id": "a", "hours": 1}], "edges": [{"before": "a", "before": "a"}]}`
	if diff := cmp.Diff("edges[0].after: missing\nedges[0].before: given twice", faultLines(t, text)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A fault in one place hides none in another: not what is dangling, where nobody names what cannot be
// read; and nothing but that, where somebody may.
func TestFaultsHideNoOthers(t *testing.T) {
	const rest = `"tasks": [{"id": "a", "hours": 1, "parts": ["p-pump"], "visits": 0}]`
	const both = "tasks[0].parts[0]: no part \"p-pump\"\ntasks[0].visits: 0 is too little, want at least 1"
	for _, tt := range []struct{ first, fault, others string }{
		{`"comment": "mine"`, `comment: unknown field`, both},
		{`"name": 5`, `name: want text`, both},
		{`"vehicle": {"colour": "red"}`, `vehicle.colour: unknown field`, both},
		{`"cuts": [null]`, `cuts[0]: null`, both},
		{`"part": [{"id": "p-pump"}]`, `part: unknown field`, both[strings.Index(both, "\n")+1:]},
		{`"parts": [{"id": 5}]`, `parts[0].id: want text`, both[strings.Index(both, "\n")+1:]},
		{`"parts": [null]`, `parts[0]: null`, both[strings.Index(both, "\n")+1:]},
	} {
		first, others, _ := strings.Cut(faultLines(t, "{"+headOnly+", "+tt.first+", "+rest+"}"), "\n")
		if !strings.HasPrefix(first, tt.fault) || others != tt.others {
			t.Errorf("%s: %s\n%s\nwant %s\n%s", tt.first, first, others, tt.fault, tt.others)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{ // kitten, sitting: the usual example of the measure
		{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0}, {"flaw", "lawn", 2}, {strings.Repeat("x", 50), "x", 50},
	} {
		if got := distance(tt.a, tt.b); got != tt.want {
			t.Errorf("distance(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}
