package cli

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/plan"
)

func TestExplain(t *testing.T) {
	loop := &deps.CycleError{Loops: [][]deps.Edge{{{Before: "a", After: "b"}, {Before: "b", After: "a"}}}}
	for _, tt := range []struct {
		err  error
		code int
		says string
	}{
		{nil, 0, ""},
		{errNo, 3, ""},
		{errors.New("x"), 1, "vanlog: x\n"},
		{usage("--n: want %d", 3), 2, "vanlog: --n: want 3\n"},
		{&noBuildError{}, 2, "vanlog: no build is named"},
		{fmt.Errorf("start: %w", &answer.NameError{What: "task", Name: "pum", Near: []string{"pump"}}), 1,
			"vanlog: start: no task \"pum\"\nhint: did you mean pump?\n"},
		{loop, 3, "vanlog: tasks wait for each other: a -> b -> a\nhint: "},
		{&answer.NoWayError{NoWay: answer.NoWay{Targets: []string{"a"}}}, 3, "vanlog: there is no way to a\n"},
		{&plan.NoSequenceError{ID: "a", Why: "too late"}, 3, "vanlog: a: too late\n"},
		{build.Faults{{Path: "a", Text: "b"}, {Path: "c", Text: "d"}}, 1, "vanlog: a: b\nvanlog: c: d\n"},
		{build.Faults{{Path: "a", Text: "b", Cycle: true}}, 3, "vanlog: a: b\n"},
		{fmt.Errorf("h.van: %w", build.ErrBusy), 4, "vanlog: h.van: the build is in use\nhint: close the other vanlog"},
		{fmt.Errorf("h.van: %w", build.ErrReadOnly), 4, "vanlog: h.van: the build cannot be written\nhint: "},
		{build.ErrStale, 4, "vanlog: the build has changed meanwhile\nhint: "},
		{build.ErrDamaged, 5, "vanlog: the file is damaged\nhint: "},
		{build.ErrNewer, 1, "vanlog: the file was written by a newer vanlog\nhint: use the newer vanlog\n"},
		{build.ErrExists, 1, "vanlog: there is a file already\nhint: "},
		{&Exit{Code: 143, Err: errors.New("ended by a signal")}, 143, "vanlog: ended by a signal\n"},
	} {
		var out bytes.Buffer
		if code := explain(&out, tt.err); code != tt.code || !strings.HasPrefix(out.String(), tt.says) || tt.says == "" && out.Len() > 0 {
			t.Errorf("explain(%v) = %d, %q; want %d, %q", tt.err, code, out.String(), tt.code, tt.says)
		}
	}
}
