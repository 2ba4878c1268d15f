package units

import (
	"encoding/json"
	"errors"
	"testing"
	"time"
)

// Package time, which is written by others, gives the same minutes, days and weeks.
func TestInstantAgainstPackageTime(t *testing.T) {
	at := time.Date(1968, 12, 30, 23, 59, 0, 0, time.UTC)
	for range 4000 {
		i := InstantOf(at)
		year, week := i.Date().ISOWeek()
		wantYear, wantWeek := at.ISOWeek()
		if i.String() != at.Format("2006-01-02T15:04") || i.Date().String() != at.Format("2006-01-02") ||
			i.Clock() != at.Hour()*60+at.Minute() || i.Date().Weekday() != (int(at.Weekday())+6)%7 || year != wantYear || week != wantWeek {
			t.Fatalf("%s is %s, minute %d of weekday %d in week %d of %d", at, i, i.Clock(), i.Date().Weekday(), week, year)
		}
		if back, err := ParseInstant(i.String()); back != i || err != nil {
			t.Fatalf("%s reads back as %s, %v", i, back, err)
		}
		at = at.Add(137*time.Hour + 7*time.Minute)
	}
}

// The minute is that on the clock of the time's own zone.
func TestInstantOfAZone(t *testing.T) {
	zone := time.FixedZone("", -5*3600)
	at := time.Date(2026, 3, 2, 23, 30, 59, 0, zone)
	if got := InstantOf(at).String(); got != "2026-03-02T23:30" {
		t.Errorf("InstantOf(%s) = %s, want 2026-03-02T23:30", at, got)
	}
}

// ISO 8601: weeks begin on Monday, week 1 has the year's first Thursday. Examples of the
// standard's year boundary: 2005-01-01 is in 2004-W53, 2008-12-29 in 2009-W01 (from memory).
func TestISOWeek(t *testing.T) {
	for s, want := range map[string][2]int{"2005-01-01": {2004, 53}, "2008-12-29": {2009, 1}, "2026-03-02": {2026, 10}, "1970-01-01": {1970, 1}} {
		d, err := ParseDate(s)
		if err != nil {
			t.Fatal(err)
		}
		if y, w := d.ISOWeek(); y != want[0] || w != want[1] {
			t.Errorf("%s is in week %d of %d, want %v", s, w, y, want)
		}
	}
}

func TestWhen(t *testing.T) {
	for _, tt := range []struct {
		s        string
		dateOnly bool
		until    string
	}{
		{"2026-03-02", true, "2026-03-03T00:00"},
		{"2026-03-02T08:00", false, "2026-03-02T08:00"},
		{"2024-02-29", true, "2024-03-01T00:00"},
		{"2026-12-31T23:59", false, "2026-12-31T23:59"},
	} {
		w, err := ParseWhen(tt.s)
		if err != nil || w.DateOnly != tt.dateOnly || w.Until().String() != tt.until || w.String() != tt.s {
			t.Errorf("ParseWhen(%q) = %v, date only %v, until %s, %v", tt.s, w, w.DateOnly, w.Until(), err)
		}
	}
	d, err := ParseDate("2026-03-02")
	if err != nil || d.Start().String() != "2026-03-02T00:00" || d.Format("Mon 2 Jan") != "Mon 2 Mar" || d.Start().Format("15:04") != "00:00" {
		t.Errorf("2026-03-02 starts %s, %v", d.Start(), err)
	}
}

func TestNoTimes(t *testing.T) {
	for _, s := range []string{"", "2026-02-29", "2026-3-2", "2026-03-02T24:00", "2026-03-02T08:00:00", "2026-03-02 08:00", "2026-03-02T08:00Z",
		"1899-12-31", "2300-01-01", " 2026-03-02", "today"} {
		var te *TimeError
		if w, err := ParseWhen(s); !errors.As(err, &te) || te.Text != s {
			t.Errorf("ParseWhen(%q) = %v, %v, want a TimeError", s, w, err)
		}
	}
	var te *TimeError
	if d, err := ParseDate("2026-03-02T08:00"); !errors.As(err, &te) {
		t.Errorf("a minute was read as the day %s", d)
	}
}

func TestTimesInJSON(t *testing.T) {
	type all struct {
		I Instant
		D Date
		W *When
		N *When
	}
	text := `{"I":"2026-03-02T08:00","D":"2026-03-02","W":"2026-03-02","N":null}`
	var v all
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatal(err)
	}
	if got, err := json.Marshal(v); err != nil || string(got) != text {
		t.Errorf("%s reads and writes as %s, %v", text, got, err)
	}
	for _, bad := range []string{`{"I":"x"}`, `{"D":"2026-03-02T08:00"}`, `{"W":"2026-02-30"}`} {
		if err := json.Unmarshal([]byte(bad), &v); err == nil {
			t.Errorf("%s was read", bad)
		}
	}
}

func TestTimeErrorSaysWhatIsRight(t *testing.T) {
	_, err := ParseWhen("3/2/26")
	if err == nil || err.Error() != `"3/2/26" is no date (2026-03-02) or time (2026-03-02T08:00)` {
		t.Errorf("3/2/26: %v", err)
	}
}
