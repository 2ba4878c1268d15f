package units

import (
	"errors"
	"strings"
	"testing"
)

func TestParseMinutes(t *testing.T) {
	for s, want := range map[string]Minutes{
		"1h30": 90, "90": 90, "90m": 90, "1.5h": 90, "1:30": 90, "2h": 120, "1h30m": 90, "1h 30m": 90, "1 h 30 min": 90,
		"90 min": 90, "0": 0, "0m": 0, "45m": 45, "1h05": 65, "1h5": 65, "0:05": 5, "0h45": 45, ".25h": 15, "2H": 120,
		"1.01h": 61, "1.0083h": 60, "1.00833333333h": 60, "1.0084h": 61, " 15 ": 15, "3 hours": 180, "100000h": 6_000_000,
	} {
		if got, err := ParseMinutes(s); got != want || err != nil {
			t.Errorf("ParseMinutes(%q) = %d, %v, want %d", s, got, err, want)
		}
	}
}

func TestNoMinutes(t *testing.T) {
	for s, want := range map[string]string{
		"": "is no length of work", "x": "is no length of work", "-5": "is no length of work", "1,5h": "write parts of an hour as 1.5h",
		"1,30": "write parts of an hour as 1.5h", "1.5": "is no length of work", "1.5m": "is no length of work", "h": "is no length of work", "1:3": "is no length of work",
		"1h30h": "is no length of work", "1h60": "more than 59 minutes", "1:75": "more than 59 minutes", "0:60": "more than 59 minutes",
		"0h75": "more than 59 minutes", "100001h": "is too long", "6000001": "is too long", "99999999999999999999h": "is too long",
		"100000.1h": "is too long", "9:10-10:45": "is no length of work", "0.5 h 3": "is no length of work",
		"." + strings.Repeat("1", 100) + "h": "is too long",
	} {
		got, err := ParseMinutes(s)
		var qe *QuantityError
		if !errors.As(err, &qe) || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseMinutes(%q) = %d, %v, want a QuantityError with %q", s, got, err, want)
		}
	}
}

func TestMinutesString(t *testing.T) {
	for m, want := range map[Minutes]string{0: "0m", 45: "45m", 60: "1h", 65: "1h05", 90: "1h30", 120: "2h", 6000: "100h", -90: "-1h30"} {
		if got := m.String(); got != want {
			t.Errorf("Minutes(%d) = %q, want %q", int(m), got, want)
		}
	}
}
