package answer

import (
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Another is the second-best way: the cheapest that does without at least one thing that
// the best way opens, or one way in that it goes by.
type Another struct {
	CostMin float64  `json:"cost_min"`
	MoreMin float64  `json:"more_min"` // than the best way
	Proven  bool     `json:"proven"`
	Steps   []Step   `json:"steps"`
	Without []string `json:"without"` // what the best way opens or enters and this one does not
}

// WhileOpen is something that comes within reach, while the way to some targets is open, for
// at most some minutes more. One of Task, Proof and Service says what there is to do.
type WhileOpen struct {
	What     string   `json:"what"` // work, proof, service
	Task     id.Task  `json:"task,omitempty"`
	Check    id.Check `json:"check,omitempty"`
	Item     id.Item  `json:"item,omitempty"` // that is serviced
	Text     string   `json:"text"`
	MoreMin  float64  `json:"more_min"`           // of access, on top of the way that is open
	AloneMin float64  `json:"alone_min"`          // of access, as a trip of its own
	LeftMin  int      `json:"left_min,omitempty"` // of the work itself
	PerYear  float64  `json:"per_year,omitempty"`
}

// Caution is a usual warning of the trade about something that is about to be done.
type Caution struct {
	Ref    string `json:"ref"`  // the item or place it is about
	Kind   string `json:"kind"` // persons, mass, hot, single-use, gas
	Text   string `json:"text"`
	Source string `json:"source,omitempty"`
}

// Dearest is the one opening that costs most on a way.
type Dearest struct {
	Item id.Item `json:"item"`
	Min  float64 `json:"min"` // opening and refitting, once
}

// Burdened is an item that is serviced, and what getting at it costs in a year.
type Burdened struct {
	ID             id.Item  `json:"id"`
	PerYear        float64  `json:"per_year"`             // services, all kinds of them
	ReachMin       *float64 `json:"reach_min"`            // each time; nil: it cannot be reached
	MinutesPerYear *float64 `json:"minutes_per_year"`     // of access
	ServiceMin     float64  `json:"service_min_per_year"` // of the service itself
	Dearest        *Dearest `json:"dearest,omitempty"`    // nil: nothing has to be opened
}

// Burden is what the finished build costs its owner in access. Times are for the build
// with everything fitted, one trip in for each service.
type Burden struct {
	MinutesPerYear float64    `json:"minutes_per_year"` // of access, without what cannot be reached
	ServiceMin     float64    `json:"service_min_per_year"`
	MeanMin        float64    `json:"mean_min"`    // access and service, the mean over all services: Σ rate × time / Σ rate
	Unreachable    []id.Item  `json:"unreachable"` // serviced items that cannot be reached
	Items          []Burdened `json:"items"`       // the most minutes a year first
	Options        []Design   `json:"options"`     // of a choice; empty unless one is asked for
}

// WorstReach is the item that is hardest to get at.
type WorstReach struct {
	Item id.Item `json:"item"`
	Min  float64 `json:"min"`
}

// Design is the build with one option of a choice chosen, all other choices as they are.
type Design struct {
	ID             id.Option     `json:"id"`
	Name           string        `json:"name"`
	Chosen         bool          `json:"chosen"`
	MinutesPerYear float64       `json:"minutes_per_year"` // of access in service
	Unreachable    []id.Item     `json:"unreachable"`
	Finish         units.Instant `json:"finish"`
	BoundFinish    units.Instant `json:"bound_finish"` // no order finishes before
	WorkMin        int           `json:"work_min"`
	MassKg         float64       `json:"mass_kg"`            // of the items, as far as it is known
	Unweighed      int           `json:"unweighed"`          // items without a mass
	Worst          *WorstReach   `json:"worst_reach"`        // nil: nothing can be, or need be, opened
	NoOrder        string        `json:"no_order,omitempty"` // why there is no finish
}

// BreakEven compares two designs: what the one takes longer to build, the other gives
// back every year.
type BreakEven struct {
	Dearer       id.Option `json:"dearer"`         // takes longer to build
	Cheaper      id.Option `json:"cheaper"`        // is built sooner
	MoreMin      int       `json:"more_min"`       // of work
	SavedPerYear float64   `json:"saved_per_year"` // minutes of access; less than 0: it costs more there, too
	Years        *float64  `json:"years"`          // nil: never
}

// Designs are the options of a choice side by side.
type Designs struct {
	Choice    string      `json:"choice"`
	Options   []Design    `json:"options"`    // in the order of the build
	BreakEven []BreakEven `json:"break_even"` // of every two
}

// Derived is an edge that nobody typed: fitting Item closes in a task or a service.
type Derived struct {
	Item  id.Item `json:"item"`
	FitBy id.Task `json:"fit_by,omitempty"` // the open task that fits it, if there is one
	Closed
	Owed []Owed `json:"owed"` // proofs that should be in before
}
