package tui

import (
	"flag"
	"fmt"
	"html"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/tui/widget"
)

var pictures = flag.String("pictures", "", "write a picture of each screen into this `FOLDER`")

// TestPictures writes the pictures of the screens that the documents show, of the demonstration
// build: go test ./internal/tui -run Pictures -args -pictures ../../docs/screens
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("no -pictures FOLDER: the pictures are left as they are")
	}
	if err := os.MkdirAll(*pictures, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, p := range []struct {
		name string
		keys []string
	}{
		{"bench", []string{"1"}}, {"sequence", []string{"2"}}, {"reach", []string{"3", "water pump", "enter", "f"}}, {"closein", []string{"4", "enter"}},
		{"daybook", []string{"5"}}, {"parts", []string{"6"}}, {"designs", []string{"9"}}, {"proofs", []string{"P"}}, {"hours", []string{"H"}},
		{"find", []string{"/", "p", "u", "m", "p"}}, {"sums", []string{"C", "down", "enter", "tab", "8 mm", "tab", "15.9 kN"}},
	} {
		for ground, dark := range map[string]bool{"": true, "-light": false} {
			if !dark && p.name != "bench" {
				continue
			}
			d := drive(t, demo.Build(20516*1440+8*60), 120, 40)
			r := lipgloss.NewRenderer(io.Discard)
			r.SetColorProfile(termenv.TrueColor)
			d.m.st, d.m.side = widget.NewStyles(r, dark), side{} // drawn anew in these colours
			d.press(p.keys...)
			path := filepath.Join(*pictures, p.name+ground+".svg")
			if err := os.WriteFile(path, []byte(picture(d.m.View(), dark)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// The size of a cell in a picture.
const cellW, cellH = 8.4, 17

// picture draws a frame as SVG, as a terminal would show it.
func picture(frame string, dark bool) string {
	lines := strings.Split(frame, "\n")
	ink, ground := "#E5E5E5", "#000000"
	if !dark {
		ink, ground = "#000000", "#FFFFFF"
	}
	var out strings.Builder
	w, h := float64(ansi.StringWidth(lines[0]))*cellW+16, len(lines)*cellH+16
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%d" font-family="DejaVu Sans Mono, monospace" font-size="14">`+"\n", w, h)
	fmt.Fprintf(&out, `<rect width="100%%" height="100%%" fill="%s"/>`+"\n", ground)
	for y, line := range lines {
		pictureLine(&out, line, float64(y*cellH+8), ink, ground)
	}
	out.WriteString("</svg>\n")
	return out.String()
}

// pictureLine draws a line in runs of one look.
func pictureLine(out *strings.Builder, line string, top float64, ink, ground string) {
	x, now := 8.0, pen{ink: ink}
	for line != "" {
		if codes, rest, ok := sgr(line); ok {
			now, line = now.after(codes, ink), rest
			continue
		}
		end := strings.IndexByte(line, 0x1b)
		if end < 0 {
			end = len(line)
		}
		text := line[:end]
		line = line[end:]
		width := float64(ansi.StringWidth(text)) * cellW
		fill, back := now.ink, ""
		if now.reverse {
			fill, back = ground, now.ink
		}
		if back != "" {
			fmt.Fprintf(out, `<rect x="%.1f" y="%.1f" width="%.1f" height="%d" fill="%s"/>`+"\n", x, top, width, cellH, back)
		}
		if strings.TrimSpace(text) != "" {
			weight := ""
			if now.bold {
				weight = ` font-weight="bold"`
			}
			fmt.Fprintf(out, `<text x="%.1f" y="%.1f" fill="%s"%s textLength="%.1f" lengthAdjust="spacingAndGlyphs" xml:space="preserve">%s</text>`+"\n",
				x, top+cellH-4, fill, weight, width, html.EscapeString(text))
		}
		x += width
	}
}

// pen is how text is drawn.
type pen struct {
	ink           string
	bold, reverse bool
}

// sgr takes the codes of a look off the front of a text.
func sgr(s string) (codes []string, rest string, ok bool) {
	body, found := strings.CutPrefix(s, "\x1b[")
	if !found {
		return nil, s, false
	}
	text, rest, found := strings.Cut(body, "m")
	return strings.Split(text, ";"), rest, found
}

func (p pen) after(codes []string, ink string) pen {
	for i := 0; i < len(codes); i++ {
		switch codes[i] {
		case "", "0":
			p = pen{ink: ink}
		case "1":
			p.bold = true
		case "7":
			p.reverse = true
		case "38":
			if i+4 < len(codes) && codes[i+1] == "2" {
				var rgb [3]int
				for c := range rgb {
					rgb[c], _ = strconv.Atoi(codes[i+2+c])
				}
				p.ink = fmt.Sprintf("#%02X%02X%02X", rgb[0], rgb[1], rgb[2])
				i += 4
			}
		}
	}
	return p
}

// A frame's looks are read as a terminal reads them.
func TestPicture(t *testing.T) {
	got := picture("ab\x1b[1;38;2;1;2;3mc<\x1b[0m \x1b[7md\x1b[0m", true)
	for _, want := range []string{`fill="#E5E5E5" textLength="16.8"`, `fill="#010203" font-weight="bold"`, "c&lt;", `<rect x="50.0"`, `fill="#000000" textLength="8.4"`} {
		if !strings.Contains(got, want) {
			t.Errorf("the picture has no %s:\n%s", want, got)
		}
	}
}
