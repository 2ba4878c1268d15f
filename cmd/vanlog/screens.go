package main

import (
	"context"
	"errors"
	"os"
	"time"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/cli"
	"example.com/vanlog/internal/tui"
	"example.com/vanlog/internal/units"
)

// screens shows a build until the person leaves.
func screens(ctx context.Context, a *app.App) error {
	return ended(tui.Run(ctx, a, onTerminal()))
}

func onTerminal() tui.Options {
	return tui.Options{In: os.Stdin, Out: os.Stdout, Env: os.Getenv,
		Now: func() units.Instant { return units.InstantOf(time.Now()) }}
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
