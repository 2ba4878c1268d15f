package profile

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/vanlog/internal/units"
)

// minutes is a profile as a plain list: what is in use in each minute.
type minutes [120]int

func (m *minutes) add(from, to, n int) {
	for at := from; at < to; at++ {
		m[at] += n
	}
}

// firstClash gives the first minute in [from, to) with more than free in use, -1 where
// there is none.
func (m *minutes) firstClash(from, to, free int) int {
	for at := from; at < to; at++ {
		if m[at] > free {
			return at
		}
	}
	return -1
}

// A profile knows what a list of minutes knows, whatever is added and taken away.
func TestProfileAgainstMinutes(t *testing.T) {
	for seed := range 400 {
		r := rand.New(rand.NewPCG(uint64(seed), 51))
		var p Profile
		var plain minutes
		for range 40 {
			from := r.IntN(100)
			to, n := from+r.IntN(20), 1+r.IntN(3)
			if r.IntN(3) == 0 {
				n = -n
			}
			p.Add(units.Instant(from), units.Instant(to), n, 0)
			plain.add(from, to, n)
			checkProfile(t, seed, p, &plain, r)
		}
	}
}

func checkProfile(t *testing.T, seed int, p Profile, plain *minutes, r *rand.Rand) {
	t.Helper()
	for at := range plain {
		used := 0
		if i := p.StepAt(units.Instant(at)); i >= 0 {
			used = int(p[i].Used)
		}
		if used != plain[at] {
			t.Fatalf("profile %d: %d in use at %d, want %d: %v", seed, used, at, plain[at], p)
		}
	}
	if !slices.IsSortedFunc(p, func(a, b Step) int { return int(a.At - b.At) }) {
		t.Fatalf("profile %d is out of order: %v", seed, p)
	}
	from, free := r.IntN(100), r.IntN(4)
	to, need := from+r.IntN(20), r.IntN(6)
	checkClash(t, p, plain, from, to, free, need)
	checkClashLast(t, p, plain, from, to, free)
}

// The start that is given after a clash is the first from which need minutes are free.
func checkClash(t *testing.T, p Profile, plain *minutes, from, to, free, need int) {
	t.Helper()
	later, clash := p.Clash(units.Instant(from), units.Instant(to), free, units.Instant(need))
	first := plain.firstClash(from, to, free)
	if clash != (first >= 0) {
		t.Fatalf("clash(%d, %d, %d): %v, but the first is at %d", from, to, free, clash, first)
	}
	if !clash {
		return
	}
	want := first
	for plain[want] > free || plain.firstClash(want, min(want+need, len(plain)), free) >= 0 {
		want++
	}
	if int(later.At) != want {
		t.Fatalf("clash(%d, %d, %d, %d) = %d, want %d: %v", from, to, free, need, later.At, want, p)
	}
}

func checkClashLast(t *testing.T, p Profile, plain *minutes, from, to, free int) {
	t.Helper()
	sooner, clash := p.ClashLast(units.Instant(from), units.Instant(to), free)
	want := -1
	for at := from; at < to; at++ {
		if plain[at] > free {
			want = at
		}
	}
	if clash != (want >= 0) {
		t.Fatalf("clashLast(%d, %d, %d): %v, but the last is at %d", from, to, free, clash, want)
	}
	for clash && want > 0 && plain[want-1] > free {
		want--
	}
	if clash && int(sooner) != want {
		t.Fatalf("clashLast(%d, %d, %d) = %d, want %d: %v", from, to, free, sooner, want, p)
	}
}
