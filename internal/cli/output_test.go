package cli

import (
	"bytes"
	"errors"
	"io"
	"testing"
)

// full takes so many bytes and no more, as a disk does.
type full struct{ room int }

func (f *full) Write(p []byte) (int, error) {
	if len(p) > f.room {
		return 0, errors.New("no room")
	}
	f.room -= len(p)
	return len(p), nil
}

// An answer that could not be written was not given, whoever it is for.
func TestLostAnswers(t *testing.T) {
	for _, args := range [][]string{{"version"}, {"version", "--json"}, {"help"}} {
		for room, want := range map[int]int{0: exitFailed, 1_000_000: exitDone} {
			var complaint bytes.Buffer
			got := Run(World{Args: args, Out: &full{room}, Err: &complaint, Env: func(string) string { return "" }})
			if got != want || (complaint.String() == "vanlog: no room\n") != (want == exitFailed) {
				t.Errorf("%v with room for %d bytes: exit %d, %q, want %d", args, room, got, complaint.String(), want)
			}
		}
	}
}

func TestOutputPassesOn(t *testing.T) {
	var got bytes.Buffer
	o := &output{Writer: io.MultiWriter(&got, &full{3})}
	for _, text := range []string{"abc", "d", ""} {
		_, _ = io.WriteString(o, text)
	}
	if got.String() != "abcd" || o.err == nil {
		t.Errorf("passed on %q, remembers %v", got.String(), o.err)
	}
}
