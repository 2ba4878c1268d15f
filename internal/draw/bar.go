package draw

import (
	"math"
	"strings"
)

// Bar draws a share of most as a bar of at most w columns, to an eighth of a column; what is
// more than most fills it, and what is more than nothing shows.
func Bar(share, most float64, w int) string {
	if !(share > 0) || !(most > 0) || w < 1 {
		return ""
	}
	eighths := int(math.Round(math.Min(share/most, 1) * float64(8*w)))
	eighths = max(eighths, 1)
	out := strings.Repeat("█", eighths/8)
	if rest := eighths % 8; rest > 0 {
		out += string([]rune("▏▎▍▌▋▊▉")[rest-1])
	}
	return out
}

// Scale draws where something lies on a line of w columns from 0 to most: a mark at each of some
// values, the later ones over the earlier.
func Scale(most float64, w int, marks ...ScaleMark) string {
	line := []rune(strings.Repeat("·", max(0, w)))
	for _, m := range marks {
		if at := int(math.Round(m.At / most * float64(w-1))); most > 0 && w > 0 {
			line[max(0, min(at, w-1))] = m.Sign
		}
	}
	return string(line)
}

// ScaleMark is a sign at a value.
type ScaleMark struct {
	At   float64
	Sign rune
}
