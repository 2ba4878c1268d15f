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

// screens shows a build until the person leaves. Where a signal ends it, the process ends
// as is customary, with 128 and the number of the signal.
func screens(ctx context.Context, a *app.App) error {
	err := tui.Run(ctx, a, tui.Options{In: os.Stdin, Out: os.Stdout, Env: os.Getenv,
		Now: func() units.Instant { return units.InstantOf(time.Now()) }})
	var signal *tui.SignalError
	if errors.As(err, &signal) {
		return &cli.Exit{Code: 128 + int(signal.Signal), Err: err}
	}
	return err
}
