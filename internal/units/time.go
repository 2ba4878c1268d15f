package units

import (
	"fmt"
	"time"
)

// Instant is a minute on the workshop's clock, counted from 1970-01-01T00:00.
// It has no time zone: a day has 1440 minutes.
type Instant int64

// Minutes in an hour and in a day.
const (
	Hour Instant = 60
	Day  Instant = 24 * Hour
)

const (
	instantForm = "2006-01-02T15:04"
	dateForm    = "2006-01-02"
)

// ParseInstant reads "2026-03-02T08:00", or a date as its first minute.
func ParseInstant(s string) (Instant, error) {
	w, err := ParseWhen(s)
	return w.At, err
}

// InstantOf gives the minute that t shows on its own clock.
func InstantOf(t time.Time) Instant {
	return fromWall(time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), 0, 0, time.UTC))
}

// String gives "2026-03-02T08:00".
func (i Instant) String() string { return i.wall().Format(instantForm) }

// Date gives the day that i lies in.
func (i Instant) Date() Date { return Date(floorDiv(int64(i), int64(Day))) }

// Clock gives the minute of the day, 0 to 1439.
func (i Instant) Clock() int { return int(i - i.Date().Start()) }

// Format gives i in one of the forms of package time.
func (i Instant) Format(form string) string { return i.wall().Format(form) }

// MarshalText writes the form of String.
func (i Instant) MarshalText() ([]byte, error) { return []byte(i.String()), nil }

// UnmarshalText reads what ParseInstant reads.
func (i *Instant) UnmarshalText(b []byte) (err error) {
	*i, err = ParseInstant(string(b))
	return err
}

func (i Instant) wall() time.Time { return time.Unix(int64(i)*60, 0).UTC() }

func fromWall(t time.Time) Instant { return Instant(floorDiv(t.Unix(), 60)) }

// Date is a day, counted from 1970-01-01.
type Date int32

// ParseDate reads "2026-03-02".
func ParseDate(s string) (Date, error) {
	w, err := ParseWhen(s)
	if err == nil && !w.DateOnly {
		err = &TimeError{Text: s}
	}
	return w.At.Date(), err
}

// Start gives 00:00 of the day.
func (d Date) Start() Instant { return Instant(d) * Day }

// Weekday gives 0 for Monday to 6 for Sunday (ISO 8601 order).
func (d Date) Weekday() int { return int(floorMod(int64(d)+3, 7)) }

// Monday gives the first day of the week that d lies in.
func (d Date) Monday() Date { return d - Date(d.Weekday()) }

// ISOWeek gives the ISO 8601 year and week that d lies in.
func (d Date) ISOWeek() (year, week int) { return d.Start().wall().ISOWeek() }

// ParseISOWeek reads a week as ISO 8601 writes it, "2026-W10", and gives its Monday. The error is a
// *TimeError, also for a 53rd week that the year has not.
func ParseISOWeek(s string) (Date, error) {
	var year, week int
	if _, err := fmt.Sscanf(s, "%4d-W%2d", &year, &week); err != nil || fmt.Sprintf("%04d-W%02d", year, week) != s {
		return 0, &TimeError{Text: s}
	}
	fourth, err := ParseDate(fmt.Sprintf("%04d-01-04", year)) // it is always in the first week
	if err != nil {
		return 0, &TimeError{Text: s}
	}
	d := fourth.Monday() + Date(7*(week-1))
	if y, w := d.ISOWeek(); y != year || w != week {
		return 0, &TimeError{Text: s}
	}
	return d, nil
}

// String gives "2026-03-02".
func (d Date) String() string { return d.Start().wall().Format(dateForm) }

// Format gives d in one of the forms of package time.
func (d Date) Format(form string) string { return d.Start().wall().Format(form) }

// MarshalText writes the form of String.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what ParseDate reads.
func (d *Date) UnmarshalText(b []byte) (err error) {
	*d, err = ParseDate(string(b))
	return err
}

// When is a time as a person gives it: a day, or a minute of a day. Use a
// *When where a time may be missing.
type When struct {
	At       Instant // the minute, or 00:00 of the day
	DateOnly bool    // only a day was given
}

// ParseWhen reads "2026-03-02" or "2026-03-02T08:00" (ISO 8601, local).
func ParseWhen(s string) (When, error) {
	for _, form := range []string{dateForm, instantForm} {
		t, err := time.Parse(form, s)
		if err == nil && t.Format(form) == s && t.Year() >= 1900 && t.Year() < 2300 {
			return When{At: fromWall(t), DateOnly: form == dateForm}, nil
		}
	}
	return When{}, &TimeError{Text: s}
}

// Until gives the first minute after w: the next day for a date.
func (w When) Until() Instant {
	if w.DateOnly {
		return w.At + Day
	}
	return w.At
}

// String gives w back as it was given.
func (w When) String() string {
	if w.DateOnly {
		return w.At.Date().String()
	}
	return w.At.String()
}

// MarshalText writes the form of String.
func (w When) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads what ParseWhen reads.
func (w *When) UnmarshalText(b []byte) (err error) {
	*w, err = ParseWhen(string(b))
	return err
}

// TimeError says that a text is no date and no time.
type TimeError struct{ Text string }

// Error gives the text and the forms that would be right.
func (e *TimeError) Error() string {
	return fmt.Sprintf("%q is no date (2026-03-02) or time (2026-03-02T08:00)", e.Text)
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func floorMod(a, b int64) int64 { return a - b*floorDiv(a, b) }
