package units

import (
	"errors"
	"math/big"
	"strings"
	"testing"
)

// must gives a quantity that was reckoned; it takes both results of a sum.
func must(t *testing.T) func(Quantity, error) Quantity {
	return func(q Quantity, err error) Quantity {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
}

// Sums of fractional inches. The fourth piece of 24 in from a 96 in bar with a kerf of
// 1/8 in, 23 5/8 in, is a published figure; the rest follows from 1 in = 25.4 mm (NIST
// SP 811, Appendix B.8). The millimetres are exact but for the seventh.
func TestFractionalInches(t *testing.T) {
	ok, is := must(t), func(s string) Quantity { return quantity(t, s) }
	kerfs := ok(is("1/8 in").Times(3, 1))
	left := ok(is("96 in").Minus(ok(is("23 1/2 in").Times(4, 1))))
	fourth := ok(is("96 in").Minus(ok(is("24 in").Times(3, 1))))
	for _, tt := range []struct {
		name     string
		got      Quantity
		want, mm string
	}{
		{"3 5/8 + 1 7/16", ok(is("3 5/8 in").Plus(is("1 7/16 in"))), "5 1/16 in", "128.5875"},
		{"23 3/16 - 11 7/8", ok(is("23 3/16 in").Minus(is("11 7/8 in"))), "11 5/16 in", "287.3375"},
		{"half of 17 3/8", ok(is("17 3/8 in").Times(1, 2)), "8 11/16 in", "220.6625"},
		{"96 - 4 x 23 1/2 - 3 kerfs", ok(left.Minus(kerfs)), "1 5/8 in", "41.2750"},
		{"96 - 3 x 24 - 3 kerfs", ok(fourth.Minus(kerfs)), "23 5/8 in", "600.0750"},
		{"40 1/2 / 7", ok(is("40 1/2 in").Times(1, 7)), "5 11/14 in", "146.9571"},
		{"11 7/8 - 23 3/16", ok(is("11 7/8 in").Minus(is("23 3/16 in"))), "-11 5/16 in", "-287.3375"},
	} {
		if tt.got.String() != tt.want {
			t.Errorf("%s = %s, want %s", tt.name, tt.got, tt.want)
		}
		if got := in(t, tt.got.String(), "mm").FloatString(4); got != tt.mm {
			t.Errorf("%s = %s mm, want %s", tt.name, got, tt.mm)
		}
	}
	// A seventh is on no ruler; the mark next to it in 1/32 is 5 25/32 in.
	if mark := ok(ok(is("40 1/2 in").Times(1, 7)).Ruler(32)); mark.String() != "5 25/32 in" {
		t.Errorf("5 11/14 in on a ruler of 1/32 is %s, want 5 25/32 in", mark)
	}
	// The fourth piece is 3/8 in short of 24 in.
	if short := ok(is("24 in").Minus(is("23 5/8 in"))); short.String() != "3/8 in" {
		t.Errorf("the fourth piece is short of %s, want 3/8 in", short)
	}
}

func TestSumsOfOtherUnits(t *testing.T) {
	ok, is := must(t), func(s string) Quantity { return quantity(t, s) }
	for want, got := range map[string]Quantity{
		"4.3 mm":        ok(is("3.2 mm").Plus(is("1.10 mm"))),
		"28.6 mm":       ok(is("3.2 mm").Plus(is("1 in"))),
		"2 in":          ok(is("1 in").Plus(is("25.4 mm"))),
		"5 1/4 ft":      ok(is("5 ft").Plus(is("3 in"))),
		"63 1/2 in":     ok(is(`5' 3"`).Plus(is("1/2 in"))),
		"46.38 in":      ok(is("23.19 in").Times(2, 1)), // no ruler has hundredths
		"1 1/128 in":    ok(is("1 1/64 in").Minus(is("1/128 in"))),
		"7 in":          ok(is("3.5 in").Times(2, 1)),
		"18 N·m":        ok(is("12 Nm").Times(3, 2)),
		"333 1/3 mm":    ok(is("1000 mm").Times(1, 3)),
		"-333 1/3 mm":   ok(is("1000 mm").Times(-1, 3)),
		"0 kg":          ok(is("2 kg").Minus(is("2000 g"))),
		"1.5 kg":        ok(is("1 kg").Plus(is("500 g"))),
		"24 lbf·in":     ok(is("12 lbf·in").Plus(is("1 lbf·ft"))),
		"4.785411784 L": ok(is("1 L").Plus(is("1 gal US"))),
	} {
		if got.String() != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if times, err := is("96 in").Over(is("2 ft")); err != nil || times.Cmp(big.NewRat(4, 1)) != 0 {
		t.Errorf("2 ft goes into 96 in %v times, %v, want 4", times, err)
	}
}

func TestNoSums(t *testing.T) {
	is := func(s string) Quantity { return quantity(t, s) }
	rat := func(_ *big.Rat, err error) error { return err }
	sum := func(_ Quantity, err error) error { return err }
	for _, tt := range []struct {
		err  error
		want string
	}{
		{sum(is("1 mm").Plus(is("1 V"))), "is a length, want a voltage"},
		{sum(is("12 lb").Plus(is("1 N·m"))), "say lbf·in or lbf·ft"},
		{sum(is("20 °C").Plus(is("5 °C"))), "degrees on a scale are not added"},
		{sum(is("20 °C").Minus(is("5 °F"))), "say the difference"},
		{sum(is("20 °C").Times(2, 1)), "degrees on a scale are not multiplied"},
		{sum(is("1 mm").Times(2, 0)), "cannot be divided by 0"},
		{sum(Quantity{}.Plus(is("1 mm"))), "is no quantity"},
		{sum(is("1 mm").Minus(Quantity{})), "is no quantity"},
		{sum(Quantity{}.Times(1, 2)), "is no quantity"},
		{sum(is("0."+strings.Repeat("1", 70)+" mm").Times(1, 7)), "is too long"},
		{rat(is("1 mm").Over(is("0 in"))), "cannot be divided by 0 in"},
		{rat(is("1 mm").Over(is("1 kg"))), "want a mass"},
		{rat(is("20 °C").Over(is("5 °C"))), "cannot be divided by 5 °C"},
	} {
		var qe *QuantityError
		if !errors.As(tt.err, &qe) || !strings.Contains(tt.err.Error(), tt.want) {
			t.Errorf("%v, want a QuantityError with %q", tt.err, tt.want)
		}
	}
}
