package answer

import (
	"context"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Fit is a group of tasks of one place that fit into the hours at hand, done together: what has
// to be opened is opened once for all of them, and a trip in serves all that still need one.
type Fit struct {
	Place     id.Place  `json:"place,omitempty"` // none: anywhere
	Minutes   int       `json:"minutes"`         // work and access
	AccessMin float64   `json:"access_min"`
	SavedMin  float64   `json:"saved_min"` // of access, against each task alone
	Persons   int       `json:"persons"`   // that the openings take
	Tasks     []id.Task `json:"tasks"`     // in the order to do them: what closes others in comes last
	Tools     []string  `json:"tools"`     // for the openings on the way in
	Parts     []id.Part `json:"parts"`     // to carry in: of these tasks, arrived
}

// Begin is a task that is too long for the hours at hand, to be begun in what they leave.
type Begin struct {
	Task      id.Task `json:"task"`
	Minutes   int     `json:"minutes"` // for work, with the access paid
	AccessMin float64 `json:"access_min"`
}

// Fits is what fits into the hours at hand.
type Fits struct {
	Groups  []Fit  `json:"fits"`
	Minutes int    `json:"fits_min"`        // of all groups
	Begin   *Begin `json:"begin,omitempty"` // nil: nothing, or no time is left
}

// worthBeginning is the least time, in minutes, for which a task is begun (common practice, no
// source).
const worthBeginning = 15

// fits chooses from what can be done what fits into the hours at hand. It goes by the order
// of the list: each task is taken that still fits beside those taken before it, access shared
// within a place. So no task is left out for one that stands behind it, and being grouped costs
// none its place in the day. It is not the choice that fills the hours best, and tasks that others
// of it would set free are not looked at.
//
// Groups come in the order of their first task; a group finds fitted what those before it
// have fitted.
func (v *View) fits(can []Can, hours float64) Fits {
	most := units.RoundMinutes(hours)
	out := Fits{Groups: []Fit{}}
	var chosen, rest []tasks.Task
	var day []group
	for _, c := range can {
		t, _ := v.task(c.ID)
		with := append(slices.Clone(chosen), t)
		groups, ok := v.groups(with)
		total := totalOf(groups)
		if !ok || total > most || !v.cured(groups) {
			rest = append(rest, t)
			continue
		}
		chosen, day, out.Minutes = with, groups, total
	}
	for _, g := range day {
		v.carry(&g)
		out.Groups = append(out.Groups, g.Fit)
	}
	out.Begin = v.begin(rest, chosen, day, most-out.Minutes)
	return out
}

// begin gives the first task that can be begun in so many minutes after those of the day, which
// are chosen.
func (v *View) begin(rest, chosen []tasks.Task, day []group, minutes int) *Begin {
	fitted := v.fitted()
	for _, t := range chosen {
		fitted = union(fitted, v.solver().Set(t.Fits...))
	}
	for _, t := range rest {
		cost, ok := v.reach(t, fitted)
		last := group{Fit: Fit{Tasks: []id.Task{t.ID}}}
		if work := minutes - cost.Ceil(); ok && work >= worthBeginning && v.cured(append(slices.Clip(day), last)) {
			return &Begin{Task: t.ID, Minutes: work, AccessMin: cost.Minutes()}
		}
	}
	return nil
}

// group is a Fit, and the ways in that it goes.
type group struct {
	Fit
	ways []access.Query
}

func totalOf(groups []group) int {
	sum := 0
	for _, g := range groups {
		sum += g.Minutes
	}
	return sum
}

// groups puts tasks of one place together, in the order of the first of each; false where
// there is no way to one of them.
func (v *View) groups(ts []tasks.Task) ([]group, bool) {
	var places []id.Place
	in := map[id.Place][]tasks.Task{}
	for _, t := range ts {
		if in[t.Place] == nil {
			places = append(places, t.Place)
		}
		in[t.Place] = append(in[t.Place], t)
	}
	fitted := v.fitted()
	var out []group
	for _, p := range places {
		g, ok := v.group(p, in[p], fitted)
		if !ok {
			return nil, false
		}
		out = append(out, g)
		for _, t := range in[p] {
			fitted = union(fitted, v.solver().Set(t.Fits...))
		}
	}
	return out, true
}

// group prices tasks of one place, done together with these items fitted: the cheaper of one
// way in for all of them, with as many trips as the one that needs most, and a way for each.
func (v *View) group(p id.Place, ts []tasks.Task, fitted access.Set) (group, bool) {
	g := group{Fit: Fit{Place: p, Persons: 1, Tools: []string{}, Parts: []id.Part{}}}
	together, alone := access.Query{Visits: 1, Fitted: fitted}, access.Cost(0)
	for _, t := range v.coversLast(ts, fitted) {
		q := v.query(t, fitted)
		c, ok := v.solver().Cost(q)
		if !ok {
			return g, false
		}
		alone += c
		g.ways = append(g.ways, q)
		together.Visits = max(together.Visits, q.Visits)
		together.Places, together.Items = joined(together.Places, q.Places), joined(together.Items, q.Items)
		together.Fitted = minus(together.Fitted, v.solver().Set(t.Fits...))
		g.Tasks = append(g.Tasks, t.ID)
		g.Minutes += t.LeftMinutes()
		g.Parts = joined(g.Parts, v.arrived(t))
	}
	cost := alone
	if c, ok := v.solver().Cost(together); ok && c <= alone {
		cost, g.ways = c, []access.Query{together}
	}
	g.AccessMin, g.SavedMin = cost.Minutes(), (alone - cost).Minutes()
	g.Minutes += cost.Ceil()
	return g, true
}

// carry adds the tools and hands that the openings on the ways in take.
func (v *View) carry(g *group) {
	for _, q := range g.ways {
		way, err := v.way(context.Background(), q)
		if err != nil {
			continue // none was found in time; the cost is known all the same
		}
		g.Tools = addNew(g.Tools, v.toolsFor(way)...)
		for _, s := range way.Steps {
			if o := v.opening(s); o != nil {
				g.Persons = max(g.Persons, int(o.Persons))
			}
		}
	}
}

// coversLast puts tasks that close in others of the group behind those, else keeps the order.
func (v *View) coversLast(ts []tasks.Task, fitted access.Set) []tasks.Task {
	covers := func(t tasks.Task) bool {
		if len(t.Fits) == 0 {
			return false
		}
		c := &cover{v: v, y: v.solver().Set(t.Fits...), without: fitted}
		c.with = union(fitted, c.y)
		return slices.ContainsFunc(ts, func(other tasks.Task) bool {
			_, dearer := c.task(other)
			return other.ID != t.ID && dearer
		})
	}
	var first, last []tasks.Task
	for _, t := range ts {
		if covers(t) {
			last = append(last, t)
		} else {
			first = append(first, t)
		}
	}
	return append(first, last...)
}

// arrived gives the parts of a task that have arrived.
func (v *View) arrived(t tasks.Task) []id.Part {
	var out []id.Part
	for _, p := range t.Parts {
		if i, ok := v.Live.PartAt[p]; ok && v.Live.Parts[i].Arrived != nil {
			out = append(out, p)
		}
	}
	return out
}
