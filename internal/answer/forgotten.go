package answer

import (
	"example.com/vanlog/internal/units"
)

// Overtime is how long the clock may run past the end of the builder's hours before it is
// taken to be forgotten, in minutes: a judgement.
const Overtime = 30

// Forgotten reports whether the running clock seems to be forgotten by now: it has run past the end of the
// builder's hours, which is then given. Of work begun after hours the end of the next hours
// counts. Without hours, or without a clock, nothing is forgotten.
func (v *View) Forgotten(now units.Instant) (end units.Instant, forgotten bool) {
	clock := v.Build.Clock
	if clock == nil {
		return 0, false
	}
	hours := v.cal().Of(builder)
	if hours.RoundTheClock() {
		return 0, false
	}
	next, ok := hours.Next(clock.Since)
	if !ok {
		return 0, false
	}
	last, ok := hours.LatestStart((next.Date() + 1).Start(), 1)
	if !ok {
		return 0, false
	}
	end = last + 1
	return end, now > end+Overtime
}
