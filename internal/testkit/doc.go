// Package testkit has what tests of several packages need: a store in memory, a clock
// that stands still, and a small build. It is for tests alone.
package testkit
