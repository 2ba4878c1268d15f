package answer

import (
	"math"
	"slices"
	"strings"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Owed gives the proofs that t owes and the daybook does not hold.
func (v *View) Owed(t id.Task) []Owed {
	out := []Owed{}
	task, ok := v.task(t)
	if !ok {
		return out
	}
	for _, c := range task.Checks {
		if !v.Given(t, c.ID) {
			out = append(out, Owed{Task: t, Check: c.ID, What: c.What})
		}
	}
	return out
}

// owedBeforeCover gives the proofs of t that must be in before it is closed in, and are not.
func (v *View) owedBeforeCover(t tasks.Task) []Owed { return v.owedBeforeCoverBy(t, everything) }

// owedBeforeCoverBy gives those that were not in at a time.
func (v *View) owedBeforeCoverBy(t tasks.Task, by units.Instant) []Owed {
	var out []Owed
	for _, c := range t.Checks {
		if c.BeforeCover && !v.givenBy(t, c, by) {
			out = append(out, Owed{Task: t.ID, Check: c.ID, What: c.What})
		}
	}
	return out
}

// everything is a time by which all that is in the daybook was in.
const everything = units.Instant(math.MaxInt64)

// Given reports whether the daybook holds proof c of t: its last reading is within what
// is wanted, or there is a photo for it: the first photo is for the first proof by photo, and so on. Where nothing is said of what is wanted, any
// reading will do that does not say no.
func (v *View) Given(t id.Task, c id.Check) bool {
	task, _ := v.task(t)
	check, ok := task.Check(c)
	return ok && v.givenBy(task, check, everything)
}

// givenBy reports whether proof c of t was in at a time: what an entry holds is in when the
// entry has ended.
func (v *View) givenBy(t tasks.Task, c tasks.Check, by units.Instant) bool {
	if c.Kind == tasks.Photo {
		return v.photos(t.ID, by) > photosBefore(t, c.ID)
	}
	value, ok := v.lastReading(t.ID, c.ID, by)
	if !ok {
		return false
	}
	if c.Want == "" {
		return saysYes(value)
	}
	return within(value, c.Want)
}

// photos counts the photos of a task that were in at a time.
func (v *View) photos(t id.Task, by units.Instant) int {
	n := 0
	for _, e := range v.Entries(t) {
		if e.End() <= by {
			n += len(e.Photos)
		}
	}
	return n
}

// photosBefore counts the proofs by photo that a task owes before one of them: each photo proves
// one, in their order.
func photosBefore(t tasks.Task, c id.Check) int {
	n := 0
	for _, other := range t.Checks {
		if other.ID == c {
			break
		}
		if other.Kind == tasks.Photo {
			n++
		}
	}
	return n
}

func (v *View) lastReading(t id.Task, c id.Check, by units.Instant) (value string, ok bool) {
	for _, e := range v.Entries(t) {
		for _, r := range e.Readings {
			if r.Check == c && e.End() <= by {
				value, ok = r.Value, true
			}
		}
	}
	return value, ok
}

func saysYes(value string) bool {
	no := []string{"", "no", "n", "not ok", "fail", "failed", "false"}
	return !slices.Contains(no, strings.ToLower(strings.TrimSpace(value)))
}

// within reports whether a reading is what is wanted. What cannot be read proves nothing.
func within(value, want string) bool {
	w, err := units.ParseWant(want)
	if err != nil {
		return false
	}
	q, err := units.ParseQuantity(value)
	if err != nil {
		return false
	}
	holds, err := w.Holds(q)
	return err == nil && holds
}
