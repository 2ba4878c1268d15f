package forecast

import (
	"fmt"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Problem is all that a forecast depends on.
type Problem struct {
	Now       units.Instant
	Jobs      []Job // in the order of the plan: by start; each after those it waits for
	Resources []Resource
	Parts     []Part // that have not arrived
}

// Job is a task that is still to be done. Jobs are known by their place in Problem.Jobs.
type Job struct {
	ID      id.Task
	Trade   string         // jobs of a trade go wrong together; empty: it stands alone
	Minutes units.Estimate // work that remains, without Extra
	Extra   int            // minutes that are known: access, rework
	Hours   *calendar.Hours
	Uses    []Use
	After   []Link
	Parts   []int         // of Problem.Parts
	Release units.Instant // not before, edges from finished tasks; parts left out
	Cure    calendar.Cure
	Holds   []int // resources held, one unit each, from the finish to the end of the cure
}

// Use is a number of units of a resource that a job holds in the minutes it works.
type Use struct{ Resource, Units int }

// Link makes a job wait for another, which comes before it in the order.
type Link struct {
	Job int
	Lag *int // minutes after its finish, less than 0: before it; nil: the end of its cure
}

// Resource is shared by jobs. When it is there is part of Job.Hours.
type Resource struct {
	ID       id.Resource
	Capacity int
}

// Part is bought and has not arrived. It can be used from 00:00 of the day after it comes.
type Part struct {
	ID      id.Part
	Lead    units.Estimate // days from order to arrival
	Ordered units.Date     // today where it is not ordered yet
	// Due is the day it is promised for: the likely one, in place of the likely lead time.
	// The low and the high one stay, unless Due lies beyond them. nil: nothing is promised.
	Due *units.Date
}

// Options steer a forecast.
type Options struct {
	Samples int    // lives to live through; less than 1: 10,000
	Seed    uint64 // same seed, same answer
	Workers int    // goroutines; less than 1: as many as there are processors
	// Alike is how alike luck is within a trade: the correlation between the normal scores
	// of two of its jobs, from 0 (each its own) to 1. UsualAlike is meant.
	Alike float64
	// Learned is what finished work says of trades; to those it knows it is applied in
	// place of the luck that their jobs have in common. nil: switched off.
	Learned map[string]Ratio
	// GoOn lets a job go ahead of its turn while the jobs before it in the order wait for a
	// day, a part or a cure, where it delays none of them. Without it a resource idles
	// until the next job in its order can start; then, as long as no cure holds a resource,
	// work that takes longer never makes anything end sooner.
	GoOn bool
	// Movers is how many things are looked into for what they move (see Mover).
	Movers int
}

// UsualAlike makes half of a job's luck that of its trade. It is a choice, no measurement:
// cost handbooks use 0.2 to 0.3 where nothing is known (from memory), and here one man does it all.
const UsualAlike = 0.5

// ProblemError says which job or part of a Problem is not as it must be.
type ProblemError struct {
	Ref string // the job's or the part's name
	Why string
}

func (e *ProblemError) Error() string { return e.Ref + ": " + e.Why }

// check gives a *ProblemError for the first thing of p that is not as it must be.
func (p *Problem) check() error {
	for j := range p.Jobs {
		if why := p.checkJob(j); why != "" {
			return &ProblemError{string(p.Jobs[j].ID), why}
		}
	}
	for _, part := range p.Parts {
		if !part.Lead.Valid() {
			return &ProblemError{string(part.ID), "its lead time: " + units.ErrEstimate.Error()}
		}
	}
	return nil
}

func (p *Problem) checkJob(j int) string {
	job := &p.Jobs[j]
	if !job.Minutes.Valid() {
		return "its minutes: " + units.ErrEstimate.Error()
	}
	for _, l := range job.After {
		if l.Job < 0 || l.Job >= j {
			return "it waits for a job that does not come before it in the order"
		}
	}
	for _, i := range job.Parts {
		if i < 0 || i >= len(p.Parts) {
			return "it needs a part that there is not"
		}
	}
	uses := job.Uses
	for _, r := range job.Holds {
		uses = append(uses[:len(uses):len(uses)], Use{r, 1})
	}
	for _, u := range uses {
		if u.Resource < 0 || u.Resource >= len(p.Resources) {
			return "it needs a resource that there is not"
		}
		if r := p.Resources[u.Resource]; u.Units > r.Capacity {
			return fmt.Sprintf("it needs %d of %s, and there is only %d", u.Units, r.ID, r.Capacity)
		}
	}
	return ""
}
