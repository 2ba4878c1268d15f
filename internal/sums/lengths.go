package sums

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/vanlog/internal/reckon"
	"example.com/vanlog/internal/units"
)

// rulers are the parts of an inch that a ruler may have.
func rulers() []int { return []int{16, 32, 64} }

func length() Sum {
	return Sum{Name: "length", About: "a sum of lengths, exact, and what a ruler shows of it", Fields: []Field{
		{Name: "sum", Label: "Sum", Hint: "such as 96 in - 4 × 23 1/2 in - 3 × 1/8 in, or 1234 mm / 2", Needed: true},
	}, work: func(a asked) (Answer, error) {
		q, err := reckonLength(a.text["sum"])
		if err != nil {
			return Answer{}, err
		}
		return lengthAnswer(q)
	}}
}

// lengthAnswer gives a length in its own unit, in the other, and on rulers.
func lengthAnswer(q units.Quantity) (Answer, error) {
	out := Answer{Lines: []string{q.String()}, Note: reckon.Note{Source: "exact fractions; 1 in is 25.4 mm (NIST SP 811, Appendix B)",
		Caution: "Cut from the exact length: a rounded one typed in again is an error."}}
	other := "mm"
	if q.Unit() == "mm" || q.Unit() == "m" || q.Unit() == "cm" {
		other = "in"
	}
	converted, err := q.To(other, 3)
	if err != nil {
		return Answer{}, err
	}
	out.Lines = append(out.Lines, "that is "+converted.String())
	for _, parts := range rulers() {
		mark, off, err := q.OnRuler(parts)
		if err != nil {
			return Answer{}, err
		}
		out.Lines = append(out.Lines, fmt.Sprintf("on a ruler of 1/%d in: %s (%s)", parts, mark, off))
	}
	return out, nil
}

// reckonLength reads a sum of lengths: terms with + or - between, each a length, maybe times a
// whole number before it or divided by one after it.
func reckonLength(text string) (units.Quantity, error) {
	var sum units.Quantity
	for _, t := range terms(text) {
		q, err := term(t.text)
		if err != nil {
			return sum, err
		}
		switch {
		case t.minus && sum.IsZero():
			q, err = q.Times(-1, 1)
			sum = q
		case sum.IsZero():
			sum = q
		case t.minus:
			sum, err = sum.Minus(q)
		default:
			sum, err = sum.Plus(q)
		}
		if err != nil {
			return sum, err
		}
	}
	if sum.IsZero() {
		return sum, fmt.Errorf("sum: there is no length in %q", text)
	}
	return sum, nil
}

type signed struct {
	minus bool
	text  string
}

// terms parts a sum at its signs. A sign stands between blanks, so that 3-1/2 stays one number.
func terms(text string) []signed {
	text = strings.NewReplacer("−", "-", "–", "-").Replace(" " + text + " ")
	var out []signed
	now := signed{}
	for _, word := range strings.Fields(text) {
		switch word {
		case "+", "-":
			if strings.TrimSpace(now.text) != "" {
				out = append(out, now)
			}
			now = signed{minus: word == "-"}
		default:
			now.text += " " + word
		}
	}
	return append(out, now)
}

// term reads "4 × 23 1/2 in", "1234 mm / 2" or a length.
func term(text string) (units.Quantity, error) {
	text = strings.TrimSpace(strings.NewReplacer("*", "×", " x ", " × ").Replace(text))
	over, under := int64(1), int64(1)
	if n, rest, ok := strings.Cut(text, "×"); ok {
		v, err := strconv.ParseInt(strings.TrimSpace(n), 10, 64)
		if err != nil {
			return units.Quantity{}, fmt.Errorf("sum: %q is no whole number of times", strings.TrimSpace(n))
		}
		over, text = v, strings.TrimSpace(rest)
	}
	if rest, n, ok := strings.Cut(text, " / "); ok {
		v, err := strconv.ParseInt(strings.TrimSpace(n), 10, 64)
		if err != nil {
			return units.Quantity{}, fmt.Errorf("sum: %q is no whole number of parts", strings.TrimSpace(n))
		}
		under, text = v, strings.TrimSpace(rest)
	}
	q, err := units.ParseQuantity(text)
	if err != nil {
		return q, fmt.Errorf("sum: %w", err)
	}
	if q.Dimension() != units.Length {
		return q, fmt.Errorf("sum: %s is no length", q)
	}
	if over == 1 && under == 1 {
		return q, nil
	}
	return q.Times(over, under)
}

func recess() Sum {
	return Sum{Name: "recess", About: "what is left behind a recess in a panel", Fields: []Field{
		{Name: "panel", Label: "Panel", Hint: "its thickness, measured, such as 17.8 mm", Needed: true},
		{Name: "depth", Label: "Depth", Hint: "of the recess, such as 13 mm", Needed: true},
		{Name: "backed", Label: "Backing plate", Hint: "behind a recessed handle", Words: []string{"no", "yes"}, Default: "no"},
	}, work: func(a asked) (Answer, error) {
		q, err := a.quantities("panel", "depth")
		if err != nil {
			return Answer{}, err
		}
		v, err := reckon.Behind(q[0], q[1])
		out, err := valued(v, err, "left behind it:", 2, "in")
		if err != nil {
			return out, err
		}
		holds, err := reckon.HandleHolds(q[0], q[1], a.text["backed"] == "yes")
		if err == nil {
			out.Lines = append(out.Lines, map[bool]string{true: "enough for a handle: ", false: "too little for a handle: "}[holds.OK]+holds.Text+" ("+holds.Note.Source+")")
		}
		return out, err
	}}
}

func bead() Sum {
	return Sum{Name: "bead", About: "how long a deep bead of sealant cures", Fields: []Field{
		{Name: "depth", Label: "Depth", Hint: "of the bead, such as 6 mm", Needed: true},
		{Name: "sheet-depth", Label: "Depth on the sheet", Hint: "of the tube", Default: "3 mm"},
		{Name: "sheet-time", Label: "Time on the sheet", Hint: "for that depth", Default: "24 h"},
	}, work: func(a asked) (Answer, error) {
		q, err := a.quantities("depth", "sheet-depth", "sheet-time")
		if err != nil {
			return Answer{}, err
		}
		v, err := reckon.BeadCure(q[0], q[1], q[2])
		return valued(v, err, "cured after", 1)
	}}
}

func pieces() Sum {
	return Sum{Name: "pieces", About: "how many pieces of a length a bar gives", Fields: []Field{
		{Name: "bar", Label: "Bar", Hint: "its length, such as 6000 mm", Needed: true},
		{Name: "piece", Label: "Piece", Hint: "such as 23 3/16 in", Needed: true},
		{Name: "kerf", Label: "Kerf", Hint: "of the saw", Default: "2.4 mm"},
		{Name: "trim", Label: "Trim", Hint: "what squaring the first end takes; empty: nothing"},
	}, work: func(a asked) (Answer, error) {
		q, err := a.quantities("bar", "piece", "kerf", "trim")
		if err != nil {
			return Answer{}, err
		}
		b, err := reckon.Pieces(q[0], q[1], q[2], q[3])
		if err != nil {
			return Answer{}, err
		}
		return Answer{Lines: []string{fmt.Sprintf("%d pieces, %s left", b.Pieces, b.Left)}, Note: b.Note}, nil
	}}
}

func expansion() Sum {
	return Sum{Name: "expansion", About: "how much an aluminium profile grows in the warm", Fields: []Field{
		{Name: "length", Label: "Length", Hint: "such as 3 m", Needed: true},
		{Name: "rise", Label: "Rise", Hint: "in degrees Celsius", Default: "30"},
	}, work: func(a asked) (Answer, error) {
		q, err := a.quantities("length")
		if err != nil {
			return Answer{}, err
		}
		rise, err := a.number("rise")
		if err != nil {
			return Answer{}, err
		}
		v, err := reckon.Expansion(q[0], rise)
		return valued(v, err, "it grows by", 2)
	}}
}
