package plan

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

// justify gives the jobs by their starts in the schedule that is made from s by moving
// each job as late as its finish allows, the last to finish first. Placing them again in
// that order often finishes sooner (Valls, Ballestín and Quintanilla 2005, double
// justification). The lengths are those in s. False where a job finds no later place.
func (s *schedule) justify(back *schedule, list []int) bool {
	end := s.m.p.Now
	for j, cured := range s.cured {
		end = max(end, cured)
		list[j] = j
	}
	slices.SortFunc(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(s.finish[b], s.finish[a]), cmp.Compare(s.start[b], s.start[a]), cmp.Compare(a, b))
	})
	back.clear()
	for _, j := range list {
		if !back.placeLate(j, s.length(j), end) {
			return false
		}
	}
	slices.SortFunc(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(back.start[a], back.start[b]), cmp.Compare(back.finish[a], back.finish[b]),
			cmp.Compare(s.start[a], s.start[b]), cmp.Compare(a, b))
	})
	return true
}

// length gives the minutes that placed job j works.
func (s *schedule) length(j int) int {
	b := &s.m.jobs[j]
	if b.moved {
		return b.base + s.reach[j] + s.rework[j]
	}
	return b.minutes + s.rework[j]
}

// placeLate puts j, which lasts n minutes, where it finishes last, with those that
// wait for it placed and the whole to finish by end.
func (s *schedule) placeLate(j, n int, end units.Instant) bool {
	b := &s.m.jobs[j]
	t := trial{j: j, job: b, n: n}
	last := min(b.cure.LatestFinish(end), max(b.deadline, s.m.p.Now))
	for _, l := range b.after {
		if !s.placed[l.job] {
			return false
		}
		if l.lag >= 0 {
			last = min(last, s.start[l.job]-units.Instant(l.lag))
		} else {
			last = min(last, b.cure.LatestFinish(s.start[l.job]))
		}
	}
	for last >= b.release {
		var ok bool
		if t.at, ok = b.hours.LatestStart(last, n); !ok || t.at < b.release {
			return false
		}
		if !s.extend(&t) {
			return false
		}
		sooner, clash := s.clashLate(&t)
		if !clash {
			s.putLate(&t)
			return true
		}
		last = sooner
	}
	return false
}

// clashLate gives a sooner finish to try where the job cannot lie at t.
func (s *schedule) clashLate(t *trial) (units.Instant, bool) {
	for _, u := range t.job.uses {
		free := s.m.p.Resources[u.resource].Capacity - u.units
		if u.whole {
			if from, clash := s.use[u.resource].clashLast(t.at, t.end, free); clash {
				return from, true
			}
			continue
		}
		for from := t.at; from < t.end; {
			to := min(t.job.hours.Until(from), t.end)
			if at, clash := s.use[u.resource].clashLast(from, to, free); clash {
				return at, true
			}
			from, _ = t.job.hours.Next(to)
		}
	}
	for _, u := range t.job.holds {
		free := s.m.p.Resources[u.resource].Capacity - u.units
		if from, clash := s.use[u.resource].clashLast(t.end, t.cured, free); clash {
			return min(t.job.cure.LatestFinish(from), t.end-1), true
		}
	}
	return 0, false
}

// putLate places the job of t in a schedule that is made from its end.
func (s *schedule) putLate(t *trial) {
	j := t.j
	s.placed[j], s.start[j], s.finish[j], s.cured[j] = true, t.at, t.end, t.cured
	s.book(j, 1)
}
