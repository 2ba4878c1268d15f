package reckon

import "testing"

// ABYC E-11: 7 in, 40 in sheathed, 72 in sheathed and straight at the battery, measured
// along the wire; the engine-start circuit is excepted.
func TestFuseRun(t *testing.T) {
	for _, tt := range []struct {
		distance                    string
		sheathed, battery, starting bool
		want                        bool
	}{
		{"7 in", false, false, false, true},
		{"177.8 mm", false, false, false, true},
		{"178 mm", false, false, false, false},
		{"7 1/16 in", false, true, false, false}, // at the battery counts only when sheathed
		{"40 in", true, false, false, true},
		{"40.1 in", true, false, false, false},
		{"1016 mm", true, false, false, true},
		{"72 in", true, true, false, true},
		{"6 ft", true, true, false, true},
		{"1.83 m", true, true, false, false},
		{"3 m", false, false, true, true},
	} {
		v, err := FuseRun{q(t, tt.distance), tt.sheathed, tt.battery, tt.starting}.Check()
		if err != nil || v.OK != tt.want || v.Text == "" {
			t.Errorf("%+v: %v, %q, %v, want %v", tt, v.OK, v.Text, err, tt.want)
		}
		noted(t, v.Note)
	}
	v, err := FuseRun{}.Check()
	refuses(t, err, "distance of the fuse is missing")
	if v.OK {
		t.Error("no distance is near enough")
	}
	if v, _ := (FuseRun{Distance: q(t, "8 in")}).Check(); v.Text != "8 in from the source, at most 7 in (178 mm) in a wire without a sheath" {
		t.Errorf("said as %q", v.Text)
	}
}

// Small-craft practice: fuse rating ≤ what the conductor may carry.
func TestFuseFits(t *testing.T) {
	for rating, want := range map[string]bool{"20 A": true, "25 A": true, "25.1 A": false, "30000 mA": false} {
		v, err := FuseFits(q(t, rating), q(t, "25 A"))
		if err != nil || v.OK != want {
			t.Errorf("%s on 25 A: %v, %v, want %v", rating, v.OK, err, want)
		}
		noted(t, v.Note)
	}
	refuses(t, failed(FuseFits(q(t, "20 A"), q(t, ""))), "current the wire may carry is missing")
}

// Small-craft practice: at most four ring terminals on a stud, the largest at the bottom.
func TestStudStack(t *testing.T) {
	for _, tt := range []struct {
		areas []float64
		want  bool
	}{
		{nil, true}, {[]float64{35}, true}, {[]float64{35, 16, 16, 2.5}, true}, {[]float64{16, 35}, false},
		{[]float64{35, 2.5, 16}, false}, {[]float64{35, 16, 10, 6, 4}, false},
	} {
		if v := StudStack(tt.areas); v.OK != tt.want || v.Text == "" {
			t.Errorf("%v: %v, %q, want %v", tt.areas, v.OK, v.Text, tt.want)
		}
	}
}

// What a rule says is what a person reads: the words give what was found and the limit.
func TestVerdictsSayWhy(t *testing.T) {
	handle, err := HandleHolds(q(t, "18 mm"), q(t, "15 mm"), false)
	if err != nil {
		t.Fatal(err)
	}
	fuse, err := FuseFits(q(t, "30 A"), q(t, "25 A"))
	if err != nil {
		t.Fatal(err)
	}
	for want, v := range map[string]Verdict{
		"3.00 mm left, want 4 mm without a backing plate":                        handle,
		"a fuse of 30 A on a wire that may carry 25 A":                           fuse,
		"5 ring terminals on one stud, at most 4: use a bus bar":                 StudStack([]float64{5, 4, 3, 2, 1}),
		"a larger terminal sits on a smaller one: put the largest at the bottom": StudStack([]float64{1, 2}),
	} {
		if v.OK || v.Text != want {
			t.Errorf("%v, %q, want false, %q", v.OK, v.Text, want)
		}
	}
}
