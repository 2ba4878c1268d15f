package units

import (
	"encoding/json"
	"errors"
	"math"
	"testing"
)

func TestEstimateInJSON(t *testing.T) {
	for text, want := range map[string]struct {
		e     Estimate
		again string
	}{
		"4":         {Sure(4), "4"},
		"[3,4,8]":   {Estimate{3, 4, 8}, "[3,4,8]"},
		"[2,2,2]":   {Sure(2), "2"},
		"0":         {Sure(0), "0"},
		"[0,0.5,1]": {Estimate{0, 0.5, 1}, "[0,0.5,1]"},
	} {
		var e Estimate
		if err := json.Unmarshal([]byte(text), &e); err != nil || e != want.e {
			t.Errorf("%s reads as %v, %v, want %v", text, e, err, want.e)
		}
		if got, err := json.Marshal(e); err != nil || string(got) != want.again {
			t.Errorf("%v writes as %s, %v, want %s", e, got, err, want.again)
		}
	}
	for _, text := range []string{"-1", "[3,2,1]", "[1,2]", "[1,2,3,4]", `"4"`, "{}", "true", "[null,1,2]", "[-1,0,1]", "1e999", "[1,2,1e999]"} {
		var e Estimate
		if err := e.UnmarshalJSON([]byte(text)); !errors.Is(err, ErrEstimate) {
			t.Errorf("%s reads as %v, %v, want ErrEstimate", text, e, err)
		}
	}
}

func TestEstimateValid(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, e := range []Estimate{{1, 2, nan}, {nan, 2, 3}, {1, nan, 3}, {1, 2, inf}, {-1, 0, 0}, {2, 1, 3}, {1, 3, 2}} {
		if e.Valid() {
			t.Errorf("%v is valid", e)
		}
	}
	if !Sure(0).Valid() || !(Estimate{1, 1, 2}).Valid() {
		t.Error("a good estimate is not valid")
	}
}

func TestRoundMinutes(t *testing.T) {
	for h, want := range map[float64]int{0: 0, 1: 60, 1.5: 90, 0.0083: 0, 0.0084: 1, 0.125 / 15: 1, 2.0 / 3: 40} {
		if got := RoundMinutes(h); got != want {
			t.Errorf("RoundMinutes(%v) = %d, want %d", h, got, want)
		}
	}
}
