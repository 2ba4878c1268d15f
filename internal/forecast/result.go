package forecast

import (
	"math"
	"slices"
	"sort"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Result says when a build will be done.
type Result struct {
	Finishes      []units.Instant // of all lives, rising
	Mean          units.Instant
	P50, P80, P95 units.Instant // see Percentile
	Jobs          []JobResult   // as in Problem.Jobs
	Parts         []PartResult  // as in Problem.Parts
	Movers        []Mover       // what moves P80, most first
}

// JobResult is what the lives say of a job.
type JobResult struct {
	ID  id.Task
	P50 units.Instant // in half of the lives it has finished by then
	// Criticality is the share of lives in which the job lies on the chain that decides
	// the finish (Van Slyke, 1963).
	Criticality float64
}

// PartResult is what the lives say of a part.
type PartResult struct {
	ID          id.Part
	Criticality float64 // the share of lives in which its coming decides the finish
}

// Percentile gives the finish that p per cent of the lives do not exceed: the nearest
// rank, so always a finish of some life.
func (r *Result) Percentile(p float64) units.Instant {
	return r.Finishes[rank(p, len(r.Finishes))]
}

// rank gives the place of percentile p among n sorted values.
func rank(p float64, n int) int {
	return min(max(int(math.Ceil(p/100*float64(n)-near))-1, 0), n-1)
}

// Chance gives the share of lives that are done by a time.
func (r *Result) Chance(by units.Instant) float64 {
	n := sort.Search(len(r.Finishes), func(i int) bool { return r.Finishes[i] > by })
	return float64(n) / float64(len(r.Finishes))
}

// Bin is a bar of a histogram: the lives that finish in [From, To).
type Bin struct {
	From, To units.Instant
	Count    int
}

// Histogram counts the finishes in at most so many bins of whole days, all as wide.
func (r *Result) Histogram(bins int) []Bin {
	first, last := r.Finishes[0].Date(), r.Finishes[len(r.Finishes)-1].Date()
	days := int(last-first) + 1
	wide := units.Date((days + max(bins, 1) - 1) / max(bins, 1))
	var out []Bin
	i := 0
	for from := first; from <= last; from += wide {
		b := Bin{From: from.Start(), To: (from + wide).Start()}
		for ; i < len(r.Finishes) && r.Finishes[i] < b.To; i++ {
			b.Count++
		}
		out = append(out, b)
	}
	return out
}

// result gives what is kept of all lives in order.
func (r *record) result(p *Problem, workers []*worker) Result {
	lives := len(r.ends)
	out := Result{Finishes: make([]units.Instant, lives)}
	sum := 0.0
	for i, end := range r.ends {
		out.Finishes[i] = r.now + units.Instant(end)
		sum += float64(end)
	}
	slices.Sort(out.Finishes)
	out.Mean = r.now + units.Instant(math.Round(sum/float64(lives)))
	out.P50, out.P80, out.P95 = out.Percentile(50), out.Percentile(80), out.Percentile(95)
	for j := range p.Jobs {
		slices.Sort(r.jobs[j])
		median := r.now + units.Instant(r.jobs[j][rank(50, lives)])
		share := shareOf(workers, lives, func(w *worker) int { return w.jobs[j] })
		out.Jobs = append(out.Jobs, JobResult{p.Jobs[j].ID, median, share})
	}
	for i := range p.Parts {
		share := shareOf(workers, lives, func(w *worker) int { return w.parts[i] })
		out.Parts = append(out.Parts, PartResult{p.Parts[i].ID, share})
	}
	return out
}

// shareOf gives the share of lives that all workers together have counted.
func shareOf(workers []*worker, lives int, count func(*worker) int) float64 {
	sum := 0
	for _, w := range workers {
		sum += count(w)
	}
	return float64(sum) / float64(lives)
}
