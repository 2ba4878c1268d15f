// Package daybook holds what was done: entries with minutes, trips in, photos and
// readings, and the clock that runs while work is under way.
//
// Entries are facts. Nothing here is planned, and no entry is refused because it
// came ahead of its turn; that is said elsewhere (package answer).
package daybook

import (
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Entry is one stretch of work on one task.
type Entry struct {
	At       units.Instant `json:"at"` // when the work began
	Task     id.Task       `json:"task"`
	Minutes  int           `json:"minutes"`
	Visits   int           `json:"visits,omitempty"` // trips in, 0: not counted
	Note     string        `json:"note,omitempty"`
	Photos   []string      `json:"photos,omitempty"`
	Readings []Reading     `json:"readings,omitempty"`
	Finished bool          `json:"finished,omitempty"`
}

// End gives the minute at which the work of e ended.
func (e Entry) End() units.Instant { return e.At + units.Instant(e.Minutes) }

// Reading is what was read for a proof, as typed. A torque says little without how it was come
// by: that goes with it where the person says so.
type Reading struct {
	Check       id.Check `json:"check"`
	Value       string   `json:"value"`
	Source      string   `json:"source,omitempty"`       // of the value that was aimed at: manual, table, maker's sheet
	Condition   string   `json:"condition,omitempty"`    // of the thread: dry, oiled, thread lock
	Tool        string   `json:"tool,omitempty"`         // it was set with
	WitnessMark bool     `json:"witness_mark,omitempty"` // a line over bolt and part shows that it has not turned
}

// Clock is work under way: it becomes an entry when it stops.
type Clock struct {
	Task   id.Task       `json:"task"`
	Since  units.Instant `json:"since"`
	Visits int           `json:"visits,omitempty"`
}
