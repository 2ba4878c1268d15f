package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
)

// anyKey draws a key that a person may press at any time, or letters that arrive together,
// or a paste, or another size of the terminal, or the second that passes.
func anyKey(t *rapid.T) tea.Msg {
	switch rapid.IntRange(0, 12).Draw(t, "what") {
	case 0:
		return tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(rapid.StringN(1, 8, 20).Draw(t, "paste"))}
	case 1:
		return tea.WindowSizeMsg{Width: rapid.IntRange(0, 130).Draw(t, "w"), Height: rapid.IntRange(0, 45).Draw(t, "h")}
	case 2:
		return tickMsg{}
	case 3:
		return keyMsg(rapid.StringN(1, 3, 8).Draw(t, "letters"))
	}
	keys := []string{"up", "down", "left", "right", "enter", "enter", "esc", "tab", "shift+tab", "pgup", "pgdown", "home", "end", "space",
		"backspace", "ctrl+s", "ctrl+n", "ctrl+d", "ctrl+r", "f1"}
	for _, b := range bindings() {
		if len(b.keys[0]) == 1 && b.keys[0] != "q" {
			keys = append(keys, b.keys[0])
		}
	}
	return keyMsg(rapid.SampledFrom(append(keys, "y", "n", "1h30", "2026-03-01T10:00")).Draw(t, "key"))
}

// TestAnyKeyAtAnyTime presses whatever there is: nothing panics, every frame has exactly the
// size of the terminal, the build stays without faults, and esc leads back to a screen.
func TestAnyKeyAtAnyTime(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := goldenBuild()
		if rapid.Bool().Draw(rt, "empty") {
			b = build.Build{}
		}
		d := drive(t, b, 80, 24)
		for range rapid.IntRange(1, 60).Draw(rt, "keys") {
			d.send(anyKey(rt))
			if d.m.w > 0 && d.m.h > 0 {
				checkSize(t, "after any key", d.m.View(), d.m.w, d.m.h)
			}
		}
		if faults := d.load().Check(); len(faults) > 0 {
			rt.Fatalf("the build is at fault: %v", faults)
		}
		for range 20 {
			if n := len(d.m.pages); n > 0 {
				d.press("esc")
				if len(d.m.pages) == n && strings.Contains(d.m.top().View(d.m.st, 80, 20), "Leave without saving") {
					d.press("y") // leave, forget the changes
				}
			}
		}
		if len(d.m.pages) > 0 {
			rt.Fatalf("esc does not lead back:\n%s", d.m.View())
		}
	})
}

// TestKeysBeforeAnythingIsRead: the build may take a moment.
func TestKeysBeforeAnythingIsRead(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drive(t, testkit.Workshop(), 80, 24)
		m := tea.Model(newModel(d.m.world, d.m.st))
		m, _ = m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
		for range rapid.IntRange(1, 40).Draw(rt, "keys") {
			m, _ = m.Update(anyKey(rt))
			if m := m.(Model); m.w > 0 && m.h > 0 {
				checkSize(t, "before the build is read", m.View(), m.w, m.h)
			}
		}
	})
}
