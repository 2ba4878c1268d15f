package units

import (
	"fmt"
	"math/big"
)

// Plus gives q and o together, exactly, in the unit of q: "3 5/8 in" and "1 7/16 in" are
// "5 1/16 in". The error, a *QuantityError, says that they measure different things, or
// that degrees are not added.
func (q Quantity) Plus(o Quantity) (Quantity, error) { return q.sum(o, (*big.Rat).Add) }

// Minus gives what is left of q without o, exactly, in the unit of q. The error is that of Plus.
func (q Quantity) Minus(o Quantity) (Quantity, error) { return q.sum(o, (*big.Rat).Sub) }

func (q Quantity) sum(o Quantity, do func(z, x, y *big.Rat) *big.Rat) (Quantity, error) {
	if err := q.alike(o); err != nil {
		return Quantity{}, err
	}
	if q.unit.dim == Temperature {
		return Quantity{}, &QuantityError{q.text, "is a temperature: degrees on a scale are not added, say the difference"}
	}
	v := do(new(big.Rat), q.base(), o.base())
	return exactly(q.unit.fromBase(v), q.unit)
}

// Times gives q × over / under, exactly, in the unit of q: half of it, four of it, a
// seventh of it. The error, a *QuantityError, says that under is 0, or that q is a
// temperature or none.
func (q Quantity) Times(over, under int64) (Quantity, error) {
	switch {
	case q.IsZero():
		return Quantity{}, q.is("")
	case under == 0:
		return Quantity{}, &QuantityError{q.text, "cannot be divided by 0"}
	case q.unit.dim == Temperature:
		return Quantity{}, &QuantityError{q.text, "is a temperature: degrees on a scale are not multiplied"}
	}
	return exactly(new(big.Rat).Mul(q.value, big.NewRat(over, under)), q.unit)
}

// Over gives how many times o goes into q, exactly. The error, a *QuantityError, says that
// they measure different things, that o is nothing, or that they are temperatures.
func (q Quantity) Over(o Quantity) (*big.Rat, error) {
	if err := q.alike(o); err != nil {
		return nil, err
	}
	if o.base().Sign() == 0 || q.unit.dim == Temperature {
		return nil, &QuantityError{q.text, fmt.Sprintf("cannot be divided by %s", o.text)}
	}
	return new(big.Rat).Quo(q.base(), o.base()), nil
}

// exactly writes v of a unit without rounding: inches and feet that a ruler has as it has
// them, else as a decimal where that has an end.
func exactly(v *big.Rat, u *unit) (Quantity, error) {
	number := mixed(v)
	onRuler := (u.name == "in" || u.name == "ft") && halved(v.Denom())
	if places, ends := v.FloatPrec(); ends && !onRuler {
		number = v.FloatString(places)
	}
	return ParseQuantity(number + " " + u.name)
}

// halved reports whether n is 1, 2, 4, 8 and so on: what the parts of a ruler are.
func halved(n *big.Int) bool { return n.TrailingZeroBits() == uint(n.BitLen()-1) }

// OnRuler gives a length as Ruler does, and how far that mark is off the length, in
// hundredths of a millimetre and with its sign: 1234 mm on a ruler of 1/16 in is
// "48 9/16 in", "-0.51 mm". Off is more than nought where the mark is too long.
func (q Quantity) OnRuler(parts int) (mark, off Quantity, err error) {
	mark, err = q.Ruler(parts)
	if err != nil {
		return Quantity{}, Quantity{}, err
	}
	by := new(big.Rat).Sub(mark.base(), q.base())
	text := by.FloatString(2)
	switch rounded, _ := new(big.Rat).SetString(text); rounded.Sign() {
	case 0:
		text = "0.00" // no sign on nothing
	case 1:
		text = "+" + text
	}
	off, err = ParseQuantity(text + " mm")
	return mark, off, err
}
