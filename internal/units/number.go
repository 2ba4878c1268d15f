package units

import (
	"math/big"
	"regexp"
	"strings"
	"unicode"
)

// number is a number as people write it: with a sign, as a decimal, a fraction or a mixed number.
var number = regexp.MustCompile(`^([+−-]?) *(?:(?:(\d+) +)?(\d+)/(\d+)|(\d+\.?\d*|\.\d+))`)

// secondNumber is what follows a number that has a space, a comma or a sign in it.
var secondNumber = regexp.MustCompile(`^ *[,.+−-]? *\d`)

// oneSign are fractions, and a stroke for them, that only some keyboards have.
const oneSign = "½¼¾⅛⅜⅝⅞⅓⅔⁄"

// longest is how many bytes a quantity may have: more is no measure, and slow to count with.
const longest = 80

// cutNumber reads the number that text begins with; where there is none, why says so.
func cutNumber(text string) (v *big.Rat, rest, why string) {
	m := number.FindStringSubmatch(text)
	switch {
	case len(text) > longest:
		return nil, "", "is too long for a quantity, want for example 3.2 mm"
	case strings.ContainsAny(text, oneSign):
		return nil, "", "has a fraction in one sign: write it as 23 3/16"
	case m == nil:
		return nil, "", "begins with no number, want for example 12 N·m, 23 3/16 in, 3.2 mm"
	}
	v, why = valueOf(m[1:])
	rest = strings.TrimLeft(text[len(m[0]):], " ")
	if why == "" && secondNumber.MatchString(text[len(m[0]):]) {
		why = "is not one number: write decimals as 3.2, thousands as 1234, fractions as 23 3/16"
	}
	return v, rest, why
}

// valueOf gives the value of the groups of number: sign, whole, over, under, decimal.
func valueOf(m []string) (v *big.Rat, why string) {
	v, ok := new(big.Rat).SetString(m[4] + m[1])
	if !ok {
		v = new(big.Rat)
	}
	if m[3] != "" {
		over, _ := new(big.Int).SetString(m[2], 10)
		under, _ := new(big.Int).SetString(m[3], 10)
		if under.Sign() == 0 || (m[1] != "" && over.Cmp(under) >= 0) {
			return nil, "has a fraction that is none, want for example 23 3/16"
		}
		v.Add(v, new(big.Rat).SetFrac(over, under))
	}
	if m[0] != "" && m[0] != "+" {
		v.Neg(v)
	}
	return v, ""
}

// trimSpace takes the spaces off the ends of s, and makes one common space of every
// other kind: those that a word processor puts before a unit.
func trimSpace(s string) string {
	plain := strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '\u202f' || r == '\u2009' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	return strings.Trim(plain, " ")
}
