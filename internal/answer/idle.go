package answer

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// Idle is a stretch of the builder's hours, before the finish, in which the order has no work
// for the builder. Hours off may lie in it.
type Idle struct {
	From    units.Instant `json:"from"`
	To      units.Instant `json:"to"`
	Minutes int           `json:"minutes"` // of the builder's hours
	Because Because       `json:"because"` // what the next work waits for
}

// stint is a run of minutes in which a row has the builder at work.
type stint struct {
	from, to units.Instant
	row      int
}

// idle gives the stretches in which the builder has no work, by time. It never gives nil.
func (r *reasons) idle(because [][]Because, finish units.Instant) []Idle {
	out := []Idle{}
	at, ok := r.v.Live.ResourceAt[builder]
	if !ok {
		return out
	}
	hours, free := r.p.Resources[at].Hours, r.p.Now
	gap := func(to units.Instant, why func() Because) {
		n := 0
		if to > free {
			n = hours.Count(free, to)
		}
		if n == 0 {
			return
		}
		from, _ := hours.Next(free)
		out = append(out, Idle{From: from, To: r.lastOpen(hours, to), Minutes: n, Because: why()})
	}
	for _, s := range r.stints(at) {
		gap(s.from, func() Because { return r.waited(s, hours, because[s.row]) })
		free = max(free, s.to)
	}
	gap(finish, func() Because { return r.lastWait(finish) })
	return out
}

// stints gives when rows have the builder at work, by time.
func (r *reasons) stints(builder int) []stint {
	var out []stint
	for i, row := range r.rows {
		job := r.p.Jobs[row.Job]
		if row.Work == 0 || !slices.ContainsFunc(job.Uses, func(u plan.Use) bool { return u.Resource == builder }) {
			continue
		}
		for from := row.Start; from < row.Finish; {
			to := min(job.Hours.Until(from), row.Finish)
			out = append(out, stint{from, to, i})
			next, ok := job.Hours.Next(to)
			if !ok {
				break
			}
			from = next
		}
	}
	slices.SortStableFunc(out, func(a, b stint) int { return cmp.Compare(a.from, b.from) })
	return out
}

// waited gives what the work of a stint waited for in the last minute of the builder's hours
// before it: what holds its row until after that, the hours of what it uses besides the
// builder, or else whatever its row says.
func (r *reasons) waited(s stint, hours *calendar.Hours, because []Because) Because {
	row, last := r.rows[s.row], r.lastOpen(hours, s.from)-1
	if row.Start == s.from {
		for _, b := range because {
			if b.until > last {
				return b
			}
		}
	}
	for _, u := range r.p.Jobs[row.Job].Uses {
		res := r.p.Resources[u.Resource]
		if res.ID != builder && !res.Hours.In(last) {
			return Because{Kind: "resource", Ref: string(res.ID), Text: fmt.Sprintf("%s waits until %s is there, %s",
				r.p.task[row.Job].Title(), r.v.resourceTitle(res.ID), when(s.from))}
		}
	}
	return slices.MinFunc(because, func(a, b Because) int { return cmp.Compare(waitRank(a), waitRank(b)) })
}

// waitRank puts first what a builder can only wait for.
func waitRank(b Because) int {
	kind := b.Kind
	if kind == "resource" && b.Ref == string(builder) {
		kind = "builder"
	}
	return slices.Index([]string{"part", "lag", "not-before", "resource", "edge", "builder", "close-in"}, kind)
}

// lastWait gives what ends the build, where it is not the builder's work.
func (r *reasons) lastWait(finish units.Instant) Because {
	for _, row := range r.rows {
		title, ref := r.p.task[row.Job].Title(), string(r.p.Jobs[row.Job].ID)
		switch {
		case row.CureEnd == finish && row.CureEnd > row.Finish:
			return Because{Kind: "lag", Ref: ref, Text: fmt.Sprintf("%s cures until %s", title, when(finish))}
		case row.Finish == finish:
			return Because{Kind: "edge", Ref: ref, Text: fmt.Sprintf("%s takes until %s", title, when(finish))}
		}
	}
	return Because{Kind: "resource", Ref: string(builder), Text: "nothing is left to do"}
}
