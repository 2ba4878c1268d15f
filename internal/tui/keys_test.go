package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/tui/screen"
)

func allScopes() []string {
	return []string{screen.BenchScope, screen.SequenceScope, screen.FindScope, screen.WayScope, screen.CoverScope, screen.BehindScope,
		screen.DaybookScope, screen.DesignsScope, screen.CarryScope, screen.PartsScope, screen.LateScope, screen.ForecastScope, screen.IdleScope,
		historyScope, kindsScope, recordsScope, menuScope, keysScope, formScope, questionScope, listingScope, findingScope}
}

func TestNoKeyIsBoundTwiceWhereItWorks(t *testing.T) {
	for _, s := range allScopes() {
		seen := map[string]binding{}
		for _, in := range chain(s) {
			for _, b := range bindingsOf(in) {
				for _, k := range b.keys {
					if other, twice := seen[k]; twice {
						t.Errorf("in %s the key %q means %q and %q", s, k, other.help, b.help)
					}
					seen[k] = b
				}
			}
		}
	}
}

// The actions of screens and our own are numbered one after another.
func TestEveryActionHasAKeyAndHelp(t *testing.T) {
	for a := showSettings; a <= screen.SwapLearned; a++ {
		if a == 0 {
			continue // no action
		}
		found := false
		for _, b := range bindings() {
			if b.action != a {
				continue
			}
			found = true
			if len(b.keys) == 0 || b.help == "" {
				t.Errorf("action %d has the keys %q and the help %q", a, b.keys, b.help)
			}
		}
		if !found {
			t.Errorf("action %d has no key", a)
		}
	}
}

func TestEveryScopeWithKeysIsInAChain(t *testing.T) {
	used := map[string]bool{}
	for _, s := range allScopes() {
		for _, in := range chain(s) {
			used[in] = true
		}
	}
	for _, b := range bindings() {
		if !used[b.scope] {
			t.Errorf("the key %q is in scope %q, which is in no chain", b.keys, b.scope)
		}
	}
}

// Some keys are one and the same to a terminal (ctrl+m is enter, ctrl+i is tab), and some
// never come (shift+enter): Bubble Tea v1, key.go.
func TestNoKeyIsOneThatTerminalsDoNotTellApart(t *testing.T) {
	for _, b := range bindings() {
		for _, k := range b.keys {
			switch k {
			case "ctrl+m", "ctrl+i", "ctrl+j", "ctrl+[", "shift+enter", "ctrl+enter":
				t.Errorf("%q (%s) cannot be told apart", k, b.help)
			}
		}
	}
}

func TestEscNeverLeaves(t *testing.T) {
	for _, s := range allScopes() {
		if a, ok := bound(s, "esc"); ok && a != screen.Back {
			t.Errorf("in %s esc does action %d", s, a)
		}
	}
}

func TestTheBottomLineShowsHowToSeeAllKeys(t *testing.T) {
	for _, s := range allScopes() {
		for _, w := range []int{60, 80, 250} {
			line := bottomLine(plainStyles(), s, w)
			if got := ansi.StringWidth(line); got != w {
				t.Errorf("%s: the bottom line is %d wide, not %d", s, got, w)
			}
			if _, helps := bound(s, "?"); helps && !strings.HasSuffix(line, "? all keys") {
				t.Errorf("%s at %d: %q does not say how to see all keys", s, w, line)
			}
		}
	}
}

// TestTheBottomLineCutsNoWord: what there is no room for is left out whole.
func TestTheBottomLineCutsNoWord(t *testing.T) {
	for _, s := range allScopes() {
		for w := 60; w <= 140; w++ {
			line := strings.TrimSuffix(bottomLine(plainStyles(), s, w), "? all keys")
			rest := strings.TrimSpace(line)
			for _, b := range hints(s) {
				rest = strings.TrimSpace(strings.TrimPrefix(rest, b.keys[0]+" "+b.short))
			}
			if rest != "" {
				t.Errorf("%s at %d: %q has %q, which is no whole hint", s, w, line, rest)
			}
		}
	}
}

// TestTheKeysOfScreensAreKnownToThem: where letters search, these keys show another screen.
func TestTheKeysOfScreensAreKnownToThem(t *testing.T) {
	var keys string
	for _, tab := range tabs() {
		keys += tab.key
	}
	if keys != screen.ScreenKeys {
		t.Errorf("the screens have the keys %q, but package screen knows %q", keys, screen.ScreenKeys)
	}
	for i, tab := range tabs() {
		if a, _ := bound(screen.CoverScope, tab.key); a != showBench-screen.Action(i) {
			t.Errorf("%s does not show %s", tab.key, tab.name)
		}
	}
}

func TestHelpShowsEveryKeyThatWorks(t *testing.T) {
	for _, s := range allScopes() {
		text := strings.Join(newHelp(s).lines(plainStyles(), 200), "\n")
		for _, in := range chain(s) {
			for _, b := range bindingsOf(in) {
				if !strings.Contains(text, b.help) || !strings.Contains(text, b.keys[0]) {
					t.Errorf("the help of %s lacks %q: %s", s, b.keys[0], b.help)
				}
			}
		}
	}
}

func TestSplit(t *testing.T) {
	runes := func(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }
	paste := runes("two words")
	paste.Paste = true
	alt := runes("ab")
	alt.Alt = true
	for _, tt := range []struct {
		name string
		in   tea.KeyMsg
		want []string
	}{
		{"one letter", runes("j"), []string{"j"}},
		{"letters read in one go", runes("jjü日"), []string{"j", "j", "ü", "日"}},
		{"a paste stays whole", paste, []string{"[two words]"}},
		{"alt stays with each", alt, []string{"alt+a", "alt+b"}},
		{"escape twice", tea.KeyMsg{Type: tea.KeyEsc, Alt: true}, []string{"esc", "esc"}},
		{"no letter", tea.KeyMsg{Type: tea.KeyEnter}, []string{"enter"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, k := range split(tt.in) {
				got = append(got, k.String())
			}
			if strings.Join(got, " ") != strings.Join(tt.want, " ") {
				t.Errorf("split(%q) = %q, want %q", tt.in, got, tt.want)
			}
		})
	}
}

func TestKeyOf(t *testing.T) {
	for _, tt := range []struct {
		in         tea.KeyMsg
		name, text string
		paste      bool
	}{
		{in: keyMsg("x"), name: "x", text: "x"},
		{in: keyMsg("space"), name: "space", text: " "},
		{in: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(" ")}, name: "space", text: " "},
		{in: keyMsg("enter"), name: "enter"},
		{in: keyMsg("ctrl+s"), name: "ctrl+s"},
		{in: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("b"), Alt: true}, name: "alt+b"},
		{in: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("q"), Paste: true}, text: "q", paste: true},
	} {
		if got := keyOf(tt.in); got.Name != tt.name || got.Text != tt.text || got.Paste != tt.paste {
			t.Errorf("keyOf(%v) = %+v, want %q %q %v", tt.in, got, tt.name, tt.text, tt.paste)
		}
	}
}
