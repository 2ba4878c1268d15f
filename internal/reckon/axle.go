package reckon

import (
	"fmt"

	"example.com/vanlog/internal/units"
)

// Axles is the weight on each axle, or the share of one load, in kg. Front may be below
// nought for a load behind the rear axle: it lifts the front.
type Axles struct {
	FrontKg, RearKg float64
	Note            Note
}

// TotalKg gives the weight of both axles.
func (a Axles) TotalKg() float64 { return a.FrontKg + a.RearKg }

// Load is a mass and where it sits: behind the front axle, or below nought before it.
type Load struct{ Mass, Behind units.Quantity }

// AxleShares puts loads on a van that was weighed (start, each axle by itself) and gives
// the sum and the share of each: rear = m × x / wheelbase, front = m × (1 − x / wheelbase),
// moments about the front axle. A load taken out has a mass below nought.
func AxleShares(wheelbase units.Quantity, start Axles, loads ...Load) (sum Axles, each []Axles, err error) {
	var in input
	base := in.some("wheelbase", wheelbase, "m")
	in.between("weighed front axle", start.FrontKg, 0, most, "kg on the scale")
	in.between("weighed rear axle", start.RearKg, 0, most, "kg on the scale")
	note := axleNote()
	sum = Axles{start.FrontKg, start.RearKg, note}
	for i, l := range loads {
		m := in.signed(fmt.Sprintf("mass of load %d", i+1), l.Mass, "kg")
		x := in.signed(fmt.Sprintf("place of load %d", i+1), l.Behind, "m")
		share := Axles{m * (1 - x/base), m * x / base, note}
		each = append(each, share)
		sum.FrontKg += share.FrontKg
		sum.RearKg += share.RearKg
	}
	if in.err != nil {
		return Axles{}, nil, in.err
	}
	return sum, each, nil
}

func axleNote() Note {
	return Note{
		Formula: "rear = m × x / wheelbase, front = m × (1 − x / wheelbase), x behind the front axle",
		Source:  "moments about the front axle",
		Caution: "Weigh front, whole and rear, loaded and level, and hold each against its plate.",
	}
}

// Against holds the axles and the whole, in that order, against the greatest weights on
// the vehicle's plate, in kg.
func (a Axles) Against(front, rear, total float64) []Verdict {
	note := plateNote()
	rule := func(what string, kg, plate float64) Verdict {
		if kg > plate {
			return Verdict{false, fmt.Sprintf("%s %.0f kg, %.0f kg over the plate of %.0f", what, kg, kg-plate, plate), note}
		}
		return Verdict{true, fmt.Sprintf("%s %.0f kg, %.0f kg left of %.0f", what, kg, plate-kg, plate), note}
	}
	return []Verdict{rule("front axle", a.FrontKg, front), rule("rear axle", a.RearKg, rear), rule("whole", a.TotalKg(), total)}
}

func plateNote() Note {
	return Note{
		Formula: "left = plate − weight, for each axle and for the whole",
		Source:  "GVWR and GAWR as in 49 CFR 571.3: the maker's values",
		Caution: "Reckoned weights miss what was not written down: weigh it, loaded and level.",
	}
}
