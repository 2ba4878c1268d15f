package plan

import (
	"cmp"
	"context"
	"slices"
	"sync"
	"sync/atomic"

	"example.com/vanlog/internal/units"
)

// Find gives the best sequence found: earliest finish, then least work, then fewest
// should edges broken. Its rows are the same for the same problem and options when the search
// ends by itself, or by Options.Schedules; where ctx or the time ends first it is the best so
// far. Where there is no valid sequence, or none was found, the error is a *NoSequenceError.
func Find(ctx context.Context, p Problem, o Options) (Sequence, error) {
	m, err := newModel(&p)
	if err != nil {
		return Sequence{}, err
	}
	w, err := m.heads()
	if err != nil {
		return Sequence{}, err
	}
	f := &finder{m: m, w: w, better: o.Better, bound: m.bound(w)}
	if !f.resume(o.Last) {
		f.first()
	}
	whole := false
	if !f.settled() {
		whole = f.tryAll(ctx, exactNodes) && f.m.fixed()
	}
	if whole && f.found {
		f.bound = f.best.Finish
	}
	if (o.Time > 0 || o.Schedules > 0) && !f.settled() {
		f.improve(ctx, o)
	}
	if !f.found {
		return Sequence{}, f.none(whole)
	}
	return f.result(), nil
}

// exactNodes is how many beginnings of orders are looked at in a small problem.
const exactNodes = 200_000

// searchSchedules is how many schedules a search makes that nothing else ends.
const searchSchedules = 4_000_000

// improve searches for better sequences and, beside that, for a better bound, until both
// have come to their end, or nothing can be better, or ctx or the time ends.
func (f *finder) improve(ctx context.Context, o Options) {
	timed, cancel := context.WithCancel(ctx)
	if o.Time > 0 {
		timed, cancel = context.WithTimeout(ctx, o.Time)
	}
	defer cancel()
	var beside sync.WaitGroup
	if len(f.m.jobs) <= narrowJobs {
		w, low := slices.Clone(f.w), f.bound
		beside.Go(func() {
			f.m.raise(timed, w, low, func(at units.Instant) { f.raised.Store(int64(at)) })
		})
	}
	f.search(timed, o.Seed, cmp.Or(o.Schedules, searchSchedules), o.Schedules == 0)
	if f.settled() || o.Schedules > 0 {
		cancel()
	}
	beside.Wait()
	f.settled()
}

// finder is a search under way.
type finder struct {
	m      *model
	w      []window
	bound  units.Instant
	raised atomic.Int64 // a better bound, found beside the search
	better func(Sequence)
	best   Sequence
	found  bool
	list   []int // the order of placing that the best came of, or the last that was tried
	stuck  int   // a job that found no place, or came too late
}

// offer takes s, a schedule of all jobs, as the best, if it is one. It has been checked
// then, against the problem alone.
func (f *finder) offer(s *schedule) bool {
	now := s.score()
	if now.late > 0 || f.found && now.compare(f.best.score()) >= 0 {
		return false
	}
	found, err := evaluate(f.m.p, s.start, s.finish)
	if err != nil || f.found && found.score().compare(f.best.score()) >= 0 {
		return false
	}
	f.take(found)
	return true
}

// take takes s as the best.
func (f *finder) take(s Sequence) {
	f.best, f.found = s, true
	if f.better != nil {
		f.better(f.result())
	}
}

func (s *Sequence) score() score {
	return score{finish: s.Finish, work: s.Work, broken: len(s.Broken)}
}

func (f *finder) proven() bool { return f.found && f.bound == f.best.Finish }

// settled reports whether nothing can be better than the best, after taking in a bound
// that was found beside the search.
func (f *finder) settled() bool {
	f.bound = max(f.bound, units.Instant(f.raised.Load()))
	return f.proven() && f.best.Work == f.m.leastWork() && len(f.best.Broken) == 0
}

// leastWork gives the minutes of work that every order needs.
func (m *model) leastWork() (least int) {
	for j := range m.jobs {
		least += m.jobs[j].minutes
	}
	return least
}

// result gives the best with its bound.
func (f *finder) result() Sequence {
	s := f.best
	s.Bound = f.bound
	s.Proven = s.Bound == s.Finish
	return s
}

// first makes the first plan: by latest finish, as the tasks that follow leave it, and
// then by the starts that come of it where reaching costs no more than it must.
func (f *finder) first() {
	f.m.tails(f.w, f.bound)
	s := newSchedule(f.m)
	list := f.m.listBy(func(j int) int64 { return int64(f.w[j].last) })
	s.rough = true
	s.run(list, nil)
	if s.rough = false; len(s.order) == len(list) {
		list = f.m.listBy(func(j int) int64 { return int64(s.start[j]) })
	}
	s.clear()
	f.attempt(s, list, nil)
	if len(list) <= narrowFirst {
		f.firstNarrow(s)
	}
}

// narrowFirst is the largest problem whose first plan waits for narrow windows.
const narrowFirst = 250

// firstNarrow tries the jobs by their latest starts in windows that are narrowed for a finish
// as soon as they allow.
func (f *finder) firstNarrow(s *schedule) {
	n := f.m.newNarrowing(f.w)
	for end := f.bound; end < f.bound+60*units.Day; end += 2 * units.Day {
		copy(n.w, f.w)
		if !n.possible(end) {
			continue
		}
		s.clear()
		f.attempt(s, f.m.listBy(func(j int) int64 { return int64(n.w[j].latest) }), nil)
		return
	}
}

// attempt runs list (see run) and offers what comes of it.
func (f *finder) attempt(s *schedule, list []int, latest []units.Instant) score {
	got := s.run(list, latest)
	if got.late == 0 {
		if f.offer(s) {
			f.list = slices.Clone(list)
		}
		return got
	}
	if f.stuck = f.worst(s); f.list == nil {
		f.list = slices.Clone(list)
	}
	return got
}

// worst gives the job that is latest, or the first without a place.
func (f *finder) worst(s *schedule) int {
	worst, most := 0, units.Instant(-never)
	for j := range f.m.jobs {
		late := s.finish[j] - f.m.jobs[j].deadline
		if !s.placed[j] {
			late = never
		}
		if late > most {
			worst, most = j, late
		}
	}
	return worst
}

func (f *finder) none(sure bool) error {
	b := &f.m.jobs[f.stuck]
	why := "no order was found in which it can still be reached and its resources are free"
	if b.deadline < never {
		why = "no order was found in which it finishes by " + b.deadline.String()
	}
	return &NoSequenceError{Job: f.stuck, ID: f.m.p.Jobs[f.stuck].ID, Why: why, Sure: sure}
}
