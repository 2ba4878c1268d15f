package plan

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// window is where a job lies in every sequence that finishes by some time, were it
// for must edges, calendars and its least length alone.
type window struct {
	start, finish units.Instant // earliest
	cured         units.Instant
	latest, last  units.Instant // latest start, latest finish
}

// heads gives the earliest start and finish of every job. A job that has none is a
// *NoSequenceError.
func (m *model) heads() ([]window, error) {
	w := make([]window, len(m.jobs))
	for _, j := range m.topo {
		b := &m.jobs[j]
		at := b.release
		for _, l := range b.before {
			at = max(at, l.ready(w[l.job].finish, w[l.job].cured))
		}
		ok := true
		if b.minutes > 0 {
			if at, ok = b.hours.Next(at); !ok {
				return nil, m.impossible(j, "all it uses is never there together")
			}
		}
		w[j].start = at
		if w[j].finish, ok = b.hours.Finish(at, b.minutes); !ok {
			return nil, m.impossible(j, "all it uses is never there together for as long as it lasts")
		}
		if w[j].cured, ok = b.cure.End(w[j].finish); !ok {
			return nil, m.impossible(j, "it never cures: what its cure waits for does not come")
		}
		if w[j].finish > b.deadline {
			return nil, m.impossible(j, fmt.Sprintf("it cannot finish before %v, and must by %v", w[j].finish, b.deadline))
		}
	}
	return w, nil
}

// tails fills in the latest start and finish of every job for the whole to finish by
// end. It reports whether every job can lie within its window.
func (m *model) tails(w []window, end units.Instant) bool {
	ok := true
	for i := len(m.topo) - 1; i >= 0; i-- {
		j := m.topo[i]
		b := &m.jobs[j]
		last := min(b.deadline, b.cure.LatestFinish(end))
		for _, l := range b.after {
			if l.lag >= 0 {
				last = min(last, w[l.job].latest-units.Instant(l.lag))
			} else {
				last = min(last, b.cure.LatestFinish(w[l.job].latest))
			}
		}
		w[j].last = last
		latest, found := b.hours.LatestStart(last, b.minutes)
		if !found {
			latest = last - units.Instant(b.minutes)
		}
		w[j].latest = latest
		ok = ok && latest >= w[j].start
	}
	return ok
}

// bound gives a time that no sequence finishes before, from the critical path and the
// work on each resource.
func (m *model) bound(w []window) units.Instant {
	low := m.p.Now
	for j := range w {
		low = max(low, w[j].cured)
	}
	machines := m.machines(w)
	high := low
	for step := units.Day; !m.possible(w, machines, high); step *= 2 {
		if low = high + 1; step > 200*365*units.Day {
			return low
		}
		high += step
	}
	for low < high {
		if mid := low + (high-low)/2; m.possible(w, machines, mid) {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}

// possible reports whether the bounds leave room for a sequence that finishes by end.
func (m *model) possible(w []window, machines []machine, end units.Instant) bool {
	if !m.tails(w, end) {
		return false
	}
	for i := range machines {
		if !machines[i].possible(w) {
			return false
		}
	}
	return true
}

// machine is jobs of which no two can work in the same minute, or that together
// have no more than units in a minute.
type machine struct {
	hours *calendar.Hours
	units int
	jobs  []portion // by earliest start
}

// portion is the work of a job on a machine, in minutes times units.
type portion struct {
	job  int
	work int64
}

// pending is work that has to be done by last.
type pending struct {
	work int64
	last units.Instant
}

// machines gives what bounds the work on each resource: the jobs that take more than
// half of it, one after the other, and all jobs, sharing it.
func (m *model) machines(w []window) (out []machine) {
	for r := range m.p.Resources {
		capacity := m.p.Resources[r].Capacity
		alone := machine{hours: m.p.Resources[r].Hours, units: 1}
		shared := machine{hours: m.p.Resources[r].Hours, units: capacity}
		for j := range m.jobs {
			for _, u := range m.jobs[j].uses {
				if u.resource != r || m.jobs[j].minutes == 0 {
					continue
				}
				work := int64(m.jobs[j].minutes)
				shared.jobs = append(shared.jobs, portion{j, work * int64(u.units)})
				if 2*u.units > capacity {
					alone.jobs = append(alone.jobs, portion{j, work})
				}
			}
		}
		out = append(out, alone)
		if capacity > 1 {
			out = append(out, shared)
		}
	}
	for _, k := range out {
		slices.SortFunc(k.jobs, func(a, b portion) int {
			return cmp.Or(cmp.Compare(w[a.job].start, w[b.job].start), cmp.Compare(a.job, b.job))
		})
	}
	return out
}

// possible reports whether the machine can do all its work within the windows, were
// jobs interrupted at will: the most urgent first (Jackson's preemptive rule).
func (k *machine) possible(w []window) bool {
	open := newHeap(func(a, b pending) bool { return a.last < b.last })
	at := units.Instant(0)
	for i := 0; i < len(k.jobs) || len(open.items) > 0; {
		if len(open.items) == 0 {
			at = w[k.jobs[i].job].start
		}
		for ; i < len(k.jobs) && w[k.jobs[i].job].start <= at; i++ {
			open.push(pending{k.jobs[i].work, w[k.jobs[i].job].last})
		}
		until := never
		if i < len(k.jobs) {
			until = w[k.jobs[i].job].start
		}
		if !k.work(open, at, until) {
			return false
		}
		at = until
	}
	return true
}

// work does what is open from at until until, and reports whether all that is done in
// that time is done by its end.
func (k *machine) work(open *heap[pending], at, until units.Instant) bool {
	room := int64(-1) // without limit
	if until < never {
		room = int64(k.hours.Count(at, until)) * int64(k.units)
	}
	spent := int64(0)
	for len(open.items) > 0 {
		first := &open.items[0]
		if room >= 0 && spent+first.work > room {
			first.work -= room - spent
			return true
		}
		spent += first.work
		minutes := (spent + int64(k.units) - 1) / int64(k.units)
		end, ok := k.hours.Finish(at, int(minutes))
		if !ok || end > first.last {
			return false
		}
		open.pop()
	}
	return true
}
