package plan

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

// score says how good a schedule is: less is better.
type score struct {
	late   int64 // minutes beyond deadlines; for each job without a place, a lot
	finish units.Instant
	work   int
	broken int
}

// noPlace is the lateness of a job that has no place in a schedule.
const noPlace = int64(1) << 40

func (a score) compare(b score) int {
	return cmp.Or(cmp.Compare(a.late, b.late), cmp.Compare(a.finish, b.finish),
		cmp.Compare(a.work, b.work), cmp.Compare(a.broken, b.broken))
}

// run places the jobs of list in its order, and gives the score. Where a job is shut off
// by one that was placed before it, list is changed to have it sooner. It gives up, with
// the score of a schedule that has no place for a job, at a job that starts after its
// latest start; latest may be nil.
func (s *schedule) run(list []int, latest []units.Instant) score {
	repairs := 2*len(list) + 20
	for i := s.rewind(list); i < len(list); i++ {
		switch s.place(list[i]) {
		case fits:
			if latest == nil || s.start[list[i]] <= latest[list[i]] {
				continue
			}
		case shut:
			if to, ok := s.mend(list, i); ok && repairs > 0 {
				repairs--
				for len(s.order) > to {
					s.take()
				}
				i = to - 1
				continue
			}
		}
		return score{late: noPlace * int64(len(list)-i)}
	}
	return s.score()
}

// rewind takes out what was not placed as list wants it, and gives the number of jobs
// that stay.
func (s *schedule) rewind(list []int) int {
	same := 0
	for same < len(s.order) && s.order[same] == list[same] {
		same++
	}
	if len(s.order)-same > same {
		s.clear()
		return 0
	}
	for len(s.order) > same {
		s.take()
	}
	return same
}

// score gives the score of a schedule of all jobs.
func (s *schedule) score() score {
	var sum score
	sum.finish = s.m.p.Now
	for j := range s.m.jobs {
		b := &s.m.jobs[j]
		sum.finish = max(sum.finish, s.cured[j])
		sum.late += int64(max(s.finish[j]-b.deadline, 0))
		sum.work += b.minutes + s.rework[j]
		if b.moved {
			sum.work += b.base + s.reach[j] - b.minutes
		}
		for _, d := range b.pays {
			if s.start[d.job] < s.start[j] {
				sum.broken++
			}
		}
	}
	return sum
}

// mend changes list so that list[i], which is shut off, comes before the job that shuts
// it off, and gives the place from which list is new.
func (s *schedule) mend(list []int, i int) (int, bool) {
	needs := s.needs(list[:i+1])
	culprit := s.culprit(list[i], needs)
	if culprit < 0 {
		return 0, false
	}
	at := slices.Index(list, culprit)
	var sooner, later []int
	for _, j := range list[at : i+1] {
		if needs[j] {
			sooner = append(sooner, j)
		} else {
			later = append(later, j)
		}
	}
	copy(list[at:], sooner)
	copy(list[at+len(sooner):], later)
	return at, true
}

// needs marks the last job of list, and what must be placed before it.
func (s *schedule) needs(list []int) []bool {
	marked := make([]bool, len(s.m.jobs))
	marked[list[len(list)-1]] = true
	for i := len(list) - 1; i >= 0; i-- {
		if !marked[list[i]] {
			continue
		}
		for _, l := range s.m.jobs[list[i]].before {
			marked[l.job] = true
		}
	}
	return marked
}

// culprit gives the placed job whose finish shuts j off, leaving out what j needs;
// -1 where there is none.
func (s *schedule) culprit(j int, needs []bool) int {
	var fitters []int
	done := make(bitset, s.m.words)
	for f, k := range s.m.fitters {
		switch {
		case !s.placed[k]:
		case needs[k]:
			done.add(f)
		default:
			fitters = append(fitters, k)
		}
	}
	slices.SortStableFunc(fitters, func(a, b int) int { return cmp.Compare(s.finish[a], s.finish[b]) })
	low, high := 0, len(fitters)
	for low < high {
		mid, set := (low+high)/2, slices.Clone(done)
		for _, k := range fitters[:mid+1] {
			set.add(s.m.jobs[k].fitter)
		}
		if s.m.reach.cost(j, set) == buried {
			high = mid
		} else {
			low = mid + 1
		}
	}
	if low == len(fitters) {
		return -1
	}
	return fitters[low]
}

// listBy gives all jobs, each after what must be placed before it, and otherwise by
// rank, least first.
func (m *model) listBy(rank func(j int) int64) []int {
	ready := newHeap(func(a, b int) bool {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a, b)) < 0
	})
	waits := make([]int, len(m.jobs))
	for j := range m.jobs {
		if waits[j] = len(m.jobs[j].before); waits[j] == 0 {
			ready.push(j)
		}
	}
	list := make([]int, 0, len(m.jobs))
	for len(ready.items) > 0 {
		j := ready.pop()
		list = append(list, j)
		for _, l := range m.jobs[j].after {
			if waits[l.job]--; waits[l.job] == 0 {
				ready.push(l.job)
			}
		}
	}
	return list
}
