// Package find looks for words in many things at once, while they are being typed.
//
// What is asked for is words in any order, each anywhere in a thing: in its name or in what
// else is known of it. Case and accents do not count. A word that is nowhere is taken for a
// slip of the fingers, and those that are spelt nearly so are looked for; such hits
// come last. An Index is read-only and safe for use by several goroutines.
package find

import (
	"cmp"
	"slices"
	"strings"

	"example.com/vanlog/internal/id"
)

// Thing is something that can be found.
type Thing struct {
	Kind  string // what it is, in a word: task, entry, …
	ID    string // by which its list knows it
	Title string
	More  string // what else it can be found by, such as a note
}

// Hit is a thing that was found.
type Hit struct {
	Thing
	Guess bool // only with a word spelt otherwise
}

// Index is a list of things made ready.
type Index struct {
	things []Thing
	heads  []string // folded id and title
	all    []string // folded, with More
	words  []string // that there are anywhere, sorted
}

// New makes things ready. What comes first is shown first where nothing else tells.
func New(things []Thing) *Index {
	x := &Index{things: things, heads: make([]string, len(things)), all: make([]string, len(things))}
	seen := map[string]bool{}
	for i, t := range things {
		x.heads[i] = " " + fold(t.ID+" "+t.Title)
		x.all[i] = x.heads[i]
		if t.More != "" {
			x.all[i] += " " + fold(t.More)
		}
		for _, w := range strings.Fields(x.all[i]) {
			seen[w] = true
		}
	}
	x.words = make([]string, 0, len(seen))
	for w := range seen {
		x.words = append(x.words, w)
	}
	slices.Sort(x.words)
	return x
}

// fold writes a text as it is compared.
func fold(s string) string {
	return strings.Join(strings.Fields(id.Plain(s)), " ")
}

// Len gives the number of things.
func (x *Index) Len() int { return len(x.things) }

// Find gives the best hits, at most so many, and how many there are. A hit is the better, the
// more of the words are the id or begin it, begin the title or a word of it, or stand in it,
// rather than in what else is known; of those alike, the one that comes first among the
// things. Without words nothing is found.
func (x *Index) Find(query string, most int) (hits []Hit, all int) {
	words := strings.Fields(fold(query))
	if len(words) == 0 {
		return nil, 0
	}
	found := x.with(words)
	guess := false
	if len(found) == 0 {
		words, guess = x.nearest(words)
		if guess {
			found = x.with(words)
		}
	}
	for _, f := range x.best(found, most) {
		hits = append(hits, Hit{Thing: x.things[f.at], Guess: guess})
	}
	return hits, len(found)
}

// found is a thing with how well it fits.
type found struct {
	at    int
	score int
}

// with gives the things that have all words.
func (x *Index) with(words []string) []found {
	var out []found
	for i, text := range x.all {
		score := 0
		for _, w := range words {
			s := x.score(i, text, w)
			if s == 0 {
				score = 0
				break
			}
			score += s
		}
		if score > 0 {
			out = append(out, found{i, score})
		}
	}
	return out
}

// The marks that a word can give a thing.
const (
	inMore = 1 + iota
	inHead
	beginsWord
	beginsTitle
	isWord
	isID = 10
)

// score says how well a word fits a thing; 0: not at all.
func (x *Index) score(i int, text, word string) int {
	at := strings.Index(text, word)
	if at < 0 {
		return 0
	}
	head := x.heads[i]
	if at >= len(head) {
		return inMore
	}
	best := inHead
	for at >= 0 && at+len(word) <= len(head) {
		if head[at-1] == ' ' {
			best = max(best, whole(head, at, word, len(x.things[i].ID)))
		}
		next := strings.Index(head[at+1:], word)
		if next < 0 {
			break
		}
		at += 1 + next
	}
	return best
}

// whole says how well a word fits that begins at a place of a head, which begins with a blank and
// an id of so many letters.
func whole(head string, at int, word string, id int) int {
	end := at + len(word)
	switch ends := end == len(head) || head[end] == ' '; {
	case at == 1 && end == 1+id && ends:
		return isID
	case ends:
		return isWord
	case at <= id+2:
		return beginsTitle
	}
	return beginsWord
}

// best gives the best of what was found, in order.
func (x *Index) best(all []found, most int) []found {
	less := func(a, b found) int { return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.at, b.at)) }
	if len(all) <= most {
		slices.SortFunc(all, less)
		return all
	}
	// Only the best are put in order: the scores are few, so those under the last that counts go first.
	count := map[int]int{}
	for _, f := range all {
		count[f.score]++
	}
	scores := make([]int, 0, len(count))
	for s := range count {
		scores = append(scores, s)
	}
	slices.SortFunc(scores, func(a, b int) int { return cmp.Compare(b, a) })
	least, n := 0, 0
	for _, s := range scores {
		if least = s; n+count[s] >= most {
			break
		}
		n += count[s]
	}
	top := make([]found, 0, most)
	room := most - n // of those with the least score that counts
	for _, f := range all {
		switch {
		case f.score > least:
			top = append(top, f)
		case f.score == least && room > 0:
			top, room = append(top, f), room-1
		}
	}
	slices.SortFunc(top, less)
	return top
}

// nearest puts for each word that is nowhere the one that is spelt nearest to it. It is false
// where no word was changed, or one has none near.
func (x *Index) nearest(words []string) ([]string, bool) {
	out, changed := slices.Clone(words), false
	for i, w := range words {
		if x.anywhere(w) {
			continue
		}
		near := x.near(w)
		if near == "" {
			return words, false
		}
		out[i], changed = near, true
	}
	return out, changed
}

func (x *Index) anywhere(word string) bool {
	return slices.ContainsFunc(x.words, func(w string) bool { return strings.Contains(w, word) })
}

// near gives the word that differs least from one, in two letters at most and in a third of
// them; of those alike the first. A word that goes on counts by its beginning.
func (x *Index) near(word string) string {
	best, least := "", min(2, len(word)/3)+1
	for _, w := range x.words {
		if w[0] != word[0] && len(word) < 5 {
			continue // short words are not guessed from their ends
		}
		for _, as := range []string{w, w[:min(len(w), len(word))]} {
			if d := distance(word, as, least); d < least {
				best, least = w, d
			}
		}
	}
	return best
}

// distance counts the letters to put in, take out, change or swap with the next to make b of a
// (Damerau 1964, Levenshtein 1966, the restricted form); most where it is not less than that.
func distance(a, b string, most int) int {
	if len(a)-len(b) >= most || len(b)-len(a) >= most {
		return most
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(b)], most)
}
