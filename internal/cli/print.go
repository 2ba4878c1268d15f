package cli

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/units"
)

// printJSON prints v as the one document of a command.
func (e *env) printJSON(v any) error {
	enc := json.NewEncoder(e.Out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// say prints a line that a person reads. What stands in a build is cleaned.
func (e *env) say(format string, args ...any) {
	fmt.Fprintln(e.Out, clean(fmt.Sprintf(format, args...)))
}

// columns is the width that texts for a person are broken to.
const columns = 80

// wrap prints a text after a label, broken between words to the width of a terminal; what
// follows the first line stands under its beginning. A word that is longer is left whole.
func (e *env) wrap(label, text string) {
	pad := strings.Repeat(" ", ansi.StringWidth(label))
	line := label
	for i, word := range strings.Fields(clean(text)) {
		switch {
		case i == 0:
			line += word
		case ansi.StringWidth(line)+1+ansi.StringWidth(word) > columns:
			e.say("%s", line)
			line = pad + word
		default:
			line += " " + word
		}
	}
	e.say("%s", line)
}

// note prints a message beside the answer, to stderr.
func (e *env) note(format string, args ...any) {
	fmt.Fprintln(e.Err, clean(fmt.Sprintf(format, args...)))
}

// table prints rows in columns, the first of them the heads.
func (e *env) table(rows ...[]string) {
	w := tabwriter.NewWriter(e.Out, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = clean(c)
		}
		fmt.Fprintln(w, strings.TrimRight(strings.Join(cells, "\t"), "\t"))
	}
	w.Flush()
}

// clean makes text from a build safe for a terminal: one line, without escape sequences,
// control bytes, or marks that turn the direction of reading.
func clean(s string) string {
	s = ansi.Strip(strings.ToValidUTF8(s, "?"))
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case unicode.IsControl(r), r >= 0x202A && r <= 0x202E, r >= 0x2066 && r <= 0x2069, r == 0x2028, r == 0x2029:
			return -1
		}
		return r
	}, s)
}

// when gives a time as a person reads it.
func when(t units.Instant) string { return t.Format("Mon 2006-01-02 15:04") }

// mins gives a number of minutes without needless digits.
func mins(m float64) string { return number(m) + " min" }

// number gives a number to the thousandth, without needless digits.
func number(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64) }

// aYear says how often something is done.
func aYear(times float64) string {
	if times == 1 {
		return "once a year"
	}
	return number(times) + " times a year"
}

// tenths gives minutes that are a mean, to a tenth.
func tenths(m float64) string { return fmt.Sprintf("%.1f min", m) }

// or gives text, or another where it is empty.
func or[S ~string](text S, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return string(text)
}
