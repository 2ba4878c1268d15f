// Package reckon does the sums at the bench: torque, wire sizes and volt drop, what is
// left behind a recess, pieces from a bar, cure of a deep bead, hours, lifting, and the
// weight on each axle.
//
// Every sum is a function of what it is given, and gives its Note with the number: the
// formula, where it was published, and what it does not know. Quantities come as a
// person typed them (see units.Quantity) and in any unit of their kind. What cannot be
// reckoned with is an *InputError, which names the quantity and says what would be right.
//
// The package knows no build and decides nothing. A value that stands "from memory" was
// not read in the standard it is said to come from.
package reckon

// Standing is the line that stands under every answer of this package.
const Standing = "Local codes, the vehicle maker's body manual and licensed practice prevail over anything shown here."
