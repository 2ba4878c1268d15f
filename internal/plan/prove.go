package plan

import (
	"cmp"
	"context"
	"slices"
)

// proof is branch and bound beside a search: each tells the other how soon all can finish.
type proof struct {
	*finder
	b    *branching
	s    *schedule
	list []int
}

// proofs gives branch and bound with time as it is, and with time running backward: often
// one of them is done soon where the other is not.
func (f *finder) proofs() []*proof {
	p := f.m.puzzle()
	out := []*proof{f.newProof(p)}
	if q, ok := p.mirrored(f.m.topo); ok {
		out = append(out, f.newProof(q))
	}
	return out
}

func (f *finder) newProof(p *puzzle) *proof {
	return &proof{finder: f, b: newBranching(p, far), s: newSchedule(f.m), list: make([]int, p.n)}
}

// run looks at so many nodes more. It reports whether nothing is left to look at; the bound is
// then the finish of the best.
func (v *proof) run(ctx context.Context, nodes int) bool {
	if v.found {
		v.b.best = min(v.b.best, int(v.best.Finish-v.m.p.Now))
	}
	done := v.b.run(ctx, nodes)
	if v.b.found {
		v.b.found = false
		v.tell()
	}
	if done && v.b.best < far {
		v.bound = max(v.bound, v.m.instant(v.b.best))
	}
	return done
}

// tell offers the best of branch and bound as a list.
func (v *proof) tell() {
	p := v.b.p
	key := func(j int) int {
		if p.mirror {
			return -v.b.starts[j] - p.long[j]
		}
		return v.b.starts[j]
	}
	copy(v.list, v.m.topo)
	slices.SortStableFunc(v.list, func(i, j int) int { return cmp.Compare(key(i), key(j)) })
	v.attempt(v.s, v.list, nil)
}
