package welcome

import (
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/tui/widget"
)

// folder is a World with these files in it.
type folder map[string]string

func (f folder) world() World {
	return World{
		Files: func() []string {
			var out []string
			for name := range f {
				if strings.HasSuffix(name, ending) {
					out = append(out, name)
				}
			}
			return out
		},
		There: func(path string) bool { _, ok := f[path]; return ok },
		Read: func(path string) ([]byte, error) {
			if text, ok := f[path]; ok {
				return []byte(text), nil
			}
			return nil, errors.New("cannot be read: " + path)
		},
	}
}

func plain() widget.Styles {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	return widget.NewStyles(r, true)
}

// press takes a script of keys with blanks between; 'word types a word.
func press(t *testing.T, p Page, script string) (Page, Outcome) {
	t.Helper()
	var out Outcome
	for _, k := range strings.Fields(script) {
		if text, ok := strings.CutPrefix(k, "'"); ok {
			for _, r := range text {
				p, out = p.Key(widget.Key{Name: string(r), Text: string(r)})
			}
			continue
		}
		p, out = p.Key(widget.Key{Name: k})
	}
	return p, out
}

func sees(t *testing.T, p Page, texts ...string) {
	t.Helper()
	view := p.View(plain(), 80, 24)
	for _, text := range texts {
		if !strings.Contains(view, text) {
			t.Errorf("the page does not show %q:\n%s", text, view)
		}
	}
}

func TestDemo(t *testing.T) {
	p, out := press(t, New(folder{}.world(), ""), "enter")
	if out != Begun || !p.Beginning().Demo {
		t.Errorf("%v, %+v", out, p.Beginning())
	}
}

func TestLeaving(t *testing.T) {
	for _, keys := range []string{"esc", "q", "end enter"} {
		if _, out := press(t, New(folder{}.world(), ""), keys); out != Left {
			t.Errorf("%s: %v, want Left", keys, out)
		}
	}
}

// A guided start: a name, then save, is enough; the file takes its name from it.
func TestGuidedStart(t *testing.T) {
	p, out := press(t, New(folder{"lab.van": ""}.world(), ""), "down enter 'Lab ctrl+s")
	b := p.Beginning()
	if out != Begun || b.Path != "lab-2.van" || b.Build == nil || b.Build.Head.Name != "Lab" {
		t.Fatalf("%v, %+v", out, b)
	}
	if b.Build.Places.Len() == 0 || b.Build.Tasks.Len() == 0 || b.Build.Resources.Rows[0].Hours == nil {
		t.Errorf("%d places, %d tasks", b.Build.Places.Len(), b.Build.Tasks.Len())
	}
}

// What is wrong is said, and what was typed stays.
func TestGuidedStartRefuses(t *testing.T) {
	p, out := press(t, New(folder{"there.van": ""}.world(), ""), "down enter 'Lab down backspace backspace backspace backspace backspace backspace backspace 'there.van ctrl+s")
	if out != Stay {
		t.Error("a file that is there would be written over")
	}
	sees(t, p, "there.van is there already", "Lab")
	p, out = press(t, New(folder{}.world(), ""), "down enter 'Lab down down down down '3650 ctrl+s")
	if out != Stay {
		t.Error("one number is enough for four sizes")
	}
	sees(t, p, "want four numbers")
	p, _ = press(t, New(folder{}.world(), ""), "down enter 'Lab ctrl+s")
	sees(t, p.Refused("the disk is full"), "! the disk is full", "Lab")
}

const foreign = "What;Estimate;Remarks\nCut the roof vent;3,5;mind the rib\nGlue the floor;4;\n"

func TestImportOfATable(t *testing.T) {
	p, out := press(t, New(folder{"t.csv": foreign}.world(), ""), "down down enter 't.csv down down down 'x.van ctrl+s")
	if out != Stay {
		t.Fatalf("a table is read without its columns being shown: %v", out)
	}
	sees(t, p, "Which column is what? 2 rows", "It would make 2 tasks", "Cut the roof vent, 3.5 h")
	p, out = press(t, p, "ctrl+s")
	if b := p.Beginning(); out != Begun || b.Path != "x.van" || b.Build.Tasks.Len() != 2 || b.Build.Head.Name != "t" {
		t.Errorf("%v, %+v", out, b)
	}
}

// A table with a fault is previewed with it, and not taken.
func TestImportOfAFaultyTable(t *testing.T) {
	p, out := press(t, New(folder{"t.csv": strings.Replace(foreign, ";4;", ";soon;", 1)}.world(), ""),
		"down down enter 't.csv down down down 'x.van ctrl+s ctrl+s")
	if out != Stay {
		t.Error("a faulty table is taken")
	}
	sees(t, p, "Not yet: one thing is wrong", "row 3, hours", "soon")
	p, _ = press(t, p, "esc")
	sees(t, p, "Read a build file or a spreadsheet", "t.csv")
}

// Two columns cannot be one field; leaving one out mends it.
func TestTwoColumnsOfOneField(t *testing.T) {
	p, _ := press(t, New(folder{"t.csv": foreign}.world(), ""), "down down enter 't.csv down down down 'x.van ctrl+s down down enter 'hours enter")
	sees(t, p, "two columns are hours")
	p, _ = press(t, p, "backspace")
	sees(t, p, "It would make 2 tasks")
}

func TestImportOfABuildFile(t *testing.T) {
	p, out := press(t, New(folder{"b.json": `{"format": "vanlog-build", "version": 1, "name": "Lab"}`}.world(), ""),
		"down down enter 'b.json down down down 'x.van ctrl+s")
	if b := p.Beginning(); out != Begun || b.Build == nil || b.Build.Head.Name != "Lab" {
		t.Errorf("%v, %+v", out, b)
	}
	p, out = press(t, New(folder{"b.json": `{"format": "vanlog-build", "version": 1, "nome": "Lab"}`}.world(), ""),
		"down down enter 'b.json down down down 'x.van ctrl+s")
	if out != Stay {
		t.Error("a faulty build file is taken")
	}
	sees(t, p, "nome")
}

func TestOpening(t *testing.T) {
	p, out := press(t, New(folder{"a.van": ""}.world(), ""), "down down down enter enter")
	if out != Begun || p.Beginning().Path != "a.van" || p.Beginning().Build != nil {
		t.Errorf("%v, %+v", out, p.Beginning())
	}
	p, out = press(t, New(folder{"a.van": ""}.world(), ""), "down down down enter end enter 'b.van ctrl+s")
	if out != Stay {
		t.Error("a file that is not there is opened")
	}
	sees(t, p, "there is no b.van")
}

// Every step is drawn in exactly its cells, whatever the size and the words.
func TestViewFillsItsCells(t *testing.T) {
	hostile := "a\tb\x1b[31m汉字é" + strings.Repeat("x", 10_000)
	w := folder{"t.csv": "What;" + strings.ReplaceAll(hostile, "\n", "") + "\nCut;1\n"}.world()
	for _, script := range []string{"", "down enter", "down enter '" + hostile, "down down enter", "down down down enter", "down down down enter end enter",
		"down down enter 't.csv down down down 'x.van ctrl+s"} {
		p, _ := press(t, New(w, hostile), script)
		for _, size := range [][2]int{{20, 5}, {1, 1}, {60, 16}, {80, 24}, {120, 40}, {250, 80}, {33, 7}} {
			lines := strings.Split(p.View(plain(), size[0], size[1]), "\n")
			if len(lines) != size[1] {
				t.Fatalf("%.20q at %v: %d lines", script, size, len(lines))
			}
			for _, line := range lines {
				if ansi.StringWidth(line) != size[0] {
					t.Fatalf("%.20q at %v: a line of %d columns", script, size, ansi.StringWidth(line))
				}
			}
		}
	}
}
