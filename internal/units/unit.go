package units

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

// Dimension is a kind of quantity. Only quantities of the same dimension can be
// compared or converted.
type Dimension string

// The dimensions that have units here.
const (
	Torque      Dimension = "torque"
	Length      Dimension = "length"
	Mass        Dimension = "mass"
	Force       Dimension = "force"
	Volume      Dimension = "volume"
	Pressure    Dimension = "pressure"
	Temperature Dimension = "temperature"
	Ratio       Dimension = "ratio"
	Duration    Dimension = "duration"
	Voltage     Dimension = "voltage"
	Current     Dimension = "current"
	Resistance  Dimension = "resistance"
	Power       Dimension = "power"
	Energy      Dimension = "energy"
	Charge      Dimension = "charge"
)

// unit is a unit of a dimension: v of it are v × scale + offset of the first unit
// of the dimension in unitTable.
type unit struct {
	name   string
	dim    Dimension
	scale  *big.Rat
	offset *big.Rat
}

func (u *unit) toBase(v *big.Rat) *big.Rat {
	out := new(big.Rat).Mul(v, u.scale)
	return out.Add(out, u.offset)
}

func (u *unit) fromBase(v *big.Rat) *big.Rat {
	out := new(big.Rat).Sub(v, u.offset)
	return out.Quo(out, u.scale)
}

// span gives a difference of v in base units: an offset does not count.
func (u *unit) span(v *big.Rat) *big.Rat { return new(big.Rat).Mul(v, u.scale) }

// The factors that others are made of, exact by definition: NIST Special Publication 811
// (2008 edition), Appendix B.8 (inch, pound-force, kilogram-force, pound, gallons).
const (
	inchMm  = "25.4"
	inchM   = "0.0254"
	footM   = "0.3048"
	poundKg = "0.45359237"
	lbfN    = "4.4482216152605"
	kgfN    = "9.80665"
	galUSL  = "3.785411784"
	galUKL  = "4.54609"
)

// unitTable holds the units, the base of each dimension first. Other spellings of a
// name follow it. "·" stands for any sign between the words of a unit.
var unitTable = []struct {
	dim   Dimension
	names string
	scale []string // factors, multiplied
}{
	{Torque, "N·m Nm", nil},
	{Torque, "lbf·in lbfin in·lbf", []string{lbfN, inchM}},
	{Torque, "lbf·ft lbfft ft·lbf", []string{lbfN, footM}},
	{Torque, "kgf·m kgfm", []string{kgfN}},
	{Length, "mm", nil},
	{Length, "cm", []string{"10"}},
	{Length, "m", []string{"1000"}},
	{Length, "in inch inches \" ″ ” ''", []string{inchMm}},
	{Length, "ft foot feet ' ′ ’", []string{"12", inchMm}},
	{Mass, "kg", nil},
	{Mass, "g", []string{"1/1000"}},
	{Mass, "lb", []string{poundKg}},
	{Force, "N", nil},
	{Force, "kN", []string{"1000"}},
	{Force, "lbf", []string{lbfN}},
	{Force, "kgf", []string{kgfN}},
	{Volume, "L l", nil},
	{Volume, "mL ml", []string{"1/1000"}},
	{Volume, "gal·US US·gal", []string{galUSL}},
	{Volume, "gal·UK UK·gal", []string{galUKL}},
	{Pressure, "kPa", nil},
	{Pressure, "Pa", []string{"1/1000"}},
	{Pressure, "bar", []string{"100"}},
	{Pressure, "mbar", []string{"1/10"}},
	{Pressure, "psi", []string{lbfN, "1/1000", "1/" + inchM, "1/" + inchM}},
	{Temperature, "°C ºC ℃", nil},
	{Temperature, "°F ºF ℉", []string{"5/9"}},
	{Ratio, "%", nil},
	{Ratio, "ppm", []string{"1/10000"}},
	{Duration, "min", nil},
	{Duration, "s", []string{"1/60"}},
	{Duration, "h", []string{"60"}},
	{Voltage, "V", nil},
	{Voltage, "mV", []string{"1/1000"}},
	{Current, "A", nil},
	{Current, "mA", []string{"1/1000"}},
	{Resistance, "Ω \u2126 ohm", nil}, // the Greek letter, and the old sign for it
	{Resistance, "mΩ m\u2126", []string{"1/1000"}},
	{Resistance, "kΩ k\u2126", []string{"1000"}},
	{Resistance, "MΩ M\u2126", []string{"1000000"}},
	{Power, "W", nil},
	{Power, "kW", []string{"1000"}},
	{Energy, "Wh", nil},
	{Energy, "kWh", []string{"1000"}},
	{Charge, "Ah", nil},
}

// unitsByName finds a unit by each of its spellings.
var unitsByName = func() map[string]*unit {
	out := map[string]*unit{}
	for _, row := range unitTable {
		names := strings.Fields(row.names)
		u := &unit{name: names[0], dim: row.dim, scale: product(row.scale), offset: new(big.Rat)}
		switch u.name {
		case "°F":
			u.offset = big.NewRat(-160, 9) // 0 °F, in °C
		case "gal·US", "gal·UK":
			u.name = strings.Replace(u.name, "·", " ", 1)
		}
		for _, n := range names {
			out[n] = u
		}
	}
	return out
}()

func product(factors []string) *big.Rat {
	out := big.NewRat(1, 1)
	for _, f := range factors {
		over, divided := strings.CutPrefix(f, "1/")
		r, ok := new(big.Rat).SetString(over)
		if !ok {
			panic("no factor: " + f)
		}
		if divided {
			r.Inv(r)
		}
		out.Mul(out, r)
	}
	return out
}

// unitHints say what is meant by what is no unit.
var unitHints = map[string]string{
	"gal":  "say gal US or gal UK",
	"gals": "say gal US or gal UK", "gallon": "say gal US or gal UK", "gallons": "say gal US or gal UK",
	"lb·in": "say lbf·in", "in·lb": "say lbf·in", "lbs·in": "say lbf·in", "in·lbs": "say lbf·in", "inlb": "say lbf·in", "lbin": "say lbf·in",
	"lb·ft": "say lbf·ft", "ft·lb": "say lbf·ft", "lbs·ft": "say lbf·ft", "ft·lbs": "say lbf·ft", "ftlb": "say lbf·ft", "lbft": "say lbf·ft",
	"kg·m": "say kgf·m", "N.m": "say N·m",
	"lbs": "say lb for a mass, lbf·in or lbf·ft for a torque",
	"C":   "say °C", "F": "say °F", "deg·C": "say °C", "deg·F": "say °F",
}

// unitOf finds a unit as people write it; where there is none, why says so.
func unitOf(text string) (u *unit, why string) {
	key := betweenWords.ReplaceAllString(text, "·")
	if u, ok := unitsByName[key]; ok {
		return u, ""
	}
	if hint, ok := unitHints[key]; ok {
		return nil, fmt.Sprintf("has %q for a unit: %s", text, hint)
	}
	for _, row := range unitTable {
		for _, n := range strings.Fields(row.names) {
			if strings.EqualFold(n, key) {
				return nil, fmt.Sprintf("has no unit that is known: did you mean %s?", unitsByName[n].name)
			}
		}
	}
	return nil, fmt.Sprintf("has no unit that is known, want for example %s", someUnits)
}

const someUnits = "N·m, lbf·in, mm, in, kg, lb, L, bar, V, A, Ω, °C, %, min"

// betweenWords is what may stand between the words of a unit.
var betweenWords = regexp.MustCompile(` *[·⋅•*-] *| +`)

// examples gives two units of a dimension.
func examples(d Dimension) string {
	var names []string
	for _, row := range unitTable {
		if row.dim == d && len(names) < 2 {
			names = append(names, unitsByName[strings.Fields(row.names)[0]].name)
		}
	}
	return strings.Join(names, " or ")
}

// article gives d with its article.
func (d Dimension) article() string {
	if strings.ContainsAny(string(d[:1]), "aeiou") {
		return "an " + string(d)
	}
	return "a " + string(d)
}
