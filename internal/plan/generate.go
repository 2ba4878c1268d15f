package plan

import (
	"example.com/vanlog/internal/profile"
	"example.com/vanlog/internal/units"
)

// schedule is a schedule in the making. Jobs are placed one at a time, each in the
// first gap in which it changes nothing about those that stand: no minute of work, and
// no way to one of them. So what is placed stays true.
type schedule struct {
	m      *model
	placed []bool
	start  []units.Instant
	finish []units.Instant
	cured  []units.Instant
	reach  []int    // minutes of moved jobs that are placed
	rework []int    // minutes
	done   []bitset // fitters that have finished when a moved job starts
	more   []bitset // fitters that could have, for the same cost; nil: not known
	order  []int    // jobs that are placed, as they were
	moved  []int    // moved jobs that are placed
	use    []profile.Profile
	now    bitset // fitters that have finished by the start that is tried
	rough  bool   // let jobs last as long as they do at best
	polite bool   // break no should edge that costs nothing, if it means waiting
}

func newSchedule(m *model) *schedule {
	n := len(m.jobs)
	s := &schedule{
		m: m, placed: make([]bool, n), start: make([]units.Instant, n), finish: make([]units.Instant, n),
		cured: make([]units.Instant, n), reach: make([]int, n), rework: make([]int, n),
		done: make([]bitset, n), more: make([]bitset, n), use: make([]profile.Profile, len(m.p.Resources)), now: make(bitset, m.words),
	}
	words := make(bitset, n*m.words)
	for j := range s.done {
		s.done[j] = words[j*m.words : (j+1)*m.words]
	}
	return s
}

// clear takes all jobs out.
func (s *schedule) clear() {
	clear(s.placed)
	s.order, s.moved = s.order[:0], s.moved[:0]
	for r := range s.use {
		s.use[r] = s.use[r][:0]
	}
}

// verdict says how placing a job went.
type verdict int

const (
	fits    verdict = iota
	shut            // the job cannot be reached any more
	toolate         // there is no minute left for it
)

// trial is a start that is tried for a job.
type trial struct {
	job        *job
	j          int
	at, end    units.Instant
	cured      units.Instant
	n          int // minutes of work
	reach, due int
}

// place puts j, whose must edges into it come from placed jobs, where it can start first.
func (s *schedule) place(j int) verdict {
	t := trial{j: j, job: &s.m.jobs[j]}
	t.at = t.job.release
	for _, l := range t.job.before {
		t.at = max(t.at, l.ready(s.finish[l.job], s.cured[l.job]))
	}
	for t.at < never {
		if t.n = t.job.minutes; !s.begin(&t) || !s.extend(&t) {
			return toolate
		}
		later, clash := s.overuses(&t)
		if clash {
			t.at = later // however long it lasts then
			continue
		}
		least := t.n
		if !s.measure(&t) {
			return shut
		}
		if at := t.at; t.n > least {
			if !s.begin(&t) || !s.extend(&t) {
				return toolate
			}
			if t.at > at {
				continue // its length may be another
			}
		}
		if later, clash = s.clash(&t, t.n > least); !clash {
			s.put(&t)
			return fits
		}
		t.at = later
	}
	return toolate
}

// begin moves the start that is tried to a minute in which the job can work.
func (s *schedule) begin(t *trial) bool {
	if t.n == 0 {
		return true
	}
	at, ok := t.job.hours.next(t.at)
	t.at = at
	return ok
}

// measure finds how long the job lasts from t.at; false where it cannot be reached then.
func (s *schedule) measure(t *trial) bool {
	t.n, t.due = t.job.minutes, 0
	if s.rough {
		return true
	}
	if t.job.moved {
		s.finished(t.at)
		t.reach = s.m.reach.cost(t.j, s.now)
		if t.reach == buried {
			return false
		}
		t.n = t.job.base + t.reach
	}
	for _, d := range t.job.pays {
		if s.placed[d.job] && s.start[d.job] < t.at {
			t.due += d.minutes
		}
	}
	t.n += t.due
	return true
}

// finished puts the fitters that have finished by at in s.now.
func (s *schedule) finished(at units.Instant) {
	clear(s.now)
	for f, k := range s.m.fitters {
		if s.placed[k] && s.finish[k] <= at {
			s.now.add(f)
		}
	}
}

func (s *schedule) extend(t *trial) (ok bool) {
	if t.end, ok = t.job.hours.finish(t.at, t.n); !ok {
		return false
	}
	t.cured, ok = t.job.cure.end(t.end)
	return ok
}

// overuses gives a later start to try where others have what the job would use in some
// minute that it works. No start between is possible.
func (s *schedule) overuses(t *trial) (units.Instant, bool) {
	for _, u := range t.job.uses {
		if later, clash := s.overuse(t, u); clash {
			return later, true
		}
	}
	return 0, false
}

// clash gives a later start to try where the job cannot start at t.at. No start between
// is possible. longer: it lasts longer than overuses has seen.
func (s *schedule) clash(t *trial, longer bool) (units.Instant, bool) {
	if longer {
		if later, clash := s.overuses(t); clash {
			return later, true
		}
	}
	for _, u := range t.job.holds {
		free := s.m.p.Resources[u.resource].Capacity - u.units
		if full, clash := s.use[u.resource].Clash(t.end, t.cured, free, 0); clash {
			return s.finishing(t, full.At), true
		}
	}
	if s.rough {
		return 0, false
	}
	for _, d := range t.job.charges {
		if (d.minutes > 0 || s.polite) && s.placed[d.job] && s.start[d.job] > t.at {
			return s.start[d.job], true
		}
	}
	return s.burying(t)
}

// overuse gives the end of the first minutes in which the job would need u while
// others have it.
func (s *schedule) overuse(t *trial, u use) (units.Instant, bool) {
	free := s.m.p.Resources[u.resource].Capacity - u.units
	if u.whole {
		full, clash := s.use[u.resource].Clash(t.at, t.end, free, units.Instant(t.n))
		return full.At, clash
	}
	for from := t.at; from < t.end; {
		to := min(t.job.hours.until(from), t.end)
		if full, clash := s.use[u.resource].Clash(from, to, free, 0); clash {
			return full.At, true
		}
		from, _ = t.job.hours.next(to)
	}
	return 0, false
}

// burying gives a later start to try where finishing at t.end would make the way to
// a placed job longer than it is.
func (s *schedule) burying(t *trial) (units.Instant, bool) {
	if t.job.fitter < 0 {
		return 0, false
	}
	for _, k := range s.moved {
		if s.start[k] < t.end || s.more[k] != nil && s.more[k].has(t.job.fitter) {
			continue
		}
		if s.cost(k, t.job.fitter) != s.reach[k] {
			return s.finishing(t, s.start[k]+1), true
		}
	}
	return 0, false
}

// cost gives what reaching the placed job k costs with fitter f finished as well.
func (s *schedule) cost(k, f int) int {
	s.done[k].add(f)
	cost := s.m.reach.cost(k, s.done[k])
	s.done[k].flip(f)
	return cost
}

// finishing gives the first start after t.at that may make the job finish at or
// after end: as long as it lasts no longer than now, and else when it may last longer.
func (s *schedule) finishing(t *trial, end units.Instant) units.Instant {
	if end >= never {
		return never
	}
	from, ok := t.job.hours.latestStart(end-1, t.n)
	if !ok || from < t.at {
		from = t.at
	}
	from++
	if t.job.moved {
		for _, k := range s.m.fitters {
			if s.placed[k] && s.finish[k] > t.at {
				from = min(from, s.finish[k])
			}
		}
	}
	for _, d := range t.job.pays {
		if s.placed[d.job] && s.start[d.job] >= t.at {
			from = min(from, s.start[d.job]+1)
		}
	}
	return from
}

// put places the job of t.
func (s *schedule) put(t *trial) {
	j := t.j
	s.placed[j], s.start[j], s.finish[j], s.cured[j] = true, t.at, t.end, t.cured
	s.reach[j], s.rework[j] = t.reach, t.due
	s.order = append(s.order, j)
	s.book(j, 1)
	if t.job.fitter >= 0 && !s.rough {
		for _, k := range s.moved {
			if s.start[k] >= t.end {
				s.finishBefore(k, t.job.fitter)
			}
		}
	}
	if t.job.moved && !s.rough {
		copy(s.done[j], s.now)
		s.more[j] = s.m.reach.ceiling(j, s.now, t.reach)
		s.moved = append(s.moved, j)
	}
}

// finishBefore notes that fitter f has finished when the placed job k starts.
func (s *schedule) finishBefore(k, f int) {
	s.done[k].add(f)
	if s.more[k] == nil || !s.more[k].has(f) {
		s.more[k] = s.m.reach.ceiling(k, s.done[k], s.reach[k])
	}
}

// take takes out the job that was placed last.
func (s *schedule) take() {
	j := s.order[len(s.order)-1]
	s.order = s.order[:len(s.order)-1]
	b := &s.m.jobs[j]
	s.book(j, -1)
	s.placed[j] = false
	if b.moved {
		s.moved = s.moved[:len(s.moved)-1]
	}
	if b.fitter >= 0 {
		for _, k := range s.moved {
			if s.start[k] >= s.finish[j] {
				s.done[k].flip(b.fitter)
			}
		}
	}
}

// book adds what j uses and holds to the profiles, n times.
func (s *schedule) book(j, n int) {
	b := &s.m.jobs[j]
	for _, u := range b.uses {
		if u.whole {
			// Up to the next minute that it could work, so that what follows it then joins on.
			end := s.finish[j]
			if next, ok := b.hours.next(end); ok && !s.m.held[u.resource] {
				end = next
			}
			if s.start[j] < s.finish[j] {
				s.use[u.resource].Add(s.start[j], end, n*u.units, 0)
			}
			continue
		}
		for from := s.start[j]; from < s.finish[j]; {
			to := min(b.hours.until(from), s.finish[j])
			s.use[u.resource].Add(from, to, n*u.units, 0)
			from, _ = b.hours.next(to)
		}
	}
	for _, u := range b.holds {
		s.use[u.resource].Add(s.finish[j], s.cured[j], n*u.units, 0)
	}
}

// length gives the minutes that placed job j works.
func (s *schedule) length(j int) int {
	b := &s.m.jobs[j]
	if b.moved {
		return b.base + s.reach[j] + s.rework[j]
	}
	return b.minutes + s.rework[j]
}
