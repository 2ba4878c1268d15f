package reckon

import (
	"math"

	"example.com/vanlog/internal/units"
)

// Lift is a lift by one person, upright and with both hands, at one end of its way: ask
// for the origin and, where the load is placed with care, for the destination.
type Lift struct {
	Load       units.Quantity
	Horizontal units.Quantity // from between the ankles to the hands
	Vertical   units.Quantity // from the floor to the hands, at this end
	Travel     units.Quantity // from the one height to the other
	Twist      float64        // degrees off straight ahead
	Frequency  float64        // FM of the manual's table; 1 for a lift now and then
	Coupling   float64        // CM: 1.00 good grip, 0.95 fair grip below 75 cm (1.00 above), 0.90 poor
}

// Lifted is what the equation says of a lift.
type Lifted struct {
	LimitKg                float64 // recommended weight limit
	Index                  float64 // load over limit; above 1 the lift wants two people or a hoist
	HM, VM, DM, AM, FM, CM float64 // the multipliers
	Note                   Note
}

// Limit gives the recommended weight limit of the revised NIOSH equation (Publication
// 94-110, revised 9/2021), metric: 23 kg × 25/H × (1 − 0.003|V − 75|) × (0.82 + 4.5/D) ×
// (1 − 0.0032A) × FM × CM, in cm and degrees. H and D below 25 cm count as 25. Beyond H 63,
// V 175, D 175 and A 135 the limit is nought, which is an *InputError (these limits, and
// the tables of FM and CM, are from memory). It holds for an upright, steady stance only.
func (l Lift) Limit() (Lifted, error) {
	var in input
	load := in.some("load", l.Load, "kg")
	h := in.reach("horizontal distance", l.Horizontal, 63, "bring the load closer")
	v := in.reach("height of the hands", l.Vertical, 175, "lower the shelf")
	d := in.reach("travel", l.Travel, 175, "lift in two steps")
	in.between("twist", l.Twist, 0, 135, "turn the feet")
	in.between("frequency multiplier FM", l.Frequency, 0.1, 1, "1 for a lift now and then, else see the manual's table")
	in.between("coupling multiplier CM", l.Coupling, 0.9, 1, "1.00 good, 0.95 fair below 75 cm, 0.90 poor")
	if in.err != nil {
		return Lifted{}, in.err
	}
	out := Lifted{
		HM: 25 / max(h, 25), VM: 1 - 0.003*math.Abs(v-75), DM: 0.82 + 4.5/max(d, 25), AM: 1 - 0.0032*l.Twist,
		FM: l.Frequency, CM: l.Coupling, Note: liftNote(),
	}
	out.LimitKg = 23 * out.HM * out.VM * out.DM * out.AM * out.FM * out.CM
	out.Index = load / out.LimitKg
	return out, nil
}

// reach reads a distance in cm that the equation knows up to a limit.
func (in *input) reach(what string, q units.Quantity, limit float64, wayOut string) float64 {
	cm := in.orNone(what, q, "cm")
	if cm > limit {
		in.refuse(what, "of %s is beyond the %v cm of the equation: %s, or use a hoist", q, limit, wayOut)
	}
	return cm
}

func liftNote() Note {
	return Note{
		Formula: "RWL = 23 kg × 25/H × (1 − 0.003|V − 75|) × (0.82 + 4.5/D) × (1 − 0.0032A) × FM × CM; LI = load / RWL",
		Source:  "NIOSH Publication 94-110, revised 9/2021; limits of H, V, D, A and the values of FM and CM from memory",
		Caution: "Not for a crawl space: kneeling, crouched or twisted in a van is no stance that the equation knows, " +
			"and any load there needs its own look. LI above 1: two people or a hoist.",
	}
}
