package forecast

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"example.com/vanlog/internal/units"
)

const (
	usualSamples = 10_000
	chunk        = 32 // lives a worker takes at a time
)

// Run lives through the plan many times. The error is a *ProblemError, or the cause of ctx where it
// was cancelled. It needs 4 bytes for each job and life.
func Run(ctx context.Context, p Problem, o Options) (Result, error) {
	if o.Samples < 1 {
		o.Samples = usualSamples
	}
	n, err := newNetwork(&p, &o)
	if err != nil {
		return Result{}, err
	}
	s := study{p: &p, n: n, o: &o}
	if err := s.base(); err != nil {
		return Result{}, err
	}
	rec := newRecord(n, o.Samples)
	workers, err := s.live(ctx, thing{}, o.Samples, rec.note)
	if err != nil {
		return Result{}, err
	}
	result := rec.result(&p, workers)
	result.Movers, err = s.movers(ctx, rec)
	return result, err
}

// study is a forecast under way.
type study struct {
	p      *Problem
	n      *network
	o      *Options
	behind [][]int // see life
}

// base lives through the plan as likely, to see which cures are waited for.
func (s *study) base() error {
	likely, l := newLuck(s.n, thing{}), newLife(s.n)
	likely.likely()
	if j := l.run(likely.minutes, likely.there); j >= 0 {
		return s.endless(j)
	}
	s.behind = l.keepCures()
	return nil
}

func (s *study) endless(j int) error {
	return &ProblemError{string(s.p.Jobs[j].ID), "its hours never suffice to finish it or to cure it"}
}

// worker lives through some of the lives.
type worker struct {
	luck  *luck
	life  *life
	jobs  []int // lives in which each job lies on the chain that decides the finish
	parts []int
	stuck int // job that never finished in some life; -1: none
}

// live lives through so many lives with a thing held, and tells note of each, in any
// order, from several goroutines at once.
func (s *study) live(ctx context.Context, held thing, lives int, note func(i int, w *worker)) ([]*worker, error) {
	count := s.o.Workers
	if count < 1 {
		count = runtime.GOMAXPROCS(0)
	}
	workers := make([]*worker, count)
	var next atomic.Int64
	var all sync.WaitGroup
	for k := range workers {
		w := &worker{luck: newLuck(s.n, held), life: newLife(s.n), stuck: -1,
			jobs: make([]int, len(s.n.jobs)), parts: make([]int, len(s.n.parts))}
		w.life.behind, workers[k] = s.behind, w
		all.Go(func() {
			for ctx.Err() == nil && w.stuck < 0 {
				from := int(next.Add(chunk)) - chunk
				if from >= lives {
					return
				}
				w.live(s.o.Seed, from, min(from+chunk, lives), note)
			}
		})
	}
	all.Wait()
	for _, w := range workers {
		if w.stuck >= 0 {
			return nil, s.endless(w.stuck)
		}
	}
	return workers, context.Cause(ctx)
}

func (w *worker) live(seed uint64, from, to int, note func(i int, w *worker)) {
	for i := from; i < to; i++ {
		w.luck.draw(seed, i)
		if w.stuck = w.life.run(w.luck.minutes, w.luck.there); w.stuck >= 0 {
			return
		}
		w.life.chain(w.jobs, w.parts)
		note(i, w)
	}
}

// record is what is kept of all lives. Lives write to places of their own, so workers
// need no lock.
type record struct {
	now    units.Instant
	ends   []int32   // by life: minutes from now to the finish
	jobs   [][]int32 // by job and life: minutes from now to its finish
	drawn  [][]int32 // by job and early life: its minutes
	coming [][]int32 // by part and early life: minutes from now until it is there
}

// early is how many lives the draws are kept of, to see what moves the finish.
const early = 1000

func newRecord(n *network, lives int) *record {
	return &record{now: n.now, ends: make([]int32, lives), jobs: table(len(n.jobs), lives),
		drawn: table(len(n.jobs), min(lives, early)), coming: table(len(n.parts), min(lives, early))}
}

func table(rows, columns int) [][]int32 {
	cells := make([]int32, rows*columns)
	t := make([][]int32, rows)
	for i := range t {
		t[i] = cells[i*columns : (i+1)*columns]
	}
	return t
}

func (r *record) note(i int, w *worker) {
	_, end := w.life.end()
	r.ends[i] = int32(end - r.now)
	for j, finish := range w.life.finish {
		r.jobs[j][i] = int32(finish - r.now)
	}
	if i >= early {
		return
	}
	for j, minutes := range w.luck.minutes {
		r.drawn[j][i] = int32(minutes)
	}
	for p, there := range w.luck.there {
		r.coming[p][i] = int32(there - r.now)
	}
}
