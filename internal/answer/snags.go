package answer

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Snag is a fault that was found, as it stands now.
type Snag struct {
	daybook.Snag
	Open     bool           `json:"open"`
	Where    id.Place       `json:"where,omitempty"`     // its place, or that of its item or task
	HiddenBy id.Task        `json:"hidden_by,omitempty"` // the task that will close it in first, in the order that was asked about
	HiddenAt *units.Instant `json:"hidden_at,omitempty"`
}

// SnagOpen reports whether a snag is open: neither closed, nor is the task done that it became.
func (v *View) SnagOpen(s daybook.Snag) bool {
	if s.Closed != nil {
		return false
	}
	i := slices.IndexFunc(v.Build.Tasks.Rows, func(t tasks.Task) bool { return t.ID == s.Became })
	return i < 0 || v.Build.Tasks.Rows[i].State != tasks.Finished
}

// Snags gives the snags, the open ones first: of them what an order will hide soonest, then the
// oldest. A nil order hides nothing.
func (v *View) Snags(seq *Sequence) []Snag {
	out := []Snag{}
	for _, s := range v.Build.Snags.Rows {
		row := Snag{Snag: s, Open: v.SnagOpen(s), Where: v.snagPlace(s)}
		if by, ok := v.snagHider(seq, s); ok && row.Open {
			row.HiddenBy, row.HiddenAt = by.ID, &by.Finish
		}
		out = append(out, row)
	}
	slices.SortStableFunc(out, func(a, b Snag) int {
		return cmp.Or(cmp.Compare(a.haste(), b.haste()), cmp.Compare(a.At, b.At))
	})
	return out
}

// haste ranks snags by how soon they must be mended.
func (s Snag) haste() units.Instant {
	switch {
	case !s.Open:
		return everything
	case s.HiddenAt != nil:
		return *s.HiddenAt
	}
	return everything - 1
}

func (v *View) snagPlace(s daybook.Snag) id.Place {
	if s.Place != "" {
		return s.Place
	}
	if i, ok := v.Live.ItemAt[s.Item]; ok && v.Live.Items[i].Place != "" {
		return v.Live.Items[i].Place
	}
	t, _ := v.task(s.Task)
	return t.Place
}

// snagHider gives the first row of an order that makes the way to what a snag is about dearer.
func (v *View) snagHider(seq *Sequence, s daybook.Snag) (Row, bool) {
	if seq == nil || s.Item == "" && v.snagPlace(s) == "" {
		return Row{}, false
	}
	t := tasks.Task{Place: v.snagPlace(s), Visits: 1}
	if s.Item != "" {
		t.Reaches = []id.Item{s.Item}
	}
	rows := slices.Clone(seq.Tasks)
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(a.Finish, b.Finish) })
	fitted := v.fitted()
	for _, r := range rows {
		by, _ := v.task(r.ID)
		y := v.solver().Set(by.Fits...)
		c := &cover{v: v, y: y, without: minus(fitted, y), with: union(fitted, y)}
		fitted = c.with
		if len(by.Fits) == 0 || slices.Contains(by.Fits, s.Item) {
			continue
		}
		if _, dearer := c.task(t); dearer {
			return r, true
		}
	}
	return Row{}, false
}
