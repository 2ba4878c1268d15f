package id

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestValidIsThePattern checks Valid against the pattern that the build file states.
func TestValidIsThePattern(t *testing.T) {
	pattern := regexp.MustCompile(`\A[a-z0-9][a-z0-9-]{0,39}\z`)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-z0-9-]{0,42}`)).Draw(t, "name")
		if got, want := Valid(s), pattern.MatchString(s); got != want {
			t.Fatalf("Valid(%q) = %v, want %v", s, got, want)
		}
	})
	if !Valid(Task(strings.Repeat("a", MaxLen))) || Valid(Task(strings.Repeat("a", MaxLen+1))) {
		t.Errorf("the longest name is not %d characters", MaxLen)
	}
}
