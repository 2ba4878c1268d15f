package plan

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/profile"
	"example.com/vanlog/internal/units"
)

// never is later than every time that is looked at.
const never = profile.Never

// model is a Problem laid out for making many schedules of it.
type model struct {
	p       *Problem
	jobs    []job
	topo    []int // jobs, each after those that must edges set before it
	depth   []int // place of each job in topo
	laps    bool  // some must edge lets its jobs overlap
	fitters []int // jobs that fit something that is not fitted yet
	words   int   // of a bitset over fitters
	reach   *memo
	tables  *timetables
	there   []*timetable // by resource
	held    []bool       // resources that some cure holds
}

// job is what a schedule needs to know of a Job.
type job struct {
	base     int // minutes that are worked in every order
	hours    *timetable
	release  units.Instant
	deadline units.Instant
	cure     cure
	before   []link // must edges into the job
	after    []link // must edges out of it
	pays     []dues // should edges that it may break
	charges  []dues // should edges that others break by starting after it
	uses     []use
	holds    []use // through the cure; none where it has no cure
	fitter   int   // its place in model.fitters; -1: it fits nothing new
	minutes  int   // the least it can last: base, and what reaching costs at best
	moved    bool  // what reaching costs depends on the order
}

// link is a must edge seen from one end; job is the other.
type link struct {
	job int
	lag int  // minutes after the finish of the first
	set bool // lag is given; else the end of the cure
}

// dues are the minutes that a should edge costs; job is the other end.
type dues struct{ job, minutes int }

// use is units of a resource. whole: the job holds the resource, as far as any other
// job can tell, without a break from start to finish.
type use struct {
	resource, units int
	whole           bool
}

// newModel lays p out. The error is a *NoSequenceError where p has no sequence for a
// reason that is plain before any order is tried.
func newModel(p *Problem) (*model, error) {
	n := len(p.Jobs)
	m := &model{p: p, jobs: make([]job, n), tables: newTimetables(p)}
	for r := range p.Resources {
		m.there = append(m.there, m.tables.of(p.Resources[r].Hours))
	}
	for j := range p.Jobs {
		m.jobs[j] = m.newJob(j)
	}
	m.addEdges()
	m.addUses()
	for j := range m.jobs {
		if err := m.checkUses(j); err != nil {
			return nil, err
		}
	}
	if err := m.sort(); err != nil {
		return nil, err
	}
	return m, m.addReach()
}

func (m *model) newJob(j int) job {
	given := &m.p.Jobs[j]
	b := job{
		base: given.Minutes, hours: m.tables.of(given.Hours), deadline: never,
		cure:    cure{given.Cure.Minutes, m.tables.of(given.Cure.While)},
		release: max(given.Release, m.p.Now), fitter: -1,
	}
	if m.p.Owed != nil {
		b.base += m.p.Owed[j]
	}
	if given.Deadline != nil {
		b.deadline = *given.Deadline
	}
	if given.Cure.Minutes > 0 {
		for _, r := range given.Holds {
			b.holds = addUse(b.holds, r, 1)
		}
	}
	for _, item := range given.Fits {
		if !m.p.Fitted.has(item) && b.fitter < 0 {
			b.fitter = len(m.fitters)
			m.fitters = append(m.fitters, j)
		}
	}
	return b
}

func (m *model) addEdges() {
	for _, e := range m.p.Edges {
		before, after := &m.jobs[e.Before], &m.jobs[e.After]
		switch {
		case !e.Should:
			lag := 0
			if e.Lag != nil {
				lag = *e.Lag
			}
			m.laps = m.laps || lag < 0
			before.after = append(before.after, link{e.After, lag, e.Lag != nil})
			after.before = append(after.before, link{e.Before, lag, e.Lag != nil})
		case !m.p.Jobs[e.Before].Started:
			before.pays = append(before.pays, dues{e.After, e.Rework})
			after.charges = append(after.charges, dues{e.Before, e.Rework})
		}
	}
}

// addUses finds out which jobs use a resource as a whole: no other user of it can work
// in a minute that the job does not. A cure that holds the resource could still fit in
// such minutes; in a problem too large for trying all orders that is given up.
func (m *model) addUses() {
	users := make([][]*timetable, len(m.p.Resources)) // hours of its users
	m.held = make([]bool, len(m.p.Resources))
	for j := range m.jobs {
		for _, u := range m.p.Jobs[j].Uses {
			m.jobs[j].uses = addUse(m.jobs[j].uses, u.Resource, u.Units)
		}
		for _, u := range m.jobs[j].uses {
			if !slices.Contains(users[u.resource], m.jobs[j].hours) {
				users[u.resource] = append(users[u.resource], m.jobs[j].hours)
			}
		}
		for _, u := range m.jobs[j].holds {
			m.held[u.resource] = true
		}
	}
	wide := make([]map[*timetable]bool, len(users)) // which hours hold those of all users
	for r := range users {
		wide[r] = map[*timetable]bool{}
		for _, hours := range users[r] {
			wide[r][hours] = !slices.ContainsFunc(users[r], func(other *timetable) bool { return !hours.hours.Contains(other.hours) })
		}
	}
	for j := range m.jobs {
		for i := range m.jobs[j].uses {
			u := &m.jobs[j].uses[i]
			hours := m.jobs[j].hours
			u.whole = hours.always || wide[u.resource][hours] && (!m.held[u.resource] || len(m.jobs) > exactJobs)
		}
	}
}

// addUse adds n units of resource r to uses; a resource stands in them once.
func addUse(uses []use, r, n int) []use {
	if n <= 0 {
		return uses
	}
	for i := range uses {
		if uses[i].resource == r {
			uses[i].units += n
			return uses
		}
	}
	return append(uses, use{resource: r, units: n})
}

func (m *model) checkUses(j int) error {
	for _, u := range m.jobs[j].uses {
		if r := m.p.Resources[u.resource]; u.units > r.Capacity {
			return m.impossible(j, fmt.Sprintf("it uses %d of %s, and there is only %d", u.units, r.ID, r.Capacity))
		}
	}
	for _, u := range m.jobs[j].holds {
		if r := m.p.Resources[u.resource]; u.units > r.Capacity {
			return m.impossible(j, fmt.Sprintf("its cure holds %d of %s, and there is only %d", u.units, r.ID, r.Capacity))
		}
	}
	return nil
}

// sort puts the jobs in an order that all must edges allow, first come first.
func (m *model) sort() error {
	waits := make([]int, len(m.jobs))
	for j := range m.jobs {
		waits[j] = len(m.jobs[j].before)
		if waits[j] == 0 {
			m.topo = append(m.topo, j)
		}
	}
	for i := 0; i < len(m.topo); i++ {
		for _, l := range m.jobs[m.topo[i]].after {
			if waits[l.job]--; waits[l.job] == 0 {
				m.topo = append(m.topo, l.job)
			}
		}
	}
	m.depth = make([]int, len(m.jobs))
	for i, j := range m.topo {
		m.depth[j] = i
	}
	for j, n := range waits {
		if n > 0 {
			return m.impossible(j, "it must wait for itself: its must edges make a loop")
		}
	}
	return nil
}

func (m *model) impossible(j int, why string) error {
	return &NoSequenceError{Job: j, ID: m.p.Jobs[j].ID, Why: why, Sure: true}
}

// ready gives when the must edge l allows its after to start, given the finish of its
// before, whose cure ends at cured.
func (l link) ready(finish, cured units.Instant) units.Instant {
	if l.set {
		return finish + units.Instant(l.lag)
	}
	return cured
}

// due gives the latest finish of the job before l, for the job after it to start at latest.
func (l link) due(before *job, latest units.Instant) units.Instant {
	if l.set {
		return latest - units.Instant(l.lag)
	}
	return before.cure.latestFinish(latest)
}

// whole reports whether l keeps its jobs one after the other: a lag less than 0 lets
// them overlap, or the second finish first.
func (l link) whole() bool { return l.lag >= 0 }

// has reports whether item is in s.
func (s Set) has(item int) bool { return item/64 < len(s) && s[item/64]>>(item%64)&1 == 1 }
