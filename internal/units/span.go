package units

import (
	"regexp"
	"strconv"
	"strings"
)

// spanForm is a clock time, a dash and a clock time. The groups are hours and minutes.
var spanForm = regexp.MustCompile(`^(\d{1,2}):(\d\d) ?[–—−-] ?(\d{1,2}):(\d\d)$`)

// ParseSpan reads a piece of one day by its clock times, "9:10-10:45", in minutes from
// 00:00. To is after from, and 24:00 at the latest: a piece that runs over midnight is
// two, one a day. The error is a *QuantityError.
func ParseSpan(s string) (from, to int, err error) {
	m := spanForm.FindStringSubmatch(trimSpace(s))
	if m == nil {
		return 0, 0, &QuantityError{s, "is no piece of a day, want for example 9:10-10:45"}
	}
	from, to = clock(m[1], m[2]), clock(m[3], m[4])
	switch {
	case from < 0 || to < 0:
		return 0, 0, &QuantityError{s, "has a time that is on no clock, want 0:00 to 24:00"}
	case from == to:
		return 0, 0, &QuantityError{s, "ends when it begins, want for example 9:10-10:45"}
	case from > to:
		return 0, 0, &QuantityError{s, "runs over midnight: write one piece for each day, to 24:00 and from 0:00"}
	}
	return from, to, nil
}

// ParseWorked reads how long work took, as ParseMinutes does, or from when to when, as
// ParseSpan does: timed says that, and from is then its begin in minutes from 00:00. The error
// is a *QuantityError.
func ParseWorked(s string) (m Minutes, from int, timed bool, err error) {
	if m, err = ParseMinutes(s); err == nil {
		return m, 0, false, nil
	}
	from, to, spanErr := ParseSpan(s)
	switch {
	case spanErr == nil:
		return Minutes(to - from), from, true, nil
	case strings.ContainsAny(trimSpace(s), "–—−-"):
		err = spanErr
	}
	return 0, 0, false, err
}

// clock gives the minute of the day, or -1 for what no clock shows. Both are digits.
func clock(hour, minute string) int {
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(minute)
	if at := h*60 + m; m < 60 && at <= int(Day) {
		return at
	}
	return -1
}
