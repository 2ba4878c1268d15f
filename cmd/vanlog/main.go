// Command vanlog plans and logs the conversion of a van. See package cli for its verbs.
package main

import (
	"os"
	"time"

	"github.com/mattn/go-isatty"

	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/cli"
	"example.com/vanlog/internal/store"
	_ "example.com/vanlog/internal/termguard"
	"example.com/vanlog/internal/units"
)

func main() {
	os.Exit(cli.Run(cli.World{
		Args: os.Args[1:], In: os.Stdin, Out: os.Stdout, Err: os.Stderr,
		Env: os.Getenv, Now: time.Now, Interactive: interactive,
		Open: open, Create: create, Restore: store.Restore, Screens: screens, Welcome: greet,
	}))
}

func interactive() bool {
	return isatty.IsTerminal(os.Stdin.Fd()) && isatty.IsTerminal(os.Stdout.Fd()) && os.Getenv("TERM") != "dumb"
}

func open(path string) (app.Store, error) { return store.Open(path) }

func create(path string, b build.Build, what string, at units.Instant) (app.Store, error) {
	return store.Create(path, b, what, at)
}
