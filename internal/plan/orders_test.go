package plan

import (
	"context"
	"flag"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/units"
)

var full = flag.Bool("full", false, "look at all random problems, not at the share that CI looks at")

// share gives how many of n random problems to look at.
func share(n int) int {
	if *full {
		return n
	}
	return n / 8
}

// orders places jobs minute by minute, in every order that the must edges allow: each at
// the first minute from which it can be worked to its end, by the words of the build file.
type orders struct {
	p             *Problem
	start, finish []units.Instant
	placed        []bool
	used          [][]int // by minute from Now, then resource
	best          outcome
	found         bool
}

// bestOrder gives the best that placing one after the other comes to. Where what is placed
// later changes how long something lasts the order does not count.
func bestOrder(p *Problem) (outcome, bool) {
	n := len(p.Jobs)
	o := orders{p: p, start: make([]units.Instant, n), finish: make([]units.Instant, n), placed: make([]bool, n)}
	for range clockEnd + 20 {
		o.used = append(o.used, make([]int, len(p.Resources)))
	}
	o.from(n, p.Now)
	return o.best, o.found
}

// from places what is left of the jobs.
func (o *orders) from(left int, end units.Instant) {
	if o.found && end > o.best.finish {
		return
	}
	if left == 0 {
		got, ok := simulate(o.p, o.start, o.finish)
		if ok && (!o.found || got.score().compare(o.best.score()) < 0) {
			o.best, o.found = got, true
		}
		return
	}
	for j := range o.p.Jobs {
		if o.placed[j] || !o.may(j) || !o.place(j) {
			continue
		}
		cured, _ := o.p.Jobs[j].Cure.End(o.finish[j])
		o.book(j, 1)
		o.placed[j] = true
		o.from(left-1, max(end, cured))
		o.placed[j] = false
		o.book(j, -1)
	}
}

// may reports whether all that must come before j is placed.
func (o *orders) may(j int) bool {
	for _, e := range o.p.Edges {
		if !e.Should && e.After == j && !o.placed[e.Before] {
			return false
		}
	}
	return true
}

func (o *orders) place(j int) bool {
	at := max(o.p.Now, o.p.Jobs[j].Release)
	for _, e := range o.p.Edges {
		if e.Should || e.After != j {
			continue
		}
		ready, _ := o.p.Jobs[e.Before].Cure.End(o.finish[e.Before])
		if e.Lag != nil {
			ready = o.finish[e.Before] + units.Instant(*e.Lag)
		}
		at = max(at, ready)
	}
	for ; at < o.p.Now+clockEnd; at++ {
		n, ok := o.length(j, at)
		if !ok {
			return false
		}
		if o.lies(j, at, n) {
			return true
		}
	}
	return false
}

// length gives how long j lasts from at, with what is placed.
func (o *orders) length(j int, at units.Instant) (int, bool) {
	fitted := Set{o.p.Fitted.word()}
	for k, job := range o.p.Jobs {
		if o.placed[k] && o.finish[k] <= at {
			for _, x := range job.Fits {
				fitted[0] |= 1 << x
			}
		}
	}
	n, ok := 0, true
	if o.p.Reach != nil {
		n, ok = o.p.Reach(j, fitted)
	}
	n += o.p.Jobs[j].Minutes + o.p.Owed[j]
	for _, e := range o.p.Edges {
		if e.Should && e.Before == j && o.placed[e.After] && o.start[e.After] < at && !o.p.Jobs[j].Started {
			n += e.Rework
		}
	}
	return n, ok
}

// lies reports whether j can be worked from at for n minutes, and then holds what its cure
// holds; it lies there then.
func (o *orders) lies(j int, at units.Instant, n int) bool {
	job := &o.p.Jobs[j]
	if n > 0 && !job.Hours.In(at) {
		return false
	}
	o.start[j], o.finish[j] = at, at
	for ; n > 0; o.finish[j]++ {
		if o.finish[j] >= o.p.Now+clockEnd {
			return false
		}
		if job.Hours.In(o.finish[j]) {
			n--
		}
	}
	o.book(j, 1)
	defer o.book(j, -1)
	for _, used := range o.used {
		for r, n := range used {
			if n > o.p.Resources[r].Capacity {
				return false
			}
		}
	}
	return true
}

// book adds times what j uses, where it lies.
func (o *orders) book(j, times int) {
	job := &o.p.Jobs[j]
	for at := o.start[j]; at < o.finish[j]; at++ {
		if !job.Hours.In(at) {
			continue
		}
		for _, u := range job.Uses {
			o.used[at-o.p.Now][u.Resource] += times * u.Units
		}
	}
	cured, _ := job.Cure.End(o.finish[j])
	for at := o.finish[j]; at < min(cured, o.p.Now+clockEnd); at++ {
		for _, r := range job.Holds {
			o.used[at-o.p.Now][r] += times
		}
	}
}

// Up to eight jobs, with everything in them that a problem can have: no order of placing
// them gives anything better than Find does.
func TestFindAgainstEveryOrder(t *testing.T) {
	better := 0
	count := share(2000)
	for seed := range count {
		r := rand.New(rand.NewPCG(uint64(seed), 31))
		p := tiny(r, 4+seed%5, seed%3 == 0)
		want, found := bestOrder(&p)
		s, err := Find(context.Background(), p, Options{})
		if err != nil {
			if found {
				t.Errorf("problem %d: %v, but there is %+v", seed, err, want)
			}
			continue
		}
		start, finish := make([]units.Instant, len(p.Jobs)), make([]units.Instant, len(p.Jobs))
		for _, row := range s.Rows {
			start[row.Job], finish[row.Job] = row.Start, row.Finish
		}
		if got, ok := simulate(&p, start, finish); s.Finish < p.Now+clockEnd && (!ok || got.score() != s.score()) {
			t.Errorf("problem %d: Find gives %+v, the clock says %v %+v", seed, s, ok, got)
		}
		switch {
		case !found:
		case s.score().compare(want.score()) > 0:
			t.Errorf("problem %d: Find gives %+v, but there is %+v", seed, s.score(), want)
		case s.score().compare(want.score()) < 0:
			better++
		case s.Bound > want.finish || s.Proven && s.Finish > want.finish:
			t.Errorf("problem %d: bound %v, but there is %+v", seed, s.Bound, want)
		}
	}
	t.Logf("%d of %d are better than any order of placing without looking ahead", better, count)
}
