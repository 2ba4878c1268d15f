package units

import (
	"errors"
	"math/big"
	"strings"
	"testing"
)

func quantity(t *testing.T, s string) Quantity {
	t.Helper()
	q, err := ParseQuantity(s)
	if err != nil {
		t.Fatalf("ParseQuantity(%q): %v", s, err)
	}
	return q
}

func in(t *testing.T, s, unit string) *big.Rat {
	t.Helper()
	v, err := quantity(t, s).In(unit)
	if err != nil {
		t.Fatalf("%q in %s: %v", s, unit, err)
	}
	return v
}

// NIST Special Publication 811 (2008 edition), Appendix B.8 and B.9: factors as printed,
// which are exact, or rounded to the digits that are compared here.
func TestFactorsOfSP811(t *testing.T) {
	for _, tt := range []struct {
		from, to, want string
		places         int
	}{
		{"1 in", "mm", "25.4", 1},
		{"1 ft", "m", "0.3048", 4},
		{"1 lb", "kg", "0.45359237", 8},
		{"1 lbf", "N", "4.4482216152605", 13},
		{"1 kgf·m", "N·m", "9.80665", 5},
		{"1 gal US", "L", "3.785411784", 9},
		{"1 gal UK", "L", "4.54609", 5},
		{"1 lbf·in", "N·m", "0.112984829", 9},
		{"1 lbf·ft", "N·m", "1.355817948", 9},
		{"1 psi", "kPa", "6.894757", 6},
		{"1 psi", "Pa", "6894.757", 3},
		{"1 bar", "kPa", "100", 0},
		{"1 mbar", "Pa", "100", 0},
		{"1 h", "min", "60", 0},
		// B.8: t/°C = (t/°F - 32)/1.8
		{"32 °F", "°C", "0", 0},
		{"212 °F", "°C", "100", 0},
		{"-40 °F", "°C", "-40", 0},
		{"50 °F", "°C", "10", 0},
		{"23 °C", "°F", "73.4", 1},
	} {
		if got := in(t, tt.from, tt.to).FloatString(tt.places); got != tt.want {
			t.Errorf("%s = %s %s, want %s", tt.from, got, tt.to, tt.want)
		}
	}
}

// The exact factors have no further digits.
func TestExactFactorsAreExact(t *testing.T) {
	for from, want := range map[string]string{
		"1 in": "25.4 mm", "12 in": "1 ft", "1 lb": "453.59237 g", "1 gal US": "3785.411784 mL",
		"1 gal UK": "4546.09 mL", "1 kgf·m": "9.80665 N·m", "1 lbf·ft": "12 lbf·in", "1 kPa": "1000 Pa",
	} {
		if by, err := quantity(t, from).Compare(quantity(t, want)); by != 0 || err != nil {
			t.Errorf("Compare(%s, %s) = %d, %v, want 0", from, want, by, err)
		}
	}
}

// Computed from the factors of SP 811; lbf·in and lbf·ft differ by 12, which is the trap.
func TestTorqueTraps(t *testing.T) {
	for _, tt := range []struct{ from, unit, want string }{
		{"10 N·m", "lbf·in", "88.51 lbf·in"},
		{"10 N·m", "lbf·ft", "7.38 lbf·ft"},
		{"25 N·m", "lbf·in", "221.27 lbf·in"},
		{"25 N·m", "lbf·ft", "18.44 lbf·ft"},
		{"50 lbf·in", "N·m", "5.65 N·m"},
		{"180 lbf·in", "N·m", "20.34 N·m"},
	} {
		got, err := quantity(t, tt.from).To(tt.unit, 2)
		if err != nil || got.String() != tt.want {
			t.Errorf("%s to %s = %v, %v, want %s", tt.from, tt.unit, got, err, tt.want)
		}
	}
	if got := in(t, "10 N·m", "lbf·ft").FloatString(3); got != "7.376" {
		t.Errorf("10 N·m = %s lbf·ft, want 7.376", got)
	}
	if got := in(t, "50 lbf·in", "N·m").FloatString(3); got != "5.649" {
		t.Errorf("50 lbf·in = %s N·m, want 5.649", got)
	}
}

func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }

// Nearest ruler marks, computed from 1 in = 25.4 mm; off is mark less length, in mm.
func TestRuler(t *testing.T) {
	for _, tt := range []struct {
		of    string
		parts int
		want  string
		off   string
	}{
		{"1234 mm", 1, "49 in", "10.60"},
		{"1234 mm", 16, "48 9/16 in", "-0.51"},
		{"1234 mm", 32, "48 19/32 in", "0.28"},
		{"1234 mm", 64, "48 37/64 in", "-0.12"},
		{"18 mm", 64, "45/64 in", "-0.14"},
		{"600 mm", 64, "23 5/8 in", "0.08"},
		{"40 1/2 in", 32, "40 1/2 in", "0.00"},
		{"-18 mm", 64, "-45/64 in", "0.14"},
		{"0.1 mm", 16, "0 in", "-0.10"},
		{"1 ft", 16, "12 in", "0.00"},
	} {
		got, err := quantity(t, tt.of).Ruler(tt.parts)
		if err != nil || got.String() != tt.want {
			t.Errorf("%s on a ruler of 1/%d = %v, %v, want %s", tt.of, tt.parts, got, err, tt.want)
			continue
		}
		if off := sub(in(t, got.String(), "mm"), in(t, tt.of, "mm")).FloatString(2); off != tt.off {
			t.Errorf("%s is %s mm off %s, want %s", got, off, tt.of, tt.off)
		}
		mark, off, err := quantity(t, tt.of).OnRuler(tt.parts)
		if said := strings.TrimPrefix(off.String(), "+"); err != nil || mark.String() != tt.want || said != tt.off+" mm" {
			t.Errorf("%s on a ruler of 1/%d = %v and %v, %v, want %s and %s mm", tt.of, tt.parts, mark, off, err, tt.want, tt.off)
		}
	}
	if _, err := quantity(t, "1 mm").Ruler(0); err == nil {
		t.Error("a ruler without parts was taken")
	}
	if _, err := quantity(t, "1 V").Ruler(16); err == nil {
		t.Error("a voltage was put on a ruler")
	}
	if _, _, err := quantity(t, "1 V").OnRuler(16); err == nil {
		t.Error("a voltage was put on a ruler, with its error")
	}
	if _, off, _ := quantity(t, "1234 mm").OnRuler(32); off.String() != "+0.28 mm" {
		t.Errorf("a mark beyond 1234 mm is %s off, want a plus", off)
	}
	if _, off, _ := quantity(t, "25.401 mm").OnRuler(16); off.String() != "0.00 mm" {
		t.Errorf("1 in for 25.401 mm is %s off, want no sign on nothing", off)
	}
}

// An 18 mm sheet is no 3/4 in sheet.
func TestCompare(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{
		{"18 mm", "3/4 in", -1}, {"19.05 mm", "3/4 in", 0}, {"2 ft", "23 3/16 in", 1},
		{"106 lbf·in", "12 N·m", -1}, {"1 gal UK", "1 gal US", 1}, {"-1 °C", "30 °F", 1},
	} {
		if got, err := quantity(t, tt.a).Compare(quantity(t, tt.b)); got != tt.want || err != nil {
			t.Errorf("Compare(%s, %s) = %d, %v, want %d", tt.a, tt.b, got, err, tt.want)
		}
	}
}

// What a build is written in, one of each kind and unit.
func TestUnitsOfABuild(t *testing.T) {
	for dim, all := range map[Dimension][]string{
		Torque:      {"12 N·m", "106 lbf·in", "9 lbf·ft", "1.2 kgf·m"},
		Length:      {"3.2 mm", "5 cm", "6 m", "23 3/16 in", `1/2"`, "8 ft", `5' 3 1/2"`},
		Mass:        {"27 kg", "500 g", "60 lb"},
		Volume:      {"90 L", "24 gal US", "20 gal UK"},
		Voltage:     {"12.8 V"},
		Current:     {"30 A"},
		Resistance:  {"0.5 Ω"},
		Pressure:    {"0.5 bar", "30 psi", "50 kPa", "150 mbar"},
		Temperature: {"-5 °C", "23 °F"},
		Ratio:       {"3 %"},
		Duration:    {"5 min", "24 h"},
	} {
		for _, s := range all {
			if q := quantity(t, s); q.Dimension() != dim || q.String() != s {
				t.Errorf("%q is %q, a %s, want a %s as typed", s, q, q.Dimension(), dim)
			}
		}
	}
}

func TestSpellings(t *testing.T) {
	for unit, all := range map[string][]string{
		"N·m":    {"12 N·m", "12 Nm", "12 N m", "12 N*m", "12Nm", "12 N⋅m", "12\u00a0N·m", "12.0 N·m", "+12 N·m", " 12 N·m "},
		"lbf·in": {"106 lbf·in", "106 lbf in", "106 lbf-in", "106 in-lbf", "106 in·lbf", "106 lbf*in"},
		"lbf·ft": {"8 lbf·ft", "8 ft-lbf", "8 lbf ft"},
		"in":     {"23 3/16 in", `23 3/16"`, "23 3/16″", "3/16 in", ".5 in", "3. in", "1 inch"},
		"ft":     {"8 ft", "8'", "8′"},
		"gal US": {"5 gal US", "5 US gal"},
		"gal UK": {"5 gal UK", "5 UK gal"},
		"Ω":      {"5 Ω", "5 \u2126", "5 ohm"},
		"°C":     {"-5 °C", "−5 °C", "- 5 ºC"},
		"L":      {"90 L", "90 l"},
		"%":      {"3 %", "3%"},
		"ppm":    {"30 ppm"},
	} {
		for _, s := range all {
			if q := quantity(t, s); q.Unit() != unit || q.String() != strings.Trim(strings.ReplaceAll(s, "\u00a0", " "), " ") {
				t.Errorf("ParseQuantity(%q) = %q with unit %q, want unit %q", s, q, q.Unit(), unit)
			}
		}
	}
	if got := quantity(t, "-3 1/2 in").Value().RatString(); got != "-7/2" {
		t.Errorf("-3 1/2 in has the value %s, want -7/2", got)
	}
	if got := quantity(t, "−5 °C").Value().RatString(); got != "-5" {
		t.Errorf("−5 °C has the value %s, want -5", got)
	}
}

func TestNoQuantities(t *testing.T) {
	for s, want := range map[string]string{
		"":              "begins with no number",
		"mm":            "begins with no number",
		"12":            "has no unit",
		"3,2 N·m":       "write decimals as 3.2",
		"23½ in":        "has a fraction in one sign",
		"3⁄16 in":       "write it as 23 3/16",
		"5 gallons":     "say gal US or gal UK",
		"88 in-lbs":     "say lbf·in",
		"88 inlb":       "say lbf·in",
		"12 lbs-ft":     "say lbf·ft",
		"12 ft lbs":     "say lbf·ft",
		"12 N.m":        "say N·m",
		"12 deg C":      "say °C",
		"3,2 mm":        "write decimals as 3.2",
		"1 234 mm":      "thousands as 1234",
		"1,234 mm":      "thousands as 1234",
		"23-3/16 in":    "fractions as 23 3/16",
		"3.2.1 mm":      "is not one number",
		"3/0 in":        "has a fraction that is none",
		"23 16/16 in":   "has a fraction that is none",
		"23 19/16 in":   "has a fraction that is none",
		"5 gal":         "say gal US or gal UK",
		"88 lb·in":      "say lbf·in",
		"88 in-lb":      "say lbf·in",
		"10 ft-lb":      "say lbf·ft",
		"12 nm":         "did you mean N·m?",
		"12 bananas":    "has no unit that is known",
		"12 -mm":        "has no unit that is known",
		"12 m m":        "has no unit that is known",
		"12 mm mm":      "has no unit that is known",
		"1e3 mm":        "has no unit that is known",
		"12 N·m ±10 %":  "has no unit that is known",
		"NaN mm":        "begins with no number",
		"20 C":          "say °C",
		"5 lbs":         "say lb for a mass",
		"1\x00 mm":      "has no unit that is known",
		"\xff12 mm":     "begins with no number",
		longNumber("1"): "is too long",
	} {
		q, err := ParseQuantity(s)
		var qe *QuantityError
		if !errors.As(err, &qe) || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseQuantity(%q) = %v, %v, want a QuantityError with %q", s, q, err, want)
		}
	}
}

// A quantity has 80 bytes at most.
func TestLongest(t *testing.T) {
	digits := strings.Repeat("1", 77)
	if q := quantity(t, digits+" mm"); q.Value().RatString() != digits {
		t.Errorf("77 digits are read as %s", q.Value().RatString())
	}
	if q, err := ParseQuantity(digits + "1 mm"); err == nil || !strings.Contains(err.Error(), "is too long") {
		t.Errorf("78 digits are read as %v, %v", q, err)
	}
}

func longNumber(digit string) string { return strings.Repeat(digit, 100) + " mm" }

func TestMismatch(t *testing.T) {
	for _, tt := range []struct{ q, unit, want string }{
		{"106 lb", "N·m", `"106 lb" is a mass, want a torque: say lbf·in or lbf·ft`},
		{"106 lbf", "N·m", `"106 lbf" is a force, want a torque: say lbf·in or lbf·ft`},
		{"106 kg", "N·m", `"106 kg" is a mass, want a torque in N·m or lbf·in`},
		{"12 N·m", "mm", `"12 N·m" is a torque, want a length in mm or cm`},
		{"12 mm", "Wh", `"12 mm" is a length, want an energy in Wh or kWh`},
		{"12 L", "gal", `"gal" has "gal" for a unit: say gal US or gal UK`},
	} {
		_, err := quantity(t, tt.q).In(tt.unit)
		if err == nil || err.Error() != tt.want {
			t.Errorf("%s in %s: %v, want %s", tt.q, tt.unit, err, tt.want)
		}
	}
	if _, err := quantity(t, "1 V").To("mm", 1); err == nil {
		t.Error("1 V was shown in mm")
	}
}

func TestZeroQuantity(t *testing.T) {
	var none Quantity
	if _, err := none.In("mm"); err == nil {
		t.Error("no quantity was converted")
	}
	for _, pair := range [][2]Quantity{{none, none}, {none, quantity(t, "1 mm")}, {quantity(t, "1 mm"), none}} {
		if _, err := pair[0].Compare(pair[1]); err == nil {
			t.Errorf("Compare(%q, %q) was done", pair[0], pair[1])
		}
	}
	if !none.IsZero() || none.Unit() != "" || none.Dimension() != "" || none.Value().Sign() != 0 {
		t.Error("the zero Quantity has something")
	}
	if quantity(t, "1 mm").IsZero() {
		t.Error("1 mm is no quantity")
	}
}

// Value hands out a copy: nobody can change a quantity.
func TestValueIsACopy(t *testing.T) {
	q := quantity(t, "3 mm")
	q.Value().SetInt64(7)
	if got := in(t, q.String(), "mm").RatString(); got != "3" || q.Value().RatString() != "3" {
		t.Errorf("3 mm has become %s mm", q.Value().RatString())
	}
}

// Every unit converts to each other of its dimension and back without loss.
func TestUnitsConvertBack(t *testing.T) {
	v := big.NewRat(37, 7)
	for _, from := range unitsByName {
		for _, to := range unitsByName {
			if from.dim != to.dim {
				continue
			}
			there := to.fromBase(from.toBase(v))
			if back := from.fromBase(to.toBase(there)); back.Cmp(v) != 0 {
				t.Errorf("%s to %s and back gives %s", from.name, to.name, back.RatString())
			}
		}
	}
}
