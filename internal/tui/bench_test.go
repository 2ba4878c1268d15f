package tui

import (
	"fmt"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
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

func benchBuilds() map[string]build.Build {
	return map[string]build.Build{"demo": demo.Build(testkit.Now), "10000": large(10_000)}
}

// BenchmarkKeyToFrame is a press of a key and the frame after it, without what runs beside.
func BenchmarkKeyToFrame(b *testing.B) {
	for name, bld := range benchBuilds() {
		d := drive(b, bld, 120, 40)
		d.m.st = colourful()
		for _, s := range []string{"1", "2", "3", "4"} {
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
