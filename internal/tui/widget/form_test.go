package widget

import (
	"errors"
	"strings"
	"testing"
)

// edgeForm is like the form of an edge: two picks, a choice, a number, lines.
func edgeForm() Form {
	from := []Choice{{"frame", "Set the frame"}, {"pump", "Mount the pump board"}, {"close", "Close up"}}
	return NewForm("New edge",
		Field{Name: "why", Label: "Why", Required: true},
		Field{Name: "lag", Label: "Lag", Value: "2", Check: func(s string) error {
			if strings.Trim(s, "0123456789") != "" {
				return errors.New("no number")
			}
			return nil
		}},
		Field{Name: "id", Label: "Id", Value: "fixed", Locked: true},
		Field{Name: "kind", Label: "Kind", Asks: Choose, Words: []string{"must", "should"}, Value: "must"},
		Field{Name: "hot", Label: "Hot", Asks: YesNo, Value: "no"},
		Field{Name: "after", Label: "After", Asks: Pick, From: from},
		Field{Name: "fits", Label: "Fits", Asks: PickSeveral, From: from},
		Field{Name: "notes", Label: "Notes", Asks: Lines, From: from, Value: "one\ntwo"},
		Field{Name: "uses", Label: "Uses", From: from},
	)
}

func TestFormKeys(t *testing.T) {
	for _, tt := range []struct{ script, field, want string }{
		{"'glue", "why", "glue"},
		{"enter '0", "lag", "20"},
		{"tab down right", "kind", "should"},     // the locked field is passed over
		{"tab tab left", "kind", "should"},       // round the end
		{"tab tab 's 'm", "kind", "must"},        // by first letter
		{"tab tab '_", "kind", "should"},         // the space bar goes on
		{"tab tab tab 'y", "hot", "yes"},         //
		{"tab tab tab right right", "hot", "no"}, //
		{"tab tab tab tab 'pump enter", "after", "pump"},
		{"tab tab tab tab enter down enter up backspace", "after", ""},
		{"tab tab tab tab tab enter '_ down '_ enter", "fits", "frame pump"},
		{"tab tab tab tab tab enter '_ esc", "fits", ""},
		{"tab tab tab tab tab enter '_ ctrl+s", "fits", "frame"},
		{"tab tab tab tab tab tab enter 'three", "notes", "one\ntwo\nthree"},
		{"tab tab tab tab tab tab enter enter 'x", "uses", "x"}, // enter in a blank line goes on
		{"tab tab tab tab tab tab up end 'x", "notes", "onex\ntwo"},
		{"tab tab tab tab tab tab home backspace", "notes", "onetwo"},
		{"tab tab tab tab tab tab up end delete", "notes", "onetwo"},
		{"tab tab tab tab tab tab up home enter up 'zero", "notes", "zero\none\ntwo"},
		{"tab tab tab tab tab tab ctrl+p 'close enter", "notes", "one\ntwoclose"},
		{"tab tab tab tab tab tab tab ctrl+p 'frame enter '_2", "uses", "frame 2"},
		{"shift+tab 'a", "why", "a"},
		{"'a esc right enter", "why", "a"},
		{"'a esc 'n 'b", "why", "ab"}, // leaving was asked about and refused
	} {
		f, _ := drive(edgeForm(), tt.script)
		if got := f.Value(tt.field); got != tt.want {
			t.Errorf("%s: %s = %q, want %q", tt.script, tt.field, got, tt.want)
		}
	}
}

func TestFormOutcomes(t *testing.T) {
	for _, tt := range []struct {
		script string
		want   Outcome
		at     string // the field it ends in
	}{
		{"esc", Cancelled, "why"},
		{"'a esc", Stay, "why"},
		{"'a esc 'y", Cancelled, "why"},
		{"'a backspace esc", Cancelled, "why"}, // as it was
		{"ctrl+s", Stay, "why"},                // required
		{"'a ctrl+s", Submitted, "why"},
		{"'a tab 'x tab ctrl+s", Stay, "lag"}, // wrong: back there
		{"'a shift+tab tab tab tab tab tab tab tab enter", Submitted, "uses"},
		{"f1", Unused, "why"},
		{"tab tab 'z", Unused, "kind"},
		{"tab tab tab tab enter", Stay, "after"},
	} {
		f, out := drive(edgeForm(), tt.script)
		if at := f.fields[f.at].Name; out != tt.want || at != tt.at {
			t.Errorf("%s = %v in %s, want %v in %s", tt.script, out, at, tt.want, tt.at)
		}
	}
}

func TestFormTroubleHoldsIt(t *testing.T) {
	f, out := drive(edgeForm().Trouble("a loop"), "'a ctrl+s")
	if out != Stay || !strings.Contains(f.View(plainStyles(), 60, 20), "! a loop") {
		t.Errorf("submitted with trouble: %v", out)
	}
	if _, out = drive(f.Trouble(""), "ctrl+s"); out != Submitted {
		t.Errorf("without trouble: %v, want Submitted", out)
	}
}

func TestFormSaysWhatIsWrongAsItIsTyped(t *testing.T) {
	f, _ := drive(edgeForm(), "tab 'x")
	if got := f.View(plainStyles(), 60, 20); !strings.Contains(got, "! no number") {
		t.Errorf("not said:\n%s", got)
	}
	if got := edgeForm().View(plainStyles(), 60, 20); strings.Contains(got, "!") {
		t.Errorf("an untouched form complains:\n%s", got)
	}
	if label, err := edgeForm().Fault(); label != "Why" || err == nil {
		t.Errorf("Fault() = %q, %v", label, err)
	}
}

func TestFormView(t *testing.T) {
	f, _ := drive(edgeForm(), "'glue")
	want := `New edge
> Why    glue│
  Lag    2
  Id     fixed (fixed)
  Kind   must
  Hot    no
  After  none
  Fits   none
  Notes  one
         two
  Uses

up/down field   ctrl+s save   esc back`
	got := f.View(plainStyles(), 40, 13)
	var lines []string
	for _, l := range strings.Split(got, "\n") {
		lines = append(lines, strings.TrimRight(l, " "))
	}
	if got = strings.Join(lines, "\n"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestFormCursorIsAlwaysSeen at any height that has a line to see it in.
func TestFormCursorIsAlwaysSeen(t *testing.T) {
	for h := 1; h < 20; h++ {
		f := edgeForm()
		for range 12 {
			f, _ = f.Key(Key{Name: "tab"})
			if got := f.View(plainStyles(), 50, h); !strings.Contains(got, "> ") {
				t.Fatalf("height %d, field %s:\n%s", h, f.fields[f.at].Name, got)
			}
		}
	}
}

func TestFormValuesAreCopies(t *testing.T) {
	a := edgeForm()
	b, _ := drive(a, "'xyz")
	if a.Value("why") != "" || b.Value("why") != "xyz" {
		t.Errorf("a key changed the form it was given to: %q, %q", a.Value("why"), b.Value("why"))
	}
	c := b.With("why", "other")
	if b.Value("why") != "xyz" || c.Value("why") != "other" || !c.Touched("why") || !c.Changed() {
		t.Errorf("With: %q, %q", b.Value("why"), c.Value("why"))
	}
}

func TestFormPaste(t *testing.T) {
	f, _ := edgeForm().Key(Key{Text: "two\nlines\x1b", Paste: true})
	if got := f.Value("why"); got != "two lines" {
		t.Errorf("into a line: %q", got)
	}
	f, _ = drive(f, "tab tab tab tab tab tab")
	f, _ = f.Key(Key{Text: "-a\r\nb\nc", Paste: true})
	if got := f.Value("notes"); got != "one\ntwo-a\nb\nc" {
		t.Errorf("into lines: %q", got)
	}
	f, _ = drive(edgeForm(), "tab tab")
	if g, out := f.Key(Key{Text: "should", Paste: true}); out != Unused || g.Value("kind") != "must" {
		t.Errorf("into a choice: %v, %q", out, g.Value("kind"))
	}
}

func TestFormTyping(t *testing.T) {
	for script, want := range map[string]bool{"": true, "tab tab": false, "tab tab tab tab": false, "tab tab tab tab enter": true, "'a esc": false} {
		if f, _ := drive(edgeForm(), script); f.Typing() != want {
			t.Errorf("after %q: Typing() = %v", script, f.Typing())
		}
	}
}
