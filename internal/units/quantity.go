package units

import (
	"fmt"
	"math/big"
	"strings"
)

// Quantity is a number with a unit, kept as it was typed. The zero Quantity is none.
type Quantity struct {
	text  string
	value *big.Rat // in unit; never written to
	unit  *unit
}

// QuantityError says that a text is no quantity, no length of work, or not the one
// that is wanted.
type QuantityError struct {
	Text string // as typed
	Why  string // goes on from the text, and says what would be right
}

// Error gives the text and Why as one sentence.
func (e *QuantityError) Error() string { return fmt.Sprintf("%q %s", e.Text, e.Why) }

// ParseQuantity reads "12 N·m", "106 lbf·in", "23 3/16 in", "3.2 mm", and feet before inches:
// "5' 3 1/2\"", which is in inches. Commas are no decimal points, and no unit is guessed.
// The error is a *QuantityError.
func ParseQuantity(s string) (Quantity, error) {
	text := trimSpace(s)
	if v, why, ok := feetInches(text); ok && why != "" {
		return Quantity{}, &QuantityError{text, why}
	} else if ok {
		return Quantity{text: text, value: v, unit: unitsByName["in"]}, nil
	}
	v, rest, why := cutNumber(text)
	if why != "" {
		return Quantity{}, &QuantityError{text, why}
	}
	u, why := unitOf(rest)
	if rest == "" {
		why = "has no unit, want for example 12 N·m, 23 3/16 in, 3.2 mm"
	}
	if why != "" {
		return Quantity{}, &QuantityError{text, why}
	}
	return Quantity{text: text, value: v, unit: u}, nil
}

// String gives q as it was typed.
func (q Quantity) String() string { return q.text }

// IsZero reports whether q is no quantity at all.
func (q Quantity) IsZero() bool { return q.unit == nil }

// Value gives the number of q in the unit that it was typed in. The zero Quantity has 0.
func (q Quantity) Value() *big.Rat {
	if q.IsZero() {
		return new(big.Rat)
	}
	return new(big.Rat).Set(q.value)
}

// Unit gives the unit of q in its usual spelling, "N·m" for "Nm".
func (q Quantity) Unit() string {
	if q.IsZero() {
		return ""
	}
	return q.unit.name
}

// Dimension gives what kind of quantity q is; none for the zero Quantity.
func (q Quantity) Dimension() Dimension {
	if q.IsZero() {
		return ""
	}
	return q.unit.dim
}

// In gives the exact number of q in another unit, with the factors of NIST SP 811 (2008),
// Appendix B. The error, a *QuantityError, says that the unit is unknown or measures
// something else.
func (q Quantity) In(name string) (*big.Rat, error) {
	u, why := unitOf(name)
	if why != "" {
		return nil, &QuantityError{name, why}
	}
	if err := q.is(u.dim); err != nil {
		return nil, err
	}
	return u.fromBase(q.base()), nil
}

// Compare gives -1, 0 or +1 as q is less than, equal to or more than o, whatever their
// units. The error, a *QuantityError, says that they measure different things.
func (q Quantity) Compare(o Quantity) (int, error) {
	if err := q.alike(o); err != nil {
		return 0, err
	}
	return q.base().Cmp(o.base()), nil
}

// alike refuses what cannot be set against q, being none or of another dimension.
func (q Quantity) alike(o Quantity) error {
	if o.IsZero() {
		return o.is("")
	}
	return q.is(o.unit.dim)
}

// base gives the number of q in the first unit of its dimension.
func (q Quantity) base() *big.Rat { return q.unit.toBase(q.value) }

// is refuses q where it is of another dimension than d.
func (q Quantity) is(d Dimension) error {
	switch {
	case q.IsZero():
		return &QuantityError{q.text, "is no quantity"}
	case q.unit.dim == d:
		return nil
	case d == Torque && (q.unit.name == "lb" || q.unit.name == "lbf"):
		return &QuantityError{q.text, "is " + q.unit.dim.article() + ", want a torque: say lbf·in or lbf·ft"}
	}
	return &QuantityError{q.text, fmt.Sprintf("is %s, want %s in %s", q.unit.dim.article(), d.article(), examples(d))}
}

// To gives q in another unit, rounded to decimal places (half away from nought), for
// showing. Keep q itself: what is rounded cannot be turned back.
func (q Quantity) To(name string, places int) (Quantity, error) {
	v, err := q.In(name)
	if err != nil {
		return Quantity{}, err
	}
	u, _ := unitOf(name)
	return ParseQuantity(v.FloatString(max(places, 0)) + " " + u.name)
}

// Ruler gives a length in inches as a ruler shows it: in whole inches and the nearest
// of parts to the inch (16, 32, 64), half away from nought. It is for showing, as To is.
func (q Quantity) Ruler(parts int) (Quantity, error) {
	v, err := q.In("in")
	if err != nil {
		return Quantity{}, err
	}
	if parts < 1 {
		return Quantity{}, &QuantityError{fmt.Sprint(parts), "is no number of parts of an inch, want 16, 32 or 64"}
	}
	n, _ := new(big.Int).SetString(new(big.Rat).Mul(v, big.NewRat(int64(parts), 1)).FloatString(0), 10)
	return ParseQuantity(mixed(new(big.Rat).SetFrac(n, big.NewInt(int64(parts)))) + " in")
}

// mixed writes r as "48 9/16", "9/16" or "48".
func mixed(r *big.Rat) string {
	whole, part := new(big.Int).QuoRem(new(big.Int).Abs(r.Num()), r.Denom(), new(big.Int))
	var words []string
	if whole.Sign() != 0 || part.Sign() == 0 {
		words = append(words, whole.String())
	}
	if part.Sign() != 0 {
		words = append(words, part.String()+"/"+r.Denom().String())
	}
	sign := ""
	if r.Sign() < 0 {
		sign = "-"
	}
	return sign + strings.Join(words, " ")
}
