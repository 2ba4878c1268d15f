package daybook

import (
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Snag is a fault that was found: it is on the list until it is closed, or the task that it
// became is done.
type Snag struct {
	ID     id.Snag        `json:"id"`
	At     units.Instant  `json:"at"` // when it was found
	What   string         `json:"what"`
	Item   id.Item        `json:"item,omitempty"`  // that it is about
	Task   id.Task        `json:"task,omitempty"`  // likewise
	Place  id.Place       `json:"place,omitempty"` // likewise
	Became id.Task        `json:"became,omitempty"`
	Closed *units.Instant `json:"closed,omitempty"`
}
