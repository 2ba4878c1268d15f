package reckon

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/vanlog/internal/units"
)

// q reads a quantity; "" is none.
func q(t *testing.T, s string) units.Quantity {
	t.Helper()
	if s == "" {
		return units.Quantity{}
	}
	v, err := units.ParseQuantity(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near fails where got is further from want than by.
func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s = %v, want %v within %v", what, got, want, by)
	}
}

// got gives a value with its note; each sum shows one.
func got(t *testing.T) func(Value, error) Value {
	return func(v Value, err error) Value {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		noted(t, v.Note)
		return v
	}
}

func noted(t *testing.T, n Note) {
	t.Helper()
	if n.Source == "" || n.Caution == "" {
		t.Errorf("a note without a source or a caution: %+v", n)
	}
}

// refuses fails where err is no InputError with the words of want.
func refuses(t *testing.T, err error, want string) {
	t.Helper()
	var ie *InputError
	if !errors.As(err, &ie) || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want an InputError with %q", err, want)
	}
}

func failed[T any](_ T, err error) error { return err }

func TestShow(t *testing.T) {
	for want, v := range map[string]string{
		"25.5 N·m": Value{Number: 25.4736, Unit: "N·m"}.Show(1),
		"25 N·m":   Value{Number: 25.4736, Unit: "N·m"}.Show(-1),
		"6271":     Value{Number: 6270.8}.Show(0),
	} {
		if v != want {
			t.Errorf("shown as %q, want %q", v, want)
		}
	}
}

// What is refused names the quantity, and where it was the wrong kind, why.
func TestInputErrors(t *testing.T) {
	_, err := BoltTorque(0.2, q(t, "8 mm"), q(t, "16 kg"))
	refuses(t, err, `force in the bolt cannot be used: "16 kg" is a mass, want a force in N or kN`)
	var qe *units.QuantityError
	if !errors.As(err, &qe) {
		t.Errorf("%v hides the QuantityError", err)
	}
	refuses(t, failed(BoltTorque(0.2, q(t, ""), q(t, "16 kN"))), "diameter of the thread is missing, want it in m")
	refuses(t, failed(BoltTorque(0.2, q(t, "0 mm"), q(t, "16 kN"))), "diameter of the thread of 0 mm is too little")
	refuses(t, failed(BoltTorque(0.2, q(t, "-8 mm"), q(t, "16 kN"))), "more than nought")
	refuses(t, failed(BoltTorque(0.2, q(t, "8 mm"), q(t, "99999999999 kN"))), "is beyond all measure")
	refuses(t, failed(Behind(q(t, "18 mm"), q(t, "-1 mm"))), "depth of the recess of -1 mm is below nought")
	v, err := BoltTorque(math.NaN(), q(t, "8 mm"), q(t, "16 kN"))
	refuses(t, err, "nut factor K of NaN is not between")
	if v != (Value{}) {
		t.Errorf("a refused sum gave %v", v)
	}
}
