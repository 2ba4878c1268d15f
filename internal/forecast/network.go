package forecast

import (
	"math"
	"slices"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// network is a Problem laid out for living through it many times.
type network struct {
	now      units.Instant
	jobs     []job
	parts    []delivery
	trades   []string
	spreads  []float64 // by trade: of the logarithm of its factor; 0: none
	capacity []int
	held     []bool // resources that some cure holds
	alike    float64
	goOn     bool
}

// job is what a life needs to know of a Job.
type job struct {
	hours   *calendar.Hours
	release units.Instant
	cure    calendar.Cure
	after   []wait
	parts   []int
	uses    []use
	holds   []use // through the cure; none where it has no cure
	work    spread
	extra   int
	likely  float64 // minutes, without extra
	factor  float64 // what its trade has learned; 1: nothing
	trade   int     // -1: none
	shared  bool    // its luck is partly its trade's
}

// wait is a Link: minutes after the finish, less than 0 before it; or the end of the cure.
type wait struct {
	job, lag int
	cure     bool
}

// use is units of a resource. whole: the job holds the resource, as far as any other
// can tell, without a break from start to finish.
type use struct {
	resource, units int
	whole           bool
}

// delivery is when a part comes, in days.
type delivery struct {
	days   spread
	first  float64 // it comes no sooner: it has not come yet
	from   float64 // the share of days that lies before first
	likely units.Date
}

// newNetwork lays p out. The error is a *ProblemError.
func newNetwork(p *Problem, o *Options) (*network, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	n := &network{now: p.Now, jobs: make([]job, len(p.Jobs)), alike: min(max(o.Alike, 0), 1), goOn: o.GoOn,
		held: make([]bool, len(p.Resources))}
	for _, r := range p.Resources {
		n.capacity = append(n.capacity, r.Capacity)
	}
	cs := curves{}
	for j := range p.Jobs {
		n.jobs[j] = n.newJob(&p.Jobs[j], cs)
		n.learn(&n.jobs[j], o.Learned)
	}
	n.findWhole()
	for i := range p.Parts {
		n.parts = append(n.parts, newDelivery(&p.Parts[i], p.Now.Date(), cs))
	}
	return n, nil
}

func (n *network) newJob(g *Job, cs curves) job {
	b := job{
		hours: g.Hours, release: max(g.Release, n.now), cure: g.Cure, parts: g.Parts, trade: n.trade(g.Trade),
		work: cs.spread(g.Minutes), extra: g.Extra, likely: g.Minutes.Likely, factor: 1,
	}
	b.shared = b.trade >= 0
	for _, l := range g.After {
		w := wait{job: l.Job, cure: l.Lag == nil}
		if !w.cure {
			w.lag = *l.Lag
		}
		b.after = append(b.after, w)
	}
	for _, u := range g.Uses {
		b.uses = append(b.uses, use{resource: u.Resource, units: u.Units})
	}
	if g.Cure.Minutes > 0 {
		for _, r := range g.Holds {
			b.holds = append(b.holds, use{resource: r, units: 1})
			n.held[r] = true
		}
	}
	return b
}

// trade gives the place of a trade; -1 for none.
func (n *network) trade(name string) int {
	if name == "" {
		return -1
	}
	i := slices.Index(n.trades, name)
	if i < 0 {
		i, n.trades, n.spreads = len(n.trades), append(n.trades, name), append(n.spreads, 0)
	}
	return i
}

// learn puts what its trade has learned into b: its work is scaled so that, as far as
// the history has weight, its geometric middle is the ratio times the likely minutes.
// So what a range says besides (it mostly leans to the high side) is not added to a
// history that has it already.
func (n *network) learn(b *job, learned map[string]Ratio) {
	if b.trade < 0 {
		return
	}
	r, ok := learned[n.trades[b.trade]]
	if !ok {
		return
	}
	lean := 0.0
	if b.likely > 0 {
		lean = b.work.logMean(b.likely, math.Sqrt(1-n.alike))
	}
	b.factor, b.shared = r.Ratio*math.Exp(-r.Weight*lean), false
	n.spreads[b.trade] = r.Spread
}

// findWhole finds out which jobs use a resource as a whole: no other user of it can
// work, and no cure holds it, in a minute that the job does not work.
func (n *network) findWhole() {
	users := make([][]*calendar.Hours, len(n.capacity))
	for j := range n.jobs {
		for _, u := range n.jobs[j].uses {
			if !slices.Contains(users[u.resource], n.jobs[j].hours) {
				users[u.resource] = append(users[u.resource], n.jobs[j].hours)
			}
		}
	}
	for j := range n.jobs {
		b := &n.jobs[j]
		for i := range b.uses {
			u := &b.uses[i]
			u.whole = b.hours.RoundTheClock() || !n.held[u.resource] &&
				!slices.ContainsFunc(users[u.resource], func(other *calendar.Hours) bool { return !b.hours.Contains(other) })
		}
	}
}
