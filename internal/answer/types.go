package answer

import (
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Because says what holds a row of the sequence where it stands.
type Because struct {
	Kind string `json:"kind"` // edge, lag, part, not-before, resource, close-in
	Ref  string `json:"ref"`
	Text string `json:"text"`

	until units.Instant // when it let go; 0: of a kind that has no such time
}

// Row is a task in the sequence.
type Row struct {
	ID        id.Task       `json:"id"`
	Start     units.Instant `json:"start"`
	Finish    units.Instant `json:"finish"`
	WorkMin   int           `json:"work_min"`
	AccessMin int           `json:"access_min"`
	ReworkMin int           `json:"rework_min"`
	Because   []Because     `json:"because"`
	SlackMin  int           `json:"slack_min"` // so much more work it may take before the finish moves, in this order
	CureEnd   units.Instant `json:"-"`         // Finish where nothing cures
}

// Broken is a should edge that the sequence breaks.
type Broken struct {
	Before    id.Task `json:"before"`
	After     id.Task `json:"after"`
	ReworkMin int     `json:"rework_min"`
}

// Sequence is the best order of work that was found.
type Sequence struct {
	Now          units.Instant `json:"now"`
	Finish       units.Instant `json:"finish"`
	BoundFinish  units.Instant `json:"bound_finish"`
	Proven       bool          `json:"proven"`
	WorkMin      int           `json:"work_min"`
	AccessMin    int           `json:"access_min"`
	Tasks        []Row         `json:"tasks"`
	ShouldBroken []Broken      `json:"should_broken"`
	Idle         []Idle        `json:"idle"` // when the builder has no work
}

// TaskDates are the early and late dates of a task (critical path, without resources).
type TaskDates struct {
	ID            id.Task       `json:"id"`
	EarlyStart    units.Instant `json:"early_start"`
	EarlyFinish   units.Instant `json:"early_finish"`
	LateStart     units.Instant `json:"late_start"`
	LateFinish    units.Instant `json:"late_finish"`
	TotalFloatMin int           `json:"total_float_min"` // minutes on the clock
	FreeFloatMin  int           `json:"free_float_min"`
	Critical      bool          `json:"critical"`
}

// Dates are the dates of all open tasks.
type Dates struct {
	Tasks  []TaskDates   `json:"tasks"`
	Finish units.Instant `json:"finish"`
}

// Can is a task that can be worked on now.
type Can struct {
	ID       id.Task  `json:"id"`
	LeftMin  int      `json:"left_min"`
	Place    id.Place `json:"place"`
	ClosesIn []Closed `json:"closes_in"` // what its fitting would bury
	Because  string   `json:"because"`   // why it stands where it stands in the list

	AccessMin float64  `json:"access_min"`
	Tools     []string `json:"tools"`      // for the openings on the way in
	OwedFirst []Owed   `json:"owed_first"` // proofs that its fitting would bury
}

// WaitsFor is one thing that a task waits for.
type WaitsFor struct {
	Kind  string         `json:"kind"` // edge, lag, cure, part, not-before, resource, reach
	Ref   string         `json:"ref"`
	Until *units.Instant `json:"until"` // nil: not known
	Text  string         `json:"text"`
}

// Cannot is a task that must wait, and for what.
type Cannot struct {
	ID       id.Task    `json:"id"`
	WaitsFor []WaitsFor `json:"waits_for"`
}

// Today is what can be done now, in the order of the plan, and why the rest cannot.
type Today struct {
	Can    []Can    `json:"can"`
	Cannot []Cannot `json:"cannot"`
	Fits            // into the hours at hand; empty where none are said
}

// Fitted says with what in the way a question is asked.
type Fitted string

// What is taken to be fitted: what is now, everything, nothing.
const (
	FittedNow  Fitted = "now"
	FittedAll  Fitted = "all"
	FittedNone Fitted = "none"
)

// Step is a step of a way in.
type Step struct {
	Do         string   `json:"do"` // enter, open, at
	Place      string   `json:"place,omitempty"`
	Item       string   `json:"item,omitempty"`
	How        string   `json:"how,omitempty"`
	Min        float64  `json:"min"` // once
	Times      int      `json:"times"`
	Fasteners  []string `json:"fasteners"`
	NoWayRound bool     `json:"no_way_round"`
}

// Refit is a step of the way out.
type Refit struct {
	Item   string   `json:"item"`
	Min    float64  `json:"min"`
	Torque []string `json:"torque"`
}

// Stuck is a thing that stands in the way and cannot be opened.
type Stuck struct {
	Item string `json:"item"`
	Why  string `json:"why"`
}

// Reach is the cheapest way to some targets and back.
type Reach struct {
	Targets  []string `json:"targets"`
	Visits   int      `json:"visits"`
	CostMin  float64  `json:"cost_min"`
	BoundMin float64  `json:"bound_min"`
	Proven   bool     `json:"proven"`
	Persons  int      `json:"persons"`
	Tools    []string `json:"tools"`
	Steps    []Step   `json:"steps"`
	Refit    []Refit  `json:"refit"`
}

// NoWay is the answer where there is no way.
type NoWay struct {
	Targets   []string `json:"targets"`
	Reachable bool     `json:"reachable"`
	StuckAt   []Stuck  `json:"stuck_at"`
}

// Closed is a task or a service that an item closes in. AfterMin and ExtraMin are nil
// where it could not be reached at all any more.
type Closed struct {
	Task      id.Task  `json:"task,omitempty"`
	Service   string   `json:"service,omitempty"`
	Of        id.Item  `json:"of,omitempty"` // the item that is serviced
	BeforeMin float64  `json:"before_min"`
	AfterMin  *float64 `json:"after_min"`
	Visits    float64  `json:"visits"` // trips in of the task; times a year of the service
	ExtraMin  *float64 `json:"extra_min"`
}

// Owed is a proof that is still missing.
type Owed struct {
	Task  id.Task  `json:"task"`
	Check id.Check `json:"check"`
	What  string   `json:"what"`
}

// CloseIn is what fitting an item, or finishing a task, would bury.
type CloseIn struct {
	Item      string   `json:"item"`
	Closes    []Closed `json:"closes"`
	NotProved []Owed   `json:"not_proved"`
	ExtraMin  *float64 `json:"extra_min"` // of the tasks; services are a year's worth each; nil: for good
}

// Ahead says what an entry skipped: it came ahead of its turn.
type Ahead struct {
	Kind    string `json:"kind"` // edge, lag, cure, part
	Ref     string `json:"ref"`
	Text    string `json:"text"`
	CostMin int    `json:"cost_min"` // rework and dearer access that it may cause
}

// Status is the word for how a task stands: workable, waiting, under way, done,
// proven (done and every proof in), hidden (done and closed in).
type Status string

// The words for how a task stands.
const (
	Workable Status = "workable"
	Waiting  Status = "waiting"
	UnderWay Status = "under way"
	Done     Status = "done"
	Proven   Status = "proven"
	Hidden   Status = "hidden"
)
