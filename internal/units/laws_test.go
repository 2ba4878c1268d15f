package units

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// sixtyFourths draws a length in 1/64 in and writes it as people do: in inches, or in feet
// and inches.
func sixtyFourths(t *rapid.T, name string) (n int, text string) {
	n = rapid.IntRange(0, 64*12*30).Draw(t, name)
	whole, part := n/64, n%64
	foot := rapid.Bool().Draw(t, name+" in feet")
	switch {
	case foot && part == 0:
		return n, fmt.Sprintf(`%d' %d"`, whole/12, whole%12)
	case foot:
		return n, fmt.Sprintf("%d ft %d %d/64 in", whole/12, whole%12, part)
	case part == 0:
		return n, fmt.Sprintf("%d in", whole)
	}
	return n, fmt.Sprintf("%d %d/64 in", whole, part)
}

func parsed(t *rapid.T, s string) Quantity {
	q, err := ParseQuantity(s)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// Sums of fractional inches are sums of whole sixty-fourths, which the test does in
// integers, and what is added and taken off again leaves the length as it was.
func TestSumsAreThoseOfSixtyFourths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, a := sixtyFourths(t, "a")
		m, b := sixtyFourths(t, "b")
		qa, qb := parsed(t, a), parsed(t, b)
		sum, err := qa.Plus(qb)
		if err != nil || sum.Value().Cmp(big.NewRat(int64(n+m), 64)) != 0 {
			t.Fatalf("%s + %s = %s, %v, want %d/64 in", a, b, sum, err, n+m)
		}
		left, err := sum.Minus(qb)
		if err != nil || left.Value().Cmp(qa.Value()) != 0 {
			t.Fatalf("%s - %s = %s, %v, want %s", sum, b, left, err, a)
		}
		if by, err := qa.Compare(qb); err != nil || by != compareInts(n, m) {
			t.Fatalf("Compare(%s, %s) = %d, %v", a, b, by, err)
		}
		if m == 0 {
			return
		}
		if times, err := qa.Over(qb); err != nil || times.Cmp(big.NewRat(int64(n), int64(m))) != 0 {
			t.Fatalf("%s / %s = %v, %v, want %d/%d", a, b, times, err, n, m)
		}
	})
}

func compareInts(a, b int) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// The mark of a ruler is off by half a part at most, no other mark is nearer, and the
// error that is shown is that of the mark, to a hundredth of a millimetre.
func TestRulerIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.Int64Range(-50_000, 50_000).Draw(t, "tenths of a millimetre")
		parts := rapid.SampledFrom([]int{16, 32, 64}).Draw(t, "parts")
		q := parsed(t, fmt.Sprintf("%s mm", big.NewRat(tenths, 10).FloatString(1)))
		mark, off, err := q.OnRuler(parts)
		if err != nil {
			t.Fatal(err)
		}
		// In parts of 1/64 in: 1 in = 25.4 mm = 254 tenths.
		exact := new(big.Rat).Mul(mark.Value(), big.NewRat(254, 1))
		exact.Sub(exact, big.NewRat(tenths, 1)) // tenths of a millimetre
		half := big.NewRat(254, int64(2*parts))
		if new(big.Rat).Abs(exact).Cmp(half) > 0 {
			t.Fatalf("%s on a ruler of 1/%d is %s, more than half a part off", q, parts, mark)
		}
		if marks := new(big.Rat).Mul(mark.Value(), big.NewRat(int64(parts), 1)); !marks.IsInt() {
			t.Fatalf("%s is no mark of 1/%d", mark, parts)
		}
		shown := new(big.Rat).Sub(new(big.Rat).Mul(off.Value(), big.NewRat(10, 1)), exact)
		if shown.Abs(shown).Cmp(big.NewRat(1, 20)) > 0 {
			t.Fatalf("%s is said to be %s off %s", mark, off, q)
		}
	})
}

// A tolerance holds its limits and nothing beyond them, reckoned here in whole hundredths.
func TestToleranceHoldsItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		middle := rapid.Int64Range(1, 20_000).Draw(t, "hundredths of a newton metre")
		percent := rapid.Int64Range(0, 50).Draw(t, "percent")
		reading := rapid.Int64Range(0, 40_000).Draw(t, "reading, hundredths")
		nm := func(hundredths int64) string { return big.NewRat(hundredths, 100).FloatString(2) + " N·m" }
		w, err := ParseWant(fmt.Sprintf("%s ±%d %%", nm(middle), percent))
		if err != nil {
			t.Fatal(err)
		}
		good := reading*100 >= middle*(100-percent) && reading*100 <= middle*(100+percent)
		if got, err := w.Holds(parsed(t, nm(reading))); got != good || err != nil {
			t.Fatalf("%s holds %s = %v, %v, want %v", w, nm(reading), got, err, good)
		}
	})
}

// Every span of a day reads back from each way of writing it.
func TestEverySpanReads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(0, 1439).Draw(t, "from")
		to := rapid.IntRange(from+1, 1440).Draw(t, "to")
		dash := rapid.SampledFrom([]string{"-", " - ", "–", " – ", "—", "−"}).Draw(t, "dash")
		form := rapid.SampledFrom([]string{"%d:%02d", "%02d:%02d"}).Draw(t, "form")
		s := fmt.Sprintf(form+"%s"+form, from/60, from%60, dash, to/60, to%60)
		if a, b, err := ParseSpan(s); a != from || b != to || err != nil {
			t.Fatalf("ParseSpan(%q) = %d, %d, %v, want %d, %d", s, a, b, err, from, to)
		}
		if _, _, err := ParseSpan(fmt.Sprintf(form+"%s"+form, to/60, to%60, dash, from/60, from%60)); err == nil {
			t.Fatalf("%q backwards was read", s)
		}
	})
}

// Each way that people write hours and minutes reads as the same length of work.
func TestEveryLengthOfWorkReads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, m := rapid.IntRange(0, 400).Draw(t, "hours"), rapid.IntRange(0, 59).Draw(t, "minutes")
		want := Minutes(h*60 + m)
		for _, s := range []string{
			fmt.Sprintf("%dh%02d", h, m), fmt.Sprintf("%dh %dm", h, m), fmt.Sprintf("%d h %d min", h, m), fmt.Sprintf("%d:%02d", h, m),
			fmt.Sprintf("%d", h*60+m), fmt.Sprintf("%dm", h*60+m), fmt.Sprintf("%d min", h*60+m), want.String(),
			big.NewRat(int64(want), 60).FloatString(4) + "h", // to a 10,000th of an hour: nearer than half a minute
		} {
			if got, err := ParseMinutes(s); got != want || err != nil {
				t.Fatalf("ParseMinutes(%q) = %d, %v, want %d", s, got, err, want)
			}
		}
	})
}
