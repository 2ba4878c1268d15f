package plan

import (
	"time"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Job is a task that is still to be done. Jobs are known by their place in Problem.Jobs.
type Job struct {
	ID       id.Task
	Minutes  int             // work that remains, without reach and rework
	Hours    *calendar.Hours // the minutes it can be worked in: all it uses are there
	Uses     []Use
	Release  units.Instant  // not before, parts, edges from finished tasks; at least Problem.Now
	Deadline *units.Instant // must have finished by
	Cure     calendar.Cure
	Holds    []int // resources held, one unit each, from the finish to the end of the cure
	Fits     []int // items (of Reach) that are fitted once it has finished
	Started  bool  // pays no rework
}

// Use is a number of units of a resource that a job holds in the minutes it works.
type Use struct{ Resource, Units int }

// Edge is an edge between two jobs.
type Edge struct {
	Before, After int
	Should        bool
	Lag           *int // of must: minutes after the finish; nil: the end of the cure of Before
	Rework        int  // of should: minutes added to Before once After has started
}

// Resource is shared by jobs. When it is there is part of Job.Hours.
type Resource struct {
	ID       id.Resource
	Capacity int
	Hours    *calendar.Hours
}

// Set is a set of items: bit i of word i/64 is item i. It is laid out as access.Set.
type Set []uint64

// Problem is all that a sequence depends on.
type Problem struct {
	Now       units.Instant
	Jobs      []Job
	Edges     []Edge // must edges free of loops
	Resources []Resource
	Fitted    Set // items that are fitted at Now
	// Owed is rework, in minutes, that a job pays whatever the order: should edges
	// to tasks that have already started. nil: none.
	Owed []int
	// Reach gives the minutes, rounded up, that getting at a job costs with these
	// items fitted, and whether it can be got at. More items never make it cheaper. The
	// caller keeps answers, so asking twice is cheap. nil: reaching costs nothing.
	Reach func(job int, fitted Set) (minutes int, ok bool)
}

// Row is a job in a sequence.
type Row struct {
	Job           int
	Start, Finish units.Instant
	Work          int // minutes: remaining + rework + reach
	Reach, Rework int // minutes
	CureEnd       units.Instant
}

// Sequence is a valid order of work.
type Sequence struct {
	Rows   []Row // by start, then finish, then job
	Finish units.Instant
	Work   int           // minutes
	Broken []Edge        // should edges that are broken
	Bound  units.Instant // no order finishes before it
	Proven bool          // no order is better: in finish
}

// Options steer the search.
type Options struct {
	Time time.Duration // to search at most; 0 without Schedules: the first plan only
	Seed uint64
	// Schedules is how many schedules the search makes at most, so that its answer is the
	// same on every machine; 0: as many as the time allows.
	Schedules int
	// Last is an order of work to begin with, such as the one that was found last. Where it is
	// still valid it is given back, unless a better one is found. Jobs may be missing.
	Last []Row
	// Better is told each better sequence as it is found; nil: nobody is.
	Better func(Sequence)
}

// NoSequenceError says which job stands in no valid sequence, and why.
type NoSequenceError struct {
	Job  int
	ID   id.Task
	Why  string
	Sure bool // there is none; else none was found
}

func (e *NoSequenceError) Error() string { return string(e.ID) + ": " + e.Why }
