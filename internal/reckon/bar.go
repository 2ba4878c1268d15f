package reckon

import (
	"fmt"
	"math/big"

	"example.com/vanlog/internal/units"
)

// Behind gives what is left, in mm, behind a recess in a panel: thickness less depth.
// A depth that goes through the panel is an *InputError.
func Behind(panel, depth units.Quantity) (Value, error) {
	var in input
	t := in.some("thickness of the panel", panel, "mm")
	d := in.orNone("depth of the recess", depth, "mm")
	if in.err == nil && d >= t {
		in.refuse("depth of the recess", "of %s goes through the panel of %s", depth, panel)
	}
	return in.value(t-d, "mm", Note{
		Formula: "left = thickness − depth",
		Source:  "subtraction; a 35 mm cup hinge is bored 10.5 to 13 mm deep by its makers",
		Caution: "Measure the panel: 18 mm ply is often 17.4 to 18.2 mm. Test on scrap of the same batch.",
	})
}

// HandleHolds says whether enough is left behind a recessed handle: 4 mm, or 3 mm with a
// backing plate (common practice, no source: from memory).
func HandleHolds(panel, depth units.Quantity, backed bool) (Verdict, error) {
	left, err := Behind(panel, depth)
	if err != nil {
		return Verdict{}, err
	}
	want, plate := 4.0, "without a backing plate"
	if backed {
		want, plate = 3, "with a backing plate"
	}
	note := left.Note
	note.Source = "common practice, no source: from memory"
	// What was typed in thousandths is not to fail by a rounding of the machine.
	return Verdict{left.Number >= want-least, fmt.Sprintf("%s left, want %v mm %s", left.Show(2), want, plate), note}, nil
}

// Bar is what a bar gives.
type Bar struct {
	Pieces int
	Left   units.Quantity // after the cut that frees it; in the unit of the bar, exact, nought at least
	Note   Note
}

const mostPieces = 100_000

// Pieces gives how many pieces of one length a bar gives, exactly: floor((bar − trim +
// kerf) / (piece + kerf)), as the last piece needs no cut where the bar ends with it. Trim
// is what squaring the first end takes, that cut included; the zero Quantity is none.
func Pieces(bar, piece, kerf, trim units.Quantity) (Bar, error) {
	var in input
	in.some("length of the bar", bar, "mm")
	in.some("length of a piece", piece, "mm")
	in.orNone("kerf", kerf, "mm")
	usable := bar
	if !trim.IsZero() {
		in.orNone("trim", trim, "mm")
		usable = in.sum(bar.Minus(trim))
	}
	step := in.sum(piece.Plus(kerf))
	n := in.floor(in.sum(usable.Plus(kerf)), step)
	left := in.sum(usable.Minus(in.sum(step.Times(int64(n), 1))))
	if left.Value().Sign() < 0 { // the last cut runs off the end
		left = in.sum(bar.Times(0, 1))
	}
	if in.err != nil {
		return Bar{}, in.err
	}
	return Bar{n, left, barNote()}, nil
}

func barNote() Note {
	return Note{
		Formula: "pieces = floor((bar − trim + kerf) / (piece + kerf))",
		Source:  "sum of lengths: n pieces and n − 1 cuts fit in the bar",
		Caution: "Measure your own blade. Squaring the first end costs a cut: trim 5 to 10 mm.",
	}
}

// sum keeps the error of a sum of quantities.
func (in *input) sum(q units.Quantity, err error) units.Quantity {
	if err != nil && in.err == nil {
		in.err = &InputError{What: "length", Why: "cannot be used: " + err.Error(), Err: err}
	}
	return q
}

// floor gives how often b goes into a; never for less than nothing.
func (in *input) floor(a, b units.Quantity) int {
	if in.err != nil {
		return 0
	}
	times, err := a.Over(b)
	in.sum(a, err)
	if in.err != nil || times.Sign() <= 0 {
		return 0
	}
	n := new(big.Int).Quo(times.Num(), times.Denom())
	if n.Cmp(big.NewInt(mostPieces)) > 0 {
		in.refuse("number of pieces", "is beyond %d: is the unit right?", mostPieces)
		return 0
	}
	return int(n.Int64())
}
