package store

import (
	"fmt"
	"path/filepath"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// large makes a file with 10,000 records, most of them daybook entries.
func large(b *testing.B) *File {
	b.Helper()
	whole := testkit.Workshop()
	var days []daybook.Entry
	for i := range 10_000 - len(whole.Records()) {
		days = append(days, daybook.Entry{At: testkit.Now - units.Instant(20_000-i), Task: "run-cable", Minutes: 35,
			Visits: 2, Note: fmt.Sprintf("entry %d, with a note of the length that people write", i)})
	}
	whole.Days = build.ListOf(days...)
	f, err := Create(filepath.Join(b.TempDir(), "large.van"), whole, "new build", testkit.Now)
	if err != nil {
		b.Fatal(err)
	}
	return f
}

func BenchmarkOpenAndLoad10000(b *testing.B) {
	f := large(b)
	for b.Loop() {
		f, err := Open(f.Path())
		if err != nil {
			b.Fatal(err)
		}
		if _, _, err := f.Load(ctx); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCommit10000(b *testing.B) {
	f := large(b)
	whole, rev := load(b, f)
	key := whole.Days.Keys[whole.Days.Len()-1]
	for b.Loop() {
		key++
		c := build.Change{What: "log", Edits: []build.Edit{{Kind: build.DayKind, Key: key,
			After: []byte(`{"at":"2026-03-02T09:00","task":"run-cable","minutes":5}`)}}}
		var err error
		if _, rev, err = f.Commit(ctx, c, rev); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRevUnchanged(b *testing.B) {
	f := large(b)
	for b.Loop() {
		if _, err := f.Rev(ctx); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRevChanged(b *testing.B) {
	f := large(b)
	for b.Loop() {
		f.seen.Store(nil)
		if _, err := f.Rev(ctx); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkVerify10000(b *testing.B) {
	f := large(b)
	for b.Loop() {
		if problems, err := f.Verify(ctx); err != nil || len(problems) > 0 {
			b.Fatal(problems, err)
		}
	}
}

func BenchmarkHistory20(b *testing.B) {
	f := large(b)
	for b.Loop() {
		if _, err := f.History(ctx, 20); err != nil {
			b.Fatal(err)
		}
	}
}
