package forecast

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
	"pgregory.net/rapid"
)

func TestSameSeedSameAnswer(t *testing.T) {
	p := newWorld(rand.New(rand.NewPCG(8, 8)), shape{jobs: 12, many: true, cures: true})
	o := Options{Samples: 500, Seed: 7, Alike: UsualAlike, Movers: 4, Workers: 1}
	want := run(t, p, o)
	for _, workers := range []int{0, 2, 7} {
		o.Workers = workers
		if got := run(t, p, o); !reflect.DeepEqual(got, want) {
			t.Errorf("%d workers: %+v, one: %+v", workers, got, want)
		}
	}
	o.Seed++
	if got := run(t, p, o); slices.Equal(got.Finishes, want.Finishes) {
		t.Error("another seed gives the same finishes")
	}
}

// TestResultLaws holds what must be true of any forecast.
func TestResultLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		p := newWorld(r, shape{jobs: r.IntN(8), many: true, cures: true})
		res, err := Run(context.Background(), p, Options{Samples: 1 + r.IntN(90), Alike: UsualAlike, GoOn: r.IntN(2) == 0})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.IsSorted(res.Finishes) || res.P50 > res.P80 || res.P80 > res.P95 || res.P95 > res.Percentile(100) || res.Percentile(0) > res.P50 {
			t.Fatalf("out of order: %v %v %v", res.P50, res.P80, res.P95)
		}
		// The nearest rank, by counting: no less than p per cent are done by then, and less are a minute before.
		for _, per := range []float64{10, 50, 80, 95} {
			at := res.Percentile(per)
			if res.Chance(at) < per/100-1e-9 || res.Chance(at-1) >= per/100 {
				t.Fatalf("P%v = %v, done by then in %v, a minute before in %v", per, at, res.Chance(at), res.Chance(at-1))
			}
		}
		count := 0
		for i, b := range res.Histogram(5) {
			if b.To <= b.From || i > 4 || b.From.Clock() != 0 {
				t.Fatalf("bin %d: %+v", i, b)
			}
			count += b.Count
		}
		if count != len(res.Finishes) {
			t.Fatalf("%d finishes in bins, of %d", count, len(res.Finishes))
		}
		for _, j := range res.Jobs {
			if j.Criticality < 0 || j.Criticality > 1 || j.P50 > res.P50 {
				t.Fatalf("%+v, P50 of all %v", j, res.P50)
			}
		}
	})
}

func TestMeanIsTheMean(t *testing.T) {
	p := chainOf(chain...)
	r := run(t, p, Options{Samples: 999})
	if mean, _ := moments(p, r); math.Abs(float64(r.Mean-p.Now)-mean) > .5001 {
		t.Errorf("mean %v, want %v", float64(r.Mean-p.Now), mean)
	}
}

func TestNothingToDoIsDoneNow(t *testing.T) {
	r := run(t, Problem{Now: monday}, Options{Samples: 3})
	if r.P50 != monday || r.Mean != monday || r.Chance(monday) != 1 {
		t.Errorf("%+v, want all at %v", r, monday)
	}
}

// TestSureWorkIsOneDate: with nothing unsure every life is the same.
func TestSureWorkIsOneDate(t *testing.T) {
	r := run(t, chainOf(units.Sure(60), units.Sure(90.4), units.Sure(0)), Options{Samples: 40, Movers: 5})
	if want := monday + 150; r.Finishes[0] != want || r.Percentile(100) != want || len(r.Movers) != 0 {
		t.Errorf("from %v to %v, movers %v, want %v and none", r.Finishes[0], r.Percentile(100), r.Movers, want)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	why := errors.New("another question")
	cancel(why)
	if _, err := Run(ctx, chainOf(chain...), Options{}); !errors.Is(err, why) {
		t.Errorf("Run = %v, want %v", err, why)
	}
}

func TestRunRefuses(t *testing.T) {
	never := calendar.Compile([]calendar.Resource{{ID: "warm", Hours: &calendar.Week{}}}).Of("warm")
	for name, change := range map[string]func(p *Problem){
		"range":       func(p *Problem) { p.Jobs[1].Minutes.High = 1 },
		"order":       func(p *Problem) { p.Jobs[1].After = []Link{{Job: 1}} },
		"no part":     func(p *Problem) { p.Jobs[1].Parts = []int{0} },
		"no resource": func(p *Problem) { p.Jobs[1].Holds = []int{0} },
		"capacity":    func(p *Problem) { p.Resources = []Resource{{"builder", 1}}; p.Jobs[1].Uses = []Use{{0, 2}} },
		"no hours":    func(p *Problem) { p.Jobs[1].Hours = never },
		"never cures": func(p *Problem) { p.Jobs[1].Cure = calendar.Cure{Minutes: 1, While: never} },
	} {
		p := chainOf(chain...)
		change(&p)
		var wrong *ProblemError
		if _, err := Run(context.Background(), p, Options{Samples: 5}); !errors.As(err, &wrong) || wrong.Ref != "t1" {
			t.Errorf("%s: %v, want a ProblemError about t1", name, err)
		}
	}
	p := Problem{Parts: []Part{{ID: "pump", Lead: units.Estimate{Low: 3}}}}
	var wrong *ProblemError
	if _, err := Run(context.Background(), p, Options{}); !errors.As(err, &wrong) || wrong.Ref != "pump" {
		t.Errorf("lead time: %v, want a ProblemError about pump", err)
	}
}

// TestPartDecides: where one part comes after all else is done, it is what decides every finish.
func TestPartDecides(t *testing.T) {
	p := chainOf(units.Estimate{Low: 10, Likely: 20, High: 40}, units.Sure(30))
	p.Parts = []Part{{ID: "pump", Ordered: monday.Date(), Lead: units.Estimate{Low: 5, Likely: 8, High: 20}}}
	p.Jobs[1].Parts = []int{0}
	r := run(t, p, Options{Samples: 300, Movers: 9})
	if r.Parts[0].Criticality != 1 || r.Jobs[0].Criticality != 0 || r.Jobs[1].Criticality != 1 {
		t.Errorf("criticality: part %v, jobs %v and %v, want 1, 0, 1", r.Parts[0].Criticality, r.Jobs[0].Criticality, r.Jobs[1].Criticality)
	}
	if m := r.Movers[0]; m.Part != "pump" || m.Correlation < .999 {
		t.Errorf("first mover %+v, want the pump", m)
	}
}

// TestLearnedIsApplied: with a long history of half as much again, in ranges that lean as any, the middle of the forecast is
// half as much again as was likely; a trade without a history is drawn as ever.
func TestLearnedIsApplied(t *testing.T) {
	e := units.Estimate{Low: 800, Likely: 1000, High: 1900}
	p := chainOf(e)
	p.Jobs[0].Trade = "water"
	var done []Done
	for range 400 {
		done = append(done, Done{"water", 2, 3})
	}
	r := run(t, p, Options{Samples: 20_000, Alike: UsualAlike, Learned: Learn(done)})
	logs := 0.0
	for _, f := range r.Finishes {
		logs += math.Log(float64(f-p.Now)) / 20_000
	}
	if got := math.Exp(logs); math.Abs(got-1500) > 8 {
		t.Errorf("geometric mean %v minutes, want 1500", got)
	}
	p.Jobs[0].Trade = "walls"
	plain := run(t, p, Options{Samples: 200, Alike: UsualAlike})
	if got := run(t, p, Options{Samples: 200, Alike: UsualAlike, Learned: Learn(done)}); !slices.Equal(got.Finishes, plain.Finishes) {
		t.Error("what was learned of another trade changes the forecast")
	}
}
