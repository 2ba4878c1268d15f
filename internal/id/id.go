// Package id holds the names of a build's records, one type for each kind, so
// that the name of a task cannot be handed over as the name of an item.
//
// A name is one to forty characters, lower-case letters, digits and hyphens,
// beginning with a letter or a digit. The empty name is no record. The package
// knows nothing of the records themselves.
package id

// The names of the records of a build.
type (
	// Task names a piece of work.
	Task string
	// Item names a thing that is, or will be, fitted in the van.
	Item string
	// Place names a part of the van that a person can be in or reach into.
	Place string
	// Part names a thing that is bought.
	Part string
	// Resource names what a task needs while it runs: hands, room, warmth.
	Resource string
	// Option names one answer to a design choice.
	Option string
	// Stock names bars or boards that pieces are cut from.
	Stock string
	// Cut names a row of the cutting list.
	Cut string
	// Snag names a fault that was found.
	Snag string
	// Check names a proof, unique within its task.
	Check string
)

// MaxLen is the length of the longest name.
const MaxLen = 40

// Valid reports whether s can be a name: [a-z0-9][a-z0-9-]{0,39}.
func Valid[S ~string](s S) bool {
	if s == "" || len(s) > MaxLen || s[0] == '-' {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}
