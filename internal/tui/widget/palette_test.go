package widget

import (
	"fmt"
	"math"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"github.com/muesli/termenv"
)

// named gives the colours of a palette by what they mean.
func (p palette) named() map[string]hue {
	return map[string]hue{"dim": p.dim, "key": p.key, "good": p.good, "warn": p.warn, "bad": p.bad, "place": p.place, "way": p.way}
}

// luminance is the relative luminance of WCAG 2.1: linear red, green and blue weighted
// 0.2126, 0.7152 and 0.0722.
func luminance(c colorful.Color) float64 {
	r, g, b := c.LinearRgb()
	return 0.2126*r + 0.7152*g + 0.0722*b
}

// contrast is the contrast ratio of WCAG 2.1, 1 to 21.
func contrast(a, b colorful.Color) float64 {
	l, m := luminance(a), luminance(b)
	return (math.Max(l, m) + 0.05) / (math.Min(l, m) + 0.05)
}

func hex(t *testing.T, s string) colorful.Color {
	t.Helper()
	c, err := colorful.Hex(s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Known answers: white on black is 21 : 1, the most there is; #767676 is known as the lightest
// grey that keeps 4.5 : 1 on white, #777777 does not (WCAG 2.1, 1.4.3 with its definition of
// contrast ratio).
func TestContrastIsThatOfWCAG(t *testing.T) {
	white, black := hex(t, "#FFFFFF"), hex(t, "#000000")
	if got := contrast(white, black); math.Abs(got-21) > 1e-9 {
		t.Errorf("white on black is %v, want 21", got)
	}
	if got := contrast(hex(t, "#767676"), white); got < 4.5 {
		t.Errorf("#767676 on white is %v, want at least 4.5", got)
	}
	if got := contrast(hex(t, "#777777"), white); got >= 4.5 {
		t.Errorf("#777777 on white is %v, want less than 4.5", got)
	}
}

// sights are how eyes see linear red, green and blue: all cones, and without one kind of them
// (Machado, Oliveira and Fernandes, A Physiologically-based Model for Simulation of Color
// Vision Deficiency, IEEE TVCG 2009, severity 1.0; the matrices from memory).
var sights = map[string][3][3]float64{
	"all cones": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia": {{0.152286, 1.052583, -0.204868},
		{0.114503, 0.786281, 0.099216},
		{-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968},
		{0.280085, 0.672501, 0.047413},
		{-0.011820, 0.042940, 0.968881}},
	"tritanopia": {{1.255528, -0.076749, -0.178779},
		{-0.078411, 0.930809, 0.147602},
		{0.004733, 0.691367, 0.303900}},
}

func seen(c colorful.Color, sight [3][3]float64) colorful.Color {
	r, g, b := c.LinearRgb()
	var out [3]float64
	for i, row := range sight {
		out[i] = math.Max(0, math.Min(1, row[0]*r+row[1]*g+row[2]*b))
	}
	return colorful.LinearRgb(out[0], out[1], out[2])
}

// Grey is grey to all eyes: each row of the matrices adds up to one.
func TestGreyStaysGreyToAllEyes(t *testing.T) {
	for name, sight := range sights {
		for _, row := range sight {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 1e-5 {
				t.Errorf("%s: a row adds up to %v", name, sum)
			}
		}
	}
}

// ground is a palette and what lies behind it.
type ground struct {
	name    string
	palette palette
	behind  string
}

func grounds() []ground {
	return []ground{{"dark", darkPalette(), "#000000"}, {"light", lightPalette(), "#FFFFFF"}}
}

// shown gives the colours as a terminal shows them: as they are meant, and those of 256 that
// serve for them.
func (g ground) shown(t *testing.T) map[string]map[string]colorful.Color {
	full, of256 := map[string]colorful.Color{}, map[string]colorful.Color{}
	for name, h := range g.palette.named() {
		full[name] = hex(t, h.full)
		of256[name] = termenv.ConvertToRGB(termenv.ANSI256.Color(h.of256))
	}
	return map[string]map[string]colorful.Color{"true colours": full, "256 colours": of256}
}

// WCAG 2.1, 1.4.3: text keeps 4.5 : 1.
func TestColoursKeepTheirContrast(t *testing.T) {
	for _, g := range grounds() {
		for on, colours := range g.shown(t) {
			for name, c := range colours {
				if got := contrast(c, hex(t, g.behind)); got < 4.5 {
					t.Errorf("%s, %s: %s (%s) has a contrast of %.2f", g.name, on, name, c.Hex(), got)
				}
			}
		}
	}
}

// leastApart is how far any two colours are apart for any eyes, in CIE 1976 L*a*b*; 2.3 is
// just noticeable side by side (from memory: Mahy et al. 1994), these are not side by side.
const leastApart = 12

func TestColoursStayApartForAllEyes(t *testing.T) {
	for _, g := range grounds() {
		for on, colours := range g.shown(t) {
			for eyes, sight := range sights {
				for a, ca := range colours {
					for b, cb := range colours {
						apart := 100 * seen(ca, sight).DistanceLab(seen(cb, sight))
						if a < b && apart < leastApart {
							t.Errorf("%s, %s, %s: %s and %s are %.1f apart", g.name, on, eyes, a, b, apart)
						}
					}
				}
			}
		}
	}
}

// Terminals choose their own 16 colours. These are what xterm has unless told otherwise (its
// manual, colour0 to colour15; from memory).
func TestSixteenColoursKeepTheirContrast(t *testing.T) {
	xterm := []string{"#000000", "#CD0000", "#00CD00", "#CDCD00", "#0000EE", "#CD00CD", "#00CDCD", "#E5E5E5",
		"#7F7F7F", "#FF0000", "#00FF00", "#FFFF00", "#5C5CFF", "#FF00FF", "#00FFFF", "#FFFFFF"}
	for _, g := range grounds() {
		for name, h := range g.palette.named() {
			if h.of16 == "" {
				continue
			}
			var n int
			if _, err := fmt.Sscan(h.of16, &n); err != nil {
				t.Fatalf("%s: %s is the colour %q of 16: %v", g.name, name, h.of16, err)
			}
			if got := contrast(hex(t, xterm[n]), hex(t, g.behind)); got < 4.5 {
				t.Errorf("%s: %s is colour %d of 16, with a contrast of %.2f", g.name, name, n, got)
			}
		}
	}
}
