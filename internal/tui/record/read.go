package record

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// readNumber reads a decimal number that is not negative.
func readNumber(s string) (float64, error) {
	v, err := readPosition(s)
	if err == nil && v < 0 {
		return 0, fmt.Errorf("%q is below 0", s)
	}
	return v, err
}

var plainNumber = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)$`)

// readPosition reads a decimal number.
func readPosition(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !plainNumber.MatchString(s) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is no number, want for example 1.5", s)
	}
	return v, nil
}

// readMinutes reads minutes: a number, or a length of work such as 1h30.
func readMinutes(s string) (float64, error) {
	if v, err := readNumber(s); err == nil {
		return v, nil
	}
	m, err := units.ParseMinutes(s)
	if err != nil {
		return 0, fmt.Errorf("%q are no minutes, want for example 2.5 or 1h30", s)
	}
	return float64(m), nil
}

// readHours reads hours: a number, or a length of work such as 1h30.
func readHours(s string) (float64, error) {
	if v, err := readNumber(s); err == nil {
		return v, nil
	}
	m, err := units.ParseMinutes(s)
	if err != nil {
		return 0, fmt.Errorf("%q are no hours, want for example 1.5 or 1h30", s)
	}
	return float64(m) / 60, nil
}

func showEstimate(e units.Estimate) string {
	if e.Low == e.Likely && e.Likely == e.High {
		return number(e.Likely)
	}
	return number(e.Low) + " " + number(e.Likely) + " " + number(e.High)
}

var errEstimate = errors.New("want one number, or low, likely and high in rising order, for example 3 4 8")

// readEstimate reads one number or three, each by read.
func readEstimate(read func(string) (float64, error)) func(string) (units.Estimate, error) {
	return func(s string) (units.Estimate, error) {
		var v []float64
		for _, w := range strings.Fields(s) {
			n, err := read(w)
			if err != nil {
				return units.Estimate{}, err
			}
			v = append(v, n)
		}
		var e units.Estimate
		switch len(v) {
		case 1:
			e = units.Sure(v[0])
		case 3:
			e = units.Estimate{Low: v[0], Likely: v[1], High: v[2]}
		default:
			return e, errEstimate
		}
		if !e.Valid() {
			return e, errEstimate
		}
		return e, nil
	}
}

func readCount(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 1_000_000 {
		return 0, fmt.Errorf("%q is no count, want a whole number from 1 up", s)
	}
	return n, nil
}

// readWhen reads a day or a time; a blank may stand for the T.
func readWhen(s string) (units.When, error) { return units.ParseWhen(strings.Replace(s, " ", "T", 1)) }

func readWant(s string) error {
	_, err := units.ParseWant(s)
	return err
}

// readQuantity checks a quantity of a dimension.
func readQuantity(d units.Dimension, example string) func(string) error {
	return func(s string) error {
		q, err := units.ParseQuantity(s)
		switch {
		case err != nil:
			return err
		case q.Dimension() != d:
			return fmt.Errorf("%q is no %s, want for example %s", s, d, example)
		}
		return nil
	}
}

var money = regexp.MustCompile(`^\d{1,12}(\.\d{1,4})?$`)

func readMoney(s string) error {
	if !money.MatchString(s) {
		return fmt.Errorf("%q is no amount, want a decimal number such as 129.00", s)
	}
	return nil
}

func showBox(b access.Box) string { return showNumbers(b[:]) }

func showNumbers(vs []float64) string {
	out := make([]string, len(vs))
	for i, v := range vs {
		out[i] = number(v)
	}
	return strings.Join(out, " ")
}

// readNumbers reads n decimal numbers with blanks or commas between.
func readNumbers(s string, n int, each func(string) (float64, error)) ([]float64, error) {
	words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' })
	if len(words) != n {
		return nil, fmt.Errorf("want %d numbers with blanks between, here are %d", n, len(words))
	}
	out := make([]float64, n)
	for i, w := range words {
		v, err := each(w)
		if err != nil {
			return nil, err
		}
		out[i] = v
	}
	return out, nil
}

func readBox(s string) (access.Box, error) {
	v, err := readNumbers(s, 6, readPosition)
	if err != nil {
		return access.Box{}, err
	}
	b := access.Box(v)
	for axis, name := range []string{"x", "y", "z"} {
		if b[axis] > b[axis+3] {
			return b, fmt.Errorf("%s runs from %s back to %s", name, number(b[axis]), number(b[axis+3]))
		}
	}
	return b, nil
}

func readPoint(s string) (access.Point, error) {
	v, err := readNumbers(s, 3, readPosition)
	if err != nil {
		return access.Point{}, err
	}
	return access.Point(v), nil
}

func showPoint(p access.Point) string { return showNumbers(p[:]) }

// showWeek gives a line for each run of days with the same hours: "mon-fri 08:00-12:00".
func showWeek(w calendar.Week) []string {
	var out []string
	for d := 0; d < len(w); d++ {
		if len(w[d]) == 0 {
			continue
		}
		days, hours, from := calendar.DayNames[d], showSpans(w[d]), d
		for d+1 < len(w) && showSpans(w[d+1]) == hours {
			d++
		}
		if d > from {
			days += "-" + calendar.DayNames[d]
		}
		out = append(out, days+" "+hours)
	}
	return out
}

func showSpans(spans []calendar.Span) string {
	out := make([]string, len(spans))
	for i, s := range spans {
		out[i] = s.String()
	}
	return strings.Join(out, " ")
}

func readSpans(words []string) ([]calendar.Span, error) {
	var out []calendar.Span
	for _, w := range words {
		s, err := calendar.ParseSpan(w)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// readDays reads "mon" or "mon-fri" as weekdays counted from Monday, both ends in it.
func readDays(s string) (from, to int, err error) {
	a, b, isRun := strings.Cut(strings.ToLower(s), "-")
	if !isRun {
		b = a
	}
	from, to = dayAt(a), dayAt(b)
	if from < 0 || to < from {
		return 0, 0, fmt.Errorf("%q are no weekdays, want for example mon or mon-fri", s)
	}
	return from, to, nil
}

func dayAt(name string) int {
	for i, d := range calendar.DayNames {
		if d == name {
			return i
		}
	}
	return -1
}
