package main

import (
	"context"
	"errors"
	"os"
	"time"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/cli"
	"example.com/vanlog/internal/settings"
	"example.com/vanlog/internal/tui"
	"example.com/vanlog/internal/units"
)

// screens shows a build until the person leaves.
func screens(ctx context.Context, a *app.App) error {
	o, err := onTerminal()
	if err != nil {
		return err
	}
	return ended(tui.Run(ctx, a, o))
}

// onTerminal gives this terminal with the person's settings. The error is that of wrong settings.
func onTerminal() (tui.Options, error) {
	want, err := settings.Read(settings.File(os.Getenv))
	return tui.Options{In: os.Stdin, Out: os.Stdout, Env: os.Getenv, Settings: want,
		Keep: func(s settings.Settings) error { return settings.Write(settings.File(os.Getenv), s) },
		Now:  func() units.Instant { return units.InstantOf(time.Now()) }}, err
}

// ended gives an error of the screens with the code that the process ends with: where a signal
// ended them, 128 and the number of the signal, as is customary.
func ended(err error) error {
	var signal *tui.SignalError
	if errors.As(err, &signal) {
		return &cli.Exit{Code: 128 + int(signal.Signal), Err: err}
	}
	return err
}
