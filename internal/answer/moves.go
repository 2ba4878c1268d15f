package answer

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Place is a place in the order of work: some time after a task has finished, or before one
// starts. Exactly one of the two is set.
type Place struct {
	After  id.Task `json:"after,omitempty"`
	Before id.Task `json:"before,omitempty"`
}

// String gives "after plumb" or "before plumb".
func (p Place) String() string {
	if p.After != "" {
		return "after " + string(p.After)
	}
	return "before " + string(p.Before)
}

// edge gives the edge that puts task in the place.
func (p Place) edge(task id.Task) deps.Edge {
	e := deps.Edge{Before: p.After, After: task, Kind: deps.Must, LagH: new(float64), Why: byHand}
	if p.After == "" {
		e.Before, e.After = task, p.Before
	}
	return e
}

// byHand is how the why of every pin begins.
const byHand = "by hand"

// IsPin reports whether e was made by moving or pinning a task by hand: a must edge with a lag
// of nothing whose why begins with "by hand".
func IsPin(e deps.Edge) bool {
	return isMust(e) && e.LagH != nil && *e.LagH == 0 && strings.HasPrefix(e.Why, byHand)
}

// Pins gives the edges made by hand between tasks of the chosen design, in the order of the build.
func (v *View) Pins() []deps.Edge {
	var out []deps.Edge
	for _, e := range v.Live.Edges {
		if IsPin(e) {
			out = append(out, e)
		}
	}
	return out
}

// MoveError says that a task cannot be moved to a place: must edges lead the other way.
type MoveError struct {
	Task  id.Task
	Place Place
	// Path leads from what must come first to what must come last, each edge from where the
	// one before it ends.
	Path []deps.Edge
}

func (e *MoveError) Error() string {
	text := fmt.Sprintf("%s cannot come %s: ", e.Task, e.Place)
	for i, edge := range e.Path {
		text += []string{"", "; "}[min(i, 1)] + reason(fmt.Sprintf("%s must come before %s", edge.Before, edge.After), edge.Why)
	}
	return text
}

// PinFor gives the pin that moves a task to a place, and the keys of the pins between the two the
// other way round, which it takes the place of. The error is a *NameError for a task that is not
// known, a *MoveError where must edges lead the other way.
func (v *View) PinFor(task id.Task, to Place) (pin deps.Edge, replaces []build.Key, err error) {
	pin = to.edge(task)
	for _, name := range []id.Task{pin.Before, pin.After} {
		if err := v.Movable(name); err != nil {
			return pin, nil, err
		}
	}
	if pin.Before == pin.After {
		return pin, nil, fmt.Errorf("%s cannot come %s: that is the task itself", task, to)
	}
	var left []deps.Edge
	for i, e := range v.Build.Edges.Rows {
		if IsPin(e) && e.Before == pin.After && e.After == pin.Before {
			replaces = append(replaces, v.Build.Edges.Keys[i])
			continue
		}
		left = append(left, e)
	}
	if path := v.path(left, pin.After, pin.Before); path != nil {
		return pin, nil, &MoveError{Task: task, Place: to, Path: path}
	}
	return pin, replaces, nil
}

// Movable gives nil for a task that has a place in the order of work. The error is a *NameError for
// one that is not known, another for one that is done.
func (v *View) Movable(name id.Task) error {
	t, ok := v.task(name)
	switch {
	case !ok:
		return &NameError{What: "task", Name: string(name), Near: Near(string(name), v.taskIDs())}
	case t.State == tasks.Finished:
		return fmt.Errorf("%s is done: it has no place in the order any more", name)
	}
	return nil
}

// path gives the fewest of the must edges that lead from one task to another; nil where none do.
// Tasks of designs that are not chosen lead nowhere.
func (v *View) path(edges []deps.Edge, from, to id.Task) []deps.Edge {
	out := map[id.Task][]deps.Edge{}
	for _, e := range edges {
		if _, live := v.Live.TaskAt[e.After]; live && isMust(e) {
			out[e.Before] = append(out[e.Before], e)
		}
	}
	by := map[id.Task]deps.Edge{} // the edge that each task was first come to by
	for queue := []id.Task{from}; len(queue) > 0; queue = queue[1:] {
		for _, e := range out[queue[0]] {
			if _, seen := by[e.After]; !seen {
				by[e.After] = e
				queue = append(queue, e.After)
			}
		}
	}
	if _, ok := by[to]; !ok {
		return nil
	}
	path := []deps.Edge{by[to]}
	for path[0].Before != from {
		path = slices.Insert(path, 0, by[path[0].Before])
	}
	return path
}

// Figures are those of an order of work.
type Figures struct {
	Finish      units.Instant `json:"finish"`
	BoundFinish units.Instant `json:"bound_finish"`
	Proven      bool          `json:"proven"`
	WorkMin     int           `json:"work_min"`
	AccessMin   int           `json:"access_min"`
}

func figures(s Sequence) Figures {
	return Figures{Finish: s.Finish, BoundFinish: s.BoundFinish, Proven: s.Proven, WorkMin: s.WorkMin, AccessMin: s.AccessMin}
}

// MovePrice is what moving a task by hand costs. No figure of Is is better than that of Was
// unless the move replaces a pin: an order with the move is one without it, too.
type MovePrice struct {
	Task id.Task `json:"task"`
	Place
	Was           Figures     `json:"was"`       // the best order found without the move
	Is            Figures     `json:"is"`        // and with it
	LaterMin      int         `json:"later_min"` // of the finish, minutes on the clock
	LaterDays     float64     `json:"later_days"`
	MoreWorkMin   int         `json:"more_work_min"`
	MoreAccessMin int         `json:"more_access_min"`
	Dearer        []Closed    `json:"dearer"`        // tasks whose way in costs more than without the move
	ShouldBroken  []Broken    `json:"should_broken"` // should edges that only the order with the move breaks
	Replaces      []deps.Edge `json:"replaces"`      // pins the other way round, which the move takes the place of
	Sequence      Sequence    `json:"-"`             // the order with the move
}

// Move prices the moving of a task before it is taken: the order is searched without and with its
// pin, with the same options (without their Better), and with all other work in the order it had;
// the best counts. The errors are those of PinFor, and of Sequence.
func (v *View) Move(ctx context.Context, task id.Task, to Place, o plan.Options) (MovePrice, error) {
	pin, replaces, err := v.PinFor(task, to)
	if err != nil {
		return MovePrice{}, err
	}
	o.Better = nil
	p, was, err := v.find(ctx, o)
	if err != nil {
		return MovePrice{}, err
	}
	out := MovePrice{Task: task, Place: to, Replaces: []deps.Edge{}}
	for _, k := range replaces {
		e, _ := v.Build.Edges.ByKey(k)
		out.Replaces = append(out.Replaces, e)
	}
	with := v.pinned(pin, replaces)
	q, is, err := with.findMoved(ctx, task, p, was, o)
	if err != nil {
		return MovePrice{}, err
	}
	if len(replaces) == 0 && beats(is, was) {
		was = take(is, was)
	}
	out.compare(v, v.sequence(p, was), with.sequence(q, is))
	return out, nil
}

// pinned gives the view with a pin more, and some fewer.
func (v *View) pinned(pin deps.Edge, without []build.Key) *View {
	b := v.Build
	b.Edges = build.List[deps.Edge]{}
	last := build.Key(0)
	for i, e := range v.Build.Edges.Rows {
		if last = v.Build.Edges.Keys[i]; !slices.Contains(without, last) {
			b.Edges.Keys, b.Edges.Rows = append(b.Edges.Keys, last), append(b.Edges.Rows, e)
		}
	}
	b.Edges.Keys, b.Edges.Rows = append(b.Edges.Keys, last+1), append(b.Edges.Rows, pin)
	with := New(b, v.Now)
	with.solver, with.cal, with.fitted = v.solver, v.cal, v.fitted // no edge changes these
	with.last = v.last
	return with
}

// findMoved gives the better of the best order found, and of that in which all but the task keeps
// the order it has in was, an order of p.
func (v *View) findMoved(ctx context.Context, task id.Task, p *problem, was plan.Sequence, o plan.Options) (*problem, plan.Sequence, error) {
	q, is, err := v.find(ctx, o)
	if err != nil {
		return nil, is, err
	}
	kept, none := q.search(ctx, q.keeping(q.rowsFrom(p, was.Rows, task), q.share), polish(o))
	if none == nil && beats(kept, is) {
		is = take(kept, is)
	}
	return q, is, ctx.Err()
}

// compare fills in the figures of the order without and with the move.
func (m *MovePrice) compare(v *View, was, is Sequence) {
	m.Was, m.Is, m.Sequence = figures(was), figures(is), is
	m.LaterMin = int(is.Finish - was.Finish)
	m.LaterDays = float64(m.LaterMin) / float64(units.Day)
	m.MoreWorkMin, m.MoreAccessMin = is.WorkMin-was.WorkMin, is.AccessMin-was.AccessMin
	m.Dearer, m.ShouldBroken = []Closed{}, []Broken{}
	before := rowsByTask(&was)
	for _, r := range is.Tasks {
		if old := before[r.ID].AccessMin; r.AccessMin > old {
			m.Dearer = append(m.Dearer, v.dearer(r, old))
		}
	}
	for _, b := range is.ShouldBroken {
		if !slices.Contains(was.ShouldBroken, b) {
			m.ShouldBroken = append(m.ShouldBroken, b)
		}
	}
}

// dearer says that the way to a task costs more than the minutes before.
func (v *View) dearer(r Row, before int) Closed {
	t, _ := v.task(r.ID)
	after, extra := float64(r.AccessMin), float64(r.AccessMin-before)
	return Closed{Task: r.ID, Visits: float64(t.Visits), BeforeMin: float64(before), AfterMin: &after, ExtraMin: &extra}
}

// Neighbours gives the places that fix a task where it stands in seq: after the row before it and
// before the row after it, on each resource that it uses, but for those that a must edge says
// already, and those that stand the other way round as a lag below nothing lets them. The error is a *NameError where the task is not known, another where it is not in seq.
func (v *View) Neighbours(task id.Task, seq Sequence) ([]Place, error) {
	if err := v.Movable(task); err != nil {
		return nil, err
	}
	at := slices.IndexFunc(seq.Tasks, func(r Row) bool { return r.ID == task })
	if at < 0 {
		return nil, fmt.Errorf("%s is not in the order of work", task)
	}
	t, _ := v.task(task)
	var out []Place
	for _, r := range v.used(t) {
		before, after := v.beside(seq.Tasks, at, r)
		if before != "" && !v.says(before, task) && !v.overlap(task, before) && !slices.Contains(out, Place{After: before}) {
			out = append(out, Place{After: before})
		}
		if after != "" && !v.says(task, after) && !v.overlap(after, task) && !slices.Contains(out, Place{Before: after}) {
			out = append(out, Place{Before: after})
		}
	}
	return out, nil
}

// beside gives the last task that is done with a resource when row at begins, and the first that
// wants it when that row ends; empty where there is none.
func (v *View) beside(rows []Row, at int, r id.Resource) (before, after id.Task) {
	here, last := rows[at], units.Instant(0)
	for i, row := range rows {
		t, known := v.task(row.ID)
		switch {
		case i == at || !known || t.Uses[r] == 0:
		case i < at && row.Finish <= here.Start && (before == "" || row.Finish >= last):
			before, last = row.ID, row.Finish
		case i > at && row.Start >= here.Finish && after == "":
			after = row.ID
		}
	}
	return before, after
}

// says reports whether a must edge lets one task start no earlier than another has finished.
func (v *View) says(before, after id.Task) bool {
	return slices.ContainsFunc(v.before()[after], func(e deps.Edge) bool {
		return e.Before == before && isMust(e) && (e.LagH == nil || *e.LagH >= 0)
	})
}

// overlap reports whether must edges lead from one task to another with a lag below nothing on the
// way, so that the other may well come first: no pin can say that.
func (v *View) overlap(from, to id.Task) bool {
	return slices.ContainsFunc(v.path(v.Build.Edges.Rows, from, to), func(e deps.Edge) bool { return e.LagH != nil && *e.LagH < 0 })
}
