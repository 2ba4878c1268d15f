package plan

import "example.com/vanlog/internal/units"

// justify puts into list the jobs by their starts in the schedule that is made from s by
// moving each job as late as its finish allows, the last to finish first. Placing them again
// in that order often finishes sooner (Valls, Ballestín and Quintanilla 2005, double
// justification). Jobs last as long as in s. False where a job finds no later place,
// or where starts are no order to place jobs in.
func (s *schedule) justify(back *schedule, list []int) bool {
	if s.m.laps {
		return false
	}
	end := s.m.p.Now
	for _, cured := range s.cured {
		end = max(end, cured)
	}
	copy(list, s.order)
	insertionSort(list, func(a, b int) bool {
		return s.finish[a] > s.finish[b] || s.finish[a] == s.finish[b] && s.later(a, b)
	})
	back.clear()
	for _, j := range list {
		if !back.placeLate(j, s.length(j), end) {
			return false
		}
	}
	insertionSort(list, func(a, b int) bool {
		return back.start[a] < back.start[b] || back.start[a] == back.start[b] && s.later(b, a)
	})
	return true
}

// later reports whether a comes after b among jobs that finish, or start, together: what must
// come before another stays before it.
func (s *schedule) later(a, b int) bool {
	if s.start[a] != s.start[b] {
		return s.start[a] > s.start[b]
	}
	return s.m.depth[a] > s.m.depth[b]
}

// placeLate puts j, which lasts n minutes, where it finishes last, with those that
// wait for it placed and the whole to finish by end.
func (s *schedule) placeLate(j, n int, end units.Instant) bool {
	t := trial{j: j, job: &s.m.jobs[j], n: n}
	last := min(t.job.cure.latestFinish(end), t.job.deadline)
	for _, l := range t.job.after {
		if !s.placed[l.job] {
			return false
		}
		last = min(last, l.due(t.job, s.start[l.job]))
	}
	for last >= t.job.release {
		var ok bool
		if t.at, ok = t.job.hours.latestStart(last, n); !ok || t.at < t.job.release || !s.extend(&t) {
			return false
		}
		sooner, clash := s.clashLate(&t)
		if !clash {
			s.placed[j], s.start[j], s.finish[j], s.cured[j] = true, t.at, t.end, t.cured
			s.order = append(s.order, j)
			s.book(j, 1)
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
			if from, clash := s.use[u.resource].ClashLast(t.at, t.end, free); clash {
				return from, true
			}
			continue
		}
		for from := t.at; from < t.end; {
			to := min(t.job.hours.until(from), t.end)
			if at, clash := s.use[u.resource].ClashLast(from, to, free); clash {
				return at, true
			}
			from, _ = t.job.hours.next(to)
		}
	}
	for _, u := range t.job.holds {
		free := s.m.p.Resources[u.resource].Capacity - u.units
		if from, clash := s.use[u.resource].ClashLast(t.end, t.cured, free); clash {
			return min(t.job.cure.latestFinish(from), t.end-1), true
		}
	}
	return 0, false
}
