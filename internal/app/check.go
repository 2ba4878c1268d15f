package app

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// What an entry can hold at most: more was not one stretch of work on one day.
const (
	mostMinutes = int(units.Day)
	mostVisits  = 1000
)

// check refuses what cannot be meant.
func (r LogRequest) check(t tasks.Task) error {
	switch {
	case r.Minutes < 0:
		return fmt.Errorf("log %s: %d minutes are less than none", t.ID, r.Minutes)
	case r.Minutes > mostMinutes:
		return fmt.Errorf("log %s: %s are more than a day has; make an entry for each day", t.ID, units.Minutes(r.Minutes))
	case !utf8.ValidString(r.Note):
		return fmt.Errorf("log %s: the note is not UTF-8 text", t.ID)
	case r.Visits < 0 || r.Visits > mostVisits:
		return fmt.Errorf("log %s: want 0 to %d trips in, not %d", t.ID, mostVisits, r.Visits)
	}
	for _, p := range r.Photos {
		if strings.TrimSpace(p) == "" {
			return fmt.Errorf("log %s: a photo without a name", t.ID)
		}
		if !utf8.ValidString(p) {
			return fmt.Errorf("log %s: the name of the photo %q is not UTF-8 text", t.ID, p)
		}
	}
	for _, reading := range r.Readings {
		if err := checkReading(t, reading); err != nil {
			return fmt.Errorf("log %s: %w", t.ID, err)
		}
	}
	return nil
}

// checkReading refuses a reading that could never prove anything. One that is out of
// its tolerance is a fact, and goes in.
func checkReading(t tasks.Task, r daybook.Reading) error {
	c, ok := t.Check(r.Check)
	switch {
	case !ok && len(t.Checks) == 0:
		return fmt.Errorf("no proof %q is owed, nor any other", r.Check)
	case !ok:
		return fmt.Errorf("no proof %q is owed, only %s", r.Check, strings.Join(proofsOf(t), ", "))
	case c.Kind == tasks.Photo:
		return fmt.Errorf("the proof %s is a photo, not a reading", r.Check)
	case !utf8.ValidString(r.Value):
		return fmt.Errorf("the reading for %s is not UTF-8 text", r.Check)
	case strings.TrimSpace(r.Value) == "":
		return fmt.Errorf("the reading for %s is empty", r.Check)
	case c.Want == "":
		return nil
	}
	q, err := units.ParseQuantity(r.Value)
	if err == nil {
		var w units.Want
		if w, err = units.ParseWant(c.Want); err == nil {
			_, err = w.Holds(q)
		}
	}
	if err != nil {
		return fmt.Errorf("the reading for %s, wanted %s: %w", r.Check, c.Want, err)
	}
	return nil
}

func proofsOf(t tasks.Task) []string {
	var out []string
	for _, c := range t.Checks {
		out = append(out, string(c.ID))
	}
	return out
}
