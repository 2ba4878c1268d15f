package tui

import (
	"context"
	"io"
	"reflect"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/tui/widget"
)

// driver drives a Model without a terminal: it hands over messages, carries out what
// comes back, and hands over what that says, until nothing is left.
type driver struct {
	t     testing.TB
	m     Model
	store app.Store
	clock *testkit.Clock
}

// colourful are the styles of a terminal with all colours.
func colourful() widget.Styles {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.TrueColor)
	r.SetHasDarkBackground(true)
	return widget.NewStyles(r, true)
}

func plainStyles() widget.Styles {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	r.SetHasDarkBackground(true)
	return widget.NewStyles(r, true)
}

func drive(t testing.TB, b build.Build, w, h int) *driver {
	t.Helper()
	return driveStore(t, testkit.NewMemory(b), w, h)
}

// twisted is a store that gives what no build may be: text that Check would refuse.
type twisted struct {
	*testkit.Memory
	twist func(build.Build) build.Build
}

func (s twisted) Load(ctx context.Context) (build.Build, build.Rev, error) {
	b, rev, err := s.Memory.Load(ctx)
	return s.twist(b), rev, err
}

func driveStore(t testing.TB, store app.Store, w, h int) *driver {
	t.Helper()
	d := &driver{t: t, store: store, clock: testkit.NewClock(testkit.Now)}
	never := func(time.Duration, tea.Msg) tea.Cmd { return nil }
	d.m = newModel(world{ctx: context.Background(), app: app.New(d.store, d.clock.Now), now: d.clock.Now,
		after: never, writes: &gate{}}, plainStyles())
	d.do(d.m.Init())
	d.send(tea.WindowSizeMsg{Width: w, Height: h})
	return d
}

func (d *driver) send(msg tea.Msg) {
	next, cmd := d.m.Update(msg)
	d.m = next.(Model)
	d.do(cmd)
}

func (d *driver) do(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			d.do(c)
		}
	case tea.QuitMsg, tea.SuspendMsg:
		d.m.says = notice{text: reflect.TypeOf(msg).String()}
	default:
		if reflect.TypeOf(msg) != reflect.TypeOf(tea.ClearScreen()) {
			d.send(msg)
		}
	}
}

// press sends keys by the names that Bubble Tea gives them; other texts are typed.
func (d *driver) press(keys ...string) {
	d.t.Helper()
	for _, k := range keys {
		d.send(keyMsg(k))
	}
}

func keyMsg(name string) tea.KeyMsg {
	types := map[string]tea.KeyType{"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
		"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "pgup": tea.KeyPgUp,
		"pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "ctrl+c": tea.KeyCtrlC, "ctrl+z": tea.KeyCtrlZ,
		"ctrl+s": tea.KeyCtrlS, "ctrl+n": tea.KeyCtrlN, "ctrl+d": tea.KeyCtrlD, "ctrl+r": tea.KeyCtrlR, "f1": tea.KeyF1, "ctrl+b": tea.KeyCtrlB, "ctrl+g": tea.KeyCtrlG, "ctrl+o": tea.KeyCtrlO, "ctrl+p": tea.KeyCtrlP, "ctrl+y": tea.KeyCtrlY, "ctrl+f": tea.KeyCtrlF,
		"backspace": tea.KeyBackspace}
	if typ, ok := types[name]; ok {
		return tea.KeyMsg{Type: typ}
	}
	if name == "space" {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// see fails where the frame has not all of these texts.
func (d *driver) see(texts ...string) {
	d.t.Helper()
	frame := d.m.View()
	for _, text := range texts {
		if !strings.Contains(frame, text) {
			d.t.Fatalf("the frame does not show %q:\n%s", text, frame)
		}
	}
}

func (d *driver) seeNot(text string) {
	d.t.Helper()
	if frame := d.m.View(); strings.Contains(frame, text) {
		d.t.Fatalf("the frame shows %q:\n%s", text, frame)
	}
}

// load gives the build as it is stored.
func (d *driver) load() build.Build {
	d.t.Helper()
	b, _, err := d.store.Load(context.Background())
	if err != nil {
		d.t.Fatal(err)
	}
	return b
}

// checkSize fails where a view is not exactly w × h.
func checkSize(t *testing.T, what, view string, w, h int) {
	t.Helper()
	lines := strings.Split(view, "\n")
	if len(lines) != h {
		t.Fatalf("%s at %d×%d has %d lines:\n%s", what, w, h, len(lines), view)
	}
	for i, line := range lines {
		if got := ansi.StringWidth(line); got != w {
			t.Fatalf("%s at %d×%d: line %d is %d wide: %q", what, w, h, i, got, line)
		}
	}
}
