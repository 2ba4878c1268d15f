package app

import (
	"errors"
	"slices"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/plan"
)

// pinsOf gives the pins as "before > after".
func pinsOf(t *testing.T, a *App) (out []string) {
	t.Helper()
	v, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range v.Pins() {
		out = append(out, string(e.Before)+" > "+string(e.After))
	}
	return out
}

func TestMoveIsOneChange(t *testing.T) {
	a := onFile(t)
	c, err := a.Move(ctx, "run-cable", answer.Place{After: "mount-pump"})
	if err != nil || c.What != "move Run the feed cable after Mount the coolant pump" || len(c.Edits) != 1 || c.Seq == 0 {
		t.Fatalf("Move = %+v, %v", c, err)
	}
	if again, err := a.Move(ctx, "mount-pump", answer.Place{Before: "run-cable"}); err != nil || again.Seq != 0 {
		t.Errorf("the same move again gives %+v, %v", again, err)
	}
	c, err = a.Move(ctx, "run-cable", answer.Place{Before: "mount-pump"})
	if err != nil || c.What != "move Run the feed cable before Mount the coolant pump" || len(c.Edits) != 2 {
		t.Errorf("the move back = %+v, %v", c, err)
	}
	if got := pinsOf(t, a); !slices.Equal(got, []string{"run-cable > mount-pump"}) {
		t.Errorf("pins are %v", got)
	}
	for _, want := range [][]string{{"mount-pump > run-cable"}, nil} {
		if _, err := a.Undo(ctx); err != nil {
			t.Fatal(err)
		}
		if got := pinsOf(t, a); !slices.Equal(got, want) {
			t.Errorf("after undo pins are %v, want %v", got, want)
		}
	}
	if faults, err := a.Verify(ctx); err != nil || len(faults) > 0 {
		t.Errorf("the file is at fault: %v, %v", faults, err)
	}
}

func TestMoveAgainstAnEdge(t *testing.T) {
	a, _ := workshop()
	var refused *answer.MoveError
	if c, err := a.Move(ctx, "fit-panel", answer.Place{Before: "mount-pump"}); !errors.As(err, &refused) || c.Seq != 0 || refused.Path[0].Why != "the panel closes the bench" {
		t.Errorf("Move = %+v, %v", c, err)
	}
	// What is done binds nobody, but its edges stay in the build, and a loop is one.
	for _, to := range []answer.Place{{After: "frame-bench"}, {Before: "no-such-task"}, {After: "run-cable"}} {
		if c, err := a.Move(ctx, "run-cable", to); err == nil || c.Seq != 0 {
			t.Errorf("%v: Move = %+v, %v", to, c, err)
		}
	}
	if got := pinsOf(t, a); got != nil {
		t.Errorf("pins are %v", got)
	}
}

func TestPinAndUnpin(t *testing.T) {
	a, _ := workshop()
	v, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	seq, err := v.Sequence(ctx, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(seq.Tasks, func(r answer.Row) bool { return r.ID == "fit-panel" })
	c, err := a.Pin(ctx, "fit-panel", seq)
	if err != nil || c.What != "pin Fit the bench panel where it stands" || c.Seq == 0 {
		t.Fatalf("Pin = %+v, %v", c, err)
	}
	pinned, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range pinned.Pins() {
		i := slices.IndexFunc(seq.Tasks, func(r answer.Row) bool { return r.ID == e.Before })
		if e.After == "fit-panel" && i >= at || e.Before == "fit-panel" && i != at {
			t.Errorf("%+v does not hold in the order it is to keep", e)
		}
	}
	if again, err := a.Pin(ctx, "fit-panel", seq); err != nil || again.Seq != 0 {
		t.Errorf("pinned again = %+v, %v", again, err)
	}
	if _, err := a.Move(ctx, "run-cable", answer.Place{After: "mount-pump"}); err != nil {
		t.Fatal(err)
	}
	c, err = a.Unpin(ctx, "fit-panel")
	if err != nil || c.What != "unpin Fit the bench panel" || !slices.Equal(pinsOf(t, a), []string{"mount-pump > run-cable"}) {
		t.Errorf("Unpin = %+v, %v, pins left %v", c, err, pinsOf(t, a))
	}
	if c, err := a.Unpin(ctx, "fit-panel"); err != nil || c.Seq != 0 {
		t.Errorf("unpinned again = %+v, %v", c, err)
	}
	var name *answer.NameError
	if _, err := a.Unpin(ctx, "fit-panell"); !errors.As(err, &name) {
		t.Errorf("Unpin of an unknown task = %v", err)
	}
}

// An order that is no longer that of the build is refused, not kept against an edge.
func TestPinInAnOldOrder(t *testing.T) {
	a, _ := workshop()
	v, err := a.View(ctx)
	if err != nil {
		t.Fatal(err)
	}
	seq, err := v.Sequence(ctx, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	first, second := seq.Tasks[0].ID, seq.Tasks[1].ID
	if _, err := a.Save(ctx, build.EdgeKind, 0, deps.Edge{Before: second, After: first, Kind: deps.Must, Why: "so it is now"}); err != nil {
		t.Fatal(err)
	}
	var refused *answer.MoveError
	if c, err := a.Pin(ctx, second, seq); !errors.As(err, &refused) || c.Seq != 0 {
		t.Errorf("Pin = %+v, %v", c, err)
	}
	if _, err := a.Pin(ctx, "frame-bench", seq); err == nil {
		t.Error("work that is done was pinned")
	}
}
