package main

import (
	"context"
	"os"
	"time"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/tui"
	"example.com/vanlog/internal/units"
)

func screens(ctx context.Context, a *app.App) error {
	return tui.Run(ctx, a, tui.Options{In: os.Stdin, Out: os.Stdout, Env: os.Getenv,
		Now: func() units.Instant { return units.InstantOf(time.Now()) }})
}
