package record

import "example.com/vanlog/internal/calendar"

// Week reads hours of the week as the forms ask for them, a line for each run of days:
// "mon-fri 08:00-12:00 13:00-17:00"; nil for an empty text, which says nothing.
func Week(text string) (*calendar.Week, error) { return readWeek(text) }
