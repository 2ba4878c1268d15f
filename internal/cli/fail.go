package cli

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/plan"
)

// The exit codes.
const (
	exitDone    = 0
	exitFailed  = 1 // anything else
	exitUsage   = 2
	exitNo      = 3 // a cycle, no way to it, problems found
	exitBusy    = 4 // in use, or cannot be written
	exitDamaged = 5
)

var (
	// errNo says that the answer, already printed, is no.
	errNo         = errors.New("the answer is no")
	errNoTerminal = errors.New("the screens need a terminal")
)

// Exit is an error that ends the process with a code of its own, such as 128 and the number
// of a signal.
type Exit struct {
	Code int
	Err  error
}

func (e *Exit) Error() string { return e.Err.Error() }

// Unwrap gives the error that ends the process.
func (e *Exit) Unwrap() error { return e.Err }

// usageError says that the command was typed wrong.
type usageError struct {
	text string
	near []string
	hint string
}

func (e *usageError) Error() string { return e.text }

func usage(format string, args ...any) error {
	return &usageError{text: fmt.Sprintf(format, args...)}
}

// hintedError is an error with a way out.
type hintedError struct {
	error
	hint string
}

func hinted(err error, hint string) error { return &hintedError{err, hint} }

func (e *hintedError) Unwrap() error { return e.error }

// noBuildError says that no build was named and none is remembered.
type noBuildError struct{}

func (*noBuildError) Error() string { return "no build is named, and none was opened before" }

// explain prints an error, in the one place where that is done: one line, what and which
// thing, and a hint where there is a way out; faults of a file are a line each. It gives
// the exit code.
func explain(w io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	if errors.Is(err, errNo) {
		return exitNo
	}
	var faults build.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			fmt.Fprintln(w, "vanlog: "+clean(f.String()))
		}
	} else {
		fmt.Fprintln(w, "vanlog: "+clean(err.Error()))
	}
	if h := hintFor(err); h != "" {
		fmt.Fprintln(w, "hint: "+clean(h))
	}
	return exitCode(err)
}

func exitCode(err error) int {
	var (
		wrong  *usageError
		none   *noBuildError
		cycle  *deps.CycleError
		noWay  *answer.NoWayError
		noSeq  *plan.NoSequenceError
		move   *answer.MoveError
		faults build.Faults
		own    *Exit
	)
	switch {
	case errors.As(err, &own):
		return own.Code
	case errors.As(err, &wrong), errors.As(err, &none):
		return exitUsage
	case errors.As(err, &cycle), errors.As(err, &noWay), errors.As(err, &noSeq), errors.As(err, &move):
		return exitNo
	case errors.As(err, &faults) && hasCycle(faults):
		return exitNo
	case errors.Is(err, build.ErrBusy), errors.Is(err, build.ErrReadOnly), errors.Is(err, build.ErrStale):
		return exitBusy
	case errors.Is(err, build.ErrDamaged):
		return exitDamaged
	}
	return exitFailed
}

func hasCycle(faults build.Faults) bool {
	for _, f := range faults {
		if f.Cycle {
			return true
		}
	}
	return false
}

// hints are the ways out of errors that can come from any verb.
var hints = []struct {
	is   error
	hint string
}{
	{build.ErrBusy, "close the other vanlog, or wait for its command to end"},
	{build.ErrReadOnly, "look at the rights of the file and its folder, and at the room on the disk"},
	{build.ErrStale, "somebody else changed it just now: do it once more"},
	{build.ErrDamaged, "vanlog verify says what is damaged; go back to a copy of the file, or import an export of it"},
	{build.ErrNewer, "use the newer vanlog"},
	{build.ErrExists, "give another name; vanlog never writes over a build"},
	{build.ErrAbsent, "vanlog new FILE --name NAME makes one, vanlog demo the demonstration build"},
}

func hintFor(err error) string {
	var (
		wrong *usageError
		name  *answer.NameError
		none  *noBuildError
		given *hintedError
		cycle *deps.CycleError
		move  *answer.MoveError
	)
	switch {
	case errors.As(err, &wrong):
		return orNear(wrong.near, wrong.hint)
	case errors.As(err, &given):
		return given.hint
	case errors.As(err, &name):
		return orNear(name.Near, "")
	case errors.As(err, &none):
		return "vanlog demo writes the demonstration build; vanlog new FILE --name NAME makes an empty one; --build FILE names one"
	case errors.As(err, &cycle):
		return "remove one of these edges, or make it a should edge"
	case errors.As(err, &move) && slices.ContainsFunc(move.Path, answer.IsPin):
		at := slices.IndexFunc(move.Path, answer.IsPin)
		return "vanlog unpin " + string(move.Path[at].After) + " takes the pin away"
	}
	for _, h := range hints {
		if errors.Is(err, h.is) {
			return h.hint
		}
	}
	return ""
}

func orNear(near []string, otherwise string) string {
	if len(near) == 0 {
		return otherwise
	}
	return "did you mean " + strings.Join(near, ", ") + "?"
}

// flagError says which flags are near to one that is not known.
func flagError(c *cobra.Command, err error) error {
	e := &usageError{text: err.Error(), hint: "vanlog help " + c.Name()}
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return e
	}
	var flags []string
	add := func(f *pflag.Flag) { flags = append(flags, f.Name) }
	c.Flags().VisitAll(add)
	c.InheritedFlags().VisitAll(add)
	for _, n := range answer.Near(unknown.GetSpecifiedName(), flags) {
		e.near = append(e.near, "--"+n)
	}
	return e
}

// takes refuses another number of arguments than from least to most; names are what is
// said of them.
func takes(least, most int, names string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) >= least && len(args) <= most {
			return nil
		}
		text := fmt.Sprintf("%s takes %s, got %d arguments", c.CommandPath(), names, len(args))
		return &usageError{text: text, hint: "vanlog help " + c.Name()}
	}
}
