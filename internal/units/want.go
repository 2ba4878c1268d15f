package units

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

// Want is what a reading must be: a quantity with a tolerance, a limit or a range. The
// zero Want is none.
type Want struct {
	text      string
	dim       Dimension
	low, high *bound // nil: no limit on that side; one of them is there
}

// bound is a limit in base units.
type bound struct {
	at     *big.Rat
	beyond bool // the limit itself is not good enough
}

// ParseWant reads "12 N·m ±10 %", "40 mm ±0.5 mm", "± 0.5 mm" (about nought), "≥ 50 mm",
// "<= 3 %", "0.5-1.2 bar" and "230 V", which wants exactly that. A tolerance in % is of
// the quantity, but of a quantity in % it is points. The error is a *QuantityError.
func ParseWant(s string) (Want, error) {
	text := trimSpace(s)
	w, err := parseWant(text)
	if err != nil {
		return Want{}, inSigns(text, err)
	}
	w.text = text
	return w, nil
}

var (
	limitSign     = regexp.MustCompile(`^(>=|<=|≥|≤|>|<) *`)
	toleranceSign = regexp.MustCompile(` *(?:±|\+/-|\+-) *`)
	// A dash before a number parts a range; a dash before a letter is part of a unit.
	rangeDash = regexp.MustCompile(` *[–—−-] *([+−-]? *\.?\d)`)
)

// inWords are wants that are said in words, and the signs for them.
var inWords = []struct {
	form *regexp.Regexp
	why  string
}{
	{regexp.MustCompile(`(?i)^(?:at least|minimum|min\.?|not less than|over|above) *\d`), "is in words: write ≥ 50 mm"},
	{regexp.MustCompile(`(?i)^(?:at most|maximum|max\.?|not more than|up to|under|below) *\d`), "is in words: write ≤ 50 mm"},
	{regexp.MustCompile(`(?i)\d[^±]* (?:to|and) [+−-]?\.?\d`), "is in words: write a range as 0.5-1.2 bar"},
	{regexp.MustCompile(`(?i)\d.* (?:plus or minus|plus/minus) \d`), "is in words: write 12 N·m ±10 %"},
}

// inSigns says how text, which is no want, is written in signs; else err stands.
func inSigns(text string, err error) error {
	for _, w := range inWords {
		if w.form.MatchString(text) {
			return &QuantityError{text, w.why}
		}
	}
	return err
}

func parseWant(text string) (Want, error) {
	if len(text) > 2*longest {
		return Want{}, &QuantityError{text, "is too long, want for example 12 N·m ±10 %"}
	}
	if sign := limitSign.FindString(text); sign != "" {
		return limited(strings.Trim(sign, " "), text[len(sign):])
	}
	if at := toleranceSign.FindStringIndex(text); at != nil {
		return around(text, text[:at[0]], text[at[1]:])
	}
	first := number.FindString(text)
	if at := rangeDash.FindStringSubmatchIndex(text[len(first):]); first != "" && at != nil {
		return between(text, text[:len(first)+at[0]], text[len(first)+at[2]:])
	}
	q, err := ParseQuantity(text)
	if err != nil {
		return Want{}, err
	}
	return Want{dim: q.unit.dim, low: &bound{at: q.base()}, high: &bound{at: q.base()}}, nil
}

// limited reads "≥ 50 mm".
func limited(sign, text string) (Want, error) {
	q, err := ParseQuantity(text)
	if err != nil {
		return Want{}, err
	}
	b := &bound{at: q.base(), beyond: sign == "<" || sign == ">"}
	if strings.HasPrefix(sign, "<") || sign == "≤" {
		return Want{dim: q.unit.dim, high: b}, nil
	}
	return Want{dim: q.unit.dim, low: b}, nil
}

// around reads a quantity with a tolerance: "12 N·m", "10 %".
func around(text, middle, tolerance string) (Want, error) {
	tol, err := ParseQuantity(tolerance)
	if err != nil {
		return Want{}, err
	}
	q, err := parseLike(middle, tol)
	if err != nil {
		return Want{}, err
	}
	if tol.value.Sign() < 0 {
		return Want{}, &QuantityError{text, "has a tolerance below nought, want for example 12 N·m ±10 %"}
	}
	by, err := spread(q, tol)
	if err != nil {
		return Want{}, err
	}
	low, high := new(big.Rat).Sub(q.base(), by), new(big.Rat).Add(q.base(), by)
	return Want{dim: q.unit.dim, low: &bound{at: low}, high: &bound{at: high}}, nil
}

// spread gives a tolerance of q in base units.
func spread(q, tol Quantity) (*big.Rat, error) {
	if tol.unit.dim == q.unit.dim {
		return tol.unit.span(tol.value), nil
	}
	if tol.unit.name == "%" && q.unit.dim != Temperature {
		part := new(big.Rat).Mul(tol.value, big.NewRat(1, 100))
		return part.Mul(part, new(big.Rat).Abs(q.base())), nil
	}
	if tol.unit.name == "%" {
		return nil, &QuantityError{tol.text, "is no tolerance of a temperature, want degrees"}
	}
	return nil, tol.is(q.unit.dim)
}

// between reads a range: "0.5" and "1.2 bar".
func between(text, from, to string) (Want, error) {
	high, err := ParseQuantity(to)
	if err != nil {
		return Want{}, err
	}
	low, err := parseLike(from, high)
	if err != nil {
		return Want{}, err
	}
	by, err := low.Compare(high)
	if err != nil {
		return Want{}, err
	}
	if feetOrRange(low, high) {
		return Want{}, &QuantityError{text, "is a range or feet and inches: write 12-18 in, or 1' 6 in"}
	}
	if by > 0 {
		return Want{}, &QuantityError{text, "runs from more to less; a range is 0.5-1.2 bar, a mixed number 23 3/16 in"}
	}
	return Want{dim: low.unit.dim, low: &bound{at: low.base()}, high: &bound{at: high.base()}}, nil
}

// parseLike reads a quantity that may leave its unit to the one after it, and its number
// to nought.
func parseLike(text string, after Quantity) (Quantity, error) {
	if text == "" {
		return Quantity{text: after.text, value: new(big.Rat), unit: after.unit}, nil
	}
	v, rest, why := cutNumber(text)
	if _, _, ok := feetInches(after.text); ok && why == "" && rest == "" {
		return Quantity{}, &QuantityError{text, "has no unit before feet and inches: feet or inches?"}
	}
	if why == "" && rest == "" {
		return Quantity{text: text, value: v, unit: after.unit}, nil
	}
	return ParseQuantity(text)
}

// String gives w as it was typed.
func (w Want) String() string { return w.text }

// Dimension gives what kind of quantity w wants; none for the zero Want.
func (w Want) Dimension() Dimension { return w.dim }

// Holds reports whether a reading is what is wanted, limits included. The error, a
// *QuantityError, says that the reading measures something else.
func (w Want) Holds(reading Quantity) (bool, error) {
	if w.dim == "" {
		return false, &QuantityError{reading.text, "is held against nothing: no value is wanted"}
	}
	if err := reading.is(w.dim); err != nil {
		return false, fmt.Errorf("wanted %s: %w", w.text, err)
	}
	v := reading.base()
	return w.low.holds(v, 1) && w.high.holds(v, -1), nil
}

// holds reports whether v is on the good side of b: 1 above, -1 below. No bound holds all.
func (b *bound) holds(v *big.Rat, side int) bool {
	if b == nil {
		return true
	}
	by := v.Cmp(b.at) * side
	return by > 0 || (by == 0 && !b.beyond)
}
