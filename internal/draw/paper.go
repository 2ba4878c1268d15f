package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// paper collects the elements of an SVG document. Its lengths are millimetres on the page.
type paper struct{ bytes.Buffer }

// num writes a length to the hundredth of a millimetre.
func num(x float64) string {
	s := strings.TrimRight(strconv.FormatFloat(x, 'f', 2, 64), "0")
	if s = strings.TrimSuffix(s, "."); s == "-0" {
		return "0"
	}
	return s
}

// The colours of the page, from the palette of Okabe and Ito (Color Universal Design, 2008)
// and greys. None says anything that a shape or a word does not say too.
const (
	black     = "#1a1a1a"
	grey      = "#4d4d4d" // words of less weight: 8.5 to 1 on white
	faint     = "#8c8c8c" // lines, never words
	blue      = "#0072b2" // the way in: 5.2 to 1 on white
	pale      = "#dcebf5" // where the way leads through
	vermilion = "#d55e00" // rings and hatching round a target, never words
)

// stroke gives the attributes of a line of a colour and a width.
func stroke(colour string, wide float64) string {
	return `fill="none" stroke="` + colour + `" stroke-width="` + num(wide) + `"`
}

// dashed is added to a stroke.
const dashed = ` stroke-dasharray="1.6 1"`

func (p *paper) rect(f flat, round float64, attrs string) {
	fmt.Fprintf(p, `<rect x="%s" y="%s" width="%s" height="%s" rx="%s" %s/>`+"\n",
		num(f.x0), num(f.y0), num(f.x1-f.x0), num(f.y1-f.y0), num(round), attrs)
}

func (p *paper) line(f flat, attrs string) {
	fmt.Fprintf(p, `<line x1="%s" y1="%s" x2="%s" y2="%s" %s/>`+"\n", num(f.x0), num(f.y0), num(f.x1), num(f.y1), attrs)
}

func (p *paper) circle(at spot, r float64, attrs string) {
	fmt.Fprintf(p, `<circle cx="%s" cy="%s" r="%s" %s/>`+"\n", num(at.x), num(at.y), num(r), attrs)
}

// polyline draws a line through points; the name is that of the element: polyline, or polygon, which is closed.
func (p *paper) polyline(name string, points []spot, attrs string) {
	var b strings.Builder
	for i, at := range points {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(num(at.x) + "," + num(at.y))
	}
	fmt.Fprintf(p, `<%s points="%s" %s/>`+"\n", name, b.String(), attrs)
}

// text writes a line of words with its base line at y, which begins, ends or has its middle
// at x as the attributes say.
func (p *paper) text(at spot, size float64, attrs, s string) {
	fmt.Fprintf(p, `<text x="%s" y="%s" font-size="%s" %s>%s</text>`+"\n", num(at.x), num(at.y), num(size), attrs, escaped(s))
}

// The attributes of words.
const (
	plainWords = `fill="` + black + `"`
	greyWords  = `fill="` + grey + `"`
	boldWords  = `fill="` + black + `" font-weight="bold"`
	centred    = ` text-anchor="middle"`
	// halo keeps a line from running through words that stand on it.
	halo = ` stroke="#ffffff" stroke-width="0.7" stroke-linejoin="round" paint-order="stroke"`
)

func (p *paper) open(name, attrs string) {
	p.WriteString("<" + strings.TrimSpace(name+" "+attrs) + ">\n")
}

func (p *paper) shut(name string) { p.WriteString("</" + name + ">\n") }

// named writes an element that holds nothing but words, such as a title.
func (p *paper) named(name, words string) {
	p.WriteString("<" + name + ">" + escaped(words) + "</" + name + ">\n")
}

func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a Buffer takes everything
	return b.String()
}

// printable takes from words what does not print, and what would turn their direction.
func printable(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == unicode.ReplacementChar || !unicode.IsGraphic(r):
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// advance is how wide a rune is printed at most, in parts of the size of the type, for the
// sans-serif types that browsers have; measured on the wide ones, from memory.
func advance(r rune) float64 {
	switch {
	case unicode.Is(unicode.Mn, r):
		return 0
	case r > 0x2e7f:
		return 1 // ideographs, syllables, pictures
	case strings.ContainsRune("ijl.,:;'|! ", r):
		return 0.34
	case strings.ContainsRune("tfrI()[]-", r):
		return 0.42
	case strings.ContainsRune("mwMW@%—", r):
		return 1
	case unicode.IsUpper(r):
		return 0.74
	}
	return 0.62
}

// measured gives the width of words printed at a size.
func measured(s string, size float64) float64 {
	n := 0.0
	for _, r := range s {
		n += advance(r)
	}
	return n * size
}

// shortened cuts words to a width, with "…" where something is gone.
func shortened(s string, size, room float64) string {
	if measured(s, size) <= room {
		return s
	}
	n := measured("…", size)
	for i, r := range s {
		if n += advance(r) * size; n > room {
			return strings.TrimRight(s[:i], " ") + "…"
		}
	}
	return s
}

// brokenInto breaks words into at most a number of lines of a width; what does not go in is
// cut off with "…". A word that is too long for a line is broken.
func brokenInto(s string, size, room float64, most int) []string {
	var lines []string
	for s != "" && len(lines) < most-1 {
		cut := cutAt(s, size, room)
		lines = append(lines, strings.TrimSpace(s[:cut]))
		s = strings.TrimSpace(s[cut:])
	}
	if s != "" {
		lines = append(lines, shortened(s, size, room))
	}
	return lines
}

// cutAt gives where the first line of words ends: at the last blank within the width, or
// within a word where there is none.
func cutAt(s string, size, room float64) int {
	n, blank := 0.0, 0
	for i, r := range s {
		if r == ' ' {
			blank = i
		}
		if n += advance(r) * size; n > room && i > 0 {
			if blank > 0 {
				return blank
			}
			return i
		}
	}
	return len(s)
}
