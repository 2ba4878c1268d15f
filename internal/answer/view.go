package answer

import (
	"context"
	"sync"
	"time"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// View is a build at a planning time, ready for questions. It is safe for use by
// several goroutines.
type View struct {
	Build build.Build
	Live  build.Live
	Now   units.Instant
	last  *Sequence // that searches begin with; nil: none

	// Each is made when it is first asked for, once.
	cal     func() *calendar.Calendars
	solver  func() *access.Solver
	fitted  func() access.Set                  // what is fitted now
	entries func() map[id.Task][]daybook.Entry // of the whole daybook, oldest first
	before  func() map[id.Task][]deps.Edge     // edges by the task they lead into
	early   func() (map[id.Task]TaskDates, error)
	shut    func() error // nil, or why no order can be: loops of must edges
}

// New prepares b for questions at now. The build must be one without faults.
func New(b build.Build, now units.Instant) *View {
	v := &View{Build: b, Live: b.Live(), Now: now}
	v.cal = sync.OnceValue(func() *calendar.Calendars { return calendar.Compile(v.Live.Resources) })
	v.solver = sync.OnceValue(func() *access.Solver { return access.NewSolver(v.Live.Places, v.Live.Items) })
	v.fitted = sync.OnceValue(func() access.Set { return v.solver().Set(v.Live.FittedNow()...) })
	v.entries = sync.OnceValue(v.entriesByTask)
	v.before = sync.OnceValue(v.edgesByAfter)
	v.early = sync.OnceValues(v.datesByTask)
	v.shut = sync.OnceValue(v.loops)
	return v
}

// Following gives the view with every search for an order of work beginning with last, an order
// that was found before, also of a build that was a little other: an order that still holds is
// given back where nothing better is found. A nil last begins anew.
func (v *View) Following(last *Sequence) *View {
	with := *v
	with.last = last
	return &with
}

// lastRows gives the order that searches begin with, as rows of p; tasks that p has not are left
// out.
func (v *View) lastRows(p *problem) []plan.Row {
	if v.last == nil {
		return nil
	}
	var rows []plan.Row
	for _, r := range v.last.Tasks {
		if j, ok := p.job[r.ID]; ok {
			rows = append(rows, plan.Row{Job: j, Start: r.Start, Finish: r.Finish})
		}
	}
	return rows
}

func (v *View) entriesByTask() map[id.Task][]daybook.Entry {
	out := map[id.Task][]daybook.Entry{}
	for _, e := range v.Build.Days.Rows {
		out[e.Task] = append(out[e.Task], e)
	}
	return out
}

func (v *View) edgesByAfter() map[id.Task][]deps.Edge {
	out := map[id.Task][]deps.Edge{}
	for _, e := range v.Live.Edges {
		out[e.After] = append(out[e.After], e)
	}
	return out
}

func (v *View) loops() error {
	_, err := deps.Order(v.taskIDs(), v.Live.Edges)
	return err
}

func (v *View) taskIDs() []id.Task {
	out := make([]id.Task, len(v.Live.Tasks))
	for i, t := range v.Live.Tasks {
		out[i] = t.ID
	}
	return out
}

// task gives the live task named t.
func (v *View) task(t id.Task) (tasks.Task, bool) {
	i, ok := v.Live.TaskAt[t]
	if !ok {
		return tasks.Task{}, false
	}
	return v.Live.Tasks[i], true
}

// Entries gives the daybook of t, oldest first.
func (v *View) Entries(t id.Task) []daybook.Entry { return v.entries()[t] }

// patience is how long a way in is searched for at most. What was found by then is the
// answer, with its bound; nearly all are proven within a hundredth of it.
const patience = 200 * time.Millisecond

// way gives the cheapest way for q, steps and all.
func (v *View) way(ctx context.Context, q access.Query) (access.Plan, error) {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	return v.solver().Plan(ctx, q)
}

// query asks for the way to t with these items fitted; those it fits itself are not in its way.
func (v *View) query(t tasks.Task, fitted access.Set) access.Query {
	q := access.Query{Visits: int(t.Visits), Fitted: minus(fitted, v.solver().Set(t.Fits...))}
	q.Items = append(append(q.Items, t.Reaches...), t.Fits...)
	if t.Place != "" {
		q.Places = []id.Place{t.Place}
	}
	return q
}

// itemQuery asks for the way to an item, one trip in, with these items fitted; it is not in its
// own way.
func (v *View) itemQuery(x id.Item, fitted access.Set) access.Query {
	return access.Query{Items: []id.Item{x}, Visits: 1, Fitted: minus(fitted, v.solver().Set(x))}
}

// reach gives what the way to t costs with these items fitted, and whether there is one.
func (v *View) reach(t tasks.Task, fitted access.Set) (access.Cost, bool) {
	return v.solver().Cost(v.query(t, fitted))
}
