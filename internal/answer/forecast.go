package answer

import (
	"cmp"
	"context"
	"errors"

	"example.com/vanlog/internal/forecast"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// ForecastOptions steer a forecast.
type ForecastOptions struct {
	Samples int    // lives to live through; less than 1: 10,000
	Seed    uint64 // same seed, same answer
	Learn   bool   // apply what finished work says of trades
	By      *units.When
	// InOrder keeps the order to the letter: nothing is begun while what comes before it waits.
	// Else the builder goes on with later work while a part, a cure or a date is waited
	// for, where that delays nothing before it.
	InOrder bool
}

// TaskForecast is what the lives of a forecast say of a task.
type TaskForecast struct {
	ID        id.Task       `json:"id"`
	P50Finish units.Instant `json:"p50_finish"`
	// Criticality is the share of lives, 0 to 1, in which the task lies on the chain that
	// decides the finish.
	Criticality float64 `json:"criticality"`
}

// PartForecast is the same of a part.
type PartForecast struct {
	ID          id.Part `json:"id"`
	Criticality float64 `json:"criticality"`
}

// Mover is a thing whose luck moves the finish.
type Mover struct {
	Kind        string  `json:"kind"` // task, trade, part
	Ref         string  `json:"ref"`
	Text        string  `json:"text"`        // its title
	Correlation float64 `json:"correlation"` // of its luck with the finish, by rank, -1 to 1
	GainMin     int     `json:"gain_min"`    // how much sooner P80 is, on the clock, when it comes out as likely
}

// Bin is a bar of the histogram: the lives that finish in [From, To).
type Bin struct {
	From  units.Instant `json:"from"`
	To    units.Instant `json:"to"`
	Count int           `json:"count"`
}

// Forecast says when the build will be done, and how sure that is.
type Forecast struct {
	Samples int            `json:"samples"`
	Mean    units.Instant  `json:"mean"`
	P50     units.Instant  `json:"p50"`
	P80     units.Instant  `json:"p80"`
	P95     units.Instant  `json:"p95"`
	Tasks   []TaskForecast `json:"tasks"` // in the order of the plan
	Parts   []PartForecast `json:"parts"` // that have not arrived

	PlanFinish units.Instant `json:"plan_finish"`
	PlanChance float64       `json:"plan_chance"` // share of lives done by PlanFinish
	By         *units.When   `json:"by,omitempty"`
	ByChance   *float64      `json:"by_chance,omitempty"` // share of lives done by By; a date means its end

	Movers  []Mover   `json:"movers"` // what moves P80 most, most first
	Bins    []Bin     `json:"bins"`
	Learned []Learned `json:"learned"`
	Applied bool      `json:"learned_applied"`
	GoOn    bool      `json:"goes_on"`
}

const (
	bins       = 20
	moversSeen = 12 // things that are looked into for what they move; the others are said to move little
	moversSaid = 6
)

// Forecast lives through the order of seq many times, each time with other luck, and says
// when the build is done. Hours are drawn from what remains of low, likely and high hours,
// half of the luck shared by all tasks of a trade; parts that have not arrived from their
// lead times and due dates. Access and rework are as in seq.
//
// The error is a *plan.NoSequenceError where some task never finishes in some life, or the
// cause of ctx.
func (v *View) Forecast(ctx context.Context, seq Sequence, o ForecastOptions) (Forecast, error) {
	p, err := v.lives(seq)
	if err != nil {
		return Forecast{}, err
	}
	learned := v.learned()
	run := forecast.Options{Samples: o.Samples, Seed: o.Seed, Alike: forecast.UsualAlike, GoOn: !o.InOrder, Movers: moversSeen}
	if o.Learn {
		run.Learned = learned
	}
	r, err := forecast.Run(ctx, p, run)
	var wrong *forecast.ProblemError
	if errors.As(err, &wrong) {
		return Forecast{}, &plan.NoSequenceError{ID: id.Task(wrong.Ref), Why: wrong.Why, Sure: true}
	}
	if err != nil {
		return Forecast{}, err
	}
	out := Forecast{Samples: len(r.Finishes), Mean: r.Mean, P50: r.P50, P80: r.P80, P95: r.P95,
		Tasks: []TaskForecast{}, Parts: []PartForecast{}, PlanFinish: seq.Finish, PlanChance: r.Chance(seq.Finish),
		Movers: v.movers(r.Movers), Bins: []Bin{}, Learned: learnedList(learned), Applied: o.Learn, GoOn: !o.InOrder}
	if o.By != nil {
		chance := r.Chance(o.By.Until())
		out.By, out.ByChance = o.By, &chance
	}
	out.fill(&r)
	return out, nil
}

func (f *Forecast) fill(r *forecast.Result) {
	for _, j := range r.Jobs {
		f.Tasks = append(f.Tasks, TaskForecast{ID: j.ID, P50Finish: j.P50, Criticality: j.Criticality})
	}
	for _, p := range r.Parts {
		f.Parts = append(f.Parts, PartForecast{ID: p.ID, Criticality: p.Criticality})
	}
	for _, b := range r.Histogram(bins) {
		f.Bins = append(f.Bins, Bin{From: b.From, To: b.To, Count: b.Count})
	}
}

// movers gives what moves P80 by a minute at least.
func (v *View) movers(found []forecast.Mover) []Mover {
	out := []Mover{}
	for _, m := range found {
		if m.Gain < 1 || len(out) == moversSaid {
			continue
		}
		kind, text := "task", v.taskTitle(m.Job)
		switch {
		case m.Trade != "":
			kind, text = "trade", m.Trade
		case m.Part != "":
			kind, text = "part", v.partTitle(m.Part)
		}
		out = append(out, Mover{Kind: kind, Ref: cmp.Or(string(m.Job), m.Trade, string(m.Part)), Text: text,
			Correlation: m.Correlation, GainMin: m.Gain})
	}
	return out
}

func (v *View) partTitle(p id.Part) string {
	if i, ok := v.Live.PartAt[p]; ok {
		return v.Live.Parts[i].Title()
	}
	return string(p)
}
