package reckon

import (
	"fmt"
	"slices"
	"strings"
)

// WireTable is a published table of conductors. Tables give one size different copper:
// an answer names its table.
type WireTable struct {
	Key   string // short, for a command: "class5"
	Name  string // with the standard: "IEC 60228 class 5, plain copper"
	At    int    // °C that Wires are for
	Other int    // °C that can be reckoned from them
	Wires []Wire // thinnest first
	Note  Note

	times float64 // resistance at Other over resistance at At
}

// Wire is one size of a table.
type Wire struct {
	Size     string  // "2.5" in mm², "10" in AWG
	AreaMM2  float64 // nominal
	CircMil  float64
	OhmPerKm float64 // as the table has it, at the table's temperature
}

// circMil is a circular mil in mm²: a circle of 0.001 in across.
const circMil = 5.067075e-4

// warm70 divides the resistance at 20 °C to give that at 70 °C, IEC 60228.
const warm70 = 0.833

// cold20 times the resistance at 75 °C gives that at 20 °C, note with NEC chapter 9 table 8.
const cold20 = 0.82

// WireTables gives the tables that a drop can be reckoned with, the one for a van's
// flexible cable first.
func WireTables() []WireTable {
	return []WireTable{
		iec("class5", "IEC 60228 class 5, flexible, plain copper", class5),
		iec("class5-tinned", "IEC 60228 class 5, flexible, tinned copper", class5Tinned),
		iec("class2", "IEC 60228 class 2, stranded, plain copper", class2),
		nec(), solid(), automotive(),
	}
}

// TableOf gives a table by its key.
func TableOf(key string) (WireTable, error) {
	var keys []string
	for _, t := range WireTables() {
		if t.Key == key {
			return t, nil
		}
		keys = append(keys, t.Key)
	}
	return WireTable{}, &InputError{What: "conductor table", Why: fmt.Sprintf("%q is not known, want %s", key, strings.Join(keys, ", "))}
}

// Ohms gives the resistance of a size in Ω/km with the conductor at 20 °C, or at the warm
// temperature that the table knows (70 °C of IEC 60228, 75 °C of the NEC).
func (t WireTable) Ohms(size string, celsius int) (float64, error) {
	i := slices.IndexFunc(t.Wires, func(w Wire) bool { return w.Size == size })
	switch {
	case i < 0:
		return 0, &InputError{What: "wire size", Why: fmt.Sprintf("%q is not in %s, want %s", size, t.Name, t.sizes())}
	case celsius == t.At:
		return t.Wires[i].OhmPerKm, nil
	case celsius == t.Other:
		return t.Wires[i].OhmPerKm * t.times, nil
	}
	return 0, &InputError{What: "temperature of the conductor", Why: fmt.Sprintf("of %d °C is not in %s, want %d or %d °C", celsius, t.Name, t.At, t.Other)}
}

// AtLeast gives the thinnest size that has so many circular mils.
func (t WireTable) AtLeast(circMils float64) (Wire, error) {
	for _, w := range t.Wires {
		if w.CircMil >= circMils {
			return w, nil
		}
	}
	return Wire{}, &InputError{What: "cross-section", Why: fmt.Sprintf("of %.0f circular mils is more than %s has: shorten the run, or raise the voltage", circMils, t.Name)}
}

func (t WireTable) sizes() string {
	var out []string
	for _, w := range t.Wires {
		out = append(out, w.Size)
	}
	return strings.Join(out, ", ")
}
