package answer

import (
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
func (v *View) owedBeforeCover(t tasks.Task) []Owed {
	var out []Owed
	for _, o := range v.Owed(t.ID) {
		if c, _ := t.Check(o.Check); c.BeforeCover {
			out = append(out, o)
		}
	}
	return out
}

// Given reports whether the daybook holds proof c of t: its last reading is within what
// is wanted, or there is a photo for it. Where nothing is said of what is wanted, any
// reading will do that does not say no.
func (v *View) Given(t id.Task, c id.Check) bool {
	task, _ := v.task(t)
	check, ok := task.Check(c)
	if !ok {
		return false
	}
	if check.Kind == tasks.Photo {
		return v.hasPhoto(t)
	}
	value, ok := v.lastReading(t, c)
	if !ok {
		return false
	}
	if check.Want == "" {
		return saysYes(value)
	}
	return within(value, check.Want)
}

func (v *View) hasPhoto(t id.Task) bool {
	for _, e := range v.Entries(t) {
		if len(e.Photos) > 0 {
			return true
		}
	}
	return false
}

func (v *View) lastReading(t id.Task, c id.Check) (value string, ok bool) {
	for _, e := range v.Entries(t) {
		for _, r := range e.Readings {
			if r.Check == c {
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
