package answer

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// when gives a time as the texts of answers say it.
func when(t units.Instant) string { return t.Format("Mon 2006-01-02 15:04") }

func (v *View) taskTitle(t id.Task) string {
	if i, ok := v.Live.TaskAt[t]; ok {
		return v.Live.Tasks[i].Title()
	}
	return string(t)
}

func (v *View) itemTitle(x id.Item) string {
	if i, ok := v.Live.ItemAt[x]; ok {
		return v.Live.Items[i].Title()
	}
	return string(x)
}

func (v *View) resourceTitle(r id.Resource) string {
	if i, ok := v.Live.ResourceAt[r]; ok {
		return cmp.Or(v.Live.Resources[i].Name, string(r))
	}
	return string(r)
}

func (v *View) itemTitles(xs []id.Item) string {
	titles := make([]string, len(xs))
	for i, x := range xs {
		titles[i] = v.itemTitle(x)
	}
	return strings.Join(titles, ", ")
}

// reason gives text with the why of an edge after it, where it has one.
func reason(text, why string) string {
	if why == "" {
		return text
	}
	return text + ": " + why
}

func stuckText(err *access.NoWayError) string {
	why := make([]string, len(err.Stuck))
	for i, s := range err.Stuck {
		why[i] = fmt.Sprintf("%s%s: %s", s.Item, s.Place, s.Why)
	}
	return strings.Join(why, "; ")
}

// NoWayError says that there is no way to the targets.
type NoWayError struct{ NoWay }

func (e *NoWayError) Error() string {
	text := "there is no way to " + strings.Join(e.Targets, ", ")
	for i, s := range e.StuckAt {
		text += []string{": ", "; "}[min(i, 1)] + s.Item + ": " + s.Why
	}
	return text
}

// NameError says that nothing has this name, and which names are near.
type NameError struct {
	What string // task, item, place, item or place, …
	Name string
	Near []string
}

func (e *NameError) Error() string { return fmt.Sprintf("no %s %q", e.What, e.Name) }

// Near gives up to three of the names that are most like name, the nearest first: those
// that differ in a third of their letters at most, or have it in them.
func Near[S ~string](name string, have []S) []string {
	type match struct {
		name string
		far  int
	}
	var found []match
	for _, h := range have {
		far := distance(name, string(h))
		within := len(name) > 1 && strings.Contains(string(h), name)
		if within || far <= max(1, len(name)/3) {
			found = append(found, match{string(h), far})
		}
	}
	slices.SortStableFunc(found, func(a, b match) int {
		return cmp.Or(cmp.Compare(a.far, b.far), cmp.Compare(a.name, b.name))
	})
	out := []string{}
	for _, m := range found {
		if len(out) < 3 && !slices.Contains(out, m.name) {
			out = append(out, m.name)
		}
	}
	return out
}

// distance counts the letters to change, add, leave out, or swap with the next one, between a
// and b (optimal string alignment).
func distance(a, b string) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			change := rows[i-1][j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			rows[i][j] = min(change, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
