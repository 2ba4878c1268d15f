package reckon

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/units"
)

func typed(t *rapid.T, number float64, unit string) units.Quantity {
	v, err := units.ParseQuantity(fmt.Sprintf("%.4f %s", number, unit))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func draw(t *rapid.T, name string, low, high float64) float64 {
	return math.Round(rapid.Float64Range(low, high).Draw(t, name)*1e4) / 1e4
}

func within(t *rapid.T, what string, got, want, share float64) {
	if !(math.Abs(got-want) <= share*math.Abs(want)+1e-9) {
		t.Fatalf("%s = %v, want %v", what, got, want)
	}
}

// A wrench that is set to a value gives way at one force on its grip, square to the arm;
// that force times its distance from the bolt, along the arm, is the torque on the bolt.
func TestCrowFootIsALever(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wanted, arm := draw(t, "torque", 1, 200), draw(t, "arm", 100, 800)
		ext, angle := draw(t, "extension", 0, 90), draw(t, "angle", 0, 180)
		v, err := CrowFoot(typed(t, wanted, "N·m"), typed(t, arm, "mm"), typed(t, ext, "mm"), angle)
		if err != nil {
			t.Fatal(err)
		}
		// The grip is at x = -arm, pushed along y; the drive at 0; the bolt at the
		// extension. The moment about the bolt is force times the distance along x.
		force := v.Number / arm
		boltX := ext * math.Cos(angle*math.Pi/180)
		within(t, "torque on the bolt", force*(boltX+arm), wanted, 1e-9)
	})
}

// The drop grows with the current and the length, and a wire is the smallest where the
// next thinner one of its table drops too much.
func TestSmallestIsSmallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := rapid.SampledFrom(WireTables()).Draw(t, "table")
		celsius := rapid.SampledFrom([]int{table.At, table.Other}).Draw(t, "°C")
		amps, metres, percent := draw(t, "amps", 0.5, 60), draw(t, "metres", 0.2, 8), draw(t, "percent", 1, 10)
		c := Circuit{typed(t, 12, "V"), typed(t, amps, "A"), typed(t, metres, "m"), celsius}
		got, err := c.Smallest(table, percent)
		want := ""
		for _, w := range table.Wires {
			r, err := table.Ohms(w.Size, celsius)
			if err != nil {
				t.Fatal(err)
			}
			if want == "" && amps*r/1000*2*metres <= 12*percent/100 {
				want = w.Size
			}
		}
		if got.Size != want || (want == "") != (err != nil) {
			t.Fatalf("%v A over %v m, %v %% of %s: %q, %v, want %q", amps, metres, percent, table.Name, got.Size, err, want)
		}
	})
}

// Moments about the rear axle hold the beam as those about the front do, and both axles
// together bear the whole.
func TestAxlesBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := draw(t, "wheelbase", 2, 5)
		var loads []Load
		mass, aboutRear := 0.0, 0.0
		for i := range rapid.IntRange(1, 6).Draw(t, "loads") {
			m, x := draw(t, fmt.Sprint("mass ", i), 1, 300), draw(t, fmt.Sprint("place ", i), -1, 6)
			loads = append(loads, Load{typed(t, m, "kg"), typed(t, x, "m")})
			mass, aboutRear = mass+m, aboutRear+m*(base-x)
		}
		sum, _, err := AxleShares(typed(t, base, "m"), Axles{}, loads...)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "whole", sum.TotalKg(), mass, 1e-9)
		within(t, "front", sum.FrontKg, aboutRear/base, 1e-7)
	})
}

// The skin grows by the day in inverse proportion to its depth: adding that up in small
// steps gives the time of the square-root rule.
func TestBeadCureStepByStep(t *testing.T) {
	thin, day := 3.0, 24.0
	speed := thin * thin / (2 * day) // dx/dt = speed / x makes thin mm in a day
	hours, step := 0.0, 1e-4
	for x := 0.0; x < 10; x += step {
		hours += step * (x + step/2) / speed
	}
	v, err := BeadCure(q(t, "10 mm"), q(t, "3 mm"), q(t, "24 h"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "10 mm step by step", v.Number, hours, 0.01)
}

// What a screen shows of a value reads as a quantity of its kind.
func TestValuesShowAsQuantities(t *testing.T) {
	ok := got(t)
	for want, v := range map[units.Dimension]Value{
		units.Torque:   ok(BoltTorque(0.2, q(t, "8 mm"), q(t, "16 kN"))),
		units.Force:    ok(ProofForce("M8", 0.75)),
		units.Length:   ok(Expansion(q(t, "3 m"), 30)),
		units.Duration: ok(BeadCure(q(t, "6 mm"), q(t, "3 mm"), q(t, "24 h"))),
	} {
		if shown, err := units.ParseQuantity(v.Show(2)); err != nil || shown.Dimension() != want {
			t.Errorf("%q is no %s: %v", v.Show(2), want, err)
		}
		if v.Note.Formula == "" {
			t.Errorf("%s without a formula", v.Show(2))
		}
	}
}

// What was not read in a standard says so.
func TestFromMemoryIsSaid(t *testing.T) {
	force, _ := ProofForce("M8", 0.75)
	torque, _ := BoltTorque(0.2, q(t, "8 mm"), q(t, "16 kN"))
	mils, _ := CircularMils(q(t, "10 A"), q(t, "21 ft"), q(t, "0.36 V"))
	handle, _ := HandleHolds(q(t, "18 mm"), q(t, "14 mm"), false)
	for what, n := range map[string]Note{
		"ISO 898-1": force.Note, "K": torque.Note, "class 8.8": Class88()[0].Note, "ABYC 10.75": mils.Note, "handle": handle.Note,
		"lifting": liftNote(), "automotive": wires(t, "automotive").Note, "NEC 18 and 16": wires(t, "nec8").Note,
	} {
		if !strings.Contains(n.Source, "from memory") {
			t.Errorf("%s: %q does not say from memory", what, n.Source)
		}
	}
}
