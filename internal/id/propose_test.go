package id

import (
	"testing"

	"pgregory.net/rapid"
)

func TestPropose(t *testing.T) {
	for title, want := range map[string]string{
		"Mount the pump board": "mount-the-pump-board",
		"  Tür & Schloß  ":     "tuer-schloss",
		"Größe 23 3/16 in":     "groesse-23-3-16-in",
		"…":                    "",
		"a very long title that goes on and on and never ends": "a-very-long-title-that-goes-on-and-on-an",
	} {
		if got := Propose(title); got != want {
			t.Errorf("Propose(%q) = %q, want %q", title, got, want)
		}
	}
}

// Whatever the title, a proposal is a name that is not taken, or none.
func TestProposeFreeIsANameThatIsFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		taken := map[string]bool{}
		for _, title := range rapid.SliceOf(rapid.StringMatching(`[a-cÄ .]{0,45}`)).Draw(t, "titles") {
			name := ProposeFree(title, func(s string) bool { return taken[s] })
			if name == "" && Propose(title) == "" {
				continue
			}
			if !Valid(name) || taken[name] {
				t.Fatalf("ProposeFree(%q) = %q, with %v taken", title, name, taken)
			}
			taken[name] = true
		}
	})
}
