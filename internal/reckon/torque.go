package reckon

import (
	"math"

	"example.com/vanlog/internal/units"
)

const kHint = "dry steel is about 0.20, oiled 0.15"

// BoltTorque gives the torque, in N·m, that pulls a bolt to a force: T = K × d × F, where
// K is the nut factor (about 0.20 dry, 0.15 oiled: from memory) and d the diameter of the
// thread. K is uncertain by a quarter or more; the torque is no better.
func BoltTorque(k float64, diameter, force units.Quantity) (Value, error) {
	var in input
	in.between("nut factor K", k, 0.05, 0.5, kHint)
	d := in.some("diameter of the thread", diameter, "m")
	f := in.some("force in the bolt", force, "N")
	return in.value(k*d*f, "N·m", Note{
		Formula: "T = K × d × F",
		Source:  "handbook formula for the tightening torque; K about 0.20 dry, 0.15 oiled: from memory",
		Caution: "K is a guess within a quarter: keep the torque with its source and its condition (dry, oiled, locking patch).",
	})
}

// bolt is a coarse thread, ISO 898-1: from memory.
type bolt struct {
	size     string
	diameter float64 // mm
	area     float64 // mm², stress area
}

var bolts = []bolt{{"M4", 4, 8.78}, {"M5", 5, 14.2}, {"M6", 6, 20.1}, {"M8", 8, 36.6}, {"M10", 10, 58.0}, {"M12", 12, 84.3}}

// proof88 is the proof stress of class 8.8 up to 16 mm in MPa, ISO 898-1: from memory.
const proof88 = 580

// ProofForce gives a share of the proof force, in kN, of a bolt of class 8.8 and a size
// "M4" to "M12": F = share × 580 MPa × stress area (ISO 898-1: from memory).
func ProofForce(size string, share float64) (Value, error) {
	var in input
	in.between("share of the proof force", share, 0.05, 1, "0.75 is usual")
	b, known := boltOf(size)
	if !known {
		in.refuse("size of the bolt", "%q is not known here, want M4, M5, M6, M8, M10 or M12", size)
	}
	return in.value(share*proof88*b.area/1000, "kN", Note{
		Formula: "F = share × proof stress × stress area, 580 MPa up to 16 mm",
		Source:  "ISO 898-1: from memory",
		Caution: "For steel bolts of class 8.8 in steel. A slot, an insert or a panel gives way before the bolt.",
	})
}

func boltOf(size string) (bolt, bool) {
	for _, b := range bolts {
		if b.size == size {
			return b, true
		}
	}
	return bolt{}, false
}

// CrowFoot gives what to set on a torque wrench, in N·m, to get a torque at the end of an
// extension: set = T × A / (A + E × cos angle), where A runs from the middle of the grip
// to the drive and E from the drive to the bolt. Angle is in degrees: 0 in line with the
// arm and pointing away, 90 square to it (then set = T), up to 180.
func CrowFoot(wanted, arm, extension units.Quantity, angle float64) (Value, error) {
	var in input
	t := in.some("torque wanted", wanted, "N·m")
	a := in.some("arm length", arm, "mm")
	e := in.orNone("extension", extension, "mm")
	in.between("angle", angle, 0, 180, "0 is in line with the arm, 90 square to it")
	reach := a + e*math.Cos(angle*math.Pi/180)
	if in.err == nil && reach < least {
		in.refuse("extension", "of %s points back beyond the grip, want it shorter than the arm", extension)
	}
	return in.value(t*a/reach, "N·m", Note{
		Formula: "set = T × A / (A + E × cos angle)",
		Source:  "lever law; common form in the manuals of torque wrenches",
		Caution: "Hold the middle of the grip: the arm is measured from there. An extension along the drive (a socket bar) changes nothing.",
	})
}

// TSlotTorque gives the profile maker's torque for a T-slot fastener, with its cautions.
// There is no default, and a missing number is an *InputError that says so: the lips of
// the slot set the limit, not the bolt, and nuts for one slot are sold with loads that
// differ by nearly three times.
func TSlotTorque(maker units.Quantity) (Value, error) {
	var in input
	if maker.IsZero() {
		in.refuse("torque of the T-slot fastener", "has no default: ask for the profile maker's number, the slot lips set the limit and not the bolt")
	}
	return in.value(in.some("torque of the T-slot fastener", maker, "N·m"), "N·m", Note{
		Source:  "the profile maker's number, as typed",
		Caution: "No impact driver; check again after a time.",
	})
}

// expands is the expansion of aluminium profile in 1/K, from a profile catalogue.
const expands = 23.4e-6

// Expansion gives how much an aluminium profile grows, in mm, when it warms by so many
// kelvin (degrees Celsius of difference); below nought it shrinks.
func Expansion(length units.Quantity, kelvin float64) (Value, error) {
	var in input
	l := in.some("length of the profile", length, "mm")
	in.between("rise in temperature", kelvin, -200, 200, "a van sees about 30 K between a cold and a hot day")
	return in.value(l*expands*kelvin, "mm", Note{
		Formula: "growth = length × 23.4 × 10⁻⁶/K × rise",
		Source:  "catalogue of a maker of aluminium profile",
		Caution: "Fix long runs at one end, and leave the other free to move.",
	})
}
