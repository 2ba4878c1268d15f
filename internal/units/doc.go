// Package units holds the values that a build is written in: times without a
// zone, lengths of work, three-point estimates, and quantities with a unit.
//
// Every value that a person types parses and prints; printing what was parsed
// gives it back. A quantity is kept as it was typed and converted only to be
// compared, added or shown; only what is shown is rounded. The package does no
// arithmetic on calendars (see package calendar) and guesses no missing unit.
package units
