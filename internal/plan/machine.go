package plan

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

// machine is jobs that work on one resource: no two in the same minute, or no more
// than units together.
type machine struct {
	hours *timetable // all its jobs work in these only
	units int
	jobs  []*portion // by earliest start
}

// portion is what a job needs of a machine: minutes times units, from its start to
// its finish. Where it holds the resource through its cure it needs some of the
// machine's minutes until then: lost.
type portion struct {
	job  int
	work int64
	hold bool
	lost int64
	head int64 // earliest start, as a place in the machine's hours, times units
	tail int64 // latest finish, or end of the cure where lost is known, in the same way
}

// pending is work that has to be done by last.
type pending struct {
	work int64
	last units.Instant
}

// machines gives what bounds the work on each resource: the jobs that take more than
// half of it, one after the other, and all jobs, sharing it.
func (m *model) machines() (out []machine) {
	for r := range m.p.Resources {
		capacity := m.p.Resources[r].Capacity
		alone, shared := machine{units: 1}, machine{units: capacity}
		for j := range m.jobs {
			b := &m.jobs[j]
			for _, u := range b.uses {
				if u.resource != r || b.minutes == 0 {
					continue
				}
				work := int64(b.minutes)
				shared.jobs = append(shared.jobs, &portion{job: j, work: work * int64(u.units)})
				if 2*u.units > capacity {
					alone.jobs = append(alone.jobs, &portion{job: j, work: work, hold: b.keeps(r, capacity)})
				}
			}
		}
		alone.hours, shared.hours = m.hoursOf(r, alone.jobs), m.hoursOf(r, shared.jobs)
		if len(alone.jobs) > 1 {
			out = append(out, alone)
		}
		if capacity > 1 && len(shared.jobs) > 1 {
			out = append(out, shared)
		}
	}
	return out
}

// keeps reports whether the job holds more than half of resource r through its cure.
func (b *job) keeps(r, capacity int) bool {
	return slices.ContainsFunc(b.holds, func(u use) bool { return u.resource == r && 2*u.units > capacity })
}

// hoursOf gives the fewest hours known that hold those of all jobs that use resource r.
func (m *model) hoursOf(r int, jobs []*portion) *timetable {
	var all []*timetable
	for _, x := range jobs {
		if hours := m.jobs[x.job].hours; !slices.Contains(all, hours) {
			all = append(all, hours)
		}
	}
	best := m.there[r]
	for _, hours := range all {
		if hours == best || !best.hours.Contains(hours.hours) {
			continue
		}
		if !slices.ContainsFunc(all, func(other *timetable) bool { return !hours.hours.Contains(other.hours) }) {
			best = hours
		}
	}
	return best
}

// holds reports whether a job holds the machine through its cure.
func (k *machine) holds() bool {
	return slices.ContainsFunc(k.jobs, func(x *portion) bool { return x.lost > 0 })
}

// sort puts the jobs in the order of their earliest starts.
func (k *machine) sort(w []window) {
	slices.SortFunc(k.jobs, func(a, b *portion) int {
		return cmp.Or(cmp.Compare(w[a.job].start, w[b.job].start), cmp.Compare(a.job, b.job))
	})
}

// possible reports whether the machine can do all its work within the windows, were
// jobs interrupted at will: the most urgent first (Jackson's preemptive rule). With holds,
// a job that holds the resource through its cure has until the end of that for all it takes.
func (k *machine) possible(w []window, holds bool) bool {
	open := newHeap(func(a, b pending) bool { return a.last < b.last })
	at := units.Instant(0)
	for i := 0; i < len(k.jobs) || len(open.items) > 0; {
		if len(open.items) == 0 {
			at = w[k.jobs[i].job].start
		}
		for ; i < len(k.jobs) && w[k.jobs[i].job].start <= at; i++ {
			x := k.jobs[i]
			next := pending{x.work, w[x.job].last}
			if holds && x.lost > 0 {
				next = pending{x.work + x.lost, w[x.job].held}
			}
			open.push(next)
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
		room = int64(k.hours.count(at, until)) * int64(k.units)
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
		end, ok := k.hours.finish(at, int(minutes))
		if !ok || end > first.last {
			return false
		}
		open.pop()
	}
	return true
}
