package reckon

import (
	"math"
	"strconv"

	"example.com/vanlog/internal/units"
)

// TorqueTable is the torques of one source, for one condition. Tables of different
// sources differ by up to 30 %: never mix their rows.
type TorqueTable struct {
	Name      string
	Condition string // of the thread, or of what is fastened
	Rows      []TorqueRow
	Note      Note
}

// TorqueRow is the torque of one size in N·m. Low and High are the same where the source
// gives one number.
type TorqueRow struct {
	Size      string
	Low, High float64
}

const storeSource = "Keep a torque with its source and its condition: honest tables differ by up to 30 %."

// Class88 gives four honest tables for steel bolts of class 8.8, which differ. The first
// is reckoned: K 0.20, 75 % of the proof force (ISO 898-1: from memory).
func Class88() []TorqueTable {
	return []TorqueTable{
		reckoned88(),
		{"handbook", "friction 0.14, 90 % of yield",
			[]TorqueRow{one("M4", 3.0), one("M5", 5.9), one("M6", 10), one("M8", 25), one("M10", 49), one("M12", 85)},
			Note{Source: "engineering handbook table, friction 0.14", Caution: storeSource}},
		{"maker's standard", "friction 0.125, oiled",
			[]TorqueRow{one("M6", 9), one("M8", 21), one("M10", 42), one("M12", 74)},
			Note{Source: "a machine maker's works standard, friction 0.125", Caution: storeSource}},
		{"general machinery", "low: oiled, high: dry",
			[]TorqueRow{{"M6", 9, 11}, {"M8", 22, 28}, {"M10", 43, 55}, {"M12", 75, 95}},
			Note{Source: "general table for machinery, oiled and dry", Caution: storeSource}},
	}
}

func one(size string, nm float64) TorqueRow { return TorqueRow{size, nm, nm} }

// reckoned88 reckons the column T = K × d × F, to three digits as such tables are printed.
func reckoned88() TorqueTable {
	t := TorqueTable{Name: "reckoned", Condition: "dry, K 0.20, 75 % of proof", Note: Note{
		Formula: "T = 0.20 × d × 0.75 × 580 MPa × stress area",
		Source:  "ISO 898-1: from memory",
		Caution: storeSource,
	}}
	for _, b := range bolts {
		nm := 0.20 * b.diameter / 1000 * 0.75 * proof88 * b.area
		digits, _ := strconv.ParseFloat(strconv.FormatFloat(nm, 'g', 3, 64), 64)
		t.Rows = append(t.Rows, one(b.size, digits))
	}
	return t
}

// LugTorques gives typical torques of electrical lugs. The leaflet of the device prevails.
func LugTorques() []TorqueTable {
	const leaflet = "Typical: the leaflet of the device prevails. No washer between the lug and the face of the terminal."
	battery := Note{Source: "a battery maker's manual", Caution: leaflet}
	inch := Note{Source: "manual of a telecom battery plant, in lbf·in", Caution: leaflet}
	return []TorqueTable{
		{"battery insert", "threaded insert", []TorqueRow{{"M6", 5.6, 7.9}, {"M8", 9.6, 10.7}, {"M10", 13, 16}}, battery},
		{"battery stud", "stud and nut", []TorqueRow{{"M6", 4.5, 6.3}, {"M8", 6.6, 8.5}, {"M10", 10.4, 13}, {"3/8 in", 12, 16.9}}, battery},
		{"bus bar", "one spring washer", []TorqueRow{one("M6", 4.5), one("M8", 9.0), one("M10", 13.6)},
			Note{Source: "manual of power equipment", Caution: leaflet}},
		{"wire connector", "screw", []TorqueRow{lbfIn("#8-32", 15), lbfIn("#10-24", 21), lbfIn("1/4 in", 50), lbfIn("5/16 in", 100), lbfIn("3/8 in", 180)}, inch},
	}
}

// lbfIn is a row that was published in lbf·in, in N·m to one decimal place.
func lbfIn(size string, v int) TorqueRow {
	q, err := units.ParseQuantity(strconv.Itoa(v) + " lbf·in")
	if err != nil {
		panic(err) // every whole number of lbf·in is a torque
	}
	exact, _ := q.In("N·m")
	nm, _ := exact.Float64()
	return one(size, math.Round(nm*10)/10)
}
