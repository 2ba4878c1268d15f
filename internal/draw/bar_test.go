package draw

import (
	"math"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestBar(t *testing.T) {
	for _, tt := range []struct {
		share, most float64
		w           int
		want        string
	}{
		{0, 10, 5, ""}, {10, 10, 5, "█████"}, {5, 10, 4, "██"}, {20, 10, 3, "███"}, {1, 16, 2, "▏"}, {3, 16, 2, "▍"},
		{0.0001, 10, 5, "▏"}, {1, 0, 5, ""}, {1, 1, 0, ""}, {math.NaN(), 1, 5, ""}, {-1, 1, 5, ""},
	} {
		if got := Bar(tt.share, tt.most, tt.w); got != tt.want {
			t.Errorf("Bar(%v, %v, %d) = %q, want %q", tt.share, tt.most, tt.w, got, tt.want)
		}
	}
}

// A longer share never has a shorter bar, and none is wider than it may be.
func TestBarGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, most := rapid.IntRange(1, 60).Draw(t, "w"), rapid.Float64Range(0.1, 1e6).Draw(t, "most")
		a, b := rapid.Float64Range(0, 2e6).Draw(t, "a"), rapid.Float64Range(0, 2e6).Draw(t, "b")
		x, y := utf8.RuneCountInString(Bar(min(a, b), most, w)), utf8.RuneCountInString(Bar(max(a, b), most, w))
		if x > y || y > w {
			t.Fatalf("%v and %v of %v: %d and %d of %d columns", min(a, b), max(a, b), most, x, y, w)
		}
	})
}

func TestScale(t *testing.T) {
	if got := Scale(10, 11, ScaleMark{0, '['}, ScaleMark{5, '|'}, ScaleMark{10, ']'}, ScaleMark{99, 'x'}); got != "[····|····x" {
		t.Errorf("%q", got)
	}
	if got := Scale(0, 3, ScaleMark{1, 'x'}); got != "···" {
		t.Errorf("of nothing: %q", got)
	}
}
