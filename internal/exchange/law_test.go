package exchange

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// What was written reads back to the same build, and that is written to the same bytes.
func TestLawWriteRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := maker{t}.build()
		first := written1(t, b)
		again, err := ReadJSON(strings.NewReader(first))
		if err != nil {
			t.Fatalf("ReadJSON: %v\n%s", err, first)
		}
		if diff := cmp.Diff(b, again); diff != "" {
			t.Fatalf("read back differently (-wrote +read):\n%s", diff)
		}
		if second := written1(t, again); second != first {
			t.Fatalf("written differently:\n%s", cmp.Diff(first, second))
		}
	})
}

func written1(t *rapid.T, b build.Build) string {
	var out bytes.Buffer
	if err := WriteJSON(&out, b); err != nil {
		t.Fatalf("WriteJSON: %v", err)
	}
	return out.String()
}

// The binding gives what encoding/json gives, which is written by others.
func TestLawBindsAsEncodingJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := written1(t, maker{t}.build())
		var want document
		if err := json.Unmarshal([]byte(text), &want); err != nil {
			t.Fatalf("encoding/json: %v", err)
		}
		setDefaults(reflect.ValueOf(&want).Elem())
		tree, faults := parseTree([]byte(text))
		bind := newBinder([]byte(text))
		var got document
		bind.value(nil, tree, reflect.ValueOf(&got).Elem())
		if len(faults)+len(bind.faults) > 0 {
			t.Fatalf("faults %v %v", faults, bind.faults)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("(-encoding/json +ours):\n%s", diff)
		}
	})
}

// setDefaults sets the defaults of the records of a document.
func setDefaults(doc reflect.Value) {
	for i := range doc.NumField() {
		if doc.Field(i).Kind() != reflect.Slice {
			continue
		}
		for k := range doc.Field(i).Len() {
			if d, ok := doc.Field(i).Index(k).Addr().Interface().(interface{ SetDefaults() }); ok {
				d.SetDefaults()
			}
		}
	}
}

// A table read back changes nothing; read into records that have only what is not in
// tables, it gives all the rest.
func TestLawTables(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := maker{t}.build()
		bare := b
		bare.Tasks = emptied(b.Tasks, func(t tasks.Task) tasks.Task { return tasks.Task{ID: t.ID, Checks: t.Checks} })
		bare.Items = emptied(b.Items, bareItem)
		bare.Parts = emptied(b.Parts, func(p parts.Part) parts.Part { return parts.Part{ID: p.ID} })
		for _, kind := range []build.Kind{build.TaskKind, build.ItemKind, build.PartKind} {
			var table bytes.Buffer
			if err := WriteCSV(&table, b, kind); err != nil {
				t.Fatalf("WriteCSV: %v", err)
			}
			same, added, changed, err := ReadCSV(strings.NewReader(table.String()), b, "")
			if err != nil || added != 0 || changed != 0 {
				t.Fatalf("%s: %d added, %d changed, %v\n%s", kind, added, changed, err, table.String())
			}
			if diff := cmp.Diff(b, same); diff != "" {
				t.Fatalf("%s: a table read back changes:\n%s", kind, diff)
			}
			bare, _, _, err = ReadCSV(strings.NewReader(table.String()), bare, kind)
			if err != nil {
				t.Fatalf("%s into bare records: %v\n%s", kind, err, table.String())
			}
		}
		if diff := cmp.Diff(b, bare); diff != "" {
			t.Fatalf("tables lose (-have +read):\n%s", diff)
		}
	})
}

func emptied[T any](l build.List[T], bare func(T) T) build.List[T] {
	out := build.List[T]{Keys: l.Keys}
	for _, row := range l.Rows {
		row = bare(row)
		if d, ok := any(&row).(interface{ SetDefaults() }); ok {
			d.SetDefaults()
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

func bareItem(i access.Item) access.Item {
	bare := access.Item{ID: i.ID, Service: i.Service}
	if i.Opening != nil && i.Opening.Fasteners != nil {
		bare.Opening = &access.Opening{Fasteners: i.Opening.Fasteners}
	}
	return bare
}

// Reading a table leaves the build that was given as it was.
func TestLawTablesShareNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := maker{t}.build()
		before := written1(t, b)
		for _, text := range []string{
			"id,cure_hours,cure_while,uses,visits,hours,left_h\njob-0,7,builder,-,9,3,8\njob-9,-,-,builder=2,1,1,-\n",
			"id,opening_open_min,opening_how,opening_tools,at_x_mm,at_y_mm,at_z_mm\npanel-0,3,x,y;z,1,2,3\npanel-1,0,,,-,-,-\n",
		} {
			if _, _, _, err := ReadCSV(strings.NewReader(text), b, ""); err != nil && !strings.HasPrefix(err.Error(), "row ") {
				t.Fatalf("ReadCSV: %v", err)
			}
		}
		if after := written1(t, b); after != before {
			t.Fatalf("the build has changed:\n%s", cmp.Diff(before, after))
		}
	})
}

func FuzzReadJSON(f *testing.F) {
	for _, s := range []string{"", "{}", `{"format":"vanlog-build","version":1,"tasks":[{"id":"a","hours":[1,2,3],"uses":{}}]}`,
		`{"format":"vanlog-build","version":1,"name":"\ud83d\ude00\\u","days":[{"at":"2026-03-02","task":"a","minutes":1e2}]}`} {
		f.Add([]byte(s))
	}
	f.Add(mustFile(f, "testdata/example.json"))
	f.Add(mustFile(f, "testdata/faults.json"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := ReadJSON(bytes.NewReader(data))
		if err != nil {
			if _, ok := err.(build.Faults); !ok {
				t.Fatalf("the error is a %T: %v", err, err)
			}
			return
		}
		first := write(t, b)
		if second := write(t, read(t, first)); second != first {
			t.Fatalf("written differently:\n%s", cmp.Diff(first, second))
		}
	})
}

func FuzzReadCSV(f *testing.F) {
	for _, s := range []string{"id,hours\na,1\n", "id;name;hours\na;\"x;\ny\";1,5\n", "id\tqty\np\t2\n", "id,at_x_mm,at_y_mm,at_z_mm\r\ni,1,2,3\r\n", "\n\nid,cost\n\np,\"1\"\"\"", "id,opening_tools\ni,\"a;\"\"b\"\"\"\n",
		"id,opening_tools\ni,\"a\toci,\""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, _, _, err := ReadCSV(strings.NewReader(text), build.Build{}, "")
		if err != nil {
			if faults, ok := err.(build.Faults); !ok || len(faults) == 0 {
				t.Fatalf("the error is a %T: %v", err, err)
			}
			return
		}
		if faults := b.Check(); len(faults) > 0 {
			t.Fatalf("a build with faults came of it: %v", faults)
		}
		first := write(t, b)
		if second := write(t, read(t, first)); second != first {
			t.Fatalf("written differently:\n%s", cmp.Diff(first, second))
		}
	})
}
