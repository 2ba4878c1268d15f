package plan

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// The bound that is found beside the search is later than no finish of any schedule,
// every job at every minute.
func TestRaisedBoundAgainstEverySchedule(t *testing.T) {
	raised := 0
	for seed := range share(400) {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		p := tiny(r, 4, seed%3 == 0)
		want, found := bestOfAll(&p, 11)
		m, err := newModel(&p)
		if err != nil || !found {
			continue
		}
		w, err := m.heads()
		if err != nil {
			t.Fatalf("problem %d: %v, but there is a finish at %v", seed, err, want.finish)
		}
		m.raise(context.Background(), w, p.Now, func(at units.Instant) {
			raised++
			if at > want.finish {
				t.Errorf("problem %d: bound %v, but there is a finish at %v", seed, at, want.finish)
			}
		})
	}
	if raised < share(66) {
		t.Errorf("the bound was raised only %d times", raised)
	}
}

// lagCase is one of the cases of lag_cases.json: one worker, a helper with absences, clock
// lags, deliveries. Their optima were found by two independent methods, see the file.
type lagCase struct {
	ID      int
	Dur     []int
	Edges   [][3]int `json:"edges_fs_lag"`
	Release []int
	Worker  []int
	Helper  []int
	Away    [][2]int `json:"helper_away"`
	Optimum int
}

// problem gives the case with a minute for each of its units of time. An absence of the
// helper, which may not interrupt work, is a job of the helper's that can only be done then.
func (c lagCase) problem(cal *calendar.Calendars) Problem {
	always := cal.Of()
	p := Problem{Resources: []Resource{{ID: "worker", Capacity: 1, Hours: always}, {ID: "helper", Capacity: 1, Hours: always}}}
	for i, d := range c.Dur {
		p.Jobs = append(p.Jobs, Job{Minutes: d, Hours: always, Release: units.Instant(c.Release[i]),
			Uses: []Use{{0, c.Worker[i]}, {1, c.Helper[i]}}})
	}
	for _, away := range c.Away {
		back := units.Instant(away[1])
		p.Jobs = append(p.Jobs, Job{Minutes: away[1] - away[0], Hours: always, Release: units.Instant(away[0]),
			Deadline: &back, Uses: []Use{{1, 1}}})
	}
	for _, e := range c.Edges {
		p.Edges = append(p.Edges, Edge{Before: e[0], After: e[1], Lag: &e[2]})
	}
	return p
}

// finish gives the optimum of the case, or the end of the last absence where that is later.
func (c lagCase) finish() units.Instant {
	end := c.Optimum
	for _, away := range c.Away {
		end = max(end, away[1])
	}
	return units.Instant(end)
}

func TestLagCases(t *testing.T) {
	cal := calendar.Compile(nil)
	for _, c := range lagCases(t) {
		s, err := Find(context.Background(), c.problem(cal), Options{Time: 2 * time.Second})
		if err != nil || s.Finish != c.finish() || s.Bound > c.finish() {
			t.Errorf("case %d: finish %d, bound %d, %v; the optimum is %d", c.ID, s.Finish, s.Bound, err, c.finish())
		}
	}
}

// lagCases reads the cases from beside the checkout; the test skips where they are not there.
func lagCases(t *testing.T) []lagCase {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "shared", "data", "sched", "lag_cases.json"))
	if err != nil {
		t.Skipf("the cases do not lie beside the checkout: %v", err)
	}
	var file struct{ Cases []lagCase }
	if err := json.Unmarshal(data, &file); err != nil || len(file.Cases) != 60 {
		t.Fatalf("lag_cases.json: %d cases, %v", len(file.Cases), err)
	}
	return file.Cases
}
