package reckon

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/vanlog/internal/units"
)

const craft = "A rule for small craft, borrowed: a van has no single equal."

// FuseRun is the wire between a source and its overcurrent device.
type FuseRun struct {
	Distance    units.Quantity // along the wire
	Sheathed    bool           // sheathed or enclosed for its whole length
	AtBattery   bool           // fixed straight to the battery
	EngineStart bool           // the engine-start circuit
}

// Check says whether the device is near enough to its source: 7 in, or 40 in where the
// wire is sheathed, or 72 in where it is also fixed straight to the battery; the
// engine-start circuit is excepted (ABYC E-11).
func (r FuseRun) Check() (Verdict, error) {
	var in input
	run := in.orNone("distance of the fuse", r.Distance, "in")
	note := Note{Formula: "7 in; 40 in sheathed; 72 in sheathed and straight at the battery", Source: "ABYC E-11", Caution: craft}
	if r.EngineStart {
		return in.verdict(true, "the engine-start circuit is excepted", note)
	}
	limit, where := 7.0, "in a wire without a sheath"
	switch {
	case r.Sheathed && r.AtBattery:
		limit, where = 72, "in a sheathed wire straight at the battery"
	case r.Sheathed:
		limit, where = 40, "in a sheathed wire"
	}
	text := fmt.Sprintf("%s from the source, at most %v in (%.0f mm) %s", r.Distance, limit, limit*25.4, where)
	return in.verdict(run <= limit, text, note)
}

// FuseFits says whether a fuse guards a wire: its rating is no more than the current that
// the wire may carry, in that bundle and at that temperature.
func FuseFits(rating, mayCarry units.Quantity) (Verdict, error) {
	var in input
	fuse := in.some("fuse rating", rating, "A")
	wire := in.some("current the wire may carry", mayCarry, "A")
	return in.verdict(fuse <= wire, fmt.Sprintf("a fuse of %s on a wire that may carry %s", rating, mayCarry), Note{
		Formula: "fuse rating ≤ current the wire may carry",
		Source:  "small-craft practice (ABYC E-11, ISO 13297)",
		Caution: "The wire's current is that of its bundle and temperature, not of a wire alone in the open.",
	})
}

// StudStack says whether ring terminals sit right on a stud: at most four, the largest at
// the bottom. Areas are those of their wires in mm², from the bottom up.
func StudStack(areas []float64) Verdict {
	v := Verdict{Note: studNote()}
	falling := slices.IsSortedFunc(areas, func(a, b float64) int { return cmp.Compare(b, a) })
	switch {
	case len(areas) > 4:
		v.Text = fmt.Sprintf("%d ring terminals on one stud, at most 4: use a bus bar", len(areas))
	case !falling:
		v.Text = "a larger terminal sits on a smaller one: put the largest at the bottom"
	default:
		v.OK, v.Text = true, fmt.Sprintf("%d ring terminals, largest at the bottom", len(areas))
	}
	return v
}

func studNote() Note {
	return Note{
		Formula: "at most 4 ring terminals, largest at the bottom",
		Source:  "small-craft practice (ABYC E-11, ISO 13297)",
		Caution: craft + " No washer between the lug and the face of the terminal.",
	}
}
