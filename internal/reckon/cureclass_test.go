package reckon

import (
	"strings"
	"testing"
)

// Cure and wait by class, as makers' sheets print it, or from memory where the table says so.
func TestCureClasses(t *testing.T) {
	for name, wants := range map[string][]string{
		"1-part polyurethane":          {"3 mm in 24 h", "3 to 7 days", "5 to 40 °C"},
		"MS or hybrid sealant":         {"10 to 30 min", "from memory"},
		"2-part epoxy":                 {"24 h at 21 °C", "5 days at 25 °C, 10 days at 15 °C", "10 to 13 °C"},
		"solvent contact adhesive":     {"15 to 30 min", "24 to 72 h"},
		"water-based contact adhesive": {"60 to 120 min", "72 h"},
		"floor-covering adhesive":      {"24 to 48 h", "16 to 38 °C"},
		"2-part spray foam":            {"24 h, 48 to 72 h"},
		"etch or zinc primer, topcoat": {"24 h before sealant", "5 to 7 days"},
		"2-pack lacquer or varnish":    {"1 to 4 h", "7 days"},
	} {
		found := false
		for _, c := range CureClasses() {
			if c.Name != name {
				continue
			}
			found = true
			all := strings.Join([]string{c.Handling, c.Full, c.Warmth, c.Source}, "; ")
			for _, want := range wants {
				if !strings.Contains(all, want) {
					t.Errorf("%s: %q does not say %q", name, all, want)
				}
			}
		}
		if !found {
			t.Errorf("there is no class %s", name)
		}
	}
}

// The table's bead agrees with the sum: 3 mm in 24 h makes 96 h of 6 mm and 267 h of 10 mm.
func TestBeadOfTheTable(t *testing.T) {
	for depth, want := range map[string]float64{"6 mm": 96, "10 mm": 266.7} {
		v, err := BeadCure(q(t, depth), q(t, "3 mm"), q(t, "24 h"))
		if err != nil || v.Number < want-0.1 || v.Number > want+0.1 {
			t.Errorf("%s cures in %v h, %v; want %v", depth, v.Number, err, want)
		}
	}
}

// The numbers of the rules, each with its standard.
func TestWiringRules(t *testing.T) {
	for want, source := range map[string]string{"7 in (178 mm)": "ABYC E-11", "72 in": "ABYC E-11", "1.8 m": "ISO 13297", "10 mm": "ISO 10133",
		"450 mm": "ISO 10133", "300 mm": "ISO 10133", "0.75 mm²": "ISO 10133", "30 mA": "BS 7671", "at most 4": "ABYC E-11"} {
		found := false
		for _, r := range WiringRules() {
			found = found || strings.Contains(r.Text, want) && strings.Contains(r.Source, source)
		}
		if !found {
			t.Errorf("no rule of %s says %q", source, want)
		}
	}
}
