package answer

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// Dearest is the one opening that costs most on a way.
type Dearest struct {
	Item id.Item `json:"item"`
	Min  float64 `json:"min"` // opening and refitting, once
}

// Burdened is an item that is serviced, and what getting at it costs in a year.
type Burdened struct {
	ID             id.Item  `json:"id"`
	PerYear        float64  `json:"per_year"`             // services, all kinds of them
	ReachMin       *float64 `json:"reach_min"`            // each time; nil: it cannot be reached
	MinutesPerYear *float64 `json:"minutes_per_year"`     // of access
	ServiceMin     float64  `json:"service_min_per_year"` // of the service itself
	Dearest        *Dearest `json:"dearest,omitempty"`    // nil: nothing has to be opened
}

// Burden is what the finished build costs its owner in access. Times are for the build
// with everything fitted, one trip in for each service.
type Burden struct {
	MinutesPerYear float64    `json:"minutes_per_year"`     // of access, without what cannot be reached
	ServiceMin     float64    `json:"service_min_per_year"` // of the services themselves, likewise
	MeanMin        float64    `json:"mean_min"`             // access and service, the mean over all services: Σ rate × time / Σ rate
	Unreachable    []id.Item  `json:"unreachable"`          // serviced items that cannot be reached
	Items          []Burdened `json:"items"`                // the most minutes a year first
	Options        []Design   `json:"options"`              // of a choice; empty unless one is asked for
}

// Burden gives what getting at all that is serviced costs in a year, once everything is
// fitted. MeanMin is the mean corrective maintenance time of MIL-HDBK-472 and MIL-HDBK-338B,
// Σ λi·Mcti / Σ λi, with the times a year of a service for λ and access plus service for Mct.
// The error is that of ctx.
func (v *View) Burden(ctx context.Context) (Burden, error) {
	out := Burden{Unreachable: []id.Item{}, Items: []Burdened{}, Options: []Design{}}
	rate := 0.0
	for _, x := range v.Live.Items {
		if len(x.Service) == 0 {
			continue
		}
		b, err := v.burdened(ctx, x)
		if err != nil {
			return Burden{}, err
		}
		out.Items = append(out.Items, b)
		if b.ReachMin == nil {
			out.Unreachable = append(out.Unreachable, x.ID)
			continue
		}
		out.MinutesPerYear = tidy(out.MinutesPerYear + *b.MinutesPerYear)
		out.ServiceMin = tidy(out.ServiceMin + b.ServiceMin)
		rate += b.PerYear
	}
	if rate > 0 {
		out.MeanMin = (out.MinutesPerYear + out.ServiceMin) / rate
	}
	slices.SortStableFunc(out.Items, moreBurden)
	return out, nil
}

// moreBurden puts what cannot be reached first, then the most minutes a year.
func moreBurden(a, b Burdened) int {
	switch {
	case a.MinutesPerYear == nil && b.MinutesPerYear == nil:
		return 0
	case a.MinutesPerYear == nil:
		return -1
	case b.MinutesPerYear == nil:
		return 1
	}
	return cmp.Compare(*b.MinutesPerYear, *a.MinutesPerYear)
}

// burdened gives what the services of an item cost in a year.
func (v *View) burdened(ctx context.Context, x access.Item) (Burdened, error) {
	out := Burdened{ID: x.ID}
	for _, s := range x.Service {
		out.PerYear += s.PerYear
		out.ServiceMin = tidy(out.ServiceMin + s.PerYear*s.Minutes)
	}
	way, err := v.way(ctx, v.itemQuery(x.ID, v.solver().All()))
	var none *access.NoWayError
	if errors.As(err, &none) {
		return out, nil
	}
	if err != nil {
		return out, err
	}
	reach := way.Cost.Minutes()
	year := tidy(reach * out.PerYear)
	out.ReachMin, out.MinutesPerYear, out.Dearest = &reach, &year, dearest(way)
	return out, nil
}

// tidy gives minutes without what sums of decimals leave behind, to the millionth.
func tidy(min float64) float64 { return math.Round(min*1e6) / 1e6 }

// dearest gives the opening of a way that costs most, the first of those that cost the same.
func dearest(way access.Plan) *Dearest {
	var out *Dearest
	for _, s := range way.Steps {
		min := (s.Cost + s.Refit).Minutes()
		if s.Do == access.Open && (out == nil || min > out.Min) {
			out = &Dearest{Item: s.Item, Min: min}
		}
	}
	return out
}
