package reckon

import (
	"fmt"

	"example.com/vanlog/internal/units"
)

// Circuit is a two-wire circuit of direct current: out and back in the same wire.
type Circuit struct {
	System  units.Quantity // voltage that the drop is a share of: "12 V"
	Current units.Quantity
	OneWay  units.Quantity // length of the run, one way
	Celsius int            // of the conductor: 20, or the warm one of the table
}

// Drop is the drop of a circuit in one size of wire.
type Drop struct {
	Table   string // name of the conductor table
	Size    string // in that table
	Celsius int    // of the conductor
	Volts   float64
	Percent float64 // of the system voltage
	Note    Note
}

// Drop gives the drop in a size of a table: U = I × R' × 2L, where L is the length one way
// and R' the resistance at the conductor's temperature. Terminals, fuses and switches come on top.
func (c Circuit) Drop(t WireTable, size string) (Drop, error) {
	volts, amps, km, err := c.read()
	if err != nil {
		return Drop{}, err
	}
	r, err := t.Ohms(size, c.Celsius)
	if err != nil {
		return Drop{}, err
	}
	u := amps * r * 2 * km
	return Drop{t.Name, size, c.Celsius, u, 100 * u / volts, dropNote(t, c.Celsius)}, nil
}

// dropNote names the table and the temperature: a drop means nothing without them.
func dropNote(t WireTable, celsius int) Note {
	return Note{
		Formula: "U = I × R' × 2L, L one way",
		Source:  fmt.Sprintf("%s (%s), conductor at %d °C", t.Name, t.Note.Source, celsius),
		Caution: "Terminals, fuses and switches come on top: 3 % in the wire ends at 4 % or more. " + t.Note.Caution,
	}
}

// read gives the circuit in V, A and km.
func (c Circuit) read() (volts, amps, km float64, err error) {
	var in input
	volts = in.some("system voltage", c.System, "V")
	amps = in.some("current", c.Current, "A")
	km = in.some("length one way", c.OneWay, "m") / 1000
	return volts, amps, km, in.err
}

// Smallest gives the thinnest wire of a table that keeps the drop to a percentage of the
// system voltage. Small-craft practice, borrowed, is 3 for panel feeders, navigation and
// safety loads, blowers, pumps and electronics, and 10 for the rest (ABYC E-11; ISO
// 13297:2020). The current that the wire may carry is another question.
func (c Circuit) Smallest(t WireTable, percent float64) (Drop, error) {
	var in input
	in.between("drop allowed", percent, 0.1, 50, "3 % for feeders, pumps and electronics, 10 % for the rest")
	if in.err != nil {
		return Drop{}, in.err
	}
	var d Drop
	for _, w := range t.Wires {
		var err error
		if d, err = c.Drop(t, w.Size); err != nil {
			return Drop{}, err
		}
		if d.Percent <= percent {
			return d, nil
		}
	}
	in.refuse("drop allowed", "of %v %% is kept by no size of %s, the thickest has %.1f %%: shorten the run, or raise the voltage", percent, t.Name, d.Percent)
	return Drop{}, in.err
}

// CircularMils gives the cross-section that a drop needs, in circular mils by the formula
// of ABYC E-11 (from memory): 10.75 × I × feet out and back / volts of drop. Find the
// size in one table, and name it (WireTable.AtLeast). The value has no unit of package units.
func CircularMils(current, outAndBack, drop units.Quantity) (Value, error) {
	var in input
	i := in.some("current", current, "A")
	feet := in.some("length out and back", outAndBack, "ft")
	u := in.some("drop allowed", drop, "V")
	return in.value(10.75*i*feet/u, "", Note{
		Formula: "CM = 10.75 × I × feet out and back / drop",
		Source:  "ABYC E-11: from memory",
		Caution: "The length is out and back, not one way. " + ampacity,
	})
}
