package answer

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
)

// locker is a van with a tank bay behind a kickboard (3.5 minutes to open and close, 0.5 to get
// in) and a locker behind a door (2 minutes).
const locker = `
"resources": [{"id": "builder"}, {"id": "helper", "hours": {"tue": ["10:00-12:00"]}}],
"places": [{"id": "bay", "ways": [{"through": ["kickboard"], "enter_min": 0.5}]},
           {"id": "locker", "ways": [{"through": ["door"], "enter_min": 0}]}],
"items": [{"id": "kickboard", "fitted": true, "opening": {"open_min": 1.5, "refit_min": 2, "persons": 2, "tools": ["T25 driver"]}},
          {"id": "door", "fitted": true, "opening": {"open_min": 1, "refit_min": 1, "tools": ["key"]}},
          {"id": "shelf", "opening": {"open_min": 30, "refit_min": 30}}, {"id": "lamp", "place": "locker", "covers": ["shelf"], "fitted": true}],
"parts": [{"id": "hose", "arrived": "2026-02-27"}, {"id": "clip", "due": "2026-02-20"}],
"tasks": [{"id": "plumb", "hours": 1, "place": "bay", "visits": 3, "parts": ["hose", "clip"]},
          {"id": "shelve", "hours": 0.5, "place": "locker", "fits": ["shelf"]},
          {"id": "strap", "hours": 0.5, "place": "bay"},
          {"id": "wire", "hours": 1, "place": "locker", "reaches": ["lamp"]},
          {"id": "lift", "hours": 1, "uses": {"builder": 1, "helper": 1}},
          {"id": "sand", "hours": 6}]`

func fitsOf(t *testing.T, hours float64, helper bool) Fits {
	t.Helper()
	return viewOf(t, monday, locker).Today(nil, TodayOptions{Hours: hours, Helper: helper}).Fits
}

func TestFits(t *testing.T) {
	got := fitsOf(t, 3.5, false)
	// The bay: 90 minutes of work; the kickboard once and three trips in, where the two alone
	// would be 3.5 + 1.5 and 3.5 + 0.5. The locker: the shelf goes on after the lamp is wired.
	want := []Fit{
		{Place: "bay", Minutes: 95, AccessMin: 5, SavedMin: 4, Persons: 2, Tasks: []id.Task{"plumb", "strap"}, Tools: []string{"T25 driver"}, Parts: []id.Part{"hose"}},
		{Place: "locker", Minutes: 92, AccessMin: 2, SavedMin: 2, Persons: 1, Tasks: []id.Task{"wire", "shelve"}, Tools: []string{"key"}, Parts: []id.Part{}},
	}
	if fmt.Sprint(got.Groups) != fmt.Sprint(want) || got.Minutes != 187 {
		t.Errorf("%d minutes: %+v\nwant 187: %+v", got.Minutes, got.Groups, want)
	}
	if got.Begin == nil || *got.Begin != (Begin{Task: "sand", Minutes: 23}) {
		t.Errorf("begin %+v, want sand in the 23 minutes that are left", got.Begin)
	}
}

func TestFitsWithoutAnyHours(t *testing.T) {
	got := fitsOf(t, 0, false)
	if got.Groups == nil || len(got.Groups) != 0 || got.Begin != nil {
		t.Errorf("no hours at hand: %+v", got)
	}
}

func TestFitsTakesWhatNeedsTheHelperOnlyWithOne(t *testing.T) {
	has := func(f Fits) bool {
		return slices.ContainsFunc(f.Groups, func(g Fit) bool { return slices.Contains(g.Tasks, "lift") })
	}
	if has(fitsOf(t, 12, false)) || !has(fitsOf(t, 12, true)) {
		t.Error("the lift takes a helper: it fits with one, and without one it does not")
	}
}

func TestNothingIsBegunForAMoment(t *testing.T) {
	if got := fitsOf(t, 3.3, false); got.Begin != nil { // 198 minutes, 187 of them taken
		t.Errorf("begin %+v in 11 minutes", got.Begin)
	}
}

// Of all choices that fit, tried one by one, the one that is made is the first in the order of the
// list; for tasks that fit nothing and do not cure.
func TestLawFitsIsTheFirstChoice(t *testing.T) {
	shared := 0
	rapid.Check(t, func(t *rapid.T) {
		v := drawCrowd(t)
		rows := slices.Clone(v.Build.Tasks.Rows)
		for i := range rows { // many that can be done now, many of them in one place
			rows[i].Fits, rows[i].NotBefore, rows[i].Cure = nil, nil, nil
			if rapid.Bool().Draw(t, "in the first place") {
				rows[i].Place = "place0"
			}
		}
		b := v.Build
		b.Tasks.Rows, b.Edges.Rows, b.Places.Rows = rows, nil, slices.Clone(b.Places.Rows)
		b.Places.Rows[0].ClosedBy, b.Places.Rows[0].Ways = nil, []access.Way{{EnterMin: 4}}
		v = New(b, v.Now)
		hours := float64(rapid.IntRange(1, 20).Draw(t, "half hours at hand")) / 2
		today := v.Today(nil, TodayOptions{Helper: true})
		fits := v.Today(nil, TodayOptions{Helper: true, Hours: hours})
		best, price := firstChoice(v, today.Can, int(hours*60))
		var got []id.Task
		for _, g := range fits.Groups {
			got = append(got, g.Tasks...)
			if g.SavedMin > 0 {
				shared++
			}
		}
		slices.Sort(got)
		slices.Sort(best)
		if !slices.Equal(got, best) || fits.Fits.Minutes != price {
			t.Fatalf("%v in %d minutes, want %v in %d", got, fits.Fits.Minutes, best, price)
		}
	})
	if shared == 0 {
		t.Error("no group of any random build shares access")
	}
}

// firstChoice tries all choices, those with the first task of the list first, and so on.
func firstChoice(v *View, can []Can, most int) ([]id.Task, int) {
	for bits := 1<<len(can) - 1; bits >= 0; bits-- {
		var chosen []tasks.Task
		for i, c := range can {
			if bits>>(len(can)-1-i)&1 == 1 {
				task, _ := v.task(c.ID)
				chosen = append(chosen, task)
			}
		}
		if price := priceOf(v, chosen); price <= most {
			var ids []id.Task
			for _, task := range chosen {
				ids = append(ids, task.ID)
			}
			return ids, price
		}
	}
	return nil, 0
}

// priceOf gives the work of tasks, and the access of each place, together or alone.
func priceOf(v *View, chosen []tasks.Task) int {
	sum, places := 0, map[id.Place][]tasks.Task{}
	for _, task := range chosen {
		sum += task.LeftMinutes()
		places[task.Place] = append(places[task.Place], task)
	}
	for _, ts := range places {
		alone := 0.0
		for _, task := range ts {
			alone += wayTo(v, []tasks.Task{task})
		}
		sum += int(math.Ceil(min(alone, wayTo(v, ts))))
	}
	return sum
}

// wayTo gives what the way to some tasks costs, with as many trips as the one that needs most.
func wayTo(v *View, ts []tasks.Task) float64 {
	s := access.NewSolver(v.Live.Places, v.Live.Items)
	q := access.Query{Visits: 1, Fitted: s.Set(v.Live.FittedNow()...)}
	for _, task := range ts {
		if task.Place != "" && !slices.Contains(q.Places, task.Place) {
			q.Places = append(q.Places, task.Place)
		}
		for _, x := range task.Reaches {
			if !slices.Contains(q.Items, x) {
				q.Items = append(q.Items, x)
			}
		}
		q.Visits = max(q.Visits, int(task.Visits))
	}
	cost, ok := s.Cost(q)
	if !ok {
		return math.Inf(1)
	}
	return cost.Minutes()
}

// The groups follow the order of the plan by their first tasks.
func TestFitsFollowThePlan(t *testing.T) {
	v := viewOf(t, monday, locker)
	seq, err := v.Sequence(t.Context(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	last := -1
	for _, g := range v.Today(&seq, TodayOptions{Hours: 8}).Fits.Groups {
		first := len(seq.Tasks)
		for _, task := range g.Tasks {
			first = min(first, slices.IndexFunc(seq.Tasks, func(r Row) bool { return r.ID == task }))
		}
		if first < last {
			t.Errorf("group %v begins with row %d of the plan, after row %d", g.Tasks, first, last)
		}
		last = first
	}
}
