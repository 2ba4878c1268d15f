package tui

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/muesli/termenv"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/testkit"
)

func env(pairs ...string) func(string) string {
	return func(name string) string {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1]
			}
		}
		return ""
	}
}

func TestDark(t *testing.T) {
	for _, tt := range []struct {
		env  []string
		want bool
	}{
		{nil, true},
		{[]string{"COLORFGBG", "15;0"}, true},
		{[]string{"COLORFGBG", "0;15"}, false},
		{[]string{"COLORFGBG", "0;default;7"}, false},
		{[]string{"COLORFGBG", "12;8"}, true},
		{[]string{"COLORFGBG", "0;default"}, true},
		{[]string{"COLORFGBG", "0;15", "VANLOG_THEME", "dark"}, true},
		{[]string{"VANLOG_THEME", "light"}, false},
		{[]string{"VANLOG_THEME", "auto", "COLORFGBG", "0;15"}, false},
	} {
		if got := dark(Options{Env: env(tt.env...)}); got != tt.want {
			t.Errorf("dark(%v) = %v, want %v", tt.env, got, tt.want)
		}
	}
}

// What the variables mean: no-color.org, and the terminfo names that end in 256color.
func TestColoursFollowTheEnvironment(t *testing.T) {
	for _, tt := range []struct {
		env  []string
		want termenv.Profile
	}{
		{[]string{"TERM", "xterm-256color"}, termenv.ANSI256},
		{[]string{"TERM", "xterm-256color", "COLORTERM", "truecolor"}, termenv.TrueColor},
		{[]string{"TERM", "xterm"}, termenv.ANSI},
		{[]string{"TERM", "xterm-256color", "NO_COLOR", "1"}, termenv.Ascii},
	} {
		r := renderer(Options{Out: io.Discard, Env: env(tt.env...)})
		if got := r.ColorProfile(); got != tt.want {
			t.Errorf("with %v the profile is %v, want %v", tt.env, got, tt.want)
		}
	}
}

func TestWithoutATerminalTheCommandsAreNamed(t *testing.T) {
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, o := range []Options{
		{In: file, Out: io.Discard, Env: env()},
		{In: nil, Out: file, Env: env()},
		{Out: io.Discard, Env: env("TERM", "dumb")},
	} {
		if err := Run(t.Context(), nil, o); !errors.Is(err, ErrNoTerminal) {
			t.Errorf("Run(%+v) = %v, want ErrNoTerminal", o, err)
		}
	}
}

func TestRunEndsWithQ(t *testing.T) {
	in, keys := io.Pipe()
	go func() {
		io.WriteString(keys, "q")
		keys.Close()
	}()
	clock := testkit.NewClock(testkit.Now)
	err := Run(t.Context(), app.New(testkit.NewMemory(testkit.Workshop()), clock.Now),
		Options{In: in, Out: io.Discard, Env: env("TERM", "xterm"), Now: clock.Now})
	if err != nil {
		t.Errorf("Run = %v", err)
	}
}
