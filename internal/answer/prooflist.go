package answer

import (
	"cmp"
	"math"
	"slices"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// ProofState says how far a proof has come.
type ProofState string

// The states of a proof. Out of tolerance is a last reading that is not what is wanted: it is
// owed still.
const (
	ProofOwed  ProofState = "owed"
	ProofGiven ProofState = "given"
	ProofOut   ProofState = "out of tolerance"
)

// Proof is a proof that a task owes or has given.
type Proof struct {
	Task        id.Task        `json:"task"`
	Check       id.Check       `json:"check"`
	Kind        tasks.Kind     `json:"kind"`
	What        string         `json:"what,omitempty"`
	Want        string         `json:"want,omitempty"`
	BeforeCover bool           `json:"before_cover"`
	Place       id.Place       `json:"place,omitempty"`
	State       ProofState     `json:"state"`
	Value       string         `json:"value,omitempty"` // the last reading, as typed
	At          *units.Instant `json:"at,omitempty"`    // when that was
	// Hidden says that the task is closed in already. Else HiddenBy is the task that will close it
	// in first, in the order that was asked about, and HiddenAt when; empty: none will.
	Hidden   bool           `json:"hidden"`
	HiddenBy id.Task        `json:"hidden_by,omitempty"`
	HiddenAt *units.Instant `json:"hidden_at,omitempty"`
}

// Open reports whether p is still owed.
func (p Proof) Open() bool { return p.State != ProofGiven }

// Proofs gives the proofs of all tasks: those that are owed first, of them what is hidden
// already, then what an order will hide soonest, then the rest; in the order of the tasks
// otherwise. A nil order hides nothing more.
func (v *View) Proofs(seq *Sequence) []Proof {
	out, hides := []Proof{}, v.hiders(seq)
	for _, t := range v.Live.Tasks {
		hidden := t.State == tasks.Finished && len(v.Owed(t.ID)) > 0 && v.hidden(t)
		for _, c := range t.Checks {
			p := v.proof(t, c)
			p.Hidden = hidden
			if h, ok := hides[t.ID]; ok && !hidden {
				p.HiddenBy, p.HiddenAt = h.ID, &h.Finish
			}
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b Proof) int { return cmp.Compare(a.haste(), b.haste()) })
	return out
}

// haste ranks proofs by how soon they must come.
func (p Proof) haste() units.Instant {
	switch {
	case !p.Open():
		return math.MaxInt64
	case p.Hidden:
		return math.MinInt64
	case p.HiddenAt != nil:
		return *p.HiddenAt
	}
	return math.MaxInt64 - 1
}

// proof gives a proof without what hides it.
func (v *View) proof(t tasks.Task, c tasks.Check) Proof {
	p := Proof{Task: t.ID, Check: c.ID, Kind: c.Kind, What: c.What, Want: c.Want, BeforeCover: c.BeforeCover, Place: t.Place, State: ProofOwed}
	given := v.givenBy(t, c, everything)
	if given {
		p.State = ProofGiven
	}
	for _, e := range v.Entries(t.ID) {
		for _, r := range e.Readings {
			if r.Check == c.ID {
				at := e.End()
				p.Value, p.At = r.Value, &at
			}
		}
	}
	if p.At != nil && !given {
		p.State = ProofOut
	}
	return p
}

// hiders gives for each task that owes a proof the first row of an order that closes it in.
func (v *View) hiders(seq *Sequence) map[id.Task]Row {
	out := map[id.Task]Row{}
	if seq == nil {
		return out
	}
	rows := slices.Clone(seq.Tasks)
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(a.Finish, b.Finish) })
	var owing []tasks.Task
	for _, t := range v.Live.Tasks {
		if len(v.Owed(t.ID)) > 0 {
			owing = append(owing, t)
		}
	}
	fitted := v.fitted()
	for _, r := range rows {
		t, _ := v.task(r.ID)
		y := v.solver().Set(t.Fits...)
		c := &cover{v: v, y: y, without: minus(fitted, y), with: union(fitted, y)}
		fitted = c.with
		for _, under := range owing {
			if _, had := out[under.ID]; had || len(t.Fits) == 0 || under.ID == r.ID {
				continue
			}
			if _, dearer := c.task(under); dearer {
				out[under.ID] = r
			}
		}
	}
	return out
}

// AheadEntry is an entry of the daybook that came ahead of its turn.
type AheadEntry struct {
	DayRow
	Ahead   []Ahead `json:"ahead_of_its_turn"`
	CostMin int     `json:"cost_min"` // rework and extra access that it may cost
}

// AheadOfTurn gives all entries that came ahead of their turn, by time, with what they skipped
// and what that may cost. What a task skipped costs once, with its first such entry.
func (v *View) AheadOfTurn() []AheadEntry {
	out, priced := []AheadEntry{}, map[[2]string]bool{}
	for i, e := range v.Build.Days.Rows {
		if e.Minutes == 0 && e.Visits == 0 && !e.Finished {
			continue // a mere word is no work
		}
		as := v.Ahead(e.Task, e.At)
		if len(as) == 0 {
			continue
		}
		row := AheadEntry{DayRow: DayRow{v.Build.Days.Keys[i], e}, Ahead: as}
		for _, a := range as {
			if key := [2]string{string(e.Task), a.Kind + " " + a.Ref}; !priced[key] {
				priced[key] = true
				row.CostMin += a.CostMin
			}
		}
		out = append(out, row)
	}
	return out
}
