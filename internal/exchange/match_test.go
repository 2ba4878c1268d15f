package exchange

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/build"
)

const foreign = "Nr;What;Estimate;Remarks\n" +
	"1;Cut the roof vent;3,5;mind the rib\n" +
	";;;\n" +
	"2;Cut the roof vent;2;\n" +
	"3;Glue the floor;4;warm\n"

func TestLook(t *testing.T) {
	s, err := Look([]byte(foreign))
	if err != nil || s.Rows != 3 || len(s.Columns) != 4 || s.Columns[1] != (SampleColumn{"what", "Cut the roof vent"}) || s.Columns[3].Example != "mind the rib" {
		t.Errorf("%+v, %v", s, err)
	}
	if _, err := Look(nil); err == nil {
		t.Error("nothing at all is a table")
	}
}

func TestGuess(t *testing.T) {
	s, _ := Look([]byte(foreign))
	if got, want := Guess(s, build.TaskKind), []string{"id", "name", "hours", ""}; !slices.Equal(got, want) {
		t.Errorf("guessed %q, want %q", got, want)
	}
	twice, _ := Look([]byte("name,title,mass_kg,weight\na,b,1,2\n"))
	if got, want := Guess(twice, build.ItemKind), []string{"name", "", "mass_kg", ""}; !slices.Equal(got, want) {
		t.Errorf("guessed %q, want %q", got, want)
	}
}

// A foreign table reads as ours once its columns are matched; ids come of the names.
func TestMatched(t *testing.T) {
	text, err := Matched([]byte(foreign), []string{"", "name", "hours", ""}, func(s string) bool { return s == "glue-the-floor" })
	if err != nil {
		t.Fatal(err)
	}
	b, added, changed, err := ReadCSV(bytes.NewReader(text), build.Build{}, build.TaskKind)
	if err != nil || added != 3 || changed != 0 {
		t.Fatalf("%d added, %d changed, %v", added, changed, err)
	}
	var got []string
	for _, task := range b.Tasks.Rows {
		got = append(got, string(task.ID))
	}
	if want := []string{"cut-the-roof-vent", "cut-the-roof-vent-2", "glue-the-floor-2"}; !slices.Equal(got, want) {
		t.Errorf("ids %q, want %q", got, want)
	}
	if h := b.Tasks.Rows[0].Hours.Likely; h != 3.5 {
		t.Errorf("3,5 hours are read as %v", h)
	}
}

// What is wrong is named by the rows of the table as it lies there.
func TestMatchedKeepsRowNumbers(t *testing.T) {
	text, err := Matched([]byte("\n\n"+strings.Replace(foreign, ";4;", ";soon;", 1)), []string{"", "name", "hours", ""}, func(string) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, err = ReadCSV(bytes.NewReader(text), build.Build{}, build.TaskKind); err == nil || !strings.Contains(err.Error(), "row 7") {
		t.Errorf("the fault is %v, want one in row 7", err)
	}
}

func TestFields(t *testing.T) {
	for _, kind := range []build.Kind{build.TaskKind, build.ItemKind, build.PartKind} {
		if fields := Fields(kind); !slices.Contains(fields, "id") || !slices.Contains(fields, "name") {
			t.Errorf("%s has the fields %q", kind, fields)
		}
	}
	if fields := Fields(build.EdgeKind); fields != nil {
		t.Errorf("edges have no table, but the fields %q", fields)
	}
}
