package forecast

import (
	"math"
	"math/rand/v2"

	"example.com/vanlog/internal/units"
)

// kind says what kind of thing a draw is about.
type kind int

const (
	nothing kind = iota
	aJob
	aTrade
	aPart
)

// thing is something whose luck can be taken away. The zero thing is nothing.
type thing struct {
	kind kind
	at   int // place of the job, trade or part
}

// luck is one draw of everything.
type luck struct {
	n       *network
	held    thing // comes out as likely
	source  rand.PCG
	rand    *rand.Rand
	minutes []int           // by job
	there   []units.Instant // by part
	trade   []float64       // by trade: its normal score
	factor  []float64       // by trade: of the minutes of its jobs
	own, of float64         // how much of a shared score is the job's and its trade's
}

func newLuck(n *network, held thing) *luck {
	l := &luck{
		n: n, held: held, minutes: make([]int, len(n.jobs)), there: make([]units.Instant, len(n.parts)),
		trade: make([]float64, len(n.trades)), factor: make([]float64, len(n.trades)),
		own: math.Sqrt(1 - n.alike), of: math.Sqrt(n.alike),
	}
	l.rand = rand.New(&l.source)
	return l
}

// draw draws life i of a seed. What is held changes no other draw.
func (l *luck) draw(seed uint64, i int) {
	l.source.Seed(mix(seed^mix(uint64(i))), mix(uint64(i)+0x9e3779b97f4a7c15))
	for t := range l.trade {
		l.trade[t] = l.rand.NormFloat64()
		l.factor[t] = math.Exp(l.n.spreads[t] * l.trade[t])
		if l.held == (thing{aTrade, t}) {
			l.factor[t] = 1
		}
	}
	for p := range l.there {
		l.there[p] = l.n.parts[p].comes(l.rand.Float64())
		if l.held == (thing{aPart, p}) {
			l.there[p] = usable(l.n.parts[p].likely)
		}
	}
	for j := range l.minutes {
		l.minutes[j] = l.drawJob(j, l.rand.NormFloat64())
	}
}

// drawJob gives the minutes of job j at its own normal score.
func (l *luck) drawJob(j int, score float64) int {
	b := &l.n.jobs[j]
	scale := b.factor
	if b.trade >= 0 {
		scale *= l.factor[b.trade]
	}
	if b.trade >= 0 {
		score *= l.own // the rest is its trade's: shared luck, or what has been learned
	}
	if b.shared {
		score += l.of * l.trade[b.trade]
	}
	work := b.likely
	if l.held != (thing{aJob, j}) && (l.held.kind != aTrade || l.held.at != b.trade) {
		work = b.work.at(score)
	}
	return int(math.Floor(work*scale+0.5)) + b.extra
}

// likely makes everything come out as likely.
func (l *luck) likely() {
	for p := range l.there {
		l.there[p] = usable(l.n.parts[p].likely)
	}
	for j := range l.minutes {
		b := &l.n.jobs[j]
		l.minutes[j] = int(math.Floor(b.likely*b.factor+0.5)) + b.extra
	}
}

// mix scatters the bits of a number (the finish of SplitMix64: Steele, Lea & Flood,
// 2014), so that lives with numbers in a row have nothing in common.
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
