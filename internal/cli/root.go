// Package cli is the command line: verbs, flags, the words of the output and the exit
// codes. Each verb puts one question to package answer or asks one thing of package
// app, and prints what it gets, for a person or as JSON.
//
// It touches neither the terminal nor the clock by itself: all that is in a World.
package cli

import (
	"cmp"
	"context"
	"errors"
	"io"
	"time"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/units"
)

// World is everything outside that the commands touch, besides the files that are named.
type World struct {
	Args     []string
	In       io.Reader
	Out, Err io.Writer
	Env      func(string) string
	Now      func() time.Time
	// Interactive reports whether a person sits before a terminal that can show screens.
	Interactive func() bool
	// Open gives the build in a file; Create makes a file with a build in it.
	Open   func(path string) (app.Store, error)
	Create func(path string, b build.Build, what string, at units.Instant) (app.Store, error)
	// Restore puts a backup in the place of a file, once it was verified.
	Restore func(ctx context.Context, from, to string) error
	// Screens shows a build until the person leaves. An *Exit among its errors says how
	// the process is to end.
	Screens func(ctx context.Context, a *app.App) error
	// Welcome asks a person who has no build how to begin, until begin has no error; it
	// reports whether that is so, or the person left. Says is why there is none.
	Welcome func(ctx context.Context, says string, begin func(Beginning) error) (bool, error)
}

// Beginning is how a person wants to begin: with the demonstration, with a build to be
// written to Path, or with the one that is there.
type Beginning struct {
	Demo  bool
	Path  string
	Build *build.Build // nil: it is there
	What  string       // what writing it does, for its history
}

// env is the world with the flags that all verbs have.
type env struct {
	World
	asJSON bool
	file   string // of --build
	at     string // of --now, as typed
	now    *units.Instant
}

// Run runs one command and gives the exit code of the process: 0 done; 1 anything else;
// 2 wrong usage; 3 the answer is no; 4 the build is in use or cannot be written; 5 the
// file is damaged.
func Run(w World) int {
	out := &output{Writer: w.Out}
	w.Out = out
	e := &env{World: w}
	root := e.root()
	root.SetArgs(w.Args)
	root.SetIn(w.In)
	root.SetOut(w.Out)
	root.SetErr(w.Err)
	err := root.ExecuteContext(context.Background())
	return explain(w.Err, cmp.Or(err, out.err))
}

const about = `vanlog plans and logs the conversion of a van: what to do next, in which order,
the way to every item behind its panels, what a panel buries, and what was done.

Without a verb it opens the screens. Every verb that prints a result takes --json.
A build is one file: name it with --build or VANLOG_BUILD; else the one last
opened is meant.`

func (e *env) root() *cobra.Command {
	c := &cobra.Command{
		Use:               "vanlog",
		Short:             "plan and log a van conversion",
		Long:              about,
		Args:              e.noVerb,
		RunE:              e.screens,
		PersistentPreRunE: e.prepare,
		SilenceErrors:     true,
		SilenceUsage:      true,
	}
	c.PersistentFlags().BoolVar(&e.asJSON, "json", false, "print one JSON document")
	c.PersistentFlags().StringVar(&e.file, "build", "", "the `FILE` of the build")
	c.PersistentFlags().StringVar(&e.at, "now", "", "plan as if it were `TIME`, for example 2026-03-02T08:00")
	c.SetFlagErrorFunc(flagError)
	c.AddCommand(newVersion(e), newDemo(e), newNew(e), newImport(e), newExport(e),
		newSequence(e), newDates(e), newForecast(e), newToday(e), newReach(e), newCloseIn(e), newBurden(e),
		newLate(e), newParts(e), newMove(e), newPin(e), newUnpin(e),
		newLog(e), newStart(e), newStop(e), newDaybook(e), newCorrect(e), newSplit(e), newStrike(e), newProofs(e), newAhead(e), newSnag(e), newSnags(e), newHours(e), newWeek(e), newSum(e), newFind(e), newHistory(e), newUndo(e), newRedo(e),
		newAudit(e), newVerify(e), newBackup(e), newRestore(e), newSettings(e))
	return c
}

// prepare reads the flags that all verbs have.
func (e *env) prepare(*cobra.Command, []string) error {
	if e.at == "" {
		return nil
	}
	now, err := units.ParseInstant(e.at)
	if err != nil {
		return usage("--now: %v", err)
	}
	e.now = &now
	return nil
}

// clock gives the time of --now, else that of the clock.
func (e *env) clock() units.Instant {
	if e.now != nil {
		return *e.now
	}
	return units.InstantOf(e.Now())
}

// noVerb refuses words that are no verb, and says which are near.
func (e *env) noVerb(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var verbs []string
	for _, sub := range c.Commands() {
		verbs = append(verbs, sub.Name())
	}
	return &usageError{text: "no verb \"" + clean(args[0]) + "\"", near: answer.Near(args[0], verbs),
		hint: "vanlog help lists the verbs"}
}

// screens is vanlog without a verb.
func (e *env) screens(c *cobra.Command, _ []string) error {
	if !e.Interactive() {
		return hinted(errNoTerminal, "vanlog help lists the commands, which give the same answers: vanlog today, vanlog sequence, vanlog reach ITEM")
	}
	a, err := e.app()
	var none *noBuildError
	if errors.As(err, &none) || e.file == "" && errors.Is(err, build.ErrAbsent) {
		return e.welcome(c.Context(), err)
	}
	if err != nil {
		return err
	}
	return e.Screens(c.Context(), a)
}
