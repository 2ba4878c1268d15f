package reckon

import (
	"math/rand/v2"
	"strconv"
	"testing"
)

// Lengths are sums; a blade of 1/8 in and the fourth piece of 24 in from 96 in that is
// 3/8 in short are published figures.
func TestPieces(t *testing.T) {
	for _, tt := range []struct {
		bar, piece, kerf, trim string
		want                   int
		left                   string
	}{
		{"6000 mm", "712 mm", "2.4 mm", "", 8, "284.8 mm"},
		{"6000 mm", "750 mm", "2.4 mm", "", 7, "733.2 mm"}, // not 8
		{"3000 mm", "600 mm", "2.4 mm", "", 4, "590.4 mm"}, // not 5
		{"2440 mm", "600 mm", "3.2 mm", "", 4, "27.2 mm"},
		{"96 in", "24 in", "1/8 in", "", 3, "23 5/8 in"},
		{"96 in", "23 1/2 in", "1/8 in", "", 4, "1 1/2 in"}, // a fourth cut frees the offcut
		{"2400 mm", "600 mm", "0 mm", "", 4, "0 mm"},
		{"2402.4 mm", "1200 mm", "2.4 mm", "", 2, "0 mm"},
		{"2402.3 mm", "1200 mm", "2.4 mm", "", 1, "1199.9 mm"},
		{"2403 mm", "1200 mm", "2.4 mm", "", 2, "0 mm"}, // the last cut runs off the end
		{"2440 mm", "600 mm", "3.2 mm", "40 mm", 3, "590.4 mm"},
		{"500 mm", "600 mm", "3.2 mm", "", 0, "500 mm"},
		{"1 m", "100 mm", "1/8 in", "5 mm", 9, "0.066425 m"},
		{"100 m", "1 mm", "0 mm", "", 100_000, "0 m"}, // the most that is counted
	} {
		b, err := Pieces(q(t, tt.bar), q(t, tt.piece), q(t, tt.kerf), q(t, tt.trim))
		if err != nil || b.Pieces != tt.want || b.Left.String() != tt.left {
			t.Errorf("%s from %s, kerf %s, trim %q: %d, %s left, %v, want %d, %s", tt.piece, tt.bar, tt.kerf, tt.trim, b.Pieces, b.Left, err, tt.want, tt.left)
		}
		noted(t, b.Note)
	}
}

// Sawing piece after piece, in tenths of a millimetre, gives the same count and offcut.
func TestPiecesAsSawn(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 11))
	for range 500 {
		bar, piece, kerf := rnd.IntN(60000)+1, rnd.IntN(9000)+1, rnd.IntN(40)
		want, left := 0, bar
		for left >= piece {
			want++
			left = max(left-piece-kerf, 0)
		}
		mm := func(tenths int) string { return strconv.Itoa(tenths/10) + "." + strconv.Itoa(tenths%10) + " mm" }
		b, err := Pieces(q(t, mm(bar)), q(t, mm(piece)), q(t, mm(kerf)), q(t, ""))
		if err != nil || b.Pieces != want {
			t.Fatalf("%s from %s, kerf %s: %d, %v, sawn %d", mm(piece), mm(bar), mm(kerf), b.Pieces, err, want)
		}
		if by, err := b.Left.Compare(q(t, mm(left))); by != 0 || err != nil {
			t.Fatalf("%s from %s, kerf %s: %s left, sawn %s", mm(piece), mm(bar), mm(kerf), b.Left, mm(left))
		}
	}
}

func TestNoPieces(t *testing.T) {
	for want, tt := range map[string][4]string{
		"length of a piece of 0 mm": {"6 m", "0 mm", "2.4 mm", ""},
		"length of the bar is miss": {"", "1 mm", "2.4 mm", ""},
		"kerf is missing":           {"6 m", "1 mm", "", ""},
		"kerf of -1 mm":             {"6 m", "1 mm", "-1 mm", ""},
		"trim of -1 mm":             {"6 m", "1 mm", "1 mm", "-1 mm"},
		"is the unit right?":        {"600 m", "0.001 mm", "0 mm", ""},
		"want a length":             {"6 kg", "1 mm", "1 mm", ""},
	} {
		refuses(t, failed(Pieces(q(t, tt[0]), q(t, tt[1]), q(t, tt[2]), q(t, tt[3]))), want)
	}
	refuses(t, failed(Pieces(q(t, "100001 mm"), q(t, "1 mm"), q(t, "0 mm"), q(t, ""))), "is beyond 100000")
	if b, err := Pieces(q(t, "3 mm"), q(t, "1 mm"), q(t, "1 mm"), q(t, "10 mm")); err != nil || b.Pieces != 0 {
		t.Errorf("a trim beyond the bar leaves %d pieces, %v", b.Pieces, err)
	}
}

// A cup hinge of 35 mm is bored 10.5 to 13 mm deep (makers' figures).
func TestBehind(t *testing.T) {
	for _, tt := range []struct {
		panel, depth string
		want         float64
	}{{"16 mm", "10.5 mm", 5.5}, {"16 mm", "13 mm", 3}, {"18 mm", "10.5 mm", 7.5}, {"18 mm", "13 mm", 5}, {"3/4 in", "13 mm", 6.05}} {
		near(t, tt.depth+" in "+tt.panel, got(t)(Behind(q(t, tt.panel), q(t, tt.depth))).Number, tt.want, 1e-9)
	}
	refuses(t, failed(Behind(q(t, "12 mm"), q(t, "12 mm"))), "of 12 mm goes through the panel of 12 mm")
}

// Common practice, no source: from memory. 4 mm behind a recessed handle, 3 mm with a
// backing plate.
func TestHandleHolds(t *testing.T) {
	for _, tt := range []struct {
		panel, depth string
		backed, want bool
	}{
		{"18 mm", "14 mm", false, true}, {"18 mm", "14.1 mm", false, false}, {"18 mm", "15 mm", true, true}, {"18 mm", "15.1 mm", true, false},
		{"18.2 mm", "14.2 mm", false, true}, {"17.4 mm", "14 mm", false, false},
	} {
		v, err := HandleHolds(q(t, tt.panel), q(t, tt.depth), tt.backed)
		if err != nil || v.OK != tt.want || v.Text == "" {
			t.Errorf("%s deep in %s: %v, %q, %v, want %v", tt.depth, tt.panel, v.OK, v.Text, err, tt.want)
		}
	}
	refuses(t, failed(HandleHolds(q(t, "12 mm"), q(t, "14 mm"), true)), "goes through")
}
