package plan

import (
	"math"
	"math/bits"
	"slices"
)

// buried is the cost of reaching what cannot be reached.
const buried = math.MaxInt

// memo answers what reaching a job costs, with the jobs of a bitset over
// model.fitters finished. More items never make it cheaper, so that an answer
// for a set bounds the answers for all its parts and for all sets around it: most
// questions are answered by two old answers that agree.
type memo struct {
	m       *model
	fits    [][]int // items of each fitter
	lows    [][]answer
	highs   [][]answer
	last    bitset // what was asked for last
	times   []int  // by item: how often it is fitted then
	scratch Set    // the items that are fitted then
	hasty   bool   // keep answers as they come: no further questions
}

// answer is what reaching costs with a set finished. Sets around it cost no less (it is
// in lows), parts of it no more (in highs).
type answer struct {
	done bitset
	cost int
}

// newMemo prepares the answers for m, whose fitters are known.
func newMemo(m *model) *memo {
	c := &memo{m: m, lows: make([][]answer, len(m.jobs)), highs: make([][]answer, len(m.jobs)), scratch: m.p.room()}
	c.last, c.times = make(bitset, m.words), make([]int, 64*len(c.scratch))
	for x := range c.times {
		if c.scratch.has(x) {
			c.times[x] = 1
		}
	}
	for _, j := range m.fitters {
		c.fits = append(c.fits, m.p.Jobs[j].Fits)
	}
	return c
}

// cost gives the minutes that reaching job costs with done finished, or buried.
func (c *memo) cost(job int, done bitset) int {
	low, high := 0, buried
	for _, a := range c.lows[job] {
		if a.cost > low && a.done.within(done) {
			low = a.cost
		}
	}
	for _, a := range c.highs[job] {
		if a.cost < high && done.within(a.done) {
			high = a.cost
		}
	}
	if low >= high {
		return low
	}
	return c.learn(job, done)
}

// ceiling gives a set around done with which job costs the same to reach, cost, as far as
// answers show; nil where they do not.
func (c *memo) ceiling(job int, done bitset, cost int) bitset {
	for _, a := range c.highs[job] {
		if a.cost == cost && done.within(a.done) {
			return a.done
		}
	}
	return nil
}

// learn asks, and keeps the answer for as many sets as few more questions find:
// it leaves out what the cost does not depend on.
func (c *memo) learn(job int, done bitset) int {
	cost := c.ask(job, done)
	part, whole := slices.Clone(done), slices.Clone(done)
	same := func(set bitset) func() bool { return func() bool { return c.ask(job, set) == cost } }
	if cost > 0 {
		if !c.hasty {
			c.drop(part, part.members(), same(part))
		}
		c.lows[job] = keep(c.lows[job], answer{part, cost}, func(a, b answer) bool {
			return a.cost <= b.cost && b.done.within(a.done)
		})
	}
	if cost < buried {
		if !c.hasty {
			c.drop(whole, c.outside(whole), same(whole))
		}
		c.highs[job] = keep(c.highs[job], answer{whole, cost}, func(a, b answer) bool {
			return a.cost >= b.cost && a.done.within(b.done)
		})
	}
	return cost
}

// outside gives the fitters that are not in done.
func (c *memo) outside(done bitset) (out []int) {
	for i := range c.m.fitters {
		if !done.has(i) {
			out = append(out, i)
		}
	}
	return out
}

// keep adds a to list, less what it makes needless: needless(x, y) where x says
// nothing that y does not say.
func keep(list []answer, a answer, needless func(x, y answer) bool) []answer {
	list = slices.DeleteFunc(list, func(x answer) bool { return needless(x, a) })
	return append(list, a)
}

// drop flips as many of members in set as same allows, half of them at a time.
func (c *memo) drop(set bitset, members []int, same func() bool) {
	if len(members) == 0 {
		return
	}
	for _, i := range members {
		set.flip(i)
	}
	if same() {
		return
	}
	for _, i := range members {
		set.flip(i)
	}
	if len(members) > 1 {
		c.drop(set, members[:len(members)/2], same)
		c.drop(set, members[len(members)/2:], same)
	}
}

// ask puts the question to the problem.
func (c *memo) ask(job int, done bitset) int {
	for w, word := range done {
		for changed := word ^ c.last[w]; changed != 0; changed &= changed - 1 {
			f := w*64 + bits.TrailingZeros64(changed)
			c.fit(f, done.has(f))
		}
		c.last[w] = word
	}
	minutes, ok := c.m.p.Reach(job, c.scratch)
	if !ok {
		return buried
	}
	return minutes
}

// fit puts the items of fitter f into scratch, or takes them out.
func (c *memo) fit(f int, in bool) {
	for _, x := range c.fits[f] {
		by := 1
		if !in {
			by = -1
		}
		c.times[x] += by
		if bit := uint64(1) << (x % 64); c.times[x] > 0 {
			c.scratch[x/64] |= bit
		} else {
			c.scratch[x/64] &^= bit
		}
	}
}

// bitset is a set of small numbers.
type bitset []uint64

func (b bitset) has(i int) bool { return b[i/64]>>(i%64)&1 == 1 }
func (b bitset) add(i int)      { b[i/64] |= 1 << (i % 64) }
func (b bitset) flip(i int)     { b[i/64] ^= 1 << (i % 64) }

func (b bitset) within(other bitset) bool {
	for i, w := range b {
		if w&^other[i] != 0 {
			return false
		}
	}
	return true
}

func (b bitset) addAll(other bitset) {
	for i, w := range other {
		b[i] |= w
	}
}

func (b bitset) members() (out []int) {
	for i, w := range b {
		for ; w != 0; w &= w - 1 {
			out = append(out, i*64+bits.TrailingZeros64(w))
		}
	}
	return out
}
