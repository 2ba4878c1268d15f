package calendar

import (
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Calendars holds the compiled hours of some resources.
type Calendars struct{}

// Compile prepares the hours of rs for fast counting.
func Compile(rs []Resource) *Calendars { panic("not written yet") }

// Of gives the minutes in which all the named resources are in their hours.
// No names, or only resources without hours, give hours round the clock.
// Hours of the same names are shared. It panics on a name that Compile was not given.
// It is safe for use by several goroutines.
func (c *Calendars) Of(names ...id.Resource) *Hours { panic("not written yet") }

// Hours is a set of minutes on the clock.
type Hours struct{}

// RoundTheClock reports whether every minute is in h.
func (h *Hours) RoundTheClock() bool { panic("not written yet") }

// In reports whether the minute that begins at t is in h.
func (h *Hours) In(t units.Instant) bool { panic("not written yet") }

// Next gives the first minute of h at or after t; false where there is none
// (within a hundred years).
func (h *Hours) Next(t units.Instant) (units.Instant, bool) { panic("not written yet") }

// Finish gives the end of the n-th minute of h at or after start; start itself
// where n is 0; false where h has not that many minutes.
func (h *Hours) Finish(start units.Instant, n int) (units.Instant, bool) { panic("not written yet") }

// LatestStart gives the latest minute s of h from which n minutes are done by
// finish: Finish(s, n) ≤ finish. For n = 0 it is finish.
func (h *Hours) LatestStart(finish units.Instant, n int) (units.Instant, bool) {
	panic("not written yet")
}

// Count gives the number of minutes of h in [from, to).
func (h *Hours) Count(from, to units.Instant) int { panic("not written yet") }

// Cure is a wait that begins at a finish: Minutes on the clock, or minutes of
// While where that is not nil (glue does not set below its temperature).
type Cure struct {
	Minutes int
	While   *Hours
}

// End gives the end of the cure that begins at finish; false where it never ends.
// It is finish where there is nothing to wait for.
func (c Cure) End(finish units.Instant) (units.Instant, bool) { panic("not written yet") }

// LatestFinish gives the latest finish f with End(f) ≤ end.
func (c Cure) LatestFinish(end units.Instant) units.Instant { panic("not written yet") }
