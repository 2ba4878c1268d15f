package record

import (
	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

func headSheet() sheet[build.Head] {
	return sheet[build.Head]{
		title: func(h build.Head) string { return h.Name },
		slots: []slot[build.Head]{
			text(ask("name", "Name", "of the build"), func(h *build.Head) *string { return &h.Name }),
			choose(ask("units", "Units shown", "what was typed stays as typed"), []string{"metric", "imperial"}, func(h *build.Head) *string { return &h.Units }),
			perhaps(ask("now", "Planning time", "for examples: a time that stands still; empty: the clock"),
				func(h *build.Head) **units.Instant { return &h.Now }, units.Instant.String, readInstant),
			amount(ask("wheelbase", "Wheelbase", "in mm"), func(h *build.Head) *float64 { return &vehicle(h).WheelbaseMm }, readNumber),
			perhaps(ask("inside", "Inside of the van", boxHint), func(h *build.Head) **access.Box { return &vehicle(h).InsideMm }, showBox, readBox),
			perhaps(ask("empty", "Empty mass", "in kg on the front and the rear axle, such as 1180 960"),
				func(h *build.Head) **build.Axles { return &vehicle(h).EmptyKg }, showAxles, readAxles),
			perhaps(ask("limits", "Mass limits", "in kg, total, front and rear axle, such as 3500 2100 2430"),
				func(h *build.Head) **build.Limits { return &vehicle(h).LimitsKg }, showLimits, readLimits),
		},
		final: finalHead,
	}
}

// vehicle gives the vehicle to be changed, one of its own.
func vehicle(h *build.Head) *build.Vehicle {
	v := build.Vehicle{}
	if h.Vehicle != nil {
		v = *h.Vehicle
	}
	h.Vehicle = &v
	return &v
}

// finalHead takes away a vehicle of which nothing is known.
func finalHead(h *build.Head, _ widget.Form) error {
	if h.Vehicle != nil && *h.Vehicle == (build.Vehicle{}) {
		h.Vehicle = nil
	}
	return nil
}

func readInstant(s string) (units.Instant, error) {
	w, err := readWhen(s)
	return w.At, err
}

func showAxles(a build.Axles) string { return showNumbers([]float64{a.Front, a.Rear}) }

func readAxles(s string) (build.Axles, error) {
	v, err := readNumbers(s, 2, readNumber)
	if err != nil {
		return build.Axles{}, err
	}
	return build.Axles{Front: v[0], Rear: v[1]}, nil
}

func showLimits(l build.Limits) string { return showNumbers([]float64{l.Total, l.Front, l.Rear}) }

func readLimits(s string) (build.Limits, error) {
	v, err := readNumbers(s, 3, readNumber)
	if err != nil {
		return build.Limits{}, err
	}
	return build.Limits{Total: v[0], Front: v[1], Rear: v[2]}, nil
}
