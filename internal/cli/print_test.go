package cli

import (
	"bytes"
	"strings"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
)

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"plain":                     "plain",
		"12 N·m ±10 % 水":            "12 N·m ±10 % 水",
		"a\tb\r\nc":                 "a b  c",
		"\x1b[31mred\x1b[0m":        "red",
		"\x1b]0;title\x07rest":      "rest",
		"bell\x07 del\x7f c1\u009b": "bell del c1",
		"bad \xff byte":             "bad ? byte",
		"turned \u202etext\u2069":   "turned text",
	} {
		if got := clean(in); got != want {
			t.Errorf("clean(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestTable(t *testing.T) {
	var out bytes.Buffer
	e := &env{World: World{Out: &out}}
	e.table([]string{"A", "B"}, []string{"long\tname", "x"}, []string{"y", ""})
	if want := "A          B\nlong name  x\ny\n"; out.String() != want {
		t.Errorf("table:\n%q, want\n%q", out.String(), want)
	}
}

func TestWrap(t *testing.T) {
	for _, tt := range []struct{ name, label, text, want string }{
		{"short", "so: ", "it is", "so: it is\n"},
		{"nothing", "so: ", "", "so: \n"},
		{"just fits", "so: ", strings.Repeat("word ", 14) + "sixsix", "so: " + strings.Repeat("word ", 14) + "sixsix\n"},
		{"one too many", "so: ", strings.Repeat("word ", 14) + "sevenly", "so: " + strings.TrimSpace(strings.Repeat("word ", 14)) + "\n    sevenly\n"},
		{"a long word", "so: ", "a " + strings.Repeat("x", 90) + " b", "so: a\n    " + strings.Repeat("x", 90) + "\n    b\n"},
		{"wide runes take two columns", "", strings.Repeat("水", 39) + " ab", strings.Repeat("水", 39) + "\nab\n"},
		{"what is typed cannot break lines", "so: ", "a\x1b[31m\nb", "so: a b\n"},
	} {
		var out bytes.Buffer
		e := &env{World: World{Out: &out}}
		e.wrap(tt.label, tt.text)
		if out.String() != tt.want {
			t.Errorf("%s:\n%q, want\n%q", tt.name, out.String(), tt.want)
		}
	}
}

func TestBreakEvenText(t *testing.T) {
	years := func(y float64) *float64 { return &y }
	for _, tt := range []struct {
		e    answer.BreakEven
		want string
	}{
		{answer.BreakEven{MoreMin: 90, SavedPerYear: 45, Years: years(2)}, "a is 1h30 more work than b, and saves 45 min of access a year: paid back after 2.0 years"},
		{answer.BreakEven{MoreMin: 90, SavedPerYear: -4}, "a is 1h30 more work than b, and costs 4 min more access a year: it never pays back"},
		{answer.BreakEven{MoreMin: 90}, "a is 1h30 more work than b, and saves no access: it never pays back"},
		{answer.BreakEven{SavedPerYear: 45, Years: years(0)}, "a is no more work than b, and saves 45 min of access a year"},
		{answer.BreakEven{MoreMin: 90, Unequal: "with b, x is shut"}, "a is 1h30 more work than b, and saves no access; the two do not compare: with b, x is shut"},
	} {
		tt.e.Dearer, tt.e.Cheaper = "a", "b"
		if got := breakEvenText(tt.e); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestLogWords(t *testing.T) {
	for _, tt := range []struct {
		words   []string
		minutes int
		note    string
		wrong   bool
	}{
		{words: nil},
		{words: []string{"1h30"}, minutes: 90},
		{words: []string{"90", "two boards"}, minutes: 90, note: "two boards"},
		{words: []string{"two boards"}, note: "two boards"},
		{words: []string{"2 boards are up"}, note: "2 boards are up"},
		{words: []string{"2boards"}, wrong: true},
		{words: []string{"inf"}, wrong: true},
		{words: []string{"-5"}, wrong: true},
		{words: []string{"24h"}, minutes: 1440},
		{words: []string{"24h01"}, wrong: true},
		{words: []string{"two", "boards"}, wrong: true},
		{words: []string{""}},
	} {
		var r app.LogRequest
		err := (&logVerb{}).words(&r, tt.words, 0)
		if (err != nil) != tt.wrong || !tt.wrong && (r.Minutes != tt.minutes || r.Note != tt.note) {
			t.Errorf("log TASK %q: %d minutes, note %q, %v; want %d, %q, wrong: %v", tt.words, r.Minutes, r.Note, err, tt.minutes, tt.note, tt.wrong)
		}
	}
}

func TestIsTable(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       bool
	}{
		{"a.csv", `{"id"`, true}, {"a.json", "id,name", false}, {"A.CSV", "", true},
		{"-", "\ufeff \n{", false}, {"-", "id,name", true},
	} {
		if got := isTable(tt.name, []byte(tt.text)); got != tt.want {
			t.Errorf("isTable(%q, %q) = %v", tt.name, tt.text, got)
		}
	}
}

func TestLastFile(t *testing.T) {
	for _, tt := range []struct {
		env  map[string]string
		want string
	}{
		{map[string]string{"XDG_STATE_HOME": "/s", "HOME": "/h"}, "/s/vanlog/last"},
		{map[string]string{"XDG_STATE_HOME": "relative", "HOME": "/h"}, "/h/.local/state/vanlog/last"}, // to be ignored, by the XDG standard
		{map[string]string{"HOME": "/h"}, "/h/.local/state/vanlog/last"},
		{nil, ""},
	} {
		e := &env{World: World{Env: func(name string) string { return tt.env[name] }}}
		if got := e.lastFile(); got != tt.want {
			t.Errorf("with %v the name is kept in %q, want %q", tt.env, got, tt.want)
		}
	}
}

func TestRemember(t *testing.T) {
	dir := t.TempDir()
	e := &env{World: World{Env: func(name string) string { return map[string]string{"XDG_STATE_HOME": dir}[name] }}}
	if got, err := e.path(); err == nil {
		t.Fatalf("nothing was opened yet, but %q is remembered", got)
	}
	e.remember("/vans/heron.van")
	if got, err := e.path(); got != "/vans/heron.van" || err != nil {
		t.Errorf("path() = %q, %v", got, err)
	}
	e.file = "other.van"
	if got, _ := e.path(); got != "other.van" {
		t.Errorf("with --build: path() = %q", got)
	}
}

// Large numbers are written out, small parts are rounded away.
func TestNumber(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 4.5: "4.5", 1.0 / 3: "0.333", 2.25: "2.25", 628.2: "628.2",
		1234567.8: "1234567.8", 2e9: "2000000000", 0.00004: "0"} {
		if got := number(x); got != want {
			t.Errorf("number(%g) is %q, want %q", x, got, want)
		}
	}
}
