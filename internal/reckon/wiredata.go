package reckon

import "strconv"

// ohms is a row of a table: a size and what the table has for it.
type ohms struct {
	size  string
	value float64
}

// IEC 60228 (2004), greatest resistance in Ω/km at 20 °C; sizes in mm².
var (
	class5 = []ohms{{"0.5", 39.0}, {"0.75", 26.0}, {"1", 19.5}, {"1.5", 13.3}, {"2.5", 7.98}, {"4", 4.95}, {"6", 3.30}, {"10", 1.91},
		{"16", 1.21}, {"25", 0.780}, {"35", 0.554}, {"50", 0.386}, {"70", 0.272}, {"95", 0.206}}
	class5Tinned = []ohms{{"1.5", 13.7}, {"2.5", 8.21}, {"4", 5.09}, {"6", 3.39}, {"10", 1.95}, {"16", 1.24}, {"25", 0.795}, {"35", 0.565}, {"50", 0.393}}
	class2       = []ohms{{"1.5", 12.1}, {"2.5", 7.41}, {"4", 4.61}, {"6", 3.08}, {"10", 1.83}, {"16", 1.15}, {"25", 0.727}, {"35", 0.524}, {"50", 0.387}}
)

// necOhms is NEC chapter 9 table 8, stranded uncoated copper, Ω/1000 ft at 75 °C; sizes in
// AWG. 18 and 16 are from memory.
var necOhms = []ohms{{"18", 7.95}, {"16", 4.99}, {"14", 3.07}, {"12", 1.93}, {"10", 1.21}, {"8", 0.764}, {"6", 0.491}, {"4", 0.308},
	{"3", 0.245}, {"2", 0.194}, {"1", 0.154}, {"1/0", 0.122}, {"2/0", 0.0967}, {"3/0", 0.0766}, {"4/0", 0.0608}}

// leastMils are the fewest circular mils that an automotive wire of a gauge may have: from memory.
var leastMils = []ohms{{"18", 1537}, {"16", 2336}, {"14", 3702}, {"12", 5833}, {"10", 9343}, {"8", 14810}, {"6", 25910}, {"4", 37360},
	{"2", 62450}, {"1", 77790}, {"1/0", 98980}, {"2/0", 125100}, {"3/0", 158600}, {"4/0", 205500}}

const ampacity = "The drop alone sizes no wire: the current it may carry, and its fuse, come first."

func iec(key, name string, rows []ohms) WireTable {
	t := WireTable{Key: key, Name: name, At: 20, Other: 70, times: 1 / warm70, Note: Note{
		Formula: "at 70 °C divide by 0.833",
		Source:  "IEC 60228 (2004), greatest resistance at 20 °C",
		Caution: ampacity,
	}}
	for _, r := range rows {
		area, _ := strconv.ParseFloat(r.size, 64)
		t.Wires = append(t.Wires, Wire{r.size, area, area / circMil, r.value})
	}
	return t
}

func nec() WireTable {
	t := WireTable{Key: "nec8", Name: "NEC chapter 9 table 8, stranded, uncoated copper", At: 75, Other: 20, times: cold20, Note: Note{
		Formula: "at 20 °C about 82 %",
		Source:  "NEC chapter 9 table 8, at 75 °C; AWG 18 and 16 from memory",
		Caution: "A rule for buildings, borrowed. " + ampacity,
	}}
	for _, r := range necOhms {
		t.Wires = append(t.Wires, gaugeWire(r.size, r.value/0.3048)) // 1000 ft are 0.3048 km
	}
	return t
}

func solid() WireTable {
	t := WireTable{Key: "awg", Name: "ASTM B258, solid, annealed copper", At: 20, Other: 70, times: 1 / warm70, Note: Note{
		Formula: "d = 0.005 in × 92^((36−n)/39); at 70 °C divide by 0.833",
		Source:  "ASTM B258; the factor for 70 °C is that of IEC 60228",
		Caution: ampacity,
	}}
	for _, r := range necOhms {
		w := gaugeWire(r.size, 0)
		w.OhmPerKm = copper / w.AreaMM2
		t.Wires = append(t.Wires, w)
	}
	return t
}

func automotive() WireTable {
	t := WireTable{Key: "automotive", Name: "automotive gauge, fewest circular mils allowed", At: 20, Other: 70, times: 1 / warm70, Note: Note{
		Formula: "R' = 17.241 Ω·mm²/km / area; at 70 °C divide by 0.833",
		Source:  "fewest circular mils of automotive wire: from memory",
		Caution: "Up to a tenth less copper than the same gauge of ASTM B258. " + ampacity,
	}}
	for _, r := range leastMils {
		area := r.value * circMil
		t.Wires = append(t.Wires, Wire{r.size, area, r.value, copper / area})
	}
	return t
}

// gaugeWire is a size of the tables here, with the area of ASTM B258.
func gaugeWire(size string, ohmPerKm float64) Wire {
	g, err := AWG(size)
	if err != nil {
		panic(err) // the tables here have sizes of AWG only
	}
	return Wire{size, g.AreaMM2, g.CircMil, ohmPerKm}
}
