package id

import (
	"fmt"
	"strings"
	"unicode"
)

// plainLetters writes the letters of western Europe in those that a name may have.
var plainLetters = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "æ", "ae", "ø", "oe", "å", "aa",
	"à", "a", "á", "a", "â", "a", "ã", "a", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e", "ì", "i", "í", "i", "î", "i", "ï", "i",
	"ñ", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ù", "u", "ú", "u", "û", "u", "ý", "y", "ł", "l", "š", "s", "ž", "z", "č", "c")

// Plain writes a text in small letters without accents, as texts are compared.
func Plain(s string) string { return plainLetters.Replace(strings.ToLower(s)) }

// Propose makes a name of a title: "Mount the pump board" gives mount-the-pump-board, cut to
// MaxLen. A title without letters and digits gives none.
func Propose(title string) string {
	var b strings.Builder
	for _, r := range Plain(title) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-") && !unicode.Is(unicode.M, r):
			b.WriteByte('-')
		}
	}
	s := b.String()
	return strings.Trim(s[:min(len(s), MaxLen)], "-")
}

// ProposeFree is Propose with a number at its end where the name is taken.
func ProposeFree(title string, taken func(name string) bool) string {
	base := Propose(title)
	if base == "" {
		return ""
	}
	for n, s := 2, base; ; n++ {
		if !taken(s) {
			return s
		}
		end := fmt.Sprintf("-%d", n)
		s = strings.Trim(base[:min(len(base), MaxLen-len(end))], "-") + end
	}
}
