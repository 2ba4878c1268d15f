package answer

import (
	"context"
	"errors"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// Delay says that a part is due on another day than the build says.
type Delay struct {
	Part  id.Part    `json:"part"`
	Until units.Date `json:"until"` // due on that day: it is there from 00:00 of the next
}

// The names of the choices while parts are late.
const (
	HoldChoice    = "hold"                     // the order stays, everything waits its turn
	CarryOnChoice = "carry on"                 // the best order with the parts late
	OpenChoice    = "carry on, nothing buried" // the same, and what waits stays open
)

// Late answers what to do while parts are late.
type Late struct {
	Part    id.Part      `json:"part"`    // the first of Parts
	Until   units.Date   `json:"until"`   // of the first
	Parts   []Delay      `json:"parts"`   // all that are late
	Waiting []id.Task    `json:"waiting"` // open tasks that need one of the parts, or must come after one that does
	Present LateChoice   `json:"present"` // the plan with the parts as the build has them
	Choices []LateChoice `json:"choices"` // hold; carry on; carry on, nothing buried
}

// LateChoice is one of the things to do while parts are late, as the order of work it leads to.
type LateChoice struct {
	Name        string        `json:"name"`
	Finish      units.Instant `json:"finish,omitzero"`       // none where NoOrder
	BoundFinish units.Instant `json:"bound_finish,omitzero"` // no order of this choice ends sooner
	Proven      bool          `json:"proven"`                // the two are the same
	WorkMin     int           `json:"work_min"`
	AccessMin   int           `json:"access_min"` // of the work: getting at things
	Visits      int           `json:"visits"`     // trips in: entries into places, over all tasks
	Closes      []Buried      `json:"closes"`     // waiting work that is closed in when its turn comes
	NoOrder     string        `json:"no_order,omitempty"`
	Sequence    Sequence      `json:"-"` // the order itself; empty where NoOrder
}

// Late compares what can be done while parts are late: hold (the present order is kept, and
// everything waits its turn), carry on (the best order found; it may bury what waits), and carry
// on with nothing buried: no item that would close waiting work in is fitted before it, but for
// those that must be. Each of three searches has the options o, without its Better. Carrying on
// never ends later than the other two. The error is a *NameError for an unknown part, that of
// Sequence where there is no present order, or that of ctx.
func (v *View) Late(ctx context.Context, delays []Delay, o plan.Options) (Late, error) {
	with, err := v.delayed(delays)
	if err != nil || len(delays) == 0 {
		return Late{}, err
	}
	o.Better = nil
	p, present, err := v.find(ctx, o)
	if err != nil {
		return Late{}, err
	}
	l := &lateness{v: with, o: o}
	if l.p, err = with.problem(); err != nil {
		return Late{}, err
	}
	l.o.Last = with.lastRows(l.p)
	out := Late{Part: delays[0].Part, Until: delays[0].Until, Parts: delays}
	l.must = l.p.following()
	out.Waiting = l.wait(delays)
	out.Present = (&lateness{v: v, p: p, must: l.must, waiting: l.waiting}).choice(ctx, "present", present, l.must)
	out.Choices, err = l.choices(ctx, present)
	if err != nil {
		return Late{}, err
	}
	return out, ctx.Err()
}

// delayed gives the view with these parts late.
func (v *View) delayed(delays []Delay) (*View, error) {
	b := v.Build
	b.Parts.Rows = slices.Clone(b.Parts.Rows)
	for _, d := range delays {
		at := slices.IndexFunc(b.Parts.Rows, func(p parts.Part) bool { return p.ID == d.Part })
		if at < 0 {
			return nil, &NameError{What: "part", Name: string(d.Part), Near: Near(string(d.Part), v.partIDs())}
		}
		b.Parts.Rows[at].Due = &units.When{At: d.Until.Start(), DateOnly: true}
		b.Parts.Rows[at].Arrived = nil
	}
	with := New(b, v.Now)
	with.solver, with.cal, with.fitted = v.solver, v.cal, v.fitted // no part changes these
	with.last = v.last
	return with, nil
}

func (v *View) partIDs() []id.Part {
	var out []id.Part
	for _, p := range v.Live.Parts {
		out = append(out, p.ID)
	}
	return out
}

// lateness is the build with parts late, while the choices are made.
type lateness struct {
	v       *View // with the parts late
	p       *problem
	o       plan.Options
	must    *reaches
	waiting []bool // jobs that wait for the parts
}

// wait notes which jobs wait for the parts, and gives their names.
func (l *lateness) wait(delays []Delay) []id.Task {
	l.waiting = make([]bool, len(l.p.Jobs))
	for j, t := range l.p.task {
		if !slices.ContainsFunc(delays, func(d Delay) bool { return slices.Contains(t.Parts, d.Part) }) {
			continue
		}
		l.waiting[j] = true
		for k := range l.p.Jobs {
			l.waiting[k] = l.waiting[k] || l.must.leads(j, k)
		}
	}
	out := []id.Task{}
	for j, waits := range l.waiting {
		if waits {
			out = append(out, l.p.Jobs[j].ID)
		}
	}
	return out
}

// attempt is an order of one choice, or why there is none.
type attempt struct {
	found plan.Sequence
	must  *reaches // what comes after what in every order of the choice
	none  error    // a *plan.NoSequenceError
}

func (l *lateness) choices(ctx context.Context, present plan.Sequence) ([]LateChoice, error) {
	hold, err := l.try(ctx, l.p.keeping(present.Rows, l.p.share), plan.Options{Seed: l.o.Seed})
	if err != nil {
		return nil, err
	}
	if l.stands(present.Rows) {
		hold = l.betterOf(hold, attempt{found: present})
	}
	carry, err := l.try(ctx, nil, l.o)
	if err != nil {
		return nil, err
	}
	open, err := l.open(ctx)
	if err != nil {
		return nil, err
	}
	open = l.asOpen(l.asOpen(open, carry, carry), hold, carry)
	carry = l.betterOf(l.betterOf(carry, hold), open)
	var out []LateChoice
	for i, a := range []attempt{hold, carry, open} {
		name := []string{HoldChoice, CarryOnChoice, OpenChoice}[i]
		if a.none != nil {
			out = append(out, LateChoice{Name: name, Closes: []Buried{}, NoOrder: a.none.Error()})
			continue
		}
		out = append(out, l.choice(ctx, name, a.found, a.must))
	}
	return out, nil
}

// stands reports whether nothing in these rows starts before it may with the parts late: the plan
// is kept as it is.
func (l *lateness) stands(rows []plan.Row) bool {
	return !slices.ContainsFunc(rows, func(r plan.Row) bool { return r.Start < l.p.Jobs[r.Job].Release })
}

// try searches for the best order in which the pairs hold.
func (l *lateness) try(ctx context.Context, pairs []pair, o plan.Options) (attempt, error) {
	a := attempt{must: l.must}
	var err error
	a.found, err = l.p.search(ctx, pairs, o)
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		a.none, err = none, nil
	}
	return a, err
}

// betterOf gives a with the order of other where that is better: every order that other may
// take, a may take as well.
func (l *lateness) betterOf(a, other attempt) attempt {
	switch {
	case other.none != nil:
	case a.none != nil:
		a.found, a.none = take(other.found, plan.Sequence{Bound: l.p.Now}), nil
	case beats(other.found, a.found):
		a.found = take(other.found, a.found)
	}
	return a
}

// asOpen gives open with the order of other where that is better and happens to bury nothing that it
// need not. What is held back from the start may be more than that takes, so the bound is that
// of all orders, which free has.
func (l *lateness) asOpen(open, other, free attempt) attempt {
	if other.none != nil || open.none == nil && !beats(other.found, open.found) || len(l.stillBuried(other.found.Rows, l.must)) > 0 {
		return open
	}
	bound := plan.Sequence{Bound: l.p.Now}
	if free.none == nil {
		bound = free.found
	}
	return attempt{found: take(other.found, bound), must: l.must}
}

// choice gives the figures of an order. Must says what comes after what in all that are allowed.
func (l *lateness) choice(ctx context.Context, name string, found plan.Sequence, must *reaches) LateChoice {
	s := l.v.sequence(l.p, found)
	out := LateChoice{Name: name, Finish: s.Finish, BoundFinish: s.BoundFinish, Proven: s.Proven,
		WorkMin: s.WorkMin, AccessMin: s.AccessMin, Closes: []Buried{}, Sequence: s}
	for _, row := range found.Rows {
		b := l.burialOf(found.Rows, row, must)
		out.Visits += l.v.entriesOf(ctx, l.v.query(l.p.task[row.Job], b.then))
		if l.waiting[row.Job] && b.extra > 0 {
			out.Closes = append(out.Closes, b.row(l.v, l.p.task[row.Job]))
		}
	}
	return out
}

// entriesOf counts the trips in of the cheapest way.
func (v *View) entriesOf(ctx context.Context, q access.Query) (n int) {
	way, err := v.way(ctx, q)
	if err != nil {
		return 0 // broken off; the caller asks ctx
	}
	for _, s := range way.Steps {
		if s.Do == access.Enter {
			n += s.Times
		}
	}
	return n
}
