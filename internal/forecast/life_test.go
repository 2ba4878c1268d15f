package forecast

import (
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/units"
	"pgregory.net/rapid"
)

// slow lives through a plan minute by minute, from the words of the build file.
type slow struct {
	p      *Problem
	goOn   bool
	used   []map[units.Instant]int // by resource and minute
	start  []units.Instant
	finish []units.Instant
	cured  []units.Instant
}

func (s *slow) run(minutes []int, there []units.Instant) {
	for range s.p.Resources {
		s.used = append(s.used, map[units.Instant]int{})
	}
	for j := range s.p.Jobs {
		from := max(s.p.Now, s.p.Jobs[j].Release)
		for _, part := range s.p.Jobs[j].Parts {
			from = max(from, there[part])
		}
		for _, l := range s.p.Jobs[j].After {
			if l.Lag != nil {
				from = max(from, s.finish[l.Job]+units.Instant(*l.Lag))
			} else {
				from = max(from, s.cured[l.Job])
			}
		}
		for k := 0; k < j && !s.goOn; k++ {
			if s.share(j, k) {
				from = max(from, s.start[k])
			}
		}
		for !s.try(j, from, minutes[j]) {
			from++
		}
	}
}

func (s *slow) share(j, k int) bool {
	for _, a := range s.p.Jobs[j].Uses {
		for _, b := range s.p.Jobs[k].Uses {
			if a.Resource == b.Resource {
				return true
			}
		}
	}
	return false
}

// try starts j at a minute, if it can.
func (s *slow) try(j int, at units.Instant, n int) bool {
	job := &s.p.Jobs[j]
	if n > 0 && !job.Hours.In(at) {
		return false
	}
	end := at
	var works []units.Instant
	for ; len(works) < n; end++ {
		if !job.Hours.In(end) {
			continue
		}
		for _, u := range job.Uses {
			if s.used[u.Resource][end]+u.Units > s.p.Resources[u.Resource].Capacity {
				return false
			}
		}
		works = append(works, end)
	}
	cured := end
	for left := job.Cure.Minutes; left > 0; cured++ {
		if job.Cure.While == nil || job.Cure.While.In(cured) {
			left--
		}
	}
	for m := end; m < cured; m++ {
		for _, r := range job.Holds {
			if s.used[r][m]+1 > s.p.Resources[r].Capacity {
				return false
			}
		}
	}
	for _, m := range works {
		for _, u := range job.Uses {
			s.used[u.Resource][m] += u.Units
		}
	}
	for m := end; m < cured; m++ {
		for _, r := range job.Holds {
			s.used[r][m]++
		}
	}
	s.start, s.finish, s.cured = append(s.start, at), append(s.finish, end), append(s.cured, cured)
	return true
}

// TestLifeIsTheSlowOne compares every start and end with those found minute by minute.
func TestLifeIsTheSlowOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		p := newWorld(r, shape{jobs: 1 + r.IntN(9), many: r.IntN(2) == 0, cures: r.IntN(2) == 0})
		o := Options{GoOn: r.IntN(2) == 0, Alike: UsualAlike}
		n, err := newNetwork(&p, &o)
		if err != nil {
			t.Fatal(err)
		}
		luck, l := newLuck(n, thing{}), newLife(n)
		for i := range 3 {
			luck.draw(1, i)
			want := slow{p: &p, goOn: o.GoOn}
			want.run(luck.minutes, luck.there)
			if j := l.run(luck.minutes, luck.there); j >= 0 {
				t.Fatalf("job %d has no end", j)
			}
			for j := range p.Jobs {
				if l.start[j] != want.start[j] || l.finish[j] != want.finish[j] || l.cured[j] != want.cured[j] {
					t.Fatalf("job %d of %+v, minutes %v: %v to %v, cured %v, want %v to %v, %v", j, p.Jobs, luck.minutes,
						l.start[j], l.finish[j], l.cured[j], want.start[j], want.finish[j], want.cured[j])
				}
			}
		}
	})
}

// TestMoreTimeNeverEndsSooner: in order, with one unit of what cures hold, no job ends sooner where jobs take
// longer and parts come later. (Priority rules that let jobs overtake have no such law: Graham, 1966.)
func TestMoreTimeNeverEndsSooner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		s := shape{jobs: 1 + r.IntN(12), many: r.IntN(2) == 0}
		p := newWorld(r, s)
		n, err := newNetwork(&p, &Options{})
		if err != nil {
			t.Fatal(err)
		}
		luck, short, long := newLuck(n, thing{}), newLife(n), newLife(n)
		luck.draw(2, 0)
		short.run(luck.minutes, luck.there)
		for j := range luck.minutes {
			luck.minutes[j] += r.IntN(2) * r.IntN(200)
		}
		for i := range luck.there {
			luck.there[i] += units.Instant(r.IntN(4)) * units.Day
		}
		long.run(luck.minutes, luck.there)
		for j := range p.Jobs {
			if long.start[j] < short.start[j] || long.finish[j] < short.finish[j] || long.cured[j] < short.cured[j] {
				t.Fatalf("job %d ends at %v with more time, at %v with less: %+v", j, long.finish[j], short.finish[j], p.Jobs)
			}
		}
	})
}

// TestChainHasNoGap: what decides the finish is a chain in which each start is the release, the coming of a part,
// or follows from the job before it, which comes before it in the order.
func TestChainHasNoGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		p := newWorld(r, shape{jobs: 1 + r.IntN(9), many: true, cures: true})
		n, err := newNetwork(&p, &Options{GoOn: r.IntN(2) == 0})
		if err != nil {
			t.Fatal(err)
		}
		luck, l := newLuck(n, thing{}), newLife(n)
		luck.draw(3, 0)
		l.run(luck.minutes, luck.there)
		jobs, parts := make([]int, len(p.Jobs)), make([]int, len(p.Parts))
		l.chain(jobs, parts)
		last, end := l.end()
		if jobs[last] != 1 || l.cured[last] != end {
			t.Fatalf("the last job, %d, is not on the chain %v", last, jobs)
		}
		for j, on := range jobs {
			switch cause := l.cause[j]; {
			case on == 0:
			case cause == nobody:
				if first, _ := n.jobs[j].hours.Next(n.jobs[j].release); l.start[j] > first {
					t.Fatalf("job %d waited for nothing from %v to %v", j, first, l.start[j])
				}
			case cause >= 0 && (jobs[cause] != 1 || cause >= j || l.start[cause] > l.finish[j]):
				t.Fatalf("job %d waited for %d, which is not on the chain or comes after it", j, cause)
			}
		}
	})
}
