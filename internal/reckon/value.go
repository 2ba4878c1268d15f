package reckon

import (
	"fmt"
	"strconv"

	"example.com/vanlog/internal/units"
)

// Note is what a screen shows beside a number.
type Note struct {
	Formula string // in the signs of the trade; empty for a number that was read in a table
	Source  string // who published it, with edition and place; or "from memory"
	Caution string // what the sum does not know
}

// Value is a reckoned number. Unit is a unit of package units, or none for a plain number.
type Value struct {
	Number float64
	Unit   string
	Note   Note
}

// Show gives the number rounded to decimal places, with its unit: "25.5 N·m".
func (v Value) Show(places int) string {
	text := strconv.FormatFloat(v.Number, 'f', max(places, 0), 64)
	if v.Unit == "" {
		return text
	}
	return text + " " + v.Unit
}

// value gives a number with its note, or the zero Value where the input was refused.
func (in *input) value(number float64, unit string, note Note) (Value, error) {
	if in.err != nil {
		return Value{}, in.err
	}
	return Value{number, unit, note}, nil
}

// verdict gives a verdict, or the zero Verdict where the input was refused.
func (in *input) verdict(ok bool, text string, note Note) (Verdict, error) {
	if in.err != nil {
		return Verdict{}, in.err
	}
	return Verdict{ok, text, note}, nil
}

// Verdict says whether a rule is kept, in words that give the limit and what was found.
type Verdict struct {
	OK   bool
	Text string
	Note Note
}

// InputError says which quantity cannot be reckoned with.
type InputError struct {
	What string // the quantity, as a screen calls it: "arm length"
	Why  string // goes on from What, and says what would be right
	Err  error  // the *units.QuantityError behind it, or nil
}

// Error gives What and Why as one sentence.
func (e *InputError) Error() string { return e.What + " " + e.Why }

// Unwrap gives the error behind e, if there is one.
func (e *InputError) Unwrap() error { return e.Err }

// least and most bound what a bench measures, in any unit that is used here; a number
// beyond them is a slip of the hand, and would not stay finite in the sums.
const (
	least = 1e-6
	most  = 1e9
)

// input reads what a sum is given and keeps the first thing that is wrong with it.
type input struct{ err error }

func (in *input) refuse(what, why string, args ...any) {
	if in.err == nil {
		in.err = &InputError{What: what, Why: fmt.Sprintf(why, args...)}
	}
}

// signed gives q in a unit; it may be below nought.
func (in *input) signed(what string, q units.Quantity, unit string) float64 {
	if q.IsZero() {
		in.refuse(what, "is missing, want it in %s", unit)
		return 0
	}
	exact, err := q.In(unit)
	if err != nil {
		if in.err == nil {
			in.err = &InputError{What: what, Why: "cannot be used: " + err.Error(), Err: err}
		}
		return 0
	}
	v, _ := exact.Float64()
	if v > most || v < -most {
		in.refuse(what, "of %s is beyond all measure, want it in %s", q, unit)
	}
	return v
}

// orNone gives q in a unit, nought or more.
func (in *input) orNone(what string, q units.Quantity, unit string) float64 {
	v := in.signed(what, q, unit)
	if v < 0 {
		in.refuse(what, "of %s is below nought", q)
	}
	return v
}

// some gives q in a unit, more than nought.
func (in *input) some(what string, q units.Quantity, unit string) float64 {
	v := in.signed(what, q, unit)
	if v < least {
		in.refuse(what, "of %s is too little, want more than nought", q)
	}
	return v
}

// between refuses a plain number that is outside low and high; hint says what is usual.
func (in *input) between(what string, v, low, high float64, hint string) {
	if !(v >= low && v <= high) { // not a number fails too
		in.refuse(what, "of %v is not between %v and %v: %s", v, low, high, hint)
	}
}
