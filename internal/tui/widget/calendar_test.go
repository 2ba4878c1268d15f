package widget

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/units"
)

func date(t *testing.T, s string) units.Date {
	t.Helper()
	d, err := units.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestCalendarKeys(t *testing.T) {
	for script, want := range map[string]string{
		"left": "2026-01-30", "right": "2026-02-01", "up": "2026-01-24", "down": "2026-02-07", "pgdown": "2026-02-28", "pgup": "2025-12-31",
		"home": "2026-01-01", "home end": "2026-01-31", "pgdown pgdown": "2026-03-28", "pgdown end": "2026-02-28",
	} {
		c := NewCalendar("Due", date(t, "2026-01-31"), false)
		for _, k := range strings.Fields(script) {
			c, _ = c.Key(Key{Name: k})
		}
		if got := c.Day().String(); got != want {
			t.Errorf("%s leads to %s, want %s", script, got, want)
		}
	}
	if _, out := NewCalendar("", 0, false).Key(Key{Name: "enter"}); out != Submitted {
		t.Error("enter does not pick")
	}
	if _, out := NewCalendar("", 0, false).Key(Key{Name: "esc"}); out != Cancelled {
		t.Error("esc does not go back")
	}
}

// February 2026 begins on a Sunday (ISO 8601 weekday 7) and has four weeks to the day if weeks
// begin with it.
func TestCalendarMonth(t *testing.T) {
	got := NewCalendar("Due", date(t, "2026-02-10"), true).View(plainStyles(), 40, 12)
	for _, want := range []string{"February 2026   2026-02-10", " Su  Mo  Tu", "  1   2   3   4   5   6   7", "  8   9 [10] 11"} {
		if !strings.Contains(got, want) {
			t.Errorf("it does not show %q:\n%s", want, got)
		}
	}
	if got := NewCalendar("Due", date(t, "2026-02-10"), false).View(plainStyles(), 40, 12); !strings.Contains(got, "                          1 ") {
		t.Errorf("with weeks from Monday the first stands alone:\n%s", got)
	}
}

// Months are those of package time, and each day stands under its weekday's name.
func TestCalendarAgreesWithTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := units.Date(rapid.IntRange(0, 40_000).Draw(t, "day"))
		c := NewCalendar("", d, rapid.Bool().Draw(t, "sunday"))
		k := rapid.SampledFrom([]string{"home", "end", "pgup", "pgdown"}).Draw(t, "key")
		c, _ = c.Key(Key{Name: k})
		is := time.Date(1970, 1, 1+int(d), 0, 0, 0, 0, time.UTC)
		first := time.Date(is.Year(), is.Month(), 1, 0, 0, 0, 0, time.UTC)
		last := func(of time.Time) time.Time { return of.AddDate(0, 1, -1) }
		month := map[string]time.Time{"home": first, "end": first, "pgup": first.AddDate(0, -1, 0), "pgdown": first.AddDate(0, 1, 0)}[k]
		want := month.AddDate(0, 0, min(is.Day(), last(month).Day())-1)
		switch k {
		case "home":
			want = first
		case "end":
			want = last(first)
		}
		if got := c.Day().String(); got != want.Format("2006-01-02") {
			t.Fatalf("%s from %s leads to %s, want %s", k, is.Format("2006-01-02"), got, want.Format("2006-01-02"))
		}
		w, h := rapid.IntRange(1, 60).Draw(t, "w"), rapid.IntRange(1, 14).Draw(t, "h")
		lines := strings.Split(c.View(plainStyles(), w, h), "\n")
		if len(lines) != h || ansi.StringWidth(lines[0]) != w {
			t.Fatalf("%d lines of %d columns, want %d of %d", len(lines), ansi.StringWidth(lines[0]), h, w)
		}
	})
}
