package forecast

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/units"
)

// TestSpearmanOfTheBooks: with no equal values Spearman's coefficient is 1 - 6 Σd²/(n(n²-1)); equal values share
// their mean rank (M. Kendall, Rank Correlation Methods; from memory).
func TestSpearmanOfTheBooks(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	const n = 40
	xs, ys := make([]int32, n), make([]int32, n)
	for i, k := range r.Perm(n) {
		xs[i], ys[i] = int32(i*i), int32(k)
	}
	d := 0.0
	for i := range n {
		d += (float64(i) - float64(ys[i])) * (float64(i) - float64(ys[i]))
	}
	want := 1 - 6*d/(n*(n*n-1))
	if got := pearson(ranks(xs), ranks(ys)); math.Abs(got-want) > 1e-12 {
		t.Errorf("rank correlation %v, want %v", got, want)
	}
	if got := ranks([]int32{5, 1, 5, 9, 5}); !nearly(got, []float64{2, 0, 2, 4, 2}, 0) {
		t.Errorf("ranks %v, want [2 0 2 4 2]", got)
	}
	if got := pearson([]float64{1, 1}, []float64{1, 2}); got != 0 {
		t.Errorf("correlation with what does not vary: %v, want 0", got)
	}
}

// about80 gives the mean of the finishes from P75 to P85, in minutes.
func about80(r Result) int {
	sum, count, n := 0, 0, len(r.Finishes)
	for i, f := range r.Finishes {
		if 100*(i+1) >= 75*n && 100*(i+1) <= 85*n {
			sum, count = sum+int(f-monday), count+1
		}
	}
	return sum / count
}

// TestWidestMovesMost: on a chain the job with the widest range comes first, and holding it gains what the forecast of
// the same chain with that job sure says.
func TestWidestMovesMost(t *testing.T) {
	p := chainOf(units.Estimate{Low: 90, Likely: 100, High: 130}, units.Estimate{Low: 200, Likely: 300, High: 2000},
		units.Estimate{Low: 90, Likely: 110, High: 400})
	p.Jobs[0].Trade, p.Jobs[2].Trade = "walls", "walls"
	o := Options{Samples: early, Seed: 2, Movers: 10}
	all := run(t, p, o)
	if len(all.Movers) != 4 { // three jobs and a trade
		t.Fatalf("movers %+v, want 4", all.Movers)
	}
	for i := 1; i < len(all.Movers); i++ {
		if all.Movers[i].Gain > all.Movers[i-1].Gain {
			t.Errorf("movers out of order: %+v", all.Movers)
		}
	}
	first := all.Movers[0]
	sure := p
	sure.Jobs = append([]Job(nil), p.Jobs...)
	sure.Jobs[1].Minutes = units.Sure(300)
	held := run(t, sure, o)
	if want := about80(all) - about80(held); first.Job != "t1" || first.Gain != want || first.Correlation < .8 {
		t.Errorf("first mover %+v, want t1 with a gain of %d", first, want)
	}
	if o.Movers = 1; len(run(t, p, o).Movers) != 1 {
		t.Error("one mover was asked for")
	}
}

// TestHeldTradeComesOutAsLikely: the gain of a trade is that of all its jobs being sure.
func TestHeldTradeComesOutAsLikely(t *testing.T) {
	wide := units.Estimate{Low: 100, Likely: 200, High: 900}
	p := chainOf(wide, wide, units.Estimate{Low: 50, Likely: 100, High: 160})
	p.Jobs[0].Trade, p.Jobs[1].Trade = "water", "water"
	learned := map[string]Ratio{"water": {Count: 3, Ratio: 1.2, Weight: .5, Spread: .2}}
	for _, l := range []map[string]Ratio{nil, learned} {
		o := Options{Samples: 500, Seed: 9, Alike: UsualAlike, Movers: 4, Learned: l}
		n, err := newNetwork(&p, &o)
		if err != nil {
			t.Fatal(err)
		}
		luck, likely := newLuck(n, thing{aTrade, 0}), newLuck(n, thing{})
		likely.likely()
		for i := range 20 {
			luck.draw(1, i)
			if luck.minutes[0] != likely.minutes[0] || luck.minutes[1] != likely.minutes[1] {
				t.Fatalf("held: %v, likely %v", luck.minutes, likely.minutes)
			}
		}
		if m := run(t, p, o).Movers[0]; m.Trade != "water" || m.Gain <= 0 {
			t.Errorf("first mover %+v, want the trade", m)
		}
	}
}
