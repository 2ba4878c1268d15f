package widget

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// plainStyles draws without colours, as on a terminal that has none.
func plainStyles() Styles {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	return NewStyles(r, true)
}

// keys makes keys of names; what is in quotes is typed character by character.
func keys(script string) []Key {
	var out []Key
	for _, w := range strings.Fields(script) {
		text, isText := strings.CutPrefix(w, "'")
		if !isText {
			out = append(out, Key{Name: w})
			continue
		}
		for _, r := range strings.ReplaceAll(text, "_", " ") {
			out = append(out, Key{Name: string(r), Text: string(r)})
		}
	}
	return out
}

// drive gives keys to a widget, one after another, and gives the last outcome.
func drive[W interface{ Key(Key) (W, Outcome) }](w W, script string) (W, Outcome) {
	out := Stay
	for _, k := range keys(script) {
		w, out = w.Key(k)
	}
	return w, out
}

// sizes are those of style.md 4.5, and some that are too small for anything.
var sizes = [][2]int{{80, 24}, {40, 10}, {200, 60}, {20, 4}, {7, 3}, {2, 2}, {1, 1}, {10, 0}, {0, 5}}

// fills checks that a view has exactly its lines and columns.
func fills(t *testing.T, what string, view func(Styles, int, int) string) {
	t.Helper()
	for _, wh := range sizes {
		w, h := wh[0], wh[1]
		got := view(plainStyles(), w, h)
		lines := strings.Split(got, "\n")
		if h == 0 && got == "" {
			continue
		}
		if len(lines) != h {
			t.Errorf("%s at %d×%d has %d lines", what, w, h, len(lines))
		}
		for _, l := range lines {
			if ansi.StringWidth(l) != w || strings.ContainsFunc(l, func(r rune) bool { return r < ' ' }) {
				t.Errorf("%s at %d×%d: line %q is %d columns wide", what, w, h, l, ansi.StringWidth(l))
			}
		}
	}
}

const hostile = "\x1b[31mred\x1b]0;title\a\ttab\r\nline \u202eturned 面板 e\u0301 \x00\x9b\xff"

func TestEveryViewFillsItsCells(t *testing.T) {
	rows := []Row{{Text: hostile, Head: true}, {ID: "a", Text: hostile, Note: hostile, Tone: Bad}, {ID: "b", Text: "plain"}, {ID: "c"}}
	list := NewList(rows, hostile)
	form, _ := drive(NewForm(hostile, sampleFields()...).Trouble(hostile), "ctrl+s")
	picking, _ := drive(form, "down down down down enter 'x")
	asking, _ := drive(form, "'abc esc")
	for what, view := range map[string]func(Styles, int, int) string{
		"list":            list.View,
		"searched list":   list.Searched().View,
		"empty list":      NewList(nil, hostile).View,
		"nothing matches": first(drive(list.Searched(), "'zzzzz")).View,
		"picker":          NewPicker(hostile, []Choice{{"a", hostile}, {hostile, ""}}, true, "a").View,
		"confirm":         NewConfirm(hostile, hostile, hostile).View,
		"form":            form.View,
		"form picking":    picking.View,
		"form asking":     asking.View,
		"empty form":      NewForm("").View,
	} {
		fills(t, what, view)
	}
	for _, wh := range sizes {
		if got := NewLine(hostile).View(plainStyles(), wh[0], true); ansi.StringWidth(got) != wh[0] {
			t.Errorf("line at %d columns: %q", wh[0], got)
		}
	}
}

func first[W any](w W, _ Outcome) W { return w }

func sampleFields() []Field {
	return []Field{
		{Name: "name", Label: hostile, Hint: hostile, Value: hostile, Required: true},
		{Name: "n", Label: "Number", Check: func(s string) error { return fmt.Errorf("bad %s", s) }, Value: "x"},
		{Name: "kind", Label: "Kind", Asks: Choose, Words: []string{"must", "should"}, Value: "must"},
		{Name: "lines", Label: "Lines", Asks: Lines, Value: "one\ntwo\x1b"},
		{Name: "place", Label: "Place", Asks: Pick, From: []Choice{{"p", hostile}}, Value: "p"},
		{Name: "id", Label: "Id", Value: "fixed", Locked: true},
	}
}

func TestClean(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"plain", "plain"},
		{"12 N·m ±10 %, 40 × 40", "12 N·m ±10 %, 40 × 40"},
		{"a\tb\nc\r\nd", "a b c d"},
		{"\x1b[31mred\x07", "[31mred"},
		{"bad \xff\xfe bytes", "bad  bytes"},
		{"\u202eback\u2066wards\ufeff", "backwards"},
		{"\u009b31m", "31m"},
		{"面板 e\u0301", "面板 e\u0301"},
	} {
		if got := Clean(tt.in); got != tt.want {
			t.Errorf("Clean(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestFit(t *testing.T) {
	for _, tt := range []struct {
		in   string
		w    int
		want string
	}{
		{"tank", 6, "tank  "}, {"tank bay", 6, "tank …"}, {"tank", 4, "tank"}, {"面板面", 4, "面… "}, {"x", 0, ""}, {"abc", 1, "…"},
	} {
		if got := Fit(tt.in, tt.w); got != tt.want {
			t.Errorf("Fit(%q, %d) = %q, want %q", tt.in, tt.w, got, tt.want)
		}
	}
}

func TestLineEditing(t *testing.T) {
	for _, tt := range []struct{ begin, script, want string }{
		{"", "'pump", "pump"},
		{"pump", "left left 'x", "puxmp"},
		{"pump", "home delete 'b", "bump"},
		{"pump board", "ctrl+w 'lid", "pump lid"},
		{"pump board", "ctrl+left ctrl+k", "pump "},
		{"pump board", "home ctrl+right ctrl+u", " board"},
		{"pump", "backspace backspace backspace backspace backspace", ""},
		{"pump", "home left end right 's", "pumps"},
		{"面板", "left backspace", "板"},
		{"pump  ", "alt+backspace", ""},
	} {
		l, _ := drive(NewLine(tt.begin), tt.script)
		if l.Text() != tt.want {
			t.Errorf("%q, then %s: %q, want %q", tt.begin, tt.script, l.Text(), tt.want)
		}
	}
}

func TestLineTakesAPasteAsOneLine(t *testing.T) {
	l, out := NewLine("a").Key(Key{Text: "b\nc\x1b[2J\td", Paste: true})
	if l.Text() != "ab c[2J d" || out != Stay {
		t.Errorf("pasted: %q, %v", l.Text(), out)
	}
	l, _ = l.Key(Key{Text: strings.Repeat("x", 20_000), Paste: true})
	if len(l.Text()) != longestLine {
		t.Errorf("a line of %d characters, want at most %d", len(l.Text()), longestLine)
	}
}

func TestLineShowsItsCursor(t *testing.T) {
	long := NewLine(strings.Repeat("abcdefghij", 5))
	for _, script := range []string{"", "home", "ctrl+left", "left left left left"} {
		l, _ := drive(long, script)
		if got := l.View(plainStyles(), 12, true); !strings.Contains(got, "│") {
			t.Errorf("after %q the cursor is not in %q", script, got)
		}
	}
	if got := long.View(plainStyles(), 12, false); got != "abcdefghija…" {
		t.Errorf("without the cursor: %q", got)
	}
}

func TestConfirm(t *testing.T) {
	for _, tt := range []struct {
		script string
		want   Outcome
	}{
		{"enter", Cancelled}, {"'y", Submitted}, {"'n", Cancelled}, {"esc", Cancelled},
		{"right enter", Submitted}, {"tab tab enter", Cancelled}, {"'x", Unused}, {"down", Stay},
	} {
		if _, got := drive(NewConfirm("Remove it?", "remove", "keep"), tt.script); got != tt.want {
			t.Errorf("%s = %v, want %v", tt.script, got, tt.want)
		}
	}
	if _, got := NewConfirm("?", "", "").Key(Key{Text: "y", Paste: true}); got != Stay {
		t.Errorf("a pasted y = %v, want Stay", got)
	}
}
