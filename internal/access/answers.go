package access

import "sync"

// answers keeps the costs of a question, by those fitted items that can matter for it.
type answers struct {
	mu    sync.RWMutex
	words int              // of a set
	first map[uint64]int32 // by hash: 1 + the first answer
	next  []int32          // 1 + the next answer of the same hash
	sets  []uint64         // the sets, end to end
	costs []Cost           // less than 0: no way

	witnesses []witness
	oldest    int    // of them
	zones     *lists // of the last of them that had any
}

// keep is how many answers of one question are kept; then it begins anew.
const keep = 1 << 15

// witnesses is how many witnesses of one question are kept; then the oldest goes.
const witnesses = 32

// noWay stands for the cost where there is no way.
const noWay Cost = -1

func (a *answers) init(words int) {
	a.words = words
}

// hashOf mixes the words of fitted that relevant has.
func hashOf(fitted, relevant Set) uint64 {
	h := uint64(len(relevant))
	for w, mask := range relevant {
		h ^= fitted.word(w) & mask
		h *= 0x9e3779b97f4a7c15
		h ^= h >> 29
	}
	return h
}

func (a *answers) get(fitted, relevant Set) (Cost, bool) {
	h := hashOf(fitted, relevant)
	a.mu.RLock()
	defer a.mu.RUnlock()
	for at := a.first[h]; at != 0; at = a.next[at-1] {
		if a.same(int(at-1), fitted, relevant) {
			return a.costs[at-1], true
		}
	}
	return 0, false
}

func (a *answers) same(at int, fitted, relevant Set) bool {
	set := a.sets[at*a.words : (at+1)*a.words]
	for w, mask := range relevant {
		if set[w] != fitted.word(w)&mask {
			return false
		}
	}
	return true
}

// similar gives the cost for a set of relevant items from a witness, if there is one
// that speaks for it.
func (a *answers) similar(set Set) (Cost, bool) {
	a.mu.RLock()
	defer a.mu.RUnlock()
	for i := range a.witnesses {
		if w := &a.witnesses[i]; w.speaksFor(set) {
			return w.cost, true
		}
	}
	return 0, false
}

// zonesKept gives the zones of the last witness.
func (a *answers) zonesKept() *lists {
	a.mu.RLock()
	defer a.mu.RUnlock()
	if a.zones == nil {
		return &lists{}
	}
	return a.zones
}

// put keeps a cost for a set that holds relevant items only, and what was learned with it.
func (a *answers) put(set Set, c Cost, w *witness) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.first == nil { // most questions are only planned
		a.first = map[uint64]int32{}
	}
	if len(a.costs) >= keep {
		clear(a.first)
		a.next, a.sets, a.costs = a.next[:0], a.sets[:0], a.costs[:0]
	}
	h := hashOf(set, set)
	a.sets = append(a.sets, set...)
	a.costs = append(a.costs, c)
	a.next = append(a.next, a.first[h])
	a.first[h] = int32(len(a.costs))
	if w == nil {
		return
	}
	if len(w.zones.ends) > 0 {
		a.zones = w.zones
	}
	if len(a.witnesses) < witnesses {
		a.witnesses = append(a.witnesses, *w)
	} else {
		a.witnesses[a.oldest] = *w
		a.oldest = (a.oldest + 1) % witnesses
	}
}
