package reckon

// CureClass is how a class of glue, sealant or paint cures. The sheet of the tube prevails.
type CureClass struct {
	Name     string
	Handling string // until it can be touched, or the next thing be done
	Full     string
	Warmth   string
	Source   string
}

// CureClasses gives the classes that a van sees. "Makers' sheets" are the general figures of
// published sheets of the class; the others are from memory.
func CureClasses() []CureClass {
	const sheets, memory = "makers' sheets of the class", "from memory"
	return []CureClass{
		{"1-part polyurethane", "skin 20 min to 2 h; about 3 mm in 24 h at 20 °C and 50 % humidity", "3 to 7 days", "5 to 40 °C, best 15 to 25; needs moist air", sheets},
		{"MS or hybrid sealant", "skin 10 to 30 min; 2 to 3 mm in 24 h", "3 to 7 days", "5 to 35 °C", memory},
		{"neutral silicone", "skin 10 to 20 min; 2 to 3 mm in 24 h", "days", "5 to 40 °C", memory},
		{"2-part epoxy", "clamps off when a thumbnail leaves no mark; no stress for 24 h at 21 °C", "5 days at 25 °C, 10 days at 15 °C", "many stop near 10 to 13 °C", sheets},
		{"solvent contact adhesive", "tack-dry 15 to 30 min, one shot", "24 to 72 h", "15 °C or more (from memory)", sheets},
		{"water-based contact adhesive", "60 to 120 min", "72 h before sun", "15 °C or more (from memory)", sheets},
		{"floor-covering adhesive", "roll, then no traffic for 24 to 48 h", "days", "stock kept at 16 to 38 °C", sheets},
		{"2-part spray foam", "tack-free in seconds to minutes", "no entry for 24 h, 48 to 72 h if damp or badly aired", "substrate 10 to 15 °C or more (from memory)", sheets},
		{"etch or zinc primer, topcoat", "recoat 1 to 4 h, 24 h before sealant", "5 to 7 days", "10 °C or more, 3 °C above the dew point", memory},
		{"butyl tape", "at once", "at once", "5 to 10 °C or more", memory},
		{"2-pack lacquer or varnish", "dust-free 1 to 4 h", "7 days", "15 °C or more", memory},
	}
}

// Rule is a rule of wiring, borrowed from small craft: vans have none of their own everywhere.
type Rule struct{ Text, Source string }

// WiringRules gives the rules for fuses, terminals, batteries and cables that are numbers.
func WiringRules() []Rule {
	return []Rule{
		{"overcurrent device within 7 in (178 mm) of the source along the wire; 40 in where sheathed for its whole length; 72 in where sheathed and straight at the battery", "ABYC E-11"},
		{"a charging source is protected within the source, or within 1.8 m", "ISO 13297:2020"},
		{"at most 4 ring terminals on a stud, the largest at the bottom; no washer between lug and face", "ABYC E-11; makers' manuals"},
		{"a battery moves no more than 10 mm under a force of twice its weight, and leaks nothing at 30°", "ISO 10133:2012, clause 5"},
		{"conductors are supported every 450 mm, or in conduit; battery cables every 300 mm, first within 1 m of the terminal", "ISO 10133:2012, clause 7"},
		{"a single conductor longer than 200 mm has 1 mm² at least, in a multicore cable 0.75 mm²", "ISO 10133:2012, clause 7"},
		{"shore supply: a residual-current device of 30 mA on both poles, breakers on both poles, a notice by the inlet, inspection within 3 years", "BS 7671, section 721"},
	}
}
