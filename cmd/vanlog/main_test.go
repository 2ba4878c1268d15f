package main

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"vanlog": main})
}

// TestScripts runs the sessions in testdata. Each pins down a verb: what it says, what it
// prints as JSON, how it ends. All find the build heron.json. `exits CODE COMMAND…` is exec with a certain exit code.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_STATE_HOME", e.WorkDir+"/state")
			e.Setenv("VANLOG_BUILD", "")
			e.Setenv("GORACE", "atexit_sleep_ms=0") // else every command sleeps for a second under -race
			heron, err := os.ReadFile("testdata/heron.json")
			if err != nil {
				return err
			}
			return os.WriteFile(e.WorkDir+"/heron.json", heron, 0o600)
		},
	})
}

// exits runs a command that must end with an exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND…")
	}
	want, err := strconv.Atoi(args[0])
	if err != nil {
		ts.Fatalf("exits: %v", err)
	}
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var ended *exec.ExitError
	switch {
	case errors.As(err, &ended):
		got = ended.ExitCode()
	case err != nil:
		ts.Fatalf("%v: %v", args[1:], err)
	}
	if got != want {
		ts.Fatalf("%v: exit code %d, want %d", args[1:], got, want)
	}
}
