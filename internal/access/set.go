package access

import (
	"math/bits"

	"example.com/vanlog/internal/id"
)

// Set is a set of items of one Solver: bit i of word i/64 is the i-th item. A Set may
// be shorter than the van has items; what it has no word for is not in it.
type Set []uint64

// Set makes a set of the named items; names that the van does not have are left out.
func (s *Solver) Set(items ...id.Item) Set {
	set := newSet(len(s.van.items))
	for _, name := range items {
		if i, ok := s.van.itemAt[name]; ok {
			set.add(i)
		}
	}
	return set
}

// All gives the set of all items.
func (s *Solver) All() Set {
	set := newSet(len(s.van.items))
	for i := range s.van.items {
		set.add(int32(i))
	}
	return set
}

func newSet(n int) Set { return make(Set, (n+63)/64) }

func (s Set) add(i int32)  { s[i/64] |= 1 << (i % 64) }
func (s Set) drop(i int32) { s[i/64] &^= 1 << (i % 64) }

func (s Set) has(i int32) bool {
	return int(i/64) < len(s) && s[i/64]&(1<<(i%64)) != 0
}

// word gives word w of s.
func (s Set) word(w int) uint64 {
	if w < len(s) {
		return s[w]
	}
	return 0
}

// each calls f with every item of s, in order.
func (s Set) each(f func(i int32)) {
	for w, word := range s {
		for ; word != 0; word &= word - 1 {
			f(int32(w*64 + bits.TrailingZeros64(word)))
		}
	}
}

// only gives what is in both s and in, as a set of the length of in.
func (s Set) only(in Set) Set {
	both := make(Set, len(in))
	for w := range in {
		both[w] = s.word(w) & in[w]
	}
	return both
}
