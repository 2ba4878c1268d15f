package forecast

import (
	"math"

	"example.com/vanlog/internal/profile"
	"example.com/vanlog/internal/units"
)

// never is later than every time that is looked at.
const never = units.Instant(math.MaxInt64 / 4)

// nobody is the cause of what waits for no job and no part.
const nobody = -1

// partCause gives the cause that stands for part i; cause j is job j.
func partCause(i int) int { return -2 - i }

// life is the plan lived through once: jobs are placed in its order, each where it can
// start first. In order means that none starts before one that comes before it and
// uses one of its resources; with goOn, that none takes time from one that does.
type life struct {
	n      *network
	start  []units.Instant
	finish []units.Instant
	cured  []units.Instant
	cause  []int // what each start waited for last
	last   []int // by resource: the job that started on it last
	inUse  []profile.Profile
	// behind are the cures that a job waits for on a resource that they hold, because it
	// came after them when everything went as likely. nil: not known yet.
	behind [][]int
}

func newLife(n *network) *life {
	size := len(n.jobs)
	return &life{
		n: n, start: make([]units.Instant, size), finish: make([]units.Instant, size), cured: make([]units.Instant, size),
		cause: make([]int, size), last: make([]int, len(n.capacity)), inUse: make([]profile.Profile, len(n.capacity)),
	}
}

// run lives through the order with these minutes of work by job and these first minutes
// by part. It gives the job that never finishes, or -1.
func (l *life) run(minutes []int, there []units.Instant) int {
	for r := range l.inUse {
		l.inUse[r] = l.inUse[r][:0]
		l.last[r] = nobody
	}
	for j := range l.n.jobs {
		if !l.place(j, minutes[j], there) {
			return j
		}
	}
	return -1
}

// trial is a start that is tried for a job.
type trial struct {
	j       int
	job     *job
	n       int // minutes of work
	at, end units.Instant
	cured   units.Instant
	cause   int
}

// place puts j where it can start first; false where there is no such minute.
func (l *life) place(j, minutes int, there []units.Instant) bool {
	t := trial{j: j, job: &l.n.jobs[j], n: minutes, cause: nobody}
	l.ready(&t, there)
	for t.at < never {
		if !t.extend() {
			return false
		}
		later, by, clash := l.clash(&t)
		if !clash {
			l.put(&t)
			return true
		}
		t.at, t.cause = later, by
	}
	return false
}

// ready finds when all that j waits for allows it to start.
func (l *life) ready(t *trial, there []units.Instant) {
	t.at = t.job.release
	wait := func(until units.Instant, cause int) {
		if until > t.at {
			t.at, t.cause = until, cause
		}
	}
	for _, p := range t.job.parts {
		wait(there[p], partCause(p))
	}
	for _, w := range t.job.after {
		if w.cure {
			wait(l.cured[w.job], w.job)
		} else {
			wait(l.finish[w.job]+units.Instant(w.lag), w.job)
		}
	}
	if l.n.goOn {
		return
	}
	for _, u := range t.job.uses {
		if k := l.last[u.resource]; k != nobody {
			wait(l.start[k], k)
		}
	}
	if l.behind != nil {
		for _, k := range l.behind[t.j] {
			wait(l.cured[k], k)
		}
	}
}

// extend moves the start that is tried to a minute in which the job works, and finds its
// end from there.
func (t *trial) extend() (ok bool) {
	if t.n > 0 {
		if t.at, ok = t.job.hours.Next(t.at); !ok {
			return false
		}
	}
	if t.end, ok = t.job.hours.Finish(t.at, t.n); !ok {
		return false
	}
	t.cured, ok = t.job.cure.End(t.end)
	return ok
}

// clash gives a later start to try, and the job that makes it so, where the job cannot
// start at t.at. No start between is possible.
func (l *life) clash(t *trial) (units.Instant, int, bool) {
	for _, u := range t.job.uses {
		if s, clash := l.overuse(t, u); clash {
			return s.At, int(s.By), true
		}
	}
	for _, u := range t.job.holds {
		free := l.n.capacity[u.resource] - u.units
		if s, clash := l.inUse[u.resource].Clash(t.end, t.cured, free, 0); clash {
			return t.finishing(s.At), int(s.By), true
		}
	}
	return 0, 0, false
}

// overuse gives the end of the first minutes in which the job would need u while others
// have it.
func (l *life) overuse(t *trial, u use) (profile.Step, bool) {
	free, p := l.n.capacity[u.resource]-u.units, l.inUse[u.resource]
	if u.whole {
		return p.Clash(t.at, t.end, free, units.Instant(t.n))
	}
	for from := t.at; from < t.end; {
		to := min(t.job.hours.Until(from), t.end)
		if s, clash := p.Clash(from, to, free, 0); clash {
			return s, true
		}
		from, _ = t.job.hours.Next(to)
	}
	return profile.Step{}, false
}

// finishing gives the first start after t.at from which the job finishes at or after end.
func (t *trial) finishing(end units.Instant) units.Instant {
	from, ok := t.job.hours.LatestStart(end-1, t.n)
	if !ok {
		from = t.at
	}
	return max(from, t.at) + 1
}

// put places the job of t.
func (l *life) put(t *trial) {
	j := t.j
	l.start[j], l.finish[j], l.cured[j], l.cause[j] = t.at, t.end, t.cured, t.cause
	for _, u := range t.job.uses {
		l.last[u.resource] = j
		if !u.whole {
			l.pieces(t, u)
			continue
		}
		// Up to the next minute that it could work, so that what follows it then joins on.
		end := t.end
		if next, ok := t.job.hours.Next(end); ok && t.n > 0 && !l.n.held[u.resource] {
			end = next
		}
		l.inUse[u.resource].Add(t.at, end, u.units, j)
	}
	for _, u := range t.job.holds {
		l.inUse[u.resource].Add(t.end, t.cured, u.units, j)
	}
}

// pieces books the runs of minutes in which the job works.
func (l *life) pieces(t *trial, u use) {
	for from := t.at; from < t.end; {
		to := min(t.job.hours.Until(from), t.end)
		l.inUse[u.resource].Add(from, to, u.units, t.j)
		from, _ = t.job.hours.Next(to)
	}
}

// end gives the job whose cure ends last, of several the last in the order, and when;
// nobody, and now, where there is no job.
func (l *life) end() (int, units.Instant) {
	last, at := nobody, l.n.now
	for j, cured := range l.cured {
		if cured >= at {
			last, at = j, cured
		}
	}
	return last, at
}

// chain adds one for each job and part on the chain that decides the finish: the
// last job, what its start waited for last, what that waited for, and so on.
func (l *life) chain(jobs, parts []int) {
	for j, _ := l.end(); j != nobody; j = l.cause[j] {
		if j < nobody {
			parts[-2-j]++
			return
		}
		jobs[j]++
	}
}

// keepCures notes which cures each job came after, on a resource that they hold and
// leave no room on, so that it stays after them.
func (l *life) keepCures() [][]int {
	behind := make([][]int, len(l.n.jobs))
	for i := range l.n.jobs {
		for _, h := range l.n.jobs[i].holds {
			for j := i + 1; j < len(l.n.jobs); j++ {
				for _, u := range l.n.jobs[j].uses {
					full := u.resource == h.resource && u.units+h.units > l.n.capacity[u.resource]
					if full && l.start[j] >= l.cured[i] {
						behind[j] = append(behind[j], i)
					}
				}
			}
		}
	}
	return behind
}
