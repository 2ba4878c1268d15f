// Package exchange reads and writes builds as files of other programs: the JSON build
// file, and CSV as a spreadsheet has it. What it refuses it names with its path, all of it at once.
package exchange
