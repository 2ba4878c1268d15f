package answer

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// WorstReach is the item that is hardest to get at.
type WorstReach struct {
	Item id.Item `json:"item"`
	Min  float64 `json:"min"`
}

// Design is the build with one option of a choice chosen, all other choices as they are.
type Design struct {
	ID             id.Option     `json:"id"`
	Name           string        `json:"name"`
	Chosen         bool          `json:"chosen"`
	MinutesPerYear float64       `json:"minutes_per_year"` // of access in service
	Unreachable    []id.Item     `json:"unreachable"`
	Finish         units.Instant `json:"finish,omitzero"`       // none where NoOrder
	BoundFinish    units.Instant `json:"bound_finish,omitzero"` // no order finishes before
	WorkMin        int           `json:"work_min"`              // of the order found
	Proven         bool          `json:"proven"`                // no order is better
	MassKg         float64       `json:"mass_kg"`               // of the items, as far as it is known
	Unweighed      int           `json:"unweighed"`             // items without a mass
	Worst          *WorstReach   `json:"worst_reach"`           // nil: nothing can be, or need be, opened
	NoOrder        string        `json:"no_order,omitempty"`    // why there is no finish
}

// BreakEven compares two designs: what the one takes longer to build, it gives back every
// year. Work is that of the orders found: where they are not proven, a small difference
// may be one of the search.
type BreakEven struct {
	Dearer       id.Option `json:"dearer"`         // takes longer to build
	Cheaper      id.Option `json:"cheaper"`        // is built sooner
	MoreMin      int       `json:"more_min"`       // of work
	SavedPerYear float64   `json:"saved_per_year"` // minutes of access; less than 0: it costs more there, too
	Years        *float64  `json:"years"`          // until it has paid back; nil: never, or Unequal
	// Unequal says why the years mean nothing: the two do not reach the same things.
	Unequal string `json:"unequal,omitempty"`
}

// Designs are the options of a choice side by side.
type Designs struct {
	Choice    string      `json:"choice"`
	Options   []Design    `json:"options"`    // in the order of the build
	BreakEven []BreakEven `json:"break_even"` // of every two
}

// Designs puts the options of a choice side by side: for each of them the build with that
// option chosen is planned, o.Time for each, and the order found for each is tried on the
// others, so that none has an order that would be better for another. The error is a *NameError where there is no
// such choice, or that of ctx.
func (v *View) Designs(ctx context.Context, choice string, o plan.Options) (Designs, error) {
	out := Designs{Choice: choice, Options: []Design{}, BreakEven: []BreakEven{}}
	var choices []string
	var all []*drawn
	for _, row := range v.Build.Options.Rows {
		choices = append(choices, row.Choice)
		if row.Choice != choice {
			continue
		}
		d, err := v.design(ctx, row, o)
		if err != nil {
			return Designs{}, fmt.Errorf("option %s: %w", row.ID, err)
		}
		all = append(all, d)
	}
	if err := even(ctx, all, o); err != nil {
		return Designs{}, err
	}
	for _, d := range all {
		out.Options = append(out.Options, d.Design)
	}
	if len(out.Options) == 0 {
		near := Near(choice, choices)
		if len(near) == 0 { // a build has few of them: name them all
			near = addNew(near, choices...)
		}
		return Designs{}, &NameError{What: "choice", Name: choice, Near: near}
	}
	for i, a := range out.Options {
		for _, b := range out.Options[i+1:] {
			if a.NoOrder == "" && b.NoOrder == "" {
				out.BreakEven = append(out.BreakEven, breakEven(a, b))
			}
		}
	}
	return out, nil
}

// design gives the figures of the build with one option chosen.
func (v *View) design(ctx context.Context, row build.Option, o plan.Options) (*drawn, error) {
	d := &drawn{Design: Design{ID: row.ID, Name: row.Name, Chosen: row.Chosen}}
	if err := ctx.Err(); err != nil {
		return d, err
	}
	b, err := v.Build.Choose(row.ID)
	if err != nil {
		return d, err
	}
	with := New(b, v.Now)
	with.last = v.last
	burden, err := with.Burden(ctx)
	if err != nil {
		return d, err
	}
	d.MinutesPerYear, d.Unreachable = burden.MinutesPerYear, burden.Unreachable
	d.weigh(with.Live.Items)
	d.Worst = with.worstReach()
	return d, d.order(ctx, with, o)
}

func (d *Design) weigh(items []access.Item) {
	for _, x := range items {
		d.MassKg = tidy(d.MassKg + x.MassKg)
		if x.MassKg == 0 {
			d.Unweighed++
		}
	}
}

// worstReach gives the item that is hardest to get at with everything fitted, of those that
// can be got at; nil where all of them lie open.
func (v *View) worstReach() *WorstReach {
	var out *WorstReach
	s := v.solver()
	for _, x := range v.Live.Items {
		cost, ok := s.Cost(v.itemQuery(x.ID, s.All()))
		if min := cost.Minutes(); ok && min > 0 && (out == nil || min > out.Min) {
			out = &WorstReach{Item: x.ID, Min: min}
		}
	}
	return out
}

// breakEven compares two designs that both have an order. Of two that take as long to build,
// the one that costs less in service is the dearer: it has paid back at once.
func breakEven(a, b Design) BreakEven {
	if a.WorkMin < b.WorkMin || a.WorkMin == b.WorkMin && a.MinutesPerYear > b.MinutesPerYear {
		a, b = b, a
	}
	out := BreakEven{Dearer: a.ID, Cheaper: b.ID, MoreMin: a.WorkMin - b.WorkMin, SavedPerYear: tidy(b.MinutesPerYear - a.MinutesPerYear)}
	out.Unequal = strings.TrimSuffix(unequal(a, b)+unequal(b, a), "; ")
	switch {
	case out.Unequal != "":
	case out.MoreMin == 0:
		out.Years = new(float64)
	case out.SavedPerYear > 0:
		years := float64(out.MoreMin) / out.SavedPerYear
		out.Years = &years
	}
	return out
}

// unequal says that a leaves things unreachable that b does not; empty where it leaves none.
func unequal(a, b Design) string {
	for _, x := range a.Unreachable {
		if !slices.Contains(b.Unreachable, x) {
			return fmt.Sprintf("with %s, %s cannot be reached for its service; ", a.ID, x)
		}
	}
	return ""
}
