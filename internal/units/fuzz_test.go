package units

import (
	"errors"
	"fmt"
	"testing"
)

// What parses prints as a text that parses to the same value and prints the same again.
// The seeds lie in testdata/fuzz; to look for more:
//
//	go test -run xxx -fuzz FuzzQuantity -fuzztime 1000000x ./internal/units

func FuzzQuantity(f *testing.F) {
	f.Fuzz(func(t *testing.T, s string) {
		q, err := ParseQuantity(s)
		if err != nil {
			refused(t, s, err)
			return
		}
		again, err := ParseQuantity(q.String())
		if err != nil || again.String() != q.String() || again.Unit() != q.Unit() || again.Value().Cmp(q.Value()) != 0 {
			t.Fatalf("%q printed as %q, which reads as %q: %v", s, q, again, err)
		}
		v, err := q.In(q.Unit())
		if err != nil || v.Cmp(q.Value()) != 0 {
			t.Fatalf("%q is %v in its own unit: %v", s, v, err)
		}
		if q.Dimension() == Temperature {
			return
		}
		third, err := q.Times(1, 3)
		if err != nil {
			refused(t, s, err) // too long to be written
			return
		}
		back, err := third.Times(3, 1)
		if err != nil {
			refused(t, s, err)
			return
		}
		if back.Value().Cmp(v) != 0 || back.Unit() != q.Unit() {
			t.Fatalf("three times %s, a third of %s, is %s", third, q, back)
		}
	})
}

func FuzzWant(f *testing.F) {
	f.Fuzz(func(t *testing.T, s string) {
		w, err := ParseWant(s)
		if err != nil {
			refused(t, s, err)
			return
		}
		again, err := ParseWant(w.String())
		if err != nil || again.String() != w.String() || !sameBound(again.low, w.low) || !sameBound(again.high, w.high) {
			t.Fatalf("%q printed as %q, which reads as %q: %v", s, w, again, err)
		}
		if w.low == nil && w.high == nil {
			t.Fatalf("%q wants nothing", s)
		}
		if w.low != nil && w.high != nil && w.low.at.Cmp(w.high.at) > 0 {
			t.Fatalf("%q can never hold", s)
		}
	})
}

func sameBound(a, b *bound) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.beyond == b.beyond && a.at.Cmp(b.at) == 0
}

func FuzzMinutes(f *testing.F) {
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMinutes(s)
		if err != nil {
			refused(t, s, err)
			return
		}
		if again, err := ParseMinutes(m.String()); again != m || err != nil {
			t.Fatalf("%q is %d, printed as %q, which reads as %d: %v", s, int(m), m, int(again), err)
		}
	})
}

func FuzzSpan(f *testing.F) {
	f.Fuzz(func(t *testing.T, s string) {
		from, to, err := ParseSpan(s)
		if err != nil {
			refused(t, s, err)
			return
		}
		if from < 0 || from >= to || to > 1440 {
			t.Fatalf("%q is %d to %d, no piece of a day", s, from, to)
		}
		text := fmt.Sprintf("%d:%02d-%d:%02d", from/60, from%60, to/60, to%60)
		if a, b, err := ParseSpan(text); a != from || b != to || err != nil {
			t.Fatalf("%q is %d to %d, printed as %q, which reads as %d to %d: %v", s, from, to, text, a, b, err)
		}
	})
}

func FuzzWhen(f *testing.F) {
	f.Fuzz(func(t *testing.T, s string) {
		w, err := ParseWhen(s)
		if err == nil && w.String() != s {
			t.Fatalf("%q prints as %q", s, w)
		}
	})
}

// refused fails the test where a text was refused without a word for the person.
func refused(t *testing.T, s string, err error) {
	t.Helper()
	var qe *QuantityError
	if !errors.As(err, &qe) || qe.Why == "" {
		t.Fatalf("%q is refused with %v (%T), want a QuantityError", s, err, err)
	}
}
