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

// Match reports whether all letters and digits of query stand in text in their order,
// capitals not looked at, and how well: more is better. Best is a text that begins so, then
// a word that does, then beginnings of several words ("mpb" for "Mount pump board"), then
// an unbroken run, last letters with others between. An empty query matches everything alike.
func Match(query, text string) (score int, ok bool) {
	q, _ := squeeze(query)
	if len(q) == 0 {
		return 0, true
	}
	t, begins := squeeze(text)
	tier, ok := matchTier(q, t, begins)
	return tier - min(len(t), longest), ok
}

func matchTier(q, t []rune, begins []bool) (int, bool) {
	if at := runAt(q, t, begins); at == 0 {
		return beginsText, true
	} else if at > 0 {
		return beginsWord, true
	}
	switch {
	case byPrefixes(q, t, begins):
		return prefixes, true
	case runAt(q, t, nil) >= 0:
		return within, true
	}
	return scattered, inOrder(q, t)
}

// squeeze gives the letters and digits of s in lower case, and which of them begin a word.
func squeeze(s string) (rs []rune, begins []bool) {
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

// byPrefixes reports whether q is made of beginnings of words of t, in their order.
func byPrefixes(q, t []rune, begins []bool) bool {
	// can[i] says that the first i of q are matched and the last of them stands just before
	// the letter looked at; done[i] that they are matched somewhere before it.
	can, done := make([]bool, len(q)+1), make([]bool, len(q)+1)
	done[0] = true
	for j, r := range t {
		next := make([]bool, len(q)+1)
		for i, want := range q {
			next[i+1] = r == want && (can[i] || begins[j] && done[i])
		}
		can = next
		for i := range next {
			done[i] = done[i] || next[i]
		}
	}
	return done[len(q)]
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

// Rank gives the positions of the texts that query matches, best first, in their own
// order among equals. Scattered letters count only where nothing matches better.
func Rank(query string, texts []string) []int {
	var at []int
	scores := make([]int, len(texts))
	best := 0
	for i, t := range texts {
		score, ok := Match(query, t)
		if !ok {
			continue
		}
		at, scores[i], best = append(at, i), score, max(best, score)
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(scores[b], scores[a]) })
	if best < close {
		return at
	}
	return slices.DeleteFunc(at, func(i int) bool { return scores[i] < close })
}
