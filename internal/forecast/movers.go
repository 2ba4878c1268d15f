package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"

	"example.com/vanlog/internal/id"
)

// Mover is a thing whose luck moves the finish. Exactly one of Job, Trade and Part is set.
type Mover struct {
	Job   id.Task
	Trade string
	Part  id.Part
	// Correlation is Spearman's rank correlation between the thing's draw and the finish,
	// from -1 to 1 (the cruciality index: Vanhoucke, Measuring Time, 2010; from memory).
	Correlation float64
	// Gain is how much sooner P80 is, in minutes on the clock, when this one thing comes
	// out as likely and all else as it did: the bars of a tornado chart. As P80 itself
	// jumps from working day to working day, it is the mean from P75 to P85.
	Gain int
}

// candidate is a thing that may move the finish.
type candidate struct {
	thing       thing
	correlation float64
}

// movers gives what moves P80. Looking into a thing costs as much as early lives, so those
// whose draw goes with the finish most are looked into, and no others.
func (s *study) movers(ctx context.Context, rec *record) ([]Mover, error) {
	lives := min(len(rec.ends), early)
	ends := rec.ends[:lives]
	p80 := p80Of(ends)
	found := s.candidates(rec, ends)
	movers := []Mover{}
	for _, c := range found[:min(max(s.o.Movers, 0), len(found))] {
		held := make([]int32, lives)
		_, err := s.live(ctx, c.thing, lives, func(i int, w *worker) {
			_, end := w.life.end()
			held[i] = int32(end - s.n.now)
		})
		if err != nil {
			return nil, err
		}
		movers = append(movers, s.mover(c, p80-p80Of(held)))
	}
	slices.SortStableFunc(movers, func(a, b Mover) int { return cmp.Compare(b.Gain, a.Gain) })
	return movers, nil
}

// p80Of gives the mean of what lies from P75 to P85.
func p80Of(ends []int32) int {
	sorted := slices.Sorted(slices.Values(ends))
	sum, about := 0, sorted[rank(75, len(sorted)):rank(85, len(sorted))+1]
	for _, end := range about {
		sum += int(end)
	}
	return sum / len(about)
}

// candidates gives all things that have luck, those that go with the finish most first.
func (s *study) candidates(rec *record, ends []int32) []candidate {
	to := ranks(ends)
	var found []candidate
	add := func(kind kind, at int, drawn []int32) {
		if c := pearson(ranks(drawn), to); c != 0 {
			found = append(found, candidate{thing{kind, at}, c})
		}
	}
	trades := table(len(s.n.trades), len(ends))
	for j, drawn := range rec.drawn {
		add(aJob, j, drawn)
		if t := s.n.jobs[j].trade; t >= 0 {
			for i, minutes := range drawn {
				trades[t][i] += minutes
			}
		}
	}
	for t, drawn := range trades {
		add(aTrade, t, drawn)
	}
	for p, coming := range rec.coming {
		add(aPart, p, coming)
	}
	slices.SortStableFunc(found, func(a, b candidate) int {
		return cmp.Compare(math.Abs(b.correlation), math.Abs(a.correlation))
	})
	return found
}

func (s *study) mover(c candidate, gain int) Mover {
	m := Mover{Correlation: c.correlation, Gain: gain}
	switch c.thing.kind {
	case aJob:
		m.Job = s.p.Jobs[c.thing.at].ID
	case aTrade:
		m.Trade = s.n.trades[c.thing.at]
	case aPart:
		m.Part = s.p.Parts[c.thing.at].ID
	}
	return m
}

// ranks gives the rank of each value; equal values share the mean of theirs.
func ranks(values []int32) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	out := make([]float64, len(values))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && values[order[to]] == values[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			out[i] = float64(from+to-1) / 2
		}
		from = to
	}
	return out
}

// pearson gives the correlation of two lists as long; 0 where one does not vary.
func pearson(xs, ys []float64) float64 {
	mx, my := mean(xs), mean(ys)
	var xy, xx, yy float64
	for i := range xs {
		dx, dy := xs[i]-mx, ys[i]-my
		xy, xx, yy = xy+dx*dy, xx+dx*dx, yy+dy*dy
	}
	if xx == 0 || yy == 0 {
		return 0
	}
	return xy / math.Sqrt(xx*yy)
}
