package units

import (
	"errors"
	"strings"
	"testing"
)

// 1 ft = 12 in, NIST SP 811 (2008), Appendix B.8.
func TestFeetAndInches(t *testing.T) {
	for s, want := range map[string]string{
		`5' 3 1/2"`: "63 1/2 in", `5'3"`: "63 in", "5 ft 3 in": "63 in", "5ft 3.5in": "63 1/2 in", "5′ 3 1/2″": "63 1/2 in",
		"5’ 3”": "63 in", "5' 3''": "63 in", "0' 8 in": "8 in", "-5' 3 in": "-63 in", "−0' 3 in": "-3 in", "+1' 0 in": "12 in",
		`8' 11 63/64"`: "107 63/64 in", "2 feet 6 inches": "30 in", "1 foot .5 inch": "12 1/2 in", `10' 1/4"`: "120 1/4 in",
	} {
		q := quantity(t, s)
		if by, err := q.Compare(quantity(t, want)); by != 0 || err != nil || q.Unit() != "in" {
			t.Errorf("%s is %s %s, %v, want %s", s, q.Value().RatString(), q.Unit(), err, want)
		}
		if q.String() != s {
			t.Errorf("%s is kept as %s", s, q)
		}
	}
}

func TestNoFeetAndInches(t *testing.T) {
	for s, want := range map[string]string{
		`5'-3 1/2"`:                      "has a dash between feet and inches",
		`5' - 3"`:                        "has a dash between feet and inches",
		`5.5' 3"`:                        "has a part of a foot before the inches",
		`5 1/2' 3"`:                      "has a part of a foot before the inches",
		`5' 12"`:                         "has 12 inches or more after the feet",
		"5' 3":                           "has feet and then no inches",
		"5 ft 3 cm":                      "has feet and then no inches",
		"5' 3'":                          "has feet and then no inches",
		"5' 3,5 in":                      "write decimals as 3.2",
		"5' 1 2 in":                      "is not one number",
		"5' 3/0 in":                      "has a fraction that is none",
		`5' 3" 1/2"`:                     "has feet and then no inches",
		strings.Repeat("1", 78) + `' 3"`: "is too long",
	} {
		q, err := ParseQuantity(s)
		var qe *QuantityError
		if !errors.As(err, &qe) || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseQuantity(%q) = %v, %v, want a QuantityError with %q", s, q, err, want)
		}
	}
}
