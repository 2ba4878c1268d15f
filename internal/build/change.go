package build

import (
	"encoding/json"

	"example.com/vanlog/internal/units"
)

// Kind names a kind of record.
type Kind string

// The kinds of record. Head and Clock are one record each, with key 1.
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
	ClockKind    Kind = "clock"
)

// Kinds gives all kinds, in the order of the build file.
func Kinds() []Kind {
	return []Kind{HeadKind, ResourceKind, PlaceKind, ItemKind, PartKind, TaskKind, EdgeKind,
		OptionKind, StockKind, CutKind, DayKind, ClockKind}
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
func (c Change) Inverse() Change { panic("not written yet") }

// Apply gives the build after c. It refuses a change whose Before is not what b has
// (ErrStale) and one that leaves the build at fault (a Faults error).
func (b Build) Apply(c Change) (Build, error) { panic("not written yet") }

// Records gives every record of b, kinds in the order of Kinds.
func (b Build) Records() []Record { panic("not written yet") }

// Assemble makes a build of its records. It does not Check it.
func Assemble(rs []Record) (Build, error) { panic("not written yet") }

// Adding is the edit that puts a new record at the end of its list. Row is the domain
// type of the kind (tasks.Task for TaskKind, …); another type panics. Several additions
// of one change to the same list take nth = 0, 1, 2, …
func (b Build) Adding(kind Kind, row any, nth int) Edit { panic("not written yet") }

// Editing is the edit that replaces the record with key k by row; with the keys
// HeadKind and ClockKind have it makes the record where there is none.
func (b Build) Editing(kind Kind, k Key, row any) Edit { panic("not written yet") }

// Removing is the edit that removes the record with key k.
func (b Build) Removing(kind Kind, k Key) Edit { panic("not written yet") }

// Replacing gives the edits that turn b into other: for an import.
func (b Build) Replacing(other Build) []Edit { panic("not written yet") }

// RemovalOf gives the edits that remove the record with key k and all that would
// dangle without it and means nothing alone (edges of a task, mentions of an item), and
// says in words what goes with it. Where something that means something alone still
// needs the record (a daybook entry its task, an item its place) it gives an
// *InUseError.
func (b Build) RemovalOf(kind Kind, k Key) (edits []Edit, also []string, err error) {
	panic("not written yet")
}

// InUseError says what still needs a record that was to be removed.
type InUseError struct {
	What string   // the record
	By   []string // paths of what needs it
}

func (e *InUseError) Error() string { panic("not written yet") }
