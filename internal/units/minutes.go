package units

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// Minutes is a length of work. It prints as "1h30", "2h" or "45m".
type Minutes int

// mostHours is the longest length of work that is taken for one.
const mostHours = 100_000

var (
	// The groups of both are hours and minutes.
	hourForm  = regexp.MustCompile(`^(\d+) ?(?:h|hr|hrs|hours?)(?: ?(\d{1,2}) ?(?:m|min|mins|minutes?)?)?$`)
	clockForm = regexp.MustCompile(`^(\d+):(\d\d)$`)
	partForm  = regexp.MustCompile(`^(\d*\.\d+) ?(?:h|hr|hrs|hours?)$`)
	commaForm = regexp.MustCompile(`^\d+,\d+ ?(?:h|hr|hrs|hours?)?$`)
	plainForm = regexp.MustCompile(`^(\d+) ?(?:m|min|mins|minutes?)?$`)
)

// ParseMinutes reads lengths of work as people write them: "1h30", "90", "90m", "1.5h", "1:30", "2h".
// A bare number is minutes; a part of an hour is rounded to the minute, half up. The
// error is a *QuantityError.
func ParseMinutes(s string) (Minutes, error) {
	text := strings.ToLower(trimSpace(s))
	if m := plainForm.FindStringSubmatch(text); m != nil {
		return minutesOf(s, m[1], 1)
	}
	if m := partForm.FindStringSubmatch(text); m != nil {
		return minutesOf(s, m[1], 60)
	}
	m := hourForm.FindStringSubmatch(text)
	if m == nil {
		m = clockForm.FindStringSubmatch(text)
	}
	switch {
	case m == nil && commaForm.MatchString(text):
		return 0, &QuantityError{s, "has a comma: write parts of an hour as 1.5h"}
	case m == nil:
		return 0, &QuantityError{s, "is no length of work, want for example 1h30, 90m, 1.5h, 1:30 or 90 (minutes)"}
	}
	hours, err := minutesOf(s, m[1], 60)
	rest, _ := strconv.Atoi("0" + m[2])
	switch {
	case err != nil:
		return 0, err
	case rest > 59:
		return 0, &QuantityError{s, "has more than 59 minutes after the hours, want for example 1h30"}
	}
	return hours + Minutes(rest), nil
}

// minutesOf gives a decimal number of units, which have so many minutes each. The
// number was read in s.
func minutesOf(s, number string, each int64) (Minutes, error) {
	v, ok := new(big.Rat), len(number) <= longest
	if ok {
		v, ok = v.SetString(number)
		v.Mul(v, big.NewRat(each, 1))
	}
	if !ok || v.Cmp(big.NewRat(mostHours*60, 1)) > 0 {
		return 0, &QuantityError{s, "is too long, want at most 100000h"}
	}
	n, err := strconv.Atoi(v.FloatString(0))
	return Minutes(n), err
}

// String gives the shortest form that ParseMinutes reads: "45m", "1h30", "2h".
func (m Minutes) String() string {
	switch {
	case m < 0:
		return "-" + (-m).String()
	case m < 60:
		return fmt.Sprintf("%dm", int(m))
	case m%60 == 0:
		return fmt.Sprintf("%dh", int(m/60))
	}
	return fmt.Sprintf("%dh%02d", int(m/60), int(m%60))
}
