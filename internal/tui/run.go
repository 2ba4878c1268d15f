package tui

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/term"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/settings"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// Options say where and how vanlog runs on a terminal.
type Options struct {
	In  io.Reader
	Out io.Writer
	// Env gives environment variables: TERM, NO_COLOR, COLORTERM, COLORFGBG, VANLOG_THEME,
	// which is dark, light or auto, and VANLOG_MOUSE, which is on or off (as without it).
	Env func(string) string
	Now func() units.Instant
	// Settings are what the person wants; the environment goes before them.
	Settings settings.Settings
	// Keep keeps other settings; nil: there is no place for them.
	Keep func(settings.Settings) error
}

// ErrNoTerminal says that there is no terminal that the screens could be drawn on.
var ErrNoTerminal = errors.New("the screens need a terminal; use the commands instead, such as " +
	"vanlog today, vanlog sequence, vanlog reach, vanlog log; vanlog --help shows all")

// searchAtOnce is how long a better order is searched for after each change.
const searchAtOnce = 2 * time.Second

// livesAtOnce is how many lives the forecast on the top line comes from.
const livesAtOnce = 2000

// Run shows the screens until the person leaves. The error is ErrNoTerminal where In or
// Out is a file but no terminal, or TERM is dumb; a *SignalError where a signal ended it.
// Every change that was asked for has been tried when it returns.
func Run(ctx context.Context, a *app.App, o Options) error {
	if !onTerminal(o) {
		return ErrNoTerminal
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	w := world{ctx: ctx, app: a, now: o.Now, after: after, improve: searchAtOnce, lives: livesAtOnce, writes: &gate{},
		photos: o.Settings.PhotoFolder}
	m := newModel(w, widget.NewStyles(renderer(o), dark(o)))
	m.pointer = cmp.Or(o.Env("VANLOG_MOUSE"), o.Settings.Mouse) == "on"
	m.wants = wishes{now: o.Settings, keep: o.Keep, looks: func(s settings.Settings) widget.Styles {
		o.Settings = s
		return widget.NewStyles(renderer(o), dark(o))
	}}
	sig := listen()
	defer sig.end()
	p := tea.NewProgram(watched{m, sig}, tea.WithContext(ctx), tea.WithInput(o.In), tea.WithOutput(o.Out),
		tea.WithAltScreen(), tea.WithoutSignalHandler())
	sig.kill = p.Kill
	last, err := p.Run()
	finishWrites(context.WithoutCancel(ctx), last)
	if s := sig.caught.Load(); s != nil {
		return &SignalError{*s}
	}
	if err != nil {
		return fmt.Errorf("the screens stopped (every change that was confirmed is on file): %w", err)
	}
	return nil
}

// finishWrites waits for the change that is being written, and writes those behind it.
func finishWrites(ctx context.Context, last tea.Model) {
	w, ok := last.(watched)
	if !ok {
		return
	}
	for _, q := range w.queue {
		w.writes.once(q.number, func() { write(ctx, w.app, q.effect) })
	}
}

// after says msg after d.
func after(d time.Duration, msg tea.Msg) tea.Cmd {
	return tea.Tick(d, func(time.Time) tea.Msg { return msg })
}

// onTerminal reports whether there is a terminal. What is no file at all is taken for
// one: whoever hands that over knows what is behind it.
func onTerminal(o Options) bool {
	for _, end := range []any{o.In, o.Out} {
		if f, ok := end.(interface{ Fd() uintptr }); ok && !term.IsTerminal(f.Fd()) {
			return false
		}
	}
	return o.Env("TERM") != "dumb"
}

// environment is Options.Env as termenv asks for it.
type environment func(string) string

func (e environment) Getenv(name string) string { return e(name) }

func (e environment) Environ() []string {
	var all []string
	for _, name := range []string{"TERM", "NO_COLOR", "COLORTERM", "CLICOLOR", "CLICOLOR_FORCE", "TERM_PROGRAM"} {
		if v := e(name); v != "" {
			all = append(all, name+"="+v)
		}
	}
	return all
}

// renderer makes a renderer with the colours that the environment promises. It never
// asks the terminal, which might not answer.
func renderer(o Options) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(o.Out, termenv.WithEnvironment(environment(o.Env)), termenv.WithTTY(true))
	r.SetHasDarkBackground(dark(o))
	return r
}

// dark reports whether the ground is dark: as VANLOG_THEME says, or the settings, else unless
// COLORFGBG says that it is light (its last number is a colour of the 16: 7 and 9 to 15 are light
// ones).
func dark(o Options) bool {
	switch cmp.Or(o.Env("VANLOG_THEME"), o.Settings.Theme) {
	case "dark":
		return true
	case "light":
		return false
	}
	fields := strings.Split(o.Env("COLORFGBG"), ";")
	ground, err := strconv.Atoi(fields[len(fields)-1])
	return err != nil || ground != 7 && ground < 9
}
