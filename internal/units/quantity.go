package units

// Quantity is a number with a unit, kept as it was typed.
type Quantity struct{ text string }

// ParseQuantity reads "12 N·m", "106 lbf·in", "23 3/16 in", "3.2 mm". Commas are no decimal
// points. The error is a *QuantityError.
func ParseQuantity(s string) (Quantity, error) { panic("not written yet") }

// String gives q as it was typed.
func (q Quantity) String() string { return q.text }

// Want is what a reading must be: a quantity with a tolerance, a limit or a range.
type Want struct{ text string }

// ParseWant reads "12 N·m ±10 %", "40 mm ±0.5 mm", "≥ 50 mm", "<= 3 %", "0.5-1.2 bar", "230 V".
func ParseWant(s string) (Want, error) { panic("not written yet") }

// String gives w as it was typed.
func (w Want) String() string { return w.text }

// Holds reports whether a reading is what is wanted; an error where their units do not match.
func (w Want) Holds(reading Quantity) (bool, error) { panic("not written yet") }

// Minutes is a length of work. It prints as "1h30" or "45m".
type Minutes int

// ParseMinutes reads lengths of work as people write them: "1h30", "90", "90m", "1.5h", "1:30", "2h".
// A bare number is minutes.
func ParseMinutes(s string) (Minutes, error) { panic("not written yet") }

// String gives a form that ParseMinutes reads.
func (m Minutes) String() string { panic("not written yet") }
