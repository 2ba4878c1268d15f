package units

import (
	"errors"
	"strings"
	"testing"
)

func TestWantHolds(t *testing.T) {
	for _, tt := range []struct {
		want     string
		yes, not []string
	}{
		{"12 N·m ±10 %", []string{"12 N·m", "10.8 N·m", "13.2 N·m", "106 lbf·in", "1.2 kgf·m", "116.8 lbf·in"},
			[]string{"10.79 N·m", "13.201 N·m", "106 lbf·ft", "12 lbf·in", "116.9 lbf·in"}},
		{"12 N·m ±10%", []string{"13.2 N·m"}, []string{"13.3 N·m"}},
		{"40 mm ±0.5 mm", []string{"39.5 mm", "40.5 mm", "1 37/64 in"}, []string{"39.4 mm", "40.51 mm", "1 5/8 in"}},
		{"40 ±0.5 mm", []string{"39.5 mm"}, []string{"39.4 mm"}},
		{"40 mm +/- 0.5 mm", []string{"40.5 mm"}, []string{"40.6 mm"}},
		{"40 mm +-0.5 mm", []string{"40.5 mm"}, []string{"40.6 mm"}},
		{"25 mm ± 1/16 in", []string{"26.5875 mm", "23.4125 mm"}, []string{"26.5876 mm", "23.4124 mm"}},
		{"± 0.5 mm", []string{"-0.5 mm", "0 mm", "0.5 mm"}, []string{"-0.51 mm", "0.6 mm"}},
		{"-10 mm ±10 %", []string{"-9 mm", "-11 mm"}, []string{"-8.9 mm", "10 mm"}},
		{"20 °C ±5 °C", []string{"15 °C", "25 °C", "77 °F", "59 °F"}, []string{"14.9 °C", "78 °F", "58 °F"}},
		{"20 °C ± 9 °F", []string{"15 °C", "25 °C"}, []string{"14.9 °C", "25.1 °C"}},
		{"50 % ±5 %", []string{"45 %", "55 %"}, []string{"44.9 %", "55.1 %"}},
		{"≥ 50 mm", []string{"50 mm", "2 in", "5 cm"}, []string{"49.9 mm", "1 15/16 in"}},
		{">= 50 mm", []string{"50 mm"}, []string{"49 mm"}},
		{"≥50mm", []string{"50 mm"}, []string{"49 mm"}},
		{"≤ 3 %", []string{"3 %", "0 %"}, []string{"3.1 %"}},
		{"<= 3 %", []string{"3 %"}, []string{"3.1 %"}},
		{"< 3 %", []string{"2.99 %"}, []string{"3 %"}},
		{"> 1 MΩ", []string{"1001 kΩ"}, []string{"1000 kΩ", "1 MΩ", "1 mΩ"}},
		{"≥ -5 °C", []string{"-5 °C", "23 °F"}, []string{"-5.1 °C", "22.9 °F"}},
		{"0.5-1.2 bar", []string{"0.5 bar", "1.2 bar", "100 kPa", "14.5 psi"}, []string{"0.49 bar", "121 kPa", "-0.7 bar"}},
		{"0.5–1.2 bar", []string{"1 bar"}, []string{"1.3 bar"}},
		{"0.5 bar - 120 kPa", []string{"1.2 bar"}, []string{"1.21 bar"}},
		{"-5-10 °C", []string{"-5 °C", "10 °C"}, []string{"-6 °C", "11 °C"}},
		{"-20 - -10 °C", []string{"-20 °C", "-10 °C"}, []string{"-9 °C", "15 °C"}},
		{"-20–−10 °C", []string{"-15 °C"}, []string{"-9 °C"}},
		{"3 1/2-3 5/8 in", []string{"3.5 in", "92 mm"}, []string{"3 11/16 in", "3 in"}},
		{"80-100 lbf-in", []string{"10 N·m"}, []string{"12 N·m"}},
		{`5' 3"-5' 3 1/2"`, []string{"63 in", "63 1/2 in", "5 1/4 ft"}, []string{"62 in", "63.6 in"}},
		{`5' 3" ± 1/8"`, []string{"62 7/8 in", "63 1/8 in"}, []string{"62 3/4 in"}},
		{`≥ 5' 3"`, []string{"5' 3 in"}, []string{"5' 2 15/16 in"}},
		{"0'-12 in", []string{"0 in", "12 in"}, []string{"13 in"}},
		{"5-5 bar", []string{"5 bar"}, []string{"5.1 bar", "4.9 bar"}},
		{"1'-18 in", []string{"12 in", "18 in"}, []string{"19 in"}},
		{"230 V", []string{"230 V", "230.0 V", "230000 mV"}, []string{"229.9 V", "231 V"}},
		{"-3 mm", []string{"-3 mm"}, []string{"3 mm"}},
		{"23 3/16 in", []string{"588.9625 mm"}, []string{"589 mm"}},
	} {
		w, err := ParseWant(tt.want)
		if err != nil {
			t.Errorf("ParseWant(%q): %v", tt.want, err)
			continue
		}
		for reading, good := range wanted(tt.yes, tt.not) {
			if got, err := w.Holds(quantity(t, reading)); got != good || err != nil {
				t.Errorf("%q holds %q = %v, %v, want %v", tt.want, reading, got, err, good)
			}
		}
	}
}

func wanted(yes, not []string) map[string]bool {
	out := map[string]bool{}
	for _, s := range yes {
		out[s] = true
	}
	for _, s := range not {
		out[s] = false
	}
	return out
}

func TestHoldsRefusesOtherUnits(t *testing.T) {
	w, err := ParseWant("12 N·m ±10 %")
	if err != nil || w.Dimension() != Torque {
		t.Fatalf("dimension %q, %v", w.Dimension(), err)
	}
	_, err = w.Holds(quantity(t, "106 lb"))
	var qe *QuantityError
	if !errors.As(err, &qe) || !strings.Contains(err.Error(), "lbf·in or lbf·ft") {
		t.Errorf("106 lb for a torque: %v, want a QuantityError with lbf·in or lbf·ft", err)
	}
	if _, err := w.Holds(Quantity{}); err == nil {
		t.Error("no reading was held against 12 N·m")
	}
	if _, err := (Want{}).Holds(quantity(t, "1 mm")); err == nil {
		t.Error("1 mm was held against nothing")
	}
}

func TestNoWants(t *testing.T) {
	for s, want := range map[string]string{
		"":                              "begins with no number",
		"12":                            "has no unit",
		"≥":                             "begins with no number",
		"≥ 50":                          "has no unit",
		"12 ±10 %%":                     "has no unit that is known",
		"12 N·m ±":                      "begins with no number",
		"12 N·m ±-1 N·m":                "below nought",
		"12 ±":                          "begins with no number",
		"x ±1 mm":                       "begins with no number",
		"12 N·m ±1 mm":                  "want a torque",
		"20 °C ±10 %":                   "no tolerance of a temperature",
		"1.2-0.5 bar":                   "runs from more to less",
		"23-3/16 in":                    "a mixed number 23 3/16 in",
		"0.5 mm-1.2 bar":                "is a length, want a pressure",
		"0.5-1.2":                       "has no unit",
		"3,2 mm":                        "write decimals as 3.2",
		"0.5-1,2 bar":                   "write decimals as 3.2",
		"at least 50 mm":                "is in words: write ≥ 50 mm",
		"At most 3 %":                   "is in words: write ≤ 50 mm",
		"min. 50 mm":                    "is in words: write ≥ 50 mm",
		"max 3 %":                       "is in words: write ≤ 50 mm",
		"0.5 to 1.2 bar":                "is in words: write a range as 0.5-1.2 bar",
		"0.5 bar to 1.2 bar":            "is in words: write a range as 0.5-1.2 bar",
		"12 N·m plus or minus 10 %":     "is in words: write 12 N·m ±10 %",
		"1'-6 in":                       "is a range or feet and inches",
		`0'-8"`:                         "is a range or feet and inches",
		`5'-3 1/2"`:                     "is a range or feet and inches",
		`5-6' 2"`:                       "feet or inches?",
		"yes":                           "begins with no number",
		"1 lb ±1 gal":                   "say gal US or gal UK",
		strings.Repeat("1", 200) + " m": "is too long",
	} {
		w, err := ParseWant(s)
		var qe *QuantityError
		if !errors.As(err, &qe) || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseWant(%q) = %v, %v, want a QuantityError with %q", s, w, err, want)
		}
	}
}
