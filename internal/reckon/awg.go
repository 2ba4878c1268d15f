package reckon

import (
	"math"
	"strconv"
	"strings"
)

// Gauge is a size of the American wire gauge: a solid round wire.
type Gauge struct {
	Size                   string // "4/0" to "1/0", "1" to "40"
	DiameterIn, DiameterMM float64
	AreaMM2, CircMil       float64
	OhmPerKm               float64 // soft copper at 20 °C
	Note                   Note
}

// copper is the resistivity of annealed copper at 20 °C in Ω·mm²/km, exactly 1/58 Ω·mm²/m.
const copper = 17.241

// AWG gives a size of the American wire gauge by the formula of ASTM B258:
// d = 0.005 in × 92^((36−n)/39), where 1/0 is n = 0, 2/0 −1, 3/0 −2, 4/0 −3. The
// resistance is that of solid annealed copper at 20 °C, 17.241 Ω·mm²/km. A stranded wire
// of the same size has a little more, and an automotive wire up to a tenth less copper.
func AWG(size string) (Gauge, error) {
	var in input
	n, name := gaugeNumber(size)
	if name == "" {
		in.refuse("wire gauge", "%q is none, want 4/0, 3/0, 2/0, 1/0 or 1 to 40", size)
		return Gauge{}, in.err
	}
	d := 0.005 * math.Pow(92, float64(36-n)/39)
	area := math.Pi / 4 * math.Pow(d*25.4, 2)
	return Gauge{name, d, d * 25.4, area, d * d * 1e6, copper / area, Note{
		Formula: "d = 0.005 in × 92^((36−n)/39); R' = 17.241 Ω·mm²/km / area",
		Source:  "ASTM B258; annealed copper, solid, 20 °C",
		Caution: "Solid wire. Stranded and automotive wire of the same number differ: see its own table.",
	}}, nil
}

// gaugeNumber gives n and the usual name of a size; no name for what is no size.
func gaugeNumber(size string) (n int, name string) {
	size = strings.Trim(strings.TrimSuffix(strings.ToUpper(size), "AWG"), " ")
	if size != "" && strings.Trim(size, "0") == "" && len(size) <= 4 { // "00" for 2/0
		size = strconv.Itoa(len(size)) + "/0"
	}
	over, noughts := strings.CutSuffix(size, "/0")
	v, err := strconv.Atoi(over)
	switch {
	case err != nil || strconv.Itoa(v) != over || v < 1:
		return 0, ""
	case noughts && v <= 4:
		return 1 - v, size
	case !noughts && v <= 40:
		return v, size
	}
	return 0, ""
}
