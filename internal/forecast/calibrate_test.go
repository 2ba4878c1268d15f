package forecast

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
	"gonum.org/v1/gonum/stat/distuv"
)

var builds = flag.Int("builds", 80, "simulated builds to hold forecasts against")

// man is a simulated builder: how his work comes out beside what he thinks.
type man struct {
	r     *rand.Rand
	bias  [4]float64 // by trade: logarithm of what he takes over what he thinks
	luck  [4]float64 // by trade: the normal score that its jobs have in common
	alike float64    // correlation of scores within a trade
}

// trait is what sort of man he is: he takes exp(bias) times what he thinks, in each trade by some share, apart, more or
// less, and his luck in a trade is so alike.
type trait struct{ bias, apart, alike float64 }

func newMan(r *rand.Rand, is trait) *man {
	m := &man{r: r, alike: is.alike}
	for t := range m.bias {
		m.bias[t], m.luck[t] = is.bias+is.apart*r.NormFloat64(), r.NormFloat64()
	}
	return m
}

// task gives what he thinks of a task, and what it takes, in minutes. It is drawn from the beta of gonum, not
// from a curve.
func (m *man) task(trade int) (units.Estimate, float64) {
	likely := 60 + 900*m.r.Float64()
	e := units.Estimate{Low: likely * (.5 + .4*m.r.Float64()), Likely: likely, High: likely * (1.2 + m.r.Float64())}
	mode := (e.Likely - e.Low) / (e.High - e.Low)
	score := math.Sqrt(m.alike)*m.luck[trade] + math.Sqrt(1-m.alike)*m.r.NormFloat64()
	beta := distuv.Beta{Alpha: 1 + 4*mode, Beta: 5 - 4*mode}
	x := e.Low + (e.High-e.Low)*beta.Quantile(distuv.UnitNormal.CDF(score))
	return e, x * math.Exp(m.bias[trade])
}

// halfway is a simulated build with half of its tasks finished.
type halfway struct {
	problem Problem
	done    []Done
	truth   units.Instant // when it will have finished
}

// newHalfway makes a build of 48 tasks in four trades, of which 24 are left, in the builder's hours, some with a cure.
func newHalfway(t *testing.T, seed uint64, is trait) halfway {
	r := rand.New(rand.NewPCG(seed, 99))
	m := newMan(r, is)
	h := halfway{problem: Problem{Now: monday, Resources: []Resource{{"builder", 1}}}}
	hours := calendar.Compile([]calendar.Resource{calendar.DefaultBuilder()}).Of("builder")
	var minutes []int
	for i := range 48 {
		trade := i * 7 % 4
		e, actual := m.task(trade)
		name := fmt.Sprint("trade ", trade)
		if i < 24 {
			h.done = append(h.done, Done{name, e.Likely / 60, actual / 60})
			continue
		}
		j := Job{ID: id.Task(fmt.Sprint("t", i)), Trade: name, Minutes: e, Hours: hours, Release: monday, Uses: []Use{{0, 1}}}
		if i%5 == 0 {
			j.Cure.Minutes = 24 * 60
		}
		if i > 24 && i%3 == 0 {
			j.After = []Link{{Job: i - 25}}
		}
		h.problem.Jobs, minutes = append(h.problem.Jobs, j), append(minutes, int(math.Round(actual)))
	}
	s := lifeOf(t, h.problem)
	if j := s.run(minutes, nil); j >= 0 {
		t.Fatalf("job %d has no end", j)
	}
	_, h.truth = s.end()
	return h
}

func lifeOf(t *testing.T, p Problem) *life {
	n, err := newNetwork(&p, &Options{})
	if err != nil {
		t.Fatal(err)
	}
	return newLife(n)
}

// tally is how forecasts did.
type tally struct {
	builds, held int
	off          float64 // sum of |P50 - truth|, days
	score        float64 // sum of interval scores of P10 to P90, days
}

func (y *tally) add(r Result, truth units.Instant) {
	low, high := r.Percentile(10), r.Percentile(90)
	y.builds++
	if low <= truth && truth <= high {
		y.held++
	}
	days := func(i units.Instant) float64 { return float64(i) / float64(units.Day) }
	y.off += math.Abs(days(r.P50 - truth))
	// Gneiting and Raftery, Strictly proper scoring rules (2007), with alpha 0.2: less is better.
	y.score += days(high-low) + 2/.2*(days(max(low-truth, 0))+days(max(truth-high, 0)))
}

func (y *tally) String() string {
	n := float64(y.builds)
	return fmt.Sprintf("%d builds: held %.1f %%, P50 off by %.2f days, interval score %.1f days",
		y.builds, 100*float64(y.held)/n, y.off/n, y.score/n)
}

// biases of the simulated men: from a tenth less than thought to two thirds more.
var biases = []float64{-.1, 0, .15, .3, .5}

// TestIntervalsHoldTheTruth: of simulated builders with biases that they do not know, the interval from P10 to P90
// holds the finish in four of five builds, once half of their tasks have been learned from; and that
// does better than the same without learning. Their luck is less alike than is assumed.
func TestIntervalsHoldTheTruth(t *testing.T) {
	byBias := make([][2]tally, len(biases))
	var on, off tally
	for i := range *builds {
		b := i % len(biases)
		h := newHalfway(t, uint64(i), trait{bias: biases[b], apart: .15, alike: .3})
		for k, learned := range []map[string]Ratio{Learn(h.done), nil} {
			r := run(t, h.problem, Options{Samples: 400, Seed: uint64(i), Alike: UsualAlike, Learned: learned})
			byBias[b][k].add(r, h.truth)
			[]*tally{&on, &off}[k].add(r, h.truth)
		}
	}
	for b, bias := range biases {
		t.Logf("takes %.2f of what is thought: learning on %v; off %v", math.Exp(bias), &byBias[b][0], &byBias[b][1])
	}
	t.Logf("all: learning on %v; off %v", &on, &off)
	on.mustHold(t)
	if on.off >= off.off || on.score >= off.score {
		t.Errorf("learning did not help: %v, without it %v", &on, &off)
	}
}

// mustHold checks that four in five intervals hold the truth, give or take 5 per cent where there are 500 of
// them or more, and three standard errors else.
func (y *tally) mustHold(t *testing.T) {
	t.Helper()
	share, room := float64(y.held)/float64(y.builds), .05
	if y.builds < 500 {
		room = 3 * math.Sqrt(.16/float64(y.builds))
	}
	if math.Abs(share-.8) > room {
		t.Errorf("the interval held the truth in %.1f %% of builds, want 80 ± %.1f", 100*share, 100*room)
	}
}

// TestHonestRangesNeedNoLearning: of men whose ranges are as they should be, and whose luck is as alike as is
// assumed, the interval holds the truth in four of five builds without any learning.
func TestHonestRangesNeedNoLearning(t *testing.T) {
	var y tally
	for i := range *builds {
		h := newHalfway(t, uint64(i), trait{alike: UsualAlike})
		y.add(run(t, h.problem, Options{Samples: 400, Seed: uint64(i), Alike: UsualAlike}), h.truth)
	}
	t.Log(&y)
	y.mustHold(t)
}
