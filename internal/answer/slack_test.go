package answer

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func TestSlack(t *testing.T) {
	for _, tt := range []struct {
		name, lists string
		want        map[string]int
	}{
		{"one pair of hands: none has any", `"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 2}]`, map[string]int{"a": 0, "b": 0}},
		// a ends 09:00, the part is there on Wednesday: three hours of Monday, four of Tuesday.
		{"before a late part", `"parts": [{"id": "p", "due": "2026-03-03"}],
			"tasks": [{"id": "a", "hours": 1}, {"id": "b", "hours": 1, "parts": ["p"]}]`, map[string]int{"a": 7 * 60, "b": 0}},
		// a cures to Tuesday 13:00, after the hours of that day, so b starts on Wednesday at 08:00. The
		// cure may end then, so a by 04:00 on Tuesday, which is Monday 12:00; c has Monday from
		// 10:00 and all of Tuesday.
		{"before a cure", `"tasks": [{"id": "a", "hours": 1, "cure": {"hours": 28}}, {"id": "b", "hours": 1}, {"id": "c", "hours": 1}],
			"edges": [{"before": "a", "after": "b"}]`, map[string]int{"a": 3 * 60, "c": 6 * 60, "b": 0}},
		// The date is sooner than the end of the build.
		{"before a date", `"tasks": [{"id": "a", "hours": 1, "not_after": "2026-03-02T10:30"}, {"id": "b", "hours": 1, "not_before": "2026-03-04"}]`,
			map[string]int{"a": 90, "b": 0}},
		// b may begin a day before a ends, and does so on Monday at 09:00; a waits for its part until
		// Tuesday. So each is behind the other: a by the hands, b by the edge.
		{"a lag below nothing", `"parts": [{"id": "p", "due": "2026-03-02"}],
			"tasks": [{"id": "a", "hours": 1, "parts": ["p"]}, {"id": "b", "hours": 1}],
			"edges": [{"before": "a", "after": "b", "lag_h": -24}]`, map[string]int{"a": 0}},
		// The helper's task begins on Wednesday at 10:00 and ends the build.
		{"before a helper day", `"tasks": [{"id": "lift", "hours": 1, "uses": {"builder": 1, "helper": 1}}, {"id": "a", "hours": 2}]`,
			map[string]int{"a": 8 * 60, "lift": 0}},
	} {
		s := search(t, viewOf(t, monday, workdays+", "+tt.lists))
		for task, want := range tt.want {
			if got := row(t, s, task).SlackMin; got != want {
				t.Errorf("%s: slack of %s is %d minutes, want %d", tt.name, task, got, want)
			}
		}
	}
}

// With that much more work in one row, and all rows moved later that must be to keep their order
// on each resource, the build ends as before. One unit of each, so that there is only one order.
func TestLawSlackMovesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawCrowd(t)
		b := v.Build
		b.Resources.Rows[2].Capacity = 1
		v = New(b, v.Now)
		seq, ok := someOrder(t, v)
		if !ok || len(seq.Tasks) == 0 {
			return
		}
		i := rapid.IntRange(0, len(seq.Tasks)-1).Draw(t, "row")
		if seq.Tasks[i].WorkMin == 0 {
			return
		}
		moved := layOut(v, seq, seq.Tasks[i].ID, seq.Tasks[i].SlackMin, false)
		if moved.end() > seq.Finish {
			t.Fatalf("%d minutes more of %s: the build ends %v, not %v; %+v", seq.Tasks[i].SlackMin, seq.Tasks[i].ID, moved.end(), seq.Finish, seq.Tasks)
		}
		costsNoMore(t, v, seq, moved)
	})
}

// costsNoMore checks that no row is dearer to get at than in the order, and that no should edge
// is broken that was not.
func costsNoMore(t *rapid.T, v *View, seq Sequence, moved *slow) {
	planned, later := rowsByTask(&seq), Sequence{}
	for _, r := range moved.row {
		later.Tasks = append(later.Tasks, r)
	}
	for _, r := range later.Tasks {
		then := New(builtBy(v.Build, later, r.Start), r.Start)
		task, _ := then.task(r.ID)
		if way, ok := then.reach(task, then.fitted()); !ok || way.Ceil() > planned[r.ID].AccessMin {
			t.Fatalf("the way to %+v costs %v (%v), planned %+v", r, way.Minutes(), ok, planned[r.ID])
		}
	}
	for _, e := range v.Live.Edges {
		first, open := planned[e.Before]
		then, both := planned[e.After]
		one, _ := v.task(e.Before)
		other, _ := v.task(e.After)
		owes := one.State != tasks.Started && other.State != tasks.Started // else all is settled
		kept := owes && open && both && e.Kind == deps.Should && first.Start <= then.Start
		if kept && moved.row[e.Before].Start > moved.row[e.After].Start {
			t.Fatalf("%+v is broken: %+v", e, moved.row)
		}
	}
}

// With one pair of hands there is only one order, and a minute more than the slack moves the end.
func TestLawSlackIsAllThereIs(t *testing.T) {
	spare := 0
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		seq, ok := firstOrder(t, v)
		if !ok {
			return
		}
		for _, r := range seq.Tasks {
			if end := layOut(v, seq, r.ID, r.SlackMin, true).end(); end != seq.Finish {
				t.Fatalf("%d minutes more of %s: the build ends %v, not %v", r.SlackMin, r.ID, end, seq.Finish)
			}
			if end := layOut(v, seq, r.ID, r.SlackMin+1, true).end(); end <= seq.Finish {
				t.Fatalf("%d minutes more of %s: the build still ends %v; %+v", r.SlackMin+1, r.ID, end, seq.Tasks)
			}
			spare += r.SlackMin
		}
	})
	if spare == 0 {
		t.Error("no row of any random build has slack")
	}
}

// layOut lays the order out again, with more minutes of work in one row. In turn, each row stays
// behind the one before it, as it must with one pair of hands.
func layOut(v *View, seq Sequence, longer id.Task, more int, inTurn bool) *slow {
	s, last := newSlow(v), v.Now
	rows := slices.Clone(seq.Tasks)
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(a.Finish, b.Finish) })
	for _, r := range rows {
		task, _ := v.task(r.ID)
		from, end := behind(v, rows, r, s)
		if r.ID == longer {
			r.WorkMin += more
		}
		from = max(from, r.Start, s.ready(task))
		if inTurn {
			from = max(from, last)
		}
		last = s.placeBehind(task, from, end, r.WorkMin).Finish
	}
	return s
}

// behind gives when a row may start, and finish, at the soonest, so that it and its cure stay
// behind all that had the same resource before them.
func behind(v *View, rows []Row, r Row, s *slow) (from, end units.Instant) {
	task, _ := v.task(r.ID)
	for _, p := range rows {
		moved, placed := s.row[p.ID]
		if !placed {
			continue
		}
		before, _ := v.task(p.ID)
		for _, res := range v.Live.Resources {
			if before.Uses[res.ID] > 0 && p.WorkMin > 0 && holdsIt(task, res.ID) && p.Finish <= r.Finish {
				end = max(end, moved.Finish)
			}
			if before.Uses[res.ID] > 0 && p.WorkMin > 0 && task.Uses[res.ID] > 0 && r.WorkMin > 0 && p.Finish <= r.Start {
				from = max(from, moved.Finish)
			}
			if holdsIt(before, res.ID) && holdsIt(task, res.ID) && p.CureEnd <= r.Finish {
				end = max(end, moved.CureEnd)
			}
			if holdsIt(before, res.ID) && task.Uses[res.ID] > 0 && r.WorkMin > 0 && p.CureEnd <= r.Start {
				from = max(from, moved.CureEnd)
			}
		}
	}
	return from, end
}

func holdsIt(t tasks.Task, r id.Resource) bool {
	return t.Cure != nil && slices.Contains(t.Cure.Holds, r)
}
