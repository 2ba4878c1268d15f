package units

import (
	"errors"
	"strings"
	"testing"
)

func TestParseSpan(t *testing.T) {
	for s, want := range map[string][2]int{
		"9:10-10:45": {550, 645}, "09:10-10:45": {550, 645}, " 9:10 - 10:45 ": {550, 645}, "9:10–10:45": {550, 645},
		"0:00-24:00": {0, 1440}, "23:59-24:00": {1439, 1440}, "0:00-0:01": {0, 1},
	} {
		if from, to, err := ParseSpan(s); from != want[0] || to != want[1] || err != nil {
			t.Errorf("ParseSpan(%q) = %d, %d, %v, want %v", s, from, to, err, want)
		}
	}
}

func TestNoSpan(t *testing.T) {
	for s, want := range map[string]string{
		"": "want for example 9:10-10:45", "9-10:45": "is no piece", "9:10": "is no piece", "9.10-10.45": "is no piece",
		"9:10 to 10:45": "is no piece", "9:1-10:45": "is no piece", "1h30": "is no piece",
		"9:60-10:00": "is on no clock", "9:10-24:01": "is on no clock", "25:00-26:00": "is on no clock", "9:10-9:75": "is on no clock",
		"9:10-9:10": "ends when it begins", "22:00-2:00": "runs over midnight", "10:45-9:10": "runs over midnight", "24:00-1:00": "runs over midnight", "22:00-0:00": "runs over midnight",
	} {
		from, to, err := ParseSpan(s)
		var qe *QuantityError
		if !errors.As(err, &qe) || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseSpan(%q) = %d, %d, %v, want a QuantityError with %q", s, from, to, err, want)
		}
	}
}
