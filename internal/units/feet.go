package units

import (
	"math/big"
	"regexp"
	"strings"
)

// feetForm is feet before inches: sign, feet, what parts them from the inches, inches.
var feetForm = regexp.MustCompile(`^([+−-]?) *([\d./ ]*\d\.?) *(?:ft|foot|feet|'|′|’)( *[–—−-]* *)((?:\d|\.\d).*)$`)

const wantFeet = `, want for example 5' 3 1/2" or 5 ft 3 1/2 in`

// feetInches reads feet before inches, as 5' 3 1/2" or 5 ft 3 1/2 in; ok says that text
// looks like it. The value is in inches.
func feetInches(text string) (v *big.Rat, why string, ok bool) {
	m := feetForm.FindStringSubmatch(text)
	if m == nil || len(text) > longest {
		return nil, "", false
	}
	feet, whole := new(big.Int).SetString(m[2], 10)
	inches, rest, why := cutNumber(m[4])
	u := unitsByName[rest]
	switch {
	case why != "":
		return nil, why, true
	case strings.Trim(m[3], " ") != "":
		return nil, "has a dash between feet and inches" + wantFeet, true
	case !whole:
		return nil, "has a part of a foot before the inches" + wantFeet, true
	case u == nil || u.name != "in":
		return nil, "has feet and then no inches" + wantFeet, true
	case inches.Cmp(big.NewRat(12, 1)) >= 0:
		return nil, "has 12 inches or more after the feet" + wantFeet, true
	}
	v = new(big.Rat).SetInt(feet.Mul(feet, big.NewInt(12)))
	v.Add(v, inches)
	if m[1] != "" && m[1] != "+" {
		v.Neg(v)
	}
	return v, "", true
}

// feetOrRange reports whether a range from low to high is as well feet and inches: 1'-8"
// is read both ways.
func feetOrRange(low, high Quantity) bool {
	return low.unit.name == "ft" && high.unit.name == "in" && high.value.Cmp(big.NewRat(12, 1)) < 0
}
