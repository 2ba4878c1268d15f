package answer

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// DayFilter says which entries of the daybook are wanted: those that agree with all that it
// says. The zero DayFilter wants all.
type DayFilter struct {
	Task     id.Task
	Place    id.Place    // where the task is done, or what it reaches or fits lies
	Item     id.Item     // that the task fits or reaches
	From, To *units.Date // both in it; an entry counts on the day on which it began
	Words    string      // all of them, in any order, anywhere in note, task, photos or readings
}

// All reports whether f wants every entry.
func (f DayFilter) All() bool { return f == DayFilter{} }

// DayRow is an entry of the daybook with its number there.
type DayRow struct {
	Number build.Key `json:"entry"`
	daybook.Entry
}

// Daybook gives the entries that f wants, by time. The error is a *NameError for a task,
// place or item that there is not.
func (v *View) Daybook(f DayFilter) ([]DayRow, error) {
	if err := v.checkFilter(f); err != nil {
		return nil, err
	}
	wanted, out := v.filteredTasks(f), []DayRow{}
	words := strings.Fields(strings.ToLower(f.Words))
	for i, e := range v.Build.Days.Rows {
		day := e.At.Date()
		switch {
		case wanted != nil && !wanted[e.Task], f.From != nil && day < *f.From, f.To != nil && day > *f.To:
		case len(words) == 0 || v.mentions(e, words):
			out = append(out, DayRow{v.Build.Days.Keys[i], e})
		}
	}
	return out, nil
}

func (v *View) checkFilter(f DayFilter) error {
	if f.Task != "" && !slices.ContainsFunc(v.Build.Tasks.Rows, func(t tasks.Task) bool { return t.ID == f.Task }) {
		return &NameError{What: "task", Name: string(f.Task), Near: Near(string(f.Task), v.taskIDs())}
	}
	if _, ok := v.Live.PlaceAt[f.Place]; !ok && f.Place != "" {
		return &NameError{What: "place", Name: string(f.Place), Near: Near(string(f.Place), sortedNames(v.Live.PlaceAt))}
	}
	if _, ok := v.Live.ItemAt[f.Item]; !ok && f.Item != "" {
		return &NameError{What: "item", Name: string(f.Item), Near: Near(string(f.Item), sortedNames(v.Live.ItemAt))}
	}
	if f.From != nil && f.To != nil && *f.From > *f.To {
		return fmt.Errorf("the days from %s to %s are none: the first comes after the last", f.From, f.To)
	}
	return nil
}

// filteredTasks gives the tasks whose entries f wants; nil for all.
func (v *View) filteredTasks(f DayFilter) map[id.Task]bool {
	if f.Task == "" && f.Place == "" && f.Item == "" {
		return nil
	}
	out := map[id.Task]bool{}
	for _, t := range v.Build.Tasks.Rows {
		out[t.ID] = (f.Task == "" || t.ID == f.Task) && (f.Place == "" || v.concerns(t, f.Place)) &&
			(f.Item == "" || slices.Contains(t.Fits, f.Item) || slices.Contains(t.Reaches, f.Item))
	}
	return out
}

// concerns reports whether a task is done in a place, or at an item that lies there.
func (v *View) concerns(t tasks.Task, p id.Place) bool {
	if t.Place == p {
		return true
	}
	return slices.ContainsFunc(slices.Concat(t.Fits, t.Reaches), func(x id.Item) bool {
		i, ok := v.Live.ItemAt[x]
		return ok && v.Live.Items[i].Place == p
	})
}

// mentions reports whether all words, in small letters, are somewhere in an entry.
func (v *View) mentions(e daybook.Entry, words []string) bool {
	parts := []string{string(e.Task), e.Note}
	if t, ok := v.task(e.Task); ok {
		parts = append(parts, t.Name)
	}
	parts = append(parts, e.Photos...)
	for _, r := range e.Readings {
		parts = append(parts, string(r.Check), r.Value)
	}
	text := strings.ToLower(strings.Join(parts, "\n"))
	return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
}

func sortedNames[K id.Place | id.Item](at map[K]int) []K {
	var out []K
	for name := range at {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
