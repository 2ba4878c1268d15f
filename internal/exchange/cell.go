package exchange

import (
	"encoding/csv"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// nothing is what a cell says that takes a value away; an empty cell leaves it alone.
const nothing = "-"

// cell is a value of a table.
type cell struct {
	text  string
	comma bool // a comma may be the decimal point: it does not part the cells
}

// decimalForm is a number as JSON and spreadsheets write it; no hexadecimal, no infinity.
var decimalForm = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$`)

// point gives the text with a point for a decimal comma, where that is what it is.
func (c cell) point() string {
	if c.comma && strings.Count(c.text, ",") == 1 && !strings.Contains(c.text, ".") {
		return strings.Replace(c.text, ",", ".", 1)
	}
	return c.text
}

func (c cell) number() (v float64, why string) {
	s := c.point()
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case !decimalForm.MatchString(s):
		return 0, "want a number, have " + strconv.Quote(c.text)
	case err != nil:
		return 0, c.text + " is too large a number"
	}
	return v, ""
}

func (c cell) whole() (n int, why string) {
	v, why := c.number()
	switch {
	case why != "" || v != math.Trunc(v):
		return 0, "want a whole number, have " + strconv.Quote(c.text)
	case math.Abs(v) > mostWhole:
		return 0, c.text + " is too large a number"
	}
	return int(v), ""
}

func (c cell) yes() (yes bool, why string) {
	switch strings.ToLower(c.text) {
	case "yes", "true", "1":
		return true, ""
	case "no", "false", "0", nothing:
		return false, ""
	}
	return false, "want yes or no, have " + strconv.Quote(c.text)
}

// words gives the names of a list, which spaces, semicolons or commas part.
func (c cell) words() []string {
	if c.text == nothing {
		return nil
	}
	return strings.FieldsFunc(c.text, func(r rune) bool { return r == ' ' || r == ';' || r == ',' || r == '\n' })
}

// phrases gives the texts of a list, which semicolons part: "T25 driver; 10 mm spanner".
// Quotes keep a semicolon in a text.
func (c cell) phrases() (list []string, why string) {
	if c.text == nothing {
		return nil, ""
	}
	if why := textFlaw(c.text, false); why != "" {
		return nil, why
	}
	r := csv.NewReader(strings.NewReader(c.text))
	r.Comma, r.TrimLeadingSpace = ';', true
	list, err := r.Read()
	if err != nil {
		return nil, "want texts with ; between them, have " + strconv.Quote(c.text)
	}
	return list, ""
}

// joined writes a list as phrases reads it.
func joined(list []string) string {
	if len(list) == 0 {
		return ""
	}
	var out strings.Builder
	w := csv.NewWriter(&out)
	w.Comma = ';'
	if err := w.Write(list); err != nil {
		return ""
	}
	w.Flush()
	return strings.TrimSuffix(out.String(), "\n")
}

func written(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
