package exchange

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func mustFile(f *testing.F, name string) []byte {
	data, err := os.ReadFile(name)
	if err != nil {
		f.Fatal(err)
	}
	return data
}

// longBuild has 5,000 tasks in chains, and ten days of work on each.
func longBuild() build.Build {
	const n = 5000
	var all []tasks.Task
	var edges []deps.Edge
	var days []daybook.Entry
	name := func(i int) id.Task { return id.Task(fmt.Sprintf("task-%d", i)) }
	for i := range n {
		t := tasks.Task{ID: name(i), Name: "Piece of work", Hours: units.Estimate{Low: 1, Likely: 2, High: 4}}
		t.SetDefaults()
		all = append(all, t)
		if i > 0 {
			edges = append(edges, deps.Edge{Before: name(i - 1), After: name(i), Kind: deps.Must})
		}
		for k := range 10 {
			days = append(days, daybook.Entry{At: units.Instant((k*n + i) * 30), Task: name(i), Minutes: 30, Note: "went on with it"})
		}
	}
	return build.Build{Tasks: build.ListOf(all...), Edges: build.ListOf(edges...), Days: build.ListOf(days...)}
}

func BenchmarkReadJSON(b *testing.B) {
	var out bytes.Buffer
	if err := WriteJSON(&out, longBuild()); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(out.Len()))
	for b.Loop() {
		if _, err := ReadJSON(bytes.NewReader(out.Bytes())); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteJSON(b *testing.B) {
	long := longBuild()
	for b.Loop() {
		if err := WriteJSON(&bytes.Buffer{}, long); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadCSV(b *testing.B) {
	long := longBuild()
	var out bytes.Buffer
	if err := WriteCSV(&out, long, build.TaskKind); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, _, _, err := ReadCSV(bytes.NewReader(out.Bytes()), long, ""); err != nil {
			b.Fatal(err)
		}
	}
}
