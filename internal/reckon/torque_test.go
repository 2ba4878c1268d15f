package reckon

import (
	"math"
	"testing"
)

// T = K × d × F with K 0.20 and 75 % of the proof force of class 8.8 (ISO 898-1: stress
// areas and 580 MPa from memory); the torques are the products, to three digits.
func TestBoltTorque(t *testing.T) {
	ok := got(t)
	for size, want := range map[string]float64{"M4": 3.06, "M5": 6.18, "M6": 10.5, "M8": 25.5, "M10": 50.5, "M12": 88.0} {
		force := ok(ProofForce(size, 0.75))
		nm := ok(BoltTorque(0.20, q(t, size[1:]+" mm"), q(t, force.Show(6))))
		near(t, size, nm.Number, want, math.Pow(10, math.Floor(math.Log10(want))-2)/2*1.0001)
		if nm.Unit != "N·m" {
			t.Errorf("%s in %s, want N·m", size, nm.Unit)
		}
	}
	near(t, "force of M8", ok(ProofForce("M8", 0.75)).Number, 15.921, 0.0005)
	near(t, "M8 oiled", ok(BoltTorque(0.15, q(t, "8 mm"), q(t, "15921 N"))).Number, 25.4736*0.75, 0.001)
	refuses(t, failed(ProofForce("M7", 0.75)), `size of the bolt "M7" is not known here, want M4`)
	refuses(t, failed(ProofForce("M8", 75)), "share of the proof force of 75 is not between")
	refuses(t, failed(BoltTorque(2, q(t, "8 mm"), q(t, "1 kN"))), "dry steel is about 0.20")
}

// Catalogue tensile loads of T-nuts, with K 0.20: slot-5, slot-6, and slot-8 in its
// standard and light form.
func TestTNutLoads(t *testing.T) {
	for _, tt := range []struct {
		d, load string
		want    float64
	}{{"5 mm", "1000 N", 1.0}, {"6 mm", "3500 N", 4.2}, {"8 mm", "10000 N", 16}, {"8 mm", "5000 N", 8.0}} {
		near(t, tt.load+" on "+tt.d, got(t)(BoltTorque(0.2, q(t, tt.d), q(t, tt.load))).Number, tt.want, 1e-9)
	}
}

// The four columns as they were published; the first is the product above.
func TestClass88(t *testing.T) {
	want := map[string][4]TorqueRow{
		"M4":  {{"M4", 3.06, 3.06}, {"M4", 3.0, 3.0}, {}, {}},
		"M5":  {{"M5", 6.18, 6.18}, {"M5", 5.9, 5.9}, {}, {}},
		"M6":  {{"M6", 10.5, 10.5}, {"M6", 10, 10}, {"M6", 9, 9}, {"M6", 9, 11}},
		"M8":  {{"M8", 25.5, 25.5}, {"M8", 25, 25}, {"M8", 21, 21}, {"M8", 22, 28}},
		"M10": {{"M10", 50.5, 50.5}, {"M10", 49, 49}, {"M10", 42, 42}, {"M10", 43, 55}},
		"M12": {{"M12", 88.0, 88.0}, {"M12", 85, 85}, {"M12", 74, 74}, {"M12", 75, 95}},
	}
	tables := Class88()
	if len(tables) != 4 {
		t.Fatalf("%d tables, want four", len(tables))
	}
	for i, table := range tables {
		noted(t, table.Note)
		if table.Condition == "" {
			t.Errorf("%s has no condition", table.Name)
		}
		for size, rows := range want {
			if got := rowOf(table, size); got != rows[i] {
				t.Errorf("%s, %s: %v, want %v", table.Name, size, got, rows[i])
			}
		}
	}
}

func rowOf(table TorqueTable, size string) TorqueRow {
	for _, r := range table.Rows {
		if r.Size == size {
			return r
		}
	}
	return TorqueRow{}
}

// Typical ranges from the manuals of a battery, of power equipment and of a telecom
// battery plant, in N·m; the last was printed in lbf·in as well.
func TestLugTorques(t *testing.T) {
	want := map[string][]TorqueRow{
		"battery insert": {{"M6", 5.6, 7.9}, {"M8", 9.6, 10.7}, {"M10", 13, 16}},
		"battery stud":   {{"M6", 4.5, 6.3}, {"M8", 6.6, 8.5}, {"M10", 10.4, 13}, {"3/8 in", 12, 16.9}},
		"bus bar":        {{"M6", 4.5, 4.5}, {"M8", 9.0, 9.0}, {"M10", 13.6, 13.6}},
		"wire connector": {{"#8-32", 1.7, 1.7}, {"#10-24", 2.4, 2.4}, {"1/4 in", 5.6, 5.6}, {"5/16 in", 11.3, 11.3}, {"3/8 in", 20.3, 20.3}},
	}
	for _, table := range LugTorques() {
		noted(t, table.Note)
		if len(table.Rows) != len(want[table.Name]) || len(table.Rows) == 0 {
			t.Errorf("%s has %d rows, want %d", table.Name, len(table.Rows), len(want[table.Name]))
		}
		for _, row := range want[table.Name] {
			if got := rowOf(table, row.Size); got != row {
				t.Errorf("%s: %v, want %v", table.Name, got, row)
			}
		}
		delete(want, table.Name)
	}
	if len(want) != 0 {
		t.Errorf("no table for %v", want)
	}
}

// set = T × A / (A + E); square to the arm the extension changes nothing.
func TestCrowFoot(t *testing.T) {
	ok := got(t)
	near(t, "in line", ok(CrowFoot(q(t, "25 N·m"), q(t, "400 mm"), q(t, "50 mm"), 0)).Number, 22.2, 0.05)
	near(t, "square", ok(CrowFoot(q(t, "25 N·m"), q(t, "400 mm"), q(t, "50 mm"), 90)).Number, 25, 1e-9)
	near(t, "none", ok(CrowFoot(q(t, "25 N·m"), q(t, "400 mm"), q(t, "0 mm"), 0)).Number, 25, 1e-9)
	// 60 degrees: half of the extension counts. 180: it points back to the grip.
	near(t, "60 degrees", ok(CrowFoot(q(t, "25 N·m"), q(t, "400 mm"), q(t, "50 mm"), 60)).Number, 25*400/425., 1e-9)
	near(t, "backwards", ok(CrowFoot(q(t, "25 N·m"), q(t, "400 mm"), q(t, "50 mm"), 180)).Number, 25*400/350., 1e-9)
	near(t, "in inches", ok(CrowFoot(q(t, "221.268 lbf·in"), q(t, "40 cm"), q(t, "1 31/32 in"), 0)).Number, 22.2, 0.05)
	refuses(t, failed(CrowFoot(q(t, "25 N·m"), q(t, "40 mm"), q(t, "50 mm"), 180)), "points back beyond the grip")
	refuses(t, failed(CrowFoot(q(t, "25 N·m"), q(t, "400 mm"), q(t, "50 mm"), 200)), "angle of 200")
	refuses(t, failed(CrowFoot(q(t, "25 lb"), q(t, "400 mm"), q(t, "50 mm"), 0)), "say lbf·in or lbf·ft")
	refuses(t, failed(CrowFoot(q(t, "25 N·m"), q(t, ""), q(t, "50 mm"), 0)), "arm length is missing")
}

func TestTSlot(t *testing.T) {
	refuses(t, failed(TSlotTorque(q(t, ""))), "has no default: ask for the profile maker's number")
	v, err := TSlotTorque(q(t, "8 N·m"))
	if err != nil || v.Show(0) != "8 N·m" || v.Note.Caution == "" {
		t.Errorf("the maker's 8 N·m is %v, %v", v, err)
	}
	// Catalogue value 23.4 × 10⁻⁶/K: 3 m over 30 K move 2.1 mm.
	near(t, "expansion", got(t)(Expansion(q(t, "3 m"), 30)).Number, 2.1, 0.05)
	near(t, "shrinking", got(t)(Expansion(q(t, "3 m"), -30)).Number, -2.1, 0.05)
	refuses(t, failed(Expansion(q(t, "3 m"), 500)), "rise in temperature")
}
