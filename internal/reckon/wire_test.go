package reckon

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Sizes by the formula of ASTM B258, rounded as printed; the resistance is 17.241 Ω·mm²/km
// (annealed copper, 20 °C) over the area.
const b258 = `
4/0 0.4600 11.684 107.22 211600 0.1608
2/0 0.3648 9.266 67.43 133077 0.2557
1/0 0.3249 8.251 53.48 105535 0.3224
2 0.2576 6.544 33.63 66371 0.5127
4 0.2043 5.189 21.15 41741 0.8152
6 0.1620 4.115 13.30 26251 1.296
8 0.1285 3.264 8.366 16510 2.061
10 0.1019 2.588 5.261 10383 3.277
12 0.0808 2.053 3.309 6530 5.211
14 0.0641 1.628 2.081 4107 8.285
16 0.0508 1.291 1.309 2583 13.17
18 0.0403 1.024 0.823 1624 20.95`

func TestAWG(t *testing.T) {
	for line := range strings.Lines(b258[1:]) {
		want := strings.Fields(line)
		g, err := AWG(want[0])
		if err != nil {
			t.Error(err)
			continue
		}
		noted(t, g.Note)
		for i, v := range []float64{g.DiameterIn, g.DiameterMM, g.AreaMM2, g.CircMil, g.OhmPerKm} {
			if printed := strconv.FormatFloat(v, 'f', decimals(want[i+1]), 64); printed != want[i+1] {
				t.Errorf("AWG %s, column %d: %s, want %s", want[0], i+1, printed, want[i+1])
			}
		}
	}
	// ASTM B258: 36 is 0.005 in and 4/0 is 0.46 in by definition, and a step is 1.1229322.
	thin, thick := gauge(t, "36"), gauge(t, "0000")
	near(t, "36", thin.DiameterIn, 0.005, 1e-12)
	near(t, "4/0", thick.DiameterIn, 0.46, 1e-12)
	near(t, "a step", gauge(t, "9").DiameterIn/gauge(t, "10 AWG").DiameterIn, 1.1229322, 5e-8)
	// NIST SP 811 (2008), Appendix B.8: circular mil, 5.067075 × 10⁻⁴ mm².
	near(t, "circular mil", thick.AreaMM2/thick.CircMil, 5.067075e-4, 5e-11)
	// Each step of 39 from 4/0 to 36 is the same, and so on to 40.
	near(t, "40", gauge(t, "40").DiameterIn, 0.005/math.Pow(1.1229322, 4), 1e-9)
	if thick.Size != "4/0" || gauge(t, "00").Size != "2/0" || gauge(t, "0").Size != "1/0" {
		t.Errorf("noughts are named %s, %s, %s", thick.Size, gauge(t, "00").Size, gauge(t, "0").Size)
	}
	for _, bad := range []string{"", "5/0", "0/0", "00000", "41", "-1", "+1", "01", "2.5", "AWG", "1/", "/0"} {
		refuses(t, failed(AWG(bad)), "want 4/0, 3/0, 2/0, 1/0 or 1 to 40")
	}
}

func decimals(s string) int {
	_, after, _ := strings.Cut(s, ".")
	return len(after)
}

func gauge(t *testing.T, size string) Gauge {
	t.Helper()
	g, err := AWG(size)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The lists as they were published: IEC 60228 (2004), greatest Ω/km at 20 °C; NEC chapter 9
// table 8, stranded uncoated copper, Ω/1000 ft at 75 °C (18 and 16 from memory).
var published = map[string]string{
	"class5":        "0.5 39.0; 0.75 26.0; 1 19.5; 1.5 13.3; 2.5 7.98; 4 4.95; 6 3.30; 10 1.91; 16 1.21; 25 0.780; 35 0.554; 50 0.386; 70 0.272; 95 0.206",
	"class5-tinned": "1.5 13.7; 2.5 8.21; 4 5.09; 6 3.39; 10 1.95; 16 1.24; 25 0.795; 35 0.565; 50 0.393",
	"class2":        "1.5 12.1; 2.5 7.41; 4 4.61; 6 3.08; 10 1.83; 16 1.15; 25 0.727; 35 0.524; 50 0.387",
	"nec8": "18 7.95; 16 4.99; 14 3.07; 12 1.93; 10 1.21; 8 0.764; 6 0.491; 4 0.308; 3 0.245; 2 0.194; 1 0.154; 1/0 0.122; 2/0 0.0967; " +
		"3/0 0.0766; 4/0 0.0608",
}

func TestWireTables(t *testing.T) {
	for key, list := range published {
		table := wires(t, key)
		noted(t, table.Note)
		rows := strings.Split(list, "; ")
		if len(rows) != len(table.Wires) {
			t.Errorf("%s has %d sizes, want %d", table.Name, len(table.Wires), len(rows))
		}
		perKm := 1.0
		if key == "nec8" {
			perKm = 1000 / 304.8 // 1 ft = 0.3048 m
		}
		for _, row := range rows {
			size, text, _ := strings.Cut(row, " ")
			want, _ := strconv.ParseFloat(text, 64)
			ohm, err := table.Ohms(size, table.At)
			if err != nil {
				t.Error(err)
			}
			near(t, table.Name+" "+size, ohm, want*perKm, 1e-9)
		}
	}
}

func wires(t *testing.T, key string) WireTable {
	t.Helper()
	table, err := TableOf(key)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// A published resistance is that of its copper, 17.241 Ω·mm²/km at 20 °C, and a little
// more for the lay of the strands and the tin; a slip of the hand is further off.
func TestTablesAgainstCopper(t *testing.T) {
	for _, table := range WireTables() {
		for _, w := range table.Wires {
			ohm, err := table.Ohms(w.Size, 20)
			if err != nil {
				t.Fatal(err)
			}
			if over := ohm * w.AreaMM2 / 17.241; over < 0.97 || over > 1.2 {
				t.Errorf("%s %s: %.3f times its copper", table.Name, w.Size, over)
			}
			near(t, table.Name+" "+w.Size+" area", w.CircMil*math.Pi/4*25.4*25.4/1e6, w.AreaMM2, w.AreaMM2*1e-6)
		}
		if !slices.IsSortedFunc(table.Wires, func(a, b Wire) int { return int(math.Copysign(1, a.AreaMM2-b.AreaMM2)) }) {
			t.Errorf("%s is not in order of area", table.Name)
		}
	}
}

// IEC 60228: at 70 °C divide by 0.833. NEC chapter 9 table 8: at 20 °C about 82 %.
func TestWarmWire(t *testing.T) {
	for _, tt := range []struct {
		key, size string
		celsius   int
		want      float64
	}{
		{"class5", "2.5", 70, 7.98 / 0.833}, {"class2", "4", 70, 4.61 / 0.833}, {"nec8", "10", 20, 1.21 / 0.3048 * 0.82},
		{"nec8", "10", 75, 1.21 / 0.3048}, {"awg", "10", 20, 3.277}, {"awg", "10", 70, 3.277 / 0.833}, {"automotive", "8", 20, 17.241 / 7.504},
		{"automotive", "8", 70, 17.241 / 7.504 / 0.833}, {"class5-tinned", "50", 70, 0.393 / 0.833},
	} {
		ohm, err := wires(t, tt.key).Ohms(tt.size, tt.celsius)
		if err != nil {
			t.Error(err)
		}
		near(t, tt.key+" "+tt.size, ohm, tt.want, tt.want*2e-4)
	}
	refuses(t, failed(wires(t, "class5").Ohms("2.5", 75)), "of 75 °C is not in IEC 60228 class 5, flexible, plain copper, want 20 or 70 °C")
	refuses(t, failed(wires(t, "nec8").Ohms("10", 70)), "want 75 or 20 °C")
	refuses(t, failed(wires(t, "class2").Ohms("3", 20)), `"3" is not in IEC 60228 class 2`)
	refuses(t, failed(TableOf("class6")), "want class5, class5-tinned, class2, nec8, awg, automotive")
}

// Each table has a key of its own, says where it is from, and gives the thinnest wire that
// has enough copper.
func TestTablesAreTold(t *testing.T) {
	keys := map[string]bool{}
	for _, table := range WireTables() {
		noted(t, table.Note)
		if keys[table.Key] || table.Name == "" {
			t.Errorf("table %q, %q: a key twice, or no name", table.Key, table.Name)
		}
		keys[table.Key] = true
		for _, w := range table.Wires {
			if got, err := table.AtLeast(w.CircMil); err != nil || got != w {
				t.Errorf("%s: %.0f circular mils want %s, %v, got %s", table.Name, w.CircMil, w.Size, err, got.Size)
			}
		}
	}
}
