package tui

import (
	"fmt"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// large gives a build of n tasks in ten rows side by side.
func large(n int) build.Build {
	var ts []tasks.Task
	var es []deps.Edge
	name := func(i int) id.Task { return id.Task(fmt.Sprintf("task-%05d", i)) }
	for i := range n {
		t := tasks.Task{ID: name(i), Name: fmt.Sprintf("Piece of work number %d", i), Hours: units.Sure(0.5)}
		t.SetDefaults()
		ts = append(ts, t)
		if i >= 10 {
			es = append(es, deps.Edge{Before: name(i - 10), After: name(i), Kind: deps.Must})
		}
	}
	return build.Build{Head: build.Head{Name: "Large"}, Tasks: build.ListOf(ts...), Edges: build.ListOf(es...),
		Resources: build.ListOf(calendar.DefaultBuilder())}
}

// furnished gives a build of n tasks in 500 places, each of which a panel closes in, with
// proofs behind it, a pump in it, and a choice of design.
func furnished(n int) build.Build {
	b := large(n)
	const bays = 500
	var ps []access.Place
	var xs []access.Item
	for i := range bays {
		bay, panel, pump := id.Place(fmt.Sprintf("bay-%d", i)), id.Item(fmt.Sprintf("panel-%d", i)), id.Item(fmt.Sprintf("pump-%d", i))
		ps = append(ps, access.Place{ID: bay, ClosedBy: []id.Item{panel}, Ways: []access.Way{{Through: []id.Item{panel}, EnterMin: 1}}})
		xs = append(xs, access.Item{ID: panel, Opening: &access.Opening{How: "unscrew", OpenMin: 2, RefitMin: 3, Persons: 1}},
			access.Item{ID: pump, Place: bay, Service: []access.Service{{What: "rinse", PerYear: 4, Minutes: 5}}})
	}
	for i := range b.Tasks.Rows {
		t := &b.Tasks.Rows[i]
		t.Place = ps[i%bays].ID
		t.Checks = []tasks.Check{{ID: "photo", Kind: tasks.Photo, What: "a photo", BeforeCover: true}}
		if last := i - (n - bays); last >= 0 {
			t.Place, t.Fits = "", []id.Item{xs[2*last].ID}
		}
	}
	b.Places, b.Items = build.ListOf(ps...), build.ListOf(xs...)
	b.Options = build.ListOf(build.Option{ID: "a", Choice: "paint", Name: "White", Chosen: true}, build.Option{ID: "b", Choice: "paint", Name: "Grey"})
	return b
}

// diary gives a build with n entries in its daybook.
func diary(b build.Build, n int) build.Build {
	var days []daybook.Entry
	for i := range n {
		days = append(days, daybook.Entry{At: testkit.Now - units.Instant(5*(n-i)), Task: b.Tasks.Rows[i%b.Tasks.Len()].ID, Minutes: 5,
			Note: fmt.Sprintf("piece %d is in", i)})
	}
	b.Days = build.ListOf(days...)
	return b
}

func benchBuilds() map[string]build.Build {
	return map[string]build.Build{"demo": demo.Build(testkit.Now), "10000": diary(large(10_000), 50_000)}
}

// BenchmarkKeyToFrame is a press of a key and the frame after it, without what runs beside.
func BenchmarkKeyToFrame(b *testing.B) {
	for name, bld := range benchBuilds() {
		d := drive(b, bld, 120, 40)
		d.m.st = colourful()
		for _, s := range []string{"1", "2", "3", "4", "5", "6", "9"} {
			d.press(s)
			b.Run(name+"/screen"+s, func(b *testing.B) {
				m := tea.Model(d.m)
				keys := []tea.KeyMsg{keyMsg("down"), keyMsg("up")}
				for i := range b.N {
					m, _ = m.Update(keys[i%2])
					if m.View() == "" {
						b.Fatal("no frame")
					}
				}
			})
		}
	}
}

// BenchmarkSearchToFrame is a letter typed into the search of records.
func BenchmarkSearchToFrame(b *testing.B) {
	for name, bld := range benchBuilds() {
		d := drive(b, bld, 120, 40)
		d.m.st = colourful()
		d.press("e", "enter")
		b.Run(name, func(b *testing.B) {
			m := tea.Model(d.m)
			keys := []tea.KeyMsg{keyMsg("e"), keyMsg("backspace")}
			for i := range b.N {
				m, _ = m.Update(keys[i%2])
				if m.View() == "" {
					b.Fatal("no frame")
				}
			}
		})
	}
}

// BenchmarkSideOfAKey is what is asked beside the frame after each move: card and drawing.
func BenchmarkSideOfAKey(b *testing.B) {
	for name, bld := range benchBuilds() {
		d := drive(b, bld, 120, 40)
		d.m.st = colourful()
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				describe(b.Context(), d.m.data.View, d.m.focus(), 53, 36)
			}
		})
	}
}

// BenchmarkFirstFrame is from the start to the first frame with the build in it, without
// the file.
func BenchmarkFirstFrame(b *testing.B) {
	for name, bld := range benchBuilds() {
		d := drive(b, bld, 120, 40)
		d.m.st = colourful()
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				w := d.m.world
				w.app = app.New(d.store, d.clock.Now) // it keeps the last build it has read
				m := tea.Model(newModel(w, colourful()))
				m, _ = m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
				m, _ = m.Update(m.(Model).read()())
				if m.View() == "" {
					b.Fatal("no frame")
				}
			}
		})
	}
}

// BenchmarkCloseInToFrame is a press of a key and the frame after it on Close-in and on the
// Designs, with 10,000 tasks in 500 places, each closed in by a panel.
func BenchmarkCloseInToFrame(b *testing.B) {
	d := drive(b, furnished(10_000), 120, 40)
	d.m.st = colourful()
	for _, s := range []struct {
		name string
		keys []string
		two  [2]string
	}{
		{"list", []string{"4"}, [2]string{"down", "up"}},
		{"search", []string{"4"}, [2]string{"p", "backspace"}},
		{"behind", []string{"4", "enter"}, [2]string{"down", "up"}},
		{"designs", []string{"4", "esc", "9"}, [2]string{"down", "up"}},
	} {
		d.press(s.keys...)
		b.Run(s.name, func(b *testing.B) {
			m := tea.Model(d.m)
			keys := []tea.KeyMsg{keyMsg(s.two[0]), keyMsg(s.two[1])}
			for i := range b.N {
				m, _ = m.Update(keys[i%2])
				if m.View() == "" {
					b.Fatal("no frame")
				}
			}
		})
	}
}
