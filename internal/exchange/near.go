package exchange

import (
	"fmt"
	"strings"
)

// instead says what may have been meant by an unknown name: the nearest of the known
// ones, or all of them where none is near.
func instead(name string, known []string) string {
	best, least := "", len(name)/3+2
	for _, k := range known {
		if d := distance(strings.ToLower(name), k); d < least {
			best, least = k, d
		}
	}
	if best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	return "want one of " + strings.Join(known, ", ")
}

// distance counts the letters to put in, take out or change, to turn a into b
// (Levenshtein 1966). Long names are as far apart as they are long.
func distance(a, b string) int {
	if len(a) > 40 {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
