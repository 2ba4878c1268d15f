package parts

import "example.com/vanlog/internal/units"

// DueDate gives the day on which p is due: as typed, else its likely lead time after it was
// ordered. It is false where neither is known.
func (p Part) DueDate() (units.Date, bool) {
	if p.Due == nil && p.Ordered == nil {
		return 0, false
	}
	return p.dueDate(0), true
}

// DueBy gives the last day on which p may be due to be there at a time: a part is there from
// 00:00 of the day after it is due.
func DueBy(at units.Instant) units.Date { return at.Date() - 1 }

// OrderBy gives the last day on which p can be ordered, with its likely lead time, to be due by a
// day.
func (p Part) OrderBy(due units.Date) units.Date { return due - units.Date(p.LeadDays.Likely) }
