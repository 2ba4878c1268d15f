package sums

import (
	"fmt"
	"strconv"

	"example.com/vanlog/internal/reckon"
)

// circuitFields ask for a circuit and the table of its wire.
func circuitFields() []Field {
	var tables []string
	for _, t := range reckon.WireTables() {
		tables = append(tables, t.Key)
	}
	return []Field{
		{Name: "system", Label: "System", Hint: "its voltage, such as 12 V", Default: "12 V"},
		{Name: "current", Label: "Current", Hint: "such as 8 A", Needed: true},
		{Name: "length", Label: "Length", Hint: "one way, such as 6 m", Needed: true},
		{Name: "table", Label: "Table", Hint: "of the conductors", Words: tables, Default: tables[0]},
		{Name: "celsius", Label: "Temperature", Hint: "of the conductor in °C: 20, or the warm one of the table (70 of IEC 60228, 75 of the NEC)", Default: "20"},
	}
}

func (a asked) circuit() (reckon.Circuit, reckon.WireTable, error) {
	q, err := a.quantities("system", "current", "length")
	if err != nil {
		return reckon.Circuit{}, reckon.WireTable{}, err
	}
	table, err := reckon.TableOf(a.text["table"])
	if err != nil {
		return reckon.Circuit{}, table, err
	}
	celsius, err := strconv.Atoi(a.text["celsius"])
	if err != nil {
		return reckon.Circuit{}, table, fmt.Errorf("temperature: %q is no whole number of °C", a.text["celsius"])
	}
	return reckon.Circuit{System: q[0], Current: q[1], OneWay: q[2], Celsius: celsius}, table, nil
}

func wire() Sum {
	percent := Field{Name: "percent", Label: "Drop allowed", Hint: "% of the system: 3 for feeders, pumps and electronics, 10 for the rest", Default: "3"}
	return Sum{Name: "wire", About: "the thinnest wire that keeps the voltage drop", Fields: append(circuitFields(), percent), work: func(a asked) (Answer, error) {
		c, table, err := a.circuit()
		if err != nil {
			return Answer{}, err
		}
		percent, err := a.number("percent")
		if err != nil {
			return Answer{}, err
		}
		d, err := c.Smallest(table, percent)
		return dropped(d, err, "smallest size")
	}}
}

func drop() Sum {
	size := Field{Name: "size", Label: "Size", Hint: "of the table: mm² such as 2.5, or AWG such as 10", Needed: true}
	return Sum{Name: "drop", About: "the voltage drop in a wire", Fields: append(circuitFields(), size), work: func(a asked) (Answer, error) {
		c, table, err := a.circuit()
		if err != nil {
			return Answer{}, err
		}
		d, err := c.Drop(table, a.text["size"])
		return dropped(d, err, "in size")
	}}
}

func dropped(d reckon.Drop, err error, what string) (Answer, error) {
	if err != nil {
		return Answer{}, err
	}
	return Answer{Lines: []string{fmt.Sprintf("%s %s: %.3f V, %.2f %%", what, d.Size, d.Volts, d.Percent),
		fmt.Sprintf("by %s, conductor at %d °C", d.Table, d.Celsius)}, Note: d.Note}, nil
}

func gauge() Sum {
	return Sum{Name: "awg", About: "a size of the American wire gauge in millimetres", Fields: []Field{
		{Name: "size", Label: "Size", Hint: "such as 10 or 2/0", Needed: true},
	}, work: func(a asked) (Answer, error) {
		g, err := reckon.AWG(a.text["size"])
		if err != nil {
			return Answer{}, err
		}
		return Answer{Lines: []string{fmt.Sprintf("%.4g mm², %.4g mm across", g.AreaMM2, g.DiameterMM),
			fmt.Sprintf("%.4g in across, %.0f circular mils, %.4g Ω/km at 20 °C", g.DiameterIn, g.CircMil, g.OhmPerKm)}, Note: g.Note}, nil
	}}
}
