package exchange

import (
	"bytes"
	"errors"
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

var update = flag.Bool("update", false, "write the golden files anew")

func file(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func read(t *testing.T, text string) build.Build {
	t.Helper()
	b, err := ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatalf("ReadJSON: %v", err)
	}
	return b
}

func write(t *testing.T, b build.Build) string {
	t.Helper()
	var out bytes.Buffer
	if err := WriteJSON(&out, b); err != nil {
		t.Fatalf("WriteJSON: %v", err)
	}
	return out.String()
}

// example.json is the example of the page that fixes the build file, with the records
// added that it names.
func TestExample(t *testing.T) {
	b := read(t, file(t, "example.json"))
	got := write(t, b)
	if *update {
		if err := os.WriteFile("testdata/example.golden.json", []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(file(t, "example.golden.json"), got); diff != "" {
		t.Errorf("the example is written differently (-want +got):\n%s", diff)
	}
	again := read(t, got)
	if diff := cmp.Diff(b, again); diff != "" {
		t.Errorf("the example reads back differently (-first +second):\n%s", diff)
	}
	if twice := write(t, again); twice != got {
		t.Errorf("written twice:\n%s", cmp.Diff(got, twice))
	}
}

func TestWhatTheExampleSays(t *testing.T) {
	b := read(t, file(t, "example.json"))
	lag := 0.0
	for what, pair := range map[string][2]any{
		"left out: uses":      {b.Tasks.Rows[3].Uses, tasks.Uses{"builder": 1}},
		"given: uses nothing": {b.Tasks.Rows[2].Uses, tasks.Uses{}},
		"given: uses others":  {b.Tasks.Rows[1].Uses, tasks.Uses{"inside": 1, "builder": 1}},
		"one number of hours": {b.Tasks.Rows[1].Hours, units.Estimate{Low: 2.5, Likely: 2.5, High: 2.5}},
		"three hours":         {b.Tasks.Rows[0].Hours, units.Estimate{Low: 3, Likely: 4, High: 8}},
		"visits":              {[]tasks.Visits{b.Tasks.Rows[0].Visits, b.Tasks.Rows[3].Visits}, []tasks.Visits{12, 1}},
		"state left out":      {b.Tasks.Rows[3].State, tasks.Todo},
		"kind left out":       {string(b.Edges.Rows[1].Kind), "must"},
		"lag null":            {b.Edges.Rows[0].LagH, (*float64)(nil)},
		"lag nought":          {b.Edges.Rows[1].LagH, &lag},
		"capacity left out":   {b.Resources.Rows[2].Capacity, calendar.Capacity(1)},
		"no hours":            {b.Resources.Rows[1].Hours, (*calendar.Week)(nil)},
		"persons left out":    {b.Items.Rows[4].Opening, &access.Opening{Persons: 1}},
		"no opening":          {b.Items.Rows[2].Opening, (*access.Opening)(nil)},
		"have null":           {b.Stocks.Rows[0].Lengths[1].Have, (*int)(nil)},
		"earliest day first":  {string(b.Days.Rows[0].Task), "a"},
		"keys rise":           {b.Days.Keys, []build.Key{1, 2}},
		"now":                 {b.Head.Now.String(), "2026-03-02T08:00"},
		"no hours on a day":   {b.Resources.Rows[0].On[1].Hours, []calendar.Span{}},
	} {
		if diff := cmp.Diff(pair[1], pair[0]); diff != "" {
			t.Errorf("%s (-want +got):\n%s", what, diff)
		}
	}
}

// The smallest build file, and how it is written.
func TestEmptyBuild(t *testing.T) {
	want := "{\n  \"format\": \"vanlog-build\",\n  \"version\": 1\n}\n"
	if got := write(t, build.Build{}); got != want {
		t.Errorf("an empty build is\n%swant\n%s", got, want)
	}
	b := read(t, "\ufeff"+want)
	if diff := cmp.Diff(build.Build{}, b); diff != "" {
		t.Errorf("an empty build reads as (-want +got):\n%s", diff)
	}
}

func TestWriteJSONFails(t *testing.T) {
	if err := WriteJSON(failing{}, build.Build{}); !errors.Is(err, errFull) {
		t.Errorf("WriteJSON to a full disk: %v, want %v", err, errFull)
	}
	if _, err := ReadJSON(failing{}); !errors.Is(err, errFull) {
		t.Errorf("ReadJSON of a broken disk: %v, want %v", err, errFull)
	}
	var out bytes.Buffer
	b := build.Build{Items: build.ListOf(access.Item{ID: "x", MassKg: math.NaN()})}
	if err := WriteJSON(&out, b); err == nil || out.Len() > 0 {
		t.Errorf("a mass that is no number was written: %v, %q", err, out.String())
	}
}

// A day on which a resource has no hours at all is no day without hours of its own.
func TestWriteJSONOfNoHours(t *testing.T) {
	b := build.Build{Resources: build.ListOf(calendar.Resource{ID: "builder", Capacity: 1, On: []calendar.On{{Date: 20000}}})}
	first := write(t, b)
	if second := write(t, read(t, first)); second != first || !strings.Contains(first, `"hours": []`) {
		t.Errorf("written as\n%s and then as\n%s", first, second)
	}
	if b.Resources.Rows[0].On[0].Hours != nil {
		t.Error("writing has changed the build")
	}
}

var errFull = errors.New("disk full")

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errFull }
func (failing) Read([]byte) (int, error)  { return 0, errFull }
