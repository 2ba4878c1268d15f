package answer

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// Reach gives the cheapest way to the targets, items or places by id (a name that is
// both is the item). What is asked for is not in the way itself. The error is a
// *NoWayError where there is no way, a *NameError where a target is not known.
func (v *View) Reach(ctx context.Context, targets []string, visits int, f Fitted) (Reach, error) {
	q, err := v.question(targets, visits, f)
	if err != nil {
		return Reach{}, err
	}
	p, err := v.way(ctx, q)
	if err != nil {
		return Reach{}, wayError(targets, err)
	}
	return v.wayOf(targets, q.Visits, p), nil
}

// question asks for the way to targets. The error is a *NameError where one is not known.
func (v *View) question(targets []string, visits int, f Fitted) (access.Query, error) {
	q := access.Query{Visits: max(1, visits)}
	for _, name := range targets {
		if err := v.addTarget(&q, name); err != nil {
			return q, err
		}
	}
	q.Fitted = minus(v.inTheWay(f), v.solver().Set(q.Items...))
	return q, nil
}

// wayError says that there is no way to targets, or that none was found in time.
func wayError(targets []string, err error) error {
	var none *access.NoWayError
	if errors.As(err, &none) {
		return &NoWayError{noWay(targets, none)}
	}
	return fmt.Errorf("the way to %v: %w", targets, err)
}

func (v *View) addTarget(q *access.Query, name string) error {
	if _, ok := v.Live.ItemAt[id.Item(name)]; ok {
		q.Items = append(q.Items, id.Item(name))
		return nil
	}
	if _, ok := v.Live.PlaceAt[id.Place(name)]; ok {
		q.Places = append(q.Places, id.Place(name))
		return nil
	}
	for _, x := range v.Build.Items.Rows {
		if x.ID == id.Item(name) {
			return fmt.Errorf("item %q belongs to option %q, which is not chosen", name, x.Option)
		}
	}
	return &NameError{What: "item or place", Name: name, Near: Near(name, v.itemsAndPlaces())}
}

func (v *View) itemsAndPlaces() []string {
	var out []string
	for _, x := range v.Live.Items {
		out = append(out, string(x.ID))
	}
	for _, p := range v.Live.Places {
		out = append(out, string(p.ID))
	}
	return out
}

func (v *View) inTheWay(f Fitted) access.Set {
	switch f {
	case FittedAll:
		return v.solver().All()
	case FittedNone:
		return v.solver().Set()
	}
	return v.fitted()
}

func noWay(targets []string, err *access.NoWayError) NoWay {
	out := NoWay{Targets: targets, StuckAt: []Stuck{}}
	for _, s := range err.Stuck {
		out.StuckAt = append(out.StuckAt, Stuck{Item: cmp.Or(string(s.Item), string(s.Place)), Why: s.Why})
	}
	return out
}

func (v *View) wayOf(targets []string, visits int, p access.Plan) Reach {
	r := Reach{Targets: targets, Visits: visits, CostMin: p.Cost.Minutes(), BoundMin: p.Bound.Minutes(),
		Proven: p.Proven, Persons: 1, Tools: []string{}, Steps: []Step{}, Refit: []Refit{}}
	for _, s := range p.Steps {
		step := Step{Do: string(s.Do), Place: string(s.Place), Item: string(s.Item), Min: s.Cost.Minutes(),
			Times: s.Times, Fasteners: []string{}, NoWayRound: s.NoWayRound}
		if o := v.opening(s); o != nil {
			step.How, step.Fasteners = o.How, fasteners(o)
			r.Persons = max(r.Persons, int(o.Persons))
			r.Tools = addNew(r.Tools, o.Tools...)
			r.Refit = append(r.Refit, Refit{Item: string(s.Item), Min: s.Refit.Minutes(), Torque: torques(o)})
		}
		r.Steps = append(r.Steps, step)
	}
	slices.Reverse(r.Refit)
	return r
}

// opening gives how the item of an opening step is opened, nil for other steps.
func (v *View) opening(s access.Step) *access.Opening {
	if i, ok := v.Live.ItemAt[s.Item]; ok && s.Do == access.Open {
		return v.Live.Items[i].Opening
	}
	return nil
}

func fasteners(o *access.Opening) []string {
	out := []string{}
	for _, f := range o.Fasteners {
		out = append(out, fmt.Sprintf("%d × %s", f.Count, f.What))
	}
	return out
}

func torques(o *access.Opening) []string {
	out := []string{}
	for _, f := range o.Fasteners {
		if f.Torque != "" {
			out = addNew(out, f.Torque)
		}
	}
	return out
}

func addNew(list []string, more ...string) []string {
	for _, s := range more {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	return list
}

// toolsFor gives the tools for the openings of a plan, in the order they are needed.
func (v *View) toolsFor(p access.Plan) []string {
	out := []string{}
	for _, s := range p.Steps {
		if o := v.opening(s); o != nil {
			out = addNew(out, o.Tools...)
		}
	}
	return out
}
