package units

import "testing"

// The examples of ISO 8601 for dates near New Year (ISO 8601:2004, 3.2.2 and 4.1.4; as quoted
// everywhere, from memory).
func TestISOWeeks(t *testing.T) {
	for date, want := range map[string]string{
		"2005-01-01": "2004-W53", "2005-01-02": "2004-W53", "2005-12-31": "2005-W52", "2007-01-01": "2007-W01",
		"2007-12-30": "2007-W52", "2007-12-31": "2008-W01", "2008-12-28": "2008-W52", "2008-12-29": "2009-W01",
		"2009-12-31": "2009-W53", "2010-01-03": "2009-W53",
	} {
		d, err := ParseDate(date)
		if err != nil {
			t.Fatal(err)
		}
		monday, err := ParseISOWeek(want)
		if err != nil || d < monday || d > monday+6 {
			t.Errorf("%s is in the week from %s (%v), want %s", date, monday, err, want)
		}
	}
	for _, s := range []string{"", "2026-10", "2026-W1", "2026-W00", "2026-W54", "2025-W53", "2026-W10 ", "W10", "26-W10"} {
		if d, err := ParseISOWeek(s); err == nil {
			t.Errorf("%q is the week from %s", s, d)
		}
	}
}
