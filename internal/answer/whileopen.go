package answer

import (
	"cmp"
	"context"
	"math"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// WhileOpen is something that comes within reach, while the way to some targets is open, for
// at most some minutes more. One of Task, Proof and Service says what there is to do.
type WhileOpen struct {
	What     string   `json:"what"` // work, proof, service
	Task     id.Task  `json:"task,omitempty"`
	Check    id.Check `json:"check,omitempty"`
	Item     id.Item  `json:"item,omitempty"` // that is serviced
	Text     string   `json:"text"`
	MoreMin  float64  `json:"more_min"`           // of access, on top of the way that is open
	AloneMin float64  `json:"alone_min"`          // of access, as a trip of its own
	LeftMin  int      `json:"left_min,omitempty"` // of the work itself
	Status   Status   `json:"status,omitempty"`   // of the task
	PerYear  float64  `json:"per_year,omitempty"`
}

// WhileOpen gives what else comes within reach for at most mostMin more minutes while the
// cheapest way to the targets is open: open work, proofs that are still owed by work that is
// done or under way, and services of what is fitted. All is for one visit. What saves most comes
// first among what costs the same; what saves nothing against a trip of its own is left out, so
// is what lies open anyway.
//
// What is asked for is out of the way, as in Reach; so is what a task itself fits. The
// daybook has no record of services, so a service is given with its times a year; whether it
// is due is for the person to say. The errors are those of Reach.
func (v *View) WhileOpen(ctx context.Context, targets []string, f Fitted, mostMin float64) ([]WhileOpen, error) {
	base, err := v.question(targets, 1, f)
	if err != nil {
		return nil, err
	}
	if _, ok := v.solver().Cost(base); !ok {
		if _, err := v.way(ctx, base); err != nil {
			return nil, wayError(targets, err)
		}
	}
	o := &opened{v: v, base: base, fitted: v.inTheWay(f), most: mostMin, found: []WhileOpen{}}
	for _, t := range v.Live.Tasks {
		if ctx.Err() == nil {
			o.task(t)
		}
	}
	for _, x := range v.Live.Items {
		if ctx.Err() == nil {
			o.services(x)
		}
	}
	slices.SortStableFunc(o.found, func(a, b WhileOpen) int {
		return cmp.Or(cmp.Compare(a.MoreMin, b.MoreMin), cmp.Compare(b.AloneMin, a.AloneMin)) // the largest saving
	})
	return o.found, ctx.Err()
}

// opened is the way to some targets while it is open.
type opened struct {
	v      *View
	base   access.Query // the targets
	fitted access.Set   // what is in the way of what nobody asked for
	most   float64      // minutes
	found  []WhileOpen
}

// task adds the work of t, and the proofs that it owes.
func (o *opened) task(t tasks.Task) {
	underWay := t.State == tasks.Started || o.v.onTheClock(t.ID)
	owed := []Owed{}
	if t.State == tasks.Finished || underWay {
		owed = o.v.Owed(t.ID)
	}
	if t.State == tasks.Finished && len(owed) == 0 {
		return
	}
	w := WhileOpen{What: "work", Task: t.ID, Text: t.Title(), LeftMin: t.LeftMinutes()}
	if !o.price(&w, o.v.query(t, o.fitted), o.v.solver().Set(t.Fits...)) {
		return
	}
	w.Status = o.v.Status(t.ID)
	if t.State != tasks.Finished {
		o.found = append(o.found, w)
	}
	for _, p := range owed {
		w.What, w.Check, w.LeftMin = "proof", p.Check, 0
		w.Text = cmp.Or(p.What, string(p.Check)) + " of " + t.Title()
		o.found = append(o.found, w)
	}
}

// services adds the services of an item that is fitted.
func (o *opened) services(x access.Item) {
	self := o.v.solver().Set(x.ID)
	if len(x.Service) == 0 || !meets(self, o.fitted) {
		return
	}
	w := WhileOpen{What: "service", Item: x.ID}
	if !o.price(&w, o.v.itemQuery(x.ID, o.fitted), self) {
		return
	}
	for _, s := range x.Service {
		w.Text, w.PerYear, w.LeftMin = s.What+" of "+x.Title(), s.PerYear, int(math.Ceil(s.Minutes))
		o.found = append(o.found, w)
	}
}

// price says what it costs to get at something alone, and on top of the way that is open.
// It reports whether that is worth a word. Own is what is out of the way besides.
func (o *opened) price(w *WhileOpen, alone access.Query, own access.Set) bool {
	s := o.v.solver()
	alone.Visits = 1
	without := o.base
	without.Fitted = minus(without.Fitted, own)
	with := without
	with.Places = joined(without.Places, alone.Places)
	with.Items = joined(without.Items, alone.Items)
	first, there := s.Cost(without)
	both, together := s.Cost(with)
	trip, ok := s.Cost(alone)
	more := max(0, both-first)
	if !there || !together || !ok || more >= trip {
		return false
	}
	w.MoreMin, w.AloneMin = more.Minutes(), trip.Minutes()
	return w.MoreMin <= o.most
}

// joined gives the names of a, then those of b that are not among them, as a new list.
func joined[S comparable](a, b []S) []S {
	out := slices.Clone(a)
	for _, s := range b {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
