package build

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"

	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/units"
)

// Kind names a kind of record.
type Kind string

// The kinds of record. Of head and clock there is one record or none, with key 1.
const (
	HeadKind     Kind = "build"
	ResourceKind Kind = "resource"
	PlaceKind    Kind = "place"
	ItemKind     Kind = "item"
	PartKind     Kind = "part"
	TaskKind     Kind = "task"
	EdgeKind     Kind = "edge"
	OptionKind   Kind = "option"
	StockKind    Kind = "stock"
	CutKind      Kind = "cut"
	DayKind      Kind = "day"
	SnagKind     Kind = "snag"
	ClockKind    Kind = "clock"
)

// Kinds gives all kinds, in the order of the build file.
func Kinds() []Kind {
	return []Kind{HeadKind, ResourceKind, PlaceKind, ItemKind, PartKind, TaskKind, EdgeKind,
		OptionKind, StockKind, CutKind, DayKind, SnagKind, ClockKind}
}

// Record is a record as it is stored.
type Record struct {
	Kind Kind            `json:"kind"`
	Key  Key             `json:"key"`
	Data json.RawMessage `json:"data"` // as in the build file
}

// Edit makes, changes or removes one record. Before is nil where it is made, After
// where it is removed.
type Edit struct {
	Kind   Kind            `json:"kind"`
	Key    Key             `json:"key"`
	Before json.RawMessage `json:"before,omitempty"`
	After  json.RawMessage `json:"after,omitempty"`
}

// Change is one action of a person: all its edits or none.
type Change struct {
	Seq    uint64        `json:"seq"` // given by the store
	At     units.Instant `json:"at"`
	What   string        `json:"what"` // one line, as the person would say it
	Edits  []Edit        `json:"edits"`
	Undone bool          `json:"undone,omitempty"`
}

// Inverse gives the change that takes c back.
func (c Change) Inverse() Change {
	edits := make([]Edit, len(c.Edits))
	for i, e := range c.Edits {
		edits[len(edits)-1-i] = Edit{Kind: e.Kind, Key: e.Key, Before: e.After, After: e.Before}
	}
	c.Edits = edits
	return c
}

// Apply gives the build after c. It refuses a change whose Before is not what b has
// (ErrStale) and one that leaves the build at fault (a Faults error).
func (b Build) Apply(c Change) (Build, error) {
	next, err := b.Patch(c.Edits)
	if err != nil {
		return b, err
	}
	if faults := next.Check(); len(faults) > 0 {
		return b, faults
	}
	return next, nil
}

// Patch is Apply without the Check of the result: for records that were checked when
// they were written.
func (b Build) Patch(edits []Edit) (Build, error) {
	next := b
	for len(edits) > 0 {
		kind, n := edits[0].Kind, 1
		for n < len(edits) && edits[n].Kind == kind {
			n++
		}
		list, err := next.rowsOf(kind)
		if err != nil {
			return b, err
		}
		if err := list.patch(edits[:n]); err != nil {
			return b, err
		}
		edits = edits[n:]
	}
	next.Days = byTime(next.Days)
	return next, nil
}

// sameData compares two records as JSON; spaces between its words mean nothing.
func sameData(a, b json.RawMessage) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	var x, y bytes.Buffer
	return json.Compact(&x, a) == nil && json.Compact(&y, b) == nil && bytes.Equal(x.Bytes(), y.Bytes())
}

// Records gives every record of b, kinds in the order of Kinds.
func (b Build) Records() []Record {
	var out []Record
	for _, kind := range Kinds() {
		list, err := b.rowsOf(kind)
		if err != nil {
			panic(err) // Kinds and rowsOf do not agree
		}
		out = append(out, list.records(kind)...)
	}
	return out
}

// Assemble makes a build of its records, in any order. It does not Check it.
func Assemble(rs []Record) (Build, error) {
	var b Build
	rs = slices.Clone(rs)
	slices.SortStableFunc(rs, func(x, y Record) int { return cmp.Compare(x.Key, y.Key) })
	for _, r := range rs {
		list, err := b.rowsOf(r.Kind)
		if err == nil {
			err = list.push(r.Key, r.Data)
		}
		if err != nil {
			return Build{}, fmt.Errorf("%s %d: %w", r.Kind, r.Key, err)
		}
	}
	b.Days = byTime(b.Days)
	return b, nil
}

// Adding is the edit that puts a new record at the end of its list. Row is the domain
// type of the kind (tasks.Task for TaskKind, …); another type panics. Several additions
// of one change to the same list take nth = 0, 1, 2, …
func (b Build) Adding(kind Kind, row any, nth int) Edit {
	list := b.typedRows(kind, row)
	return Edit{Kind: kind, Key: list.last() + 1 + Key(nth), After: mustEncode(row)}
}

// Editing is the edit that replaces the record with key k by row. For HeadKind and
// ClockKind k is 1, and the record is made where there is none.
func (b Build) Editing(kind Kind, k Key, row any) Edit {
	list := b.typedRows(kind, row)
	return Edit{Kind: kind, Key: k, Before: list.data(k), After: mustEncode(row)}
}

// Removing is the edit that removes the record with key k.
func (b Build) Removing(kind Kind, k Key) Edit {
	list, err := b.rowsOf(kind)
	if err != nil {
		panic(err)
	}
	return Edit{Kind: kind, Key: k, Before: list.data(k)}
}

func (b *Build) typedRows(kind Kind, row any) rows {
	list, err := b.rowsOf(kind)
	if err != nil || !list.holds(row) {
		panic(fmt.Sprintf("a %T is no record of kind %q", row, kind))
	}
	return list
}

// Replacing gives the edits that turn b into other: for an import. Records of other
// get keys of their own; the running clock goes.
func (b Build) Replacing(other Build) []Edit {
	var edits []Edit
	for _, r := range slices.Backward(b.Records()) {
		if r.Kind != HeadKind {
			edits = append(edits, Edit{Kind: r.Kind, Key: r.Key, Before: r.Data})
		}
	}
	edits = append(edits, b.Editing(HeadKind, 1, other.Head))
	nth := map[Kind]Key{}
	for _, r := range other.Records() {
		if r.Kind == HeadKind || r.Kind == ClockKind {
			continue
		}
		nth[r.Kind]++
		edits = append(edits, Edit{Kind: r.Kind, Key: nth[r.Kind], After: r.Data})
	}
	return edits
}

// byTime orders the daybook by the beginning of its entries.
func byTime(days List[daybook.Entry]) List[daybook.Entry] {
	earlier := func(x, y daybook.Entry) int { return cmp.Compare(x.At, y.At) }
	if slices.IsSortedFunc(days.Rows, earlier) {
		return days
	}
	return sorted(days, earlier)
}
