package reckon

import (
	"strings"
	"testing"
)

// A van of 3.60 m wheelbase, weighed at 1190 and 910 kg with driver and fuel; the shares
// are moments about the front axle, worked by hand.
func TestAxleShares(t *testing.T) {
	van := []struct {
		what, mass, behind string
		front, rear        float64
	}{
		{"floor, insulation, lining", "165 kg", "2.35 m", 57.29, 107.71},
		{"lab bench and frame", "110 kg", "2.10 m", 45.83, 64.17},
		{"wet side and fridge", "95 kg", "1.75 m", 48.82, 46.18},
		{"bunk, rear lockers", "120 kg", "3.75 m", -5.00, 125.00},
		{"board and battery", "105 kg", "2.60 m", 29.17, 75.83},
		{"fresh water 90 L", "90 kg", "3.10 m", 12.50, 77.50},
		{"gas locker, cylinder", "28 kg", "4.20 m", -4.67, 32.67},
		{"heater, fuel", "18 kg", "0.80 m", 14.00, 4.00},
		{"solar, rails, vent", "55 kg", "2.60 m", 15.28, 39.72},
		{"passenger", "75 kg", "0.60 m", 62.50, 12.50},
		{"field kit", "150 kg", "4.30 m", -29.17, 179.17},
	}
	var loads []Load
	for _, l := range van {
		loads = append(loads, Load{q(t, l.mass), q(t, l.behind)})
	}
	sum, each, err := AxleShares(q(t, "3.60 m"), Axles{FrontKg: 1190, RearKg: 910}, loads...)
	if err != nil || len(each) != len(van) {
		t.Fatalf("%d shares, %v", len(each), err)
	}
	for i, l := range van {
		near(t, l.what+", front", each[i].FrontKg, l.front, 0.005001)
		near(t, l.what+", rear", each[i].RearKg, l.rear, 0.005001)
	}
	near(t, "total", sum.TotalKg(), 3111, 1e-9)
	near(t, "front", sum.FrontKg, 1436.56, 0.005)
	near(t, "rear", sum.RearKg, 1674.44, 0.005)
	noted(t, sum.Note)
	plates := sum.Against(1850, 2250, 3500) // invented
	for i, want := range []string{"front axle 1437 kg, 413 kg left of 1850", "rear axle 1674 kg, 576 kg left of 2250", "whole 3111 kg, 389 kg left of 3500"} {
		if !plates[i].OK || plates[i].Text != want {
			t.Errorf("%v: %s, want %s", plates[i].OK, plates[i].Text, want)
		}
	}
}

// A rack 1.20 m behind the rear axle weighs more than itself on it, and lifts the front.
func TestRackBehind(t *testing.T) {
	_, each, err := AxleShares(q(t, "3.6 m"), Axles{}, Load{q(t, "60 kg"), q(t, "4.80 m")}, Load{q(t, "60 kg"), q(t, "-1.2 m")})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rear", each[0].RearKg, 80, 1e-9)
	near(t, "front", each[0].FrontKg, -20, 1e-9)
	near(t, "a rack before the front axle", each[1].FrontKg, 80, 1e-9)
	// Taken out again, the van is as it was.
	sum, _, err := AxleShares(q(t, "3600 mm"), Axles{FrontKg: 1000, RearKg: 900}, Load{q(t, "60 kg"), q(t, "4.8 m")}, Load{q(t, "-60 kg"), q(t, "4.8 m")})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "front again", sum.FrontKg, 1000, 1e-9)
	near(t, "rear again", sum.RearKg, 900, 1e-9)
}

func TestOverThePlate(t *testing.T) {
	v := Axles{FrontKg: 1000, RearKg: 2300}.Against(1850, 2250, 3300)
	if !v[0].OK || v[1].OK || !v[2].OK || !strings.Contains(v[1].Text, "50 kg over the plate of 2250") {
		t.Errorf("%+v, want the rear over by 50 kg", v)
	}
}

func TestNoAxles(t *testing.T) {
	load := Load{q(t, "60 kg"), q(t, "1 m")}
	for want, err := range map[string]error{
		"wheelbase of 0 m":                      axles(t, "0 m", Axles{}, load),
		"wheelbase is missing":                  axles(t, "", Axles{}, load),
		"weighed rear axle of -1":               axles(t, "3 m", Axles{RearKg: -1}, load),
		"mass of load 2 is missing":             axles(t, "3 m", Axles{}, load, Load{Behind: q(t, "1 m")}),
		"place of load 1 cannot be used: \"1 V": axles(t, "3 m", Axles{}, Load{q(t, "1 kg"), q(t, "1 V")}),
	} {
		refuses(t, err, want)
	}
}

func axles(t *testing.T, wheelbase string, start Axles, loads ...Load) error {
	t.Helper()
	_, _, err := AxleShares(q(t, wheelbase), start, loads...)
	return err
}
