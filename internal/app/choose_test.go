package app

import (
	"errors"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/testkit"
)

// TestChooseIsOneChange: the option that was chosen and the one that is, together, and back.
func TestChooseIsOneChange(t *testing.T) {
	b := testkit.Workshop()
	b.Options = build.ListOf(build.Option{ID: "oak", Choice: "worktop", Name: "Oak", Chosen: true},
		build.Option{ID: "led", Choice: "light", Chosen: true}, build.Option{ID: "steel", Choice: "worktop"})
	a := New(testkit.NewMemory(b), testkit.NewClock(testkit.Now).Now)
	chosen := func() (out []id.Option) {
		v, err := a.View(ctx)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range v.Build.Options.Rows {
			if o.Chosen {
				out = append(out, o.ID)
			}
		}
		return out
	}
	c, err := a.Choose(ctx, "steel")
	if err != nil || c.What != "choose steel for worktop" || len(c.Edits) != 2 {
		t.Fatalf("Choose = %+v, %v", c, err)
	}
	if got := chosen(); len(got) != 2 || got[0] != "led" || got[1] != "steel" {
		t.Errorf("chosen are %v, want led and steel", got)
	}
	if again, err := a.Choose(ctx, "steel"); err != nil || again.Seq != 0 {
		t.Errorf("choosing it again gives %+v, %v", again, err)
	}
	if _, err := a.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if got := chosen(); len(got) != 2 || got[0] != "oak" {
		t.Errorf("after undo chosen are %v, want oak and led", got)
	}
	var unknown *answer.NameError
	if _, err := a.Choose(ctx, "stel"); !errors.As(err, &unknown) || len(unknown.Near) != 1 || unknown.Near[0] != "steel" {
		t.Errorf("an unknown option gives %v", err)
	}
}
