package testkit

import (
	"sync"

	"example.com/vanlog/internal/units"
)

// Now is when tests take place: the Monday of ISO week 10 of 2026, at nine.
const Now = units.Instant(29_540_700)

// Clock is a clock that stands still until it is told otherwise.
type Clock struct {
	mu sync.Mutex
	at units.Instant
}

// NewClock makes a clock that shows at.
func NewClock(at units.Instant) *Clock { return &Clock{at: at} }

// Now gives what the clock shows.
func (c *Clock) Now() units.Instant {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

// Advance moves the clock on by some minutes.
func (c *Clock) Advance(minutes int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at += units.Instant(minutes)
}
