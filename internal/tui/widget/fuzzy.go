package widget

import (
	"cmp"
	"slices"
	"unicode"
)

// The scores of the ways in which a query can match, from which the length of the text
// is taken, so that of equal matches the shorter text comes first. Anything from
// close on is worth showing even beside better ones.
const (
	beginsText = 4000
	beginsWord = 3000
	prefixes   = 2000
	within     = 1000
	scattered  = 0
	longest    = 400 // the most that a length takes away
	close      = within - longest
)

// match reports whether all letters and digits of q, a query, stand in t, a text, in their order,
// both squeezed, and how well: more is better. Best is a text that begins so, then
// a word that does, then beginnings of several words ("mpb" for "Mount pump board"), then
// an unbroken run, last letters with others between. An empty query matches everything alike.
func match(q, t []rune, begins []bool) (score int, ok bool) {
	if len(q) == 0 {
		return 0, true
	}
	if !inOrder(q, t) {
		return 0, false
	}
	return matchTier(q, t, begins) - min(len(t), longest), true
}

// matchTier says how q stands in t, where it stands in order.
func matchTier(q, t []rune, begins []bool) int {
	if at := runAt(q, t, begins); at == 0 {
		return beginsText
	} else if at > 0 {
		return beginsWord
	}
	switch {
	case byPrefixes(q, t, begins):
		return prefixes
	case runAt(q, t, nil) >= 0:
		return within
	}
	return scattered
}

// squeeze adds the letters and digits of s in lower case to rs, and to begins which of
// them begin a word.
func squeeze(rs []rune, begins []bool, s string) ([]rune, []bool) {
	fresh := true
	for _, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			fresh = true
			continue
		}
		rs, begins = append(rs, unicode.ToLower(r)), append(begins, fresh)
		fresh = false
	}
	return rs, begins
}

// runAt gives where q stands unbroken in t, at a beginning where begins is given; -1 for nowhere.
func runAt(q, t []rune, begins []bool) int {
	for i := 0; i+len(q) <= len(t); i++ {
		if (begins == nil || begins[i]) && slices.Equal(t[i:i+len(q)], q) {
			return i
		}
	}
	return -1
}

// longestPrefixes is how many letters beginnings of words are looked for: a bit each.
const longestPrefixes = 63

// byPrefixes reports whether q is made of beginnings of words of t, in their order.
func byPrefixes(q, t []rune, begins []bool) bool {
	if len(q) > longestPrefixes {
		return false
	}
	// Bit i of can says that the first i of q are matched and the last of them stands just
	// before the letter looked at; of done, that they are matched somewhere before it.
	can, done := uint64(0), uint64(1)
	for j, r := range t {
		from := can
		if begins[j] {
			from |= done
		}
		can = 0
		for i, want := range q {
			if r == want {
				can |= from & (1 << i) << 1
			}
		}
		done |= can
	}
	return done&(1<<len(q)) != 0
}

func inOrder(q, t []rune) bool {
	i := 0
	for _, r := range t {
		if i < len(q) && r == q[i] {
			i++
		}
	}
	return i == len(q)
}

// Index keeps the letters of many texts, so that each search among them need not read
// the texts again. It never changes.
type Index struct {
	letters []rune
	begins  []bool
	ends    []int // of each text in letters
}

// NewIndex reads texts.
func NewIndex(texts []string) *Index {
	most := 0
	for _, s := range texts {
		most += len(s)
	}
	x := &Index{letters: make([]rune, 0, most), begins: make([]bool, 0, most), ends: make([]int, len(texts))}
	for i, s := range texts {
		x.letters, x.begins = squeeze(x.letters, x.begins, s)
		x.ends[i] = len(x.letters)
	}
	return x
}

// Rank gives the positions of the texts that query matches, best first, in their own
// order among equals. Scattered letters count only where nothing matches better.
func (x *Index) Rank(query string) []int {
	q, _ := squeeze(nil, nil, query)
	var at []int
	scores := make([]int, len(x.ends))
	best, from := 0, 0
	for i, end := range x.ends {
		score, ok := match(q, x.letters[from:end], x.begins[from:end])
		from = end
		if ok {
			at, scores[i], best = append(at, i), score, max(best, score)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(scores[b], scores[a]) })
	if best < close {
		return at
	}
	return slices.DeleteFunc(at, func(i int) bool { return scores[i] < close })
}

// Rank searches texts once, as Index.Rank does.
func Rank(query string, texts []string) []int { return NewIndex(texts).Rank(query) }
