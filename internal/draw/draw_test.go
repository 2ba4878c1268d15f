package draw_test

import (
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/draw"
)

var update = flag.Bool("update", false, "write the golden files anew")

// van is a small van made by hand: a bench with a tank bay in it, lockers over it, a bed at
// the rear, something on the roof and something under the floor.
func van() draw.Scene {
	return draw.Scene{
		Vehicle: &build.Vehicle{WheelbaseMm: 4325, InsideMm: &access.Box{900, -890, 0, 5200, 890, 2000}},
		Places: []access.Place{
			{ID: "aisle", Name: "Aisle", Box: &access.Box{900, -250, 0, 3600, 250, 2000}},
			{ID: "tank-bay", Name: "Tank bay", Box: &access.Box{2600, 250, 0, 3600, 890, 700}},
			{ID: "lockers", Name: "Left lockers", Box: &access.Box{1000, -890, 1300, 3600, -500, 1950}},
			{ID: "garage", Name: "Garage under the bed", Box: &access.Box{3600, -890, 0, 5200, 890, 800}},
			{ID: "bed", Name: "Bed", Box: &access.Box{3600, -890, 850, 5200, 890, 1400}},
			{ID: "roof", Name: "Roof rack", Box: &access.Box{1200, -700, 2050, 4800, 700, 2200}},
			{ID: "chassis", Name: "Under the floor", Box: &access.Box{1500, -700, -400, 3000, 700, -100}},
			{ID: "cab", Name: "Cab", Box: &access.Box{-200, -800, 0, 800, 800, 1400}},
			{ID: "shelf", Name: "Spice shelf", Box: &access.Box{1000, 800, 900, 1200, 890, 1000}},
			{ID: "nowhere", Name: "Not measured yet"},
		},
		Items: []access.Item{
			{ID: "pump", Name: "Water pump", Place: "tank-bay", At: &access.Point{3100, 600, 200}},
			{ID: "kickboard", Name: "Kickboard", Place: "aisle", At: &access.Point{2200, 300, 90}},
			{ID: "fan", Name: "Roof fan", Place: "roof", At: &access.Point{2000, 0, 2050}},
			{ID: "heater", Name: "Heater", Place: "garage"},
			{ID: "lost", Name: "Spare fuses", Place: "nowhere"},
		},
	}
}

func inTheTankBay() draw.Scene {
	s := van()
	s.Selected = []draw.Target{{Place: "tank-bay"}}
	s.Way = []draw.Mark{
		{Step: 1, Target: draw.Target{Place: "aisle"}},
		{Step: 2, Target: draw.Target{Item: "kickboard"}},
		{Step: 3, Target: draw.Target{Place: "tank-bay"}},
		{Step: 4, Target: draw.Target{Place: "aisle"}},
	}
	return s
}

func atThePump() draw.Scene {
	s := van()
	s.Selected = []draw.Target{{Item: "pump"}, {Item: "lost"}}
	s.Way = []draw.Mark{{Step: 1, Target: draw.Target{Place: "shelf"}}, {Step: 2, Target: draw.Target{Item: "heater"}}, {Step: 3, Target: draw.Target{Item: "pump"}}}
	return s
}

// longWay leads to three things with long names, two of them at one point, past others there.
func longWay() draw.Scene {
	s := van()
	s.Items = append(s.Items,
		access.Item{ID: "hatch", Name: "Hatch to pump and valves", Place: "aisle", At: &access.Point{3000, 260, 300}},
		access.Item{ID: "filter", Name: "Water filter with its bracket and hose clamps", Place: "tank-bay", At: &access.Point{3100, 600, 200}},
		access.Item{ID: "straps", Name: "Straps of the fresh tank", Place: "tank-bay", At: &access.Point{3120, 580, 220}},
		access.Item{ID: "board", Name: "Removable board of the heater and its controls", Place: "garage", At: &access.Point{4400, -500, 300}})
	for i, on := range []draw.Target{{Place: "aisle"}, {Item: "kickboard"}, {Item: "hatch"}, {Place: "tank-bay"}, {Item: "straps"},
		{Item: "pump"}, {Item: "filter"}, {Place: "bed"}, {Place: "garage"}, {Item: "heater"}, {Item: "board"}} {
		s.Way = append(s.Way, draw.Mark{Step: i + 1, Target: on})
	}
	s.Selected = []draw.Target{{Item: "pump"}, {Item: "filter"}, {Item: "board"}}
	return s
}

func TestDrawings(t *testing.T) {
	noVan := van()
	noVan.Vehicle = nil
	onlyVan := draw.Scene{Vehicle: van().Vehicle}
	for _, tt := range []struct {
		name  string
		scene draw.Scene
		w, h  int
	}{
		{"plain", van(), 66, 16}, {"plain", van(), 120, 36},
		{"tank-bay", inTheTankBay(), 66, 16}, {"tank-bay", inTheTankBay(), 120, 36}, {"tank-bay", inTheTankBay(), 20, 6},
		{"pump", atThePump(), 66, 16}, {"pump", atThePump(), 54, 14},
		{"way", longWay(), 80, 18}, {"way", longWay(), 120, 30},
		{"no-van", noVan, 66, 16}, {"only-van", onlyVan, 66, 16}, {"nothing", draw.Scene{}, 30, 6},
	} {
		size := filepath.Join("testdata", tt.name+"-"+strconv.Itoa(tt.w)+"x"+strconv.Itoa(tt.h))
		golden(t, size+"-top.golden", draw.Top(tt.scene, tt.w, tt.h).Text())
		golden(t, size+"-side.golden", draw.Side(tt.scene, tt.w, tt.h).Text())
	}
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got+"\n" != string(want) {
		t.Errorf("%s: got\n%s\nwant\n%s", path, got, want)
	}
}
