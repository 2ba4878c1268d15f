package reckon

import (
	"strings"
	"testing"
)

func circuit(t *testing.T, volts, amps, oneWay string, celsius int) Circuit {
	t.Helper()
	return Circuit{q(t, volts), q(t, amps), q(t, oneWay), celsius}
}

// Products of U = I × R' × 2L with the resistances of IEC 60228 class 5.
func TestDrop(t *testing.T) {
	for _, tt := range []struct {
		amps, oneWay   string
		celsius        int
		size           string
		volts, percent float64
	}{
		{"5 A", "4.5 m", 20, "2.5", 0.359, 2.99},
		{"5 A", "4.5 m", 70, "2.5", 0.431, 3.59},
		{"5 A", "4.5 m", 20, "4", 0.223, 1.86},
		{"5 A", "4.5 m", 70, "4", 0.267, 2.23},
		{"30 A", "6 m", 20, "10", 0.688, 5.73},
		{"30 A", "6 m", 20, "16", 0.436, 3.63},
		{"150 A", "1.5 m", 20, "35", 0.249, 2.08},
	} {
		d, err := circuit(t, "12 V", tt.amps, tt.oneWay, tt.celsius).Drop(wires(t, "class5"), tt.size)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, tt.amps+" in "+tt.size+", volts", d.Volts, tt.volts, 0.0005)
		near(t, tt.amps+" in "+tt.size+", percent", d.Percent, tt.percent, 0.005)
		noted(t, d.Note)
		if d.Table != "IEC 60228 class 5, flexible, plain copper" || d.Celsius != tt.celsius || d.Size != tt.size ||
			!strings.Contains(d.Note.Source, d.Table) || !strings.Contains(d.Note.Source, "°C") {
			t.Errorf("%+v does not name its table and temperature", d)
		}
	}
}

// 5 A over 4.5 m keeps to 3 % in 2.5 mm² at 20 °C, and not with the conductor at 70 °C.
func TestSmallest(t *testing.T) {
	for _, tt := range []struct {
		celsius int
		percent float64
		want    string
	}{{20, 3, "2.5"}, {70, 3, "4"}, {20, 10, "0.75"}, {20, 2.98, "4"}} {
		c := circuit(t, "12 V", "5 A", "4.5 m", tt.celsius)
		if d, err := c.Smallest(wires(t, "class5"), tt.percent); err != nil || d.Size != tt.want || d.Percent > tt.percent {
			t.Errorf("%v %% at %d °C: %s with %.2f %%, %v, want %s", tt.percent, tt.celsius, d.Size, d.Percent, err, tt.want)
		}
	}
	refuses(t, failed(circuit(t, "12 V", "500 A", "10 m", 20).Smallest(wires(t, "class5"), 3)), "kept by no size of IEC 60228 class 5")
	refuses(t, failed(circuit(t, "12 V", "5 A", "4.5 m", 20).Smallest(wires(t, "class5"), 0)), "drop allowed of 0 is not between")
	refuses(t, failed(circuit(t, "12 V", "5 A", "4.5 m", 75).Smallest(wires(t, "class5"), 3)), "want 20 or 70 °C")
	refuses(t, failed(circuit(t, "12 V", "5 V", "4.5 m", 20).Drop(wires(t, "class5"), "4")), "current cannot be used")
	refuses(t, failed(circuit(t, "", "5 A", "4.5 m", 20).Drop(wires(t, "class5"), "4")), "system voltage is missing")
}

// Two published cases of small-craft tables at 12 V: 10 A over 11 ft out and 10 ft back
// wants 10 AWG for 3 % and 16 AWG for 10 %; 45 A over 40 ft wants 8 AWG for 10 %. The
// formula is that of ABYC E-11 with 10.75 (from memory). The published sizes come from two
// strand tables: the first case from the least copper of automotive gauges (from memory),
// the second from ASTM B258. So an answer must name its table.
func TestCircularMils(t *testing.T) {
	for _, tt := range []struct {
		amps, feet, drop string
		want             float64
		solid, auto      string
	}{
		{"10 A", "21 ft", "0.36 V", 6271, "12", "10"}, // published: 10
		{"10 A", "21 ft", "1.2 V", 1881, "16", "16"},  // published: 16
		{"45 A", "40 ft", "1.2 V", 16125, "8", "6"},   // published: 8
	} {
		cm := got(t)(CircularMils(q(t, tt.amps), q(t, tt.feet), q(t, tt.drop)))
		near(t, tt.amps+" over "+tt.feet, cm.Number, tt.want, 0.5)
		for key, want := range map[string]string{"awg": tt.solid, "automotive": tt.auto} {
			if w, err := wires(t, key).AtLeast(cm.Number); err != nil || w.Size != want {
				t.Errorf("%s over %s, %s drop: %s of %s, %v, want %s", tt.amps, tt.feet, tt.drop, w.Size, key, err, want)
			}
		}
	}
	refuses(t, failed(wires(t, "awg").AtLeast(300000)), "300000 circular mils is more than ASTM B258")
	refuses(t, failed(CircularMils(q(t, "10 A"), q(t, "21 ft"), q(t, "3 %"))), "drop allowed cannot be used")
}
