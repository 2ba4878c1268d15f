package answer

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// Laws of the answers on random builds, checked against the rows of the build alone, or against
// the same question put to the build as it would be at another time.

// firstOrder gives the first order of a random build; false where there is none.
func firstOrder(t *rapid.T, v *View) (Sequence, bool) {
	seq, err := v.Sequence(t.Context(), plan.Options{})
	var none *plan.NoSequenceError
	if errors.As(err, &none) {
		return seq, false
	}
	if err != nil {
		t.Fatal(err)
	}
	return seq, true
}

// builtBy gives the build as it is when everything that the order has finished by a time
// is finished.
func builtBy(b build.Build, seq Sequence, by units.Instant) build.Build {
	rows := slices.Clone(b.Tasks.Rows)
	for _, r := range seq.Tasks {
		at := slices.IndexFunc(rows, func(t tasks.Task) bool { return t.ID == r.ID })
		if r.Finish <= by {
			rows[at].State, rows[at].FinishedAt = tasks.Finished, &units.When{At: r.Finish}
		}
	}
	b.Tasks = build.ListOf(rows...)
	return b
}

// Every open task stands in the order once, has its reason, starts when all must edges let it,
// and pays for the way in that it finds when it starts.
func TestLawSequence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		seq, ok := firstOrder(t, v)
		if !ok {
			return
		}
		rows, work := rowsByTask(&seq), 0
		for _, task := range v.Live.Tasks {
			if _, planned := rows[task.ID]; planned == (task.State == tasks.Finished) {
				t.Fatalf("%s is %s; in the order: %v", task.ID, task.State, planned)
			}
		}
		for _, r := range seq.Tasks {
			work += r.WorkMin
			then := New(builtBy(v.Build, seq, r.Start), r.Start)
			task, _ := then.task(r.ID)
			way, ok := then.reach(task, then.fitted())
			if len(r.Because) == 0 || r.Start < v.Now || r.Finish > seq.Finish || !ok || way.Ceil() != r.AccessMin {
				t.Fatalf("%+v; the way in costs %v when it starts (%v)", r, way.Minutes(), ok)
			}
		}
		if len(rows) != len(seq.Tasks) || work != seq.WorkMin || seq.Finish < seq.BoundFinish {
			t.Fatalf("%d rows, %d of them different; %d minutes of work, want %d; finish %v, bound %v",
				len(seq.Tasks), len(rows), seq.WorkMin, work, seq.Finish, seq.BoundFinish)
		}
		edgesHold(t, v, rows)
	})
}

func edgesHold(t *rapid.T, v *View, rows map[id.Task]Row) {
	for _, e := range v.Live.Edges {
		before, first := rows[e.Before]
		after, then := rows[e.After]
		lag := 0.0
		if e.LagH != nil {
			lag = *e.LagH * 60
		}
		if e.Kind == deps.Must && first && then && after.Start < before.Finish+units.Instant(math.Round(lag)) {
			t.Fatalf("%+v does not hold: %+v, %+v", e, before, after)
		}
	}
}

// No order starts a task before its early start, or ends before the dates say.
func TestLawDatesBoundTheSequence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		seq, ok := firstOrder(t, v)
		if !ok {
			return
		}
		dates, err := v.Dates()
		if err != nil || dates.Finish > seq.Finish {
			t.Fatalf("dates end %v, the order %v (%v)", dates.Finish, seq.Finish, err)
		}
		rows := rowsByTask(&seq)
		for _, d := range dates.Tasks {
			if rows[d.ID].Start < d.EarlyStart || d.LateStart < d.EarlyStart || d.Critical != (d.TotalFloatMin == 0) {
				t.Fatalf("%+v, but the order has %+v", d, rows[d.ID])
			}
		}
	})
}

// What can be done and what cannot are all the open tasks; what can is not waiting by its status.
func TestLawToday(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		today := v.Today(nil, TodayOptions{})
		seen := map[id.Task]int{}
		for _, c := range today.Can {
			seen[c.ID]++
			task, _ := v.task(c.ID)
			way, ok := v.reach(task, v.fitted())
			if s := v.Status(c.ID); s != Workable && s != UnderWay || !ok || way.Minutes() != c.AccessMin || c.Because == "" {
				t.Fatalf("%+v can be done, but is %s; the way in is %v (%v)", c, s, way.Minutes(), ok)
			}
		}
		for _, c := range today.Cannot {
			seen[c.ID]++
			if s := v.Status(c.ID); len(c.WaitsFor) == 0 || s != Waiting && s != UnderWay {
				t.Fatalf("%+v cannot be done, but is %s", c, s)
			}
		}
		for _, task := range v.Live.Tasks {
			if open := task.State != tasks.Finished; (seen[task.ID] == 1) != open {
				t.Fatalf("%s is %s and is named %d times", task.ID, task.State, seen[task.ID])
			}
		}
	})
}

// What the audit says of the plan is what CloseIn says in the build as it will be when the
// cover goes on, of tasks that are not finished by then, and of those that are finished now.
func TestLawAuditOfThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := withLateProof(drawView(t))
		seq, ok := firstOrder(t, v)
		if !ok {
			return
		}
		want := map[string]bool{}
		for _, r := range seq.Tasks {
			for _, o := range coveredBy(t, v, seq, r) {
				want[o] = true
			}
		}
		if !want["late-proof"] || !want["done-proof"] {
			t.Fatal("the law checks nothing")
		}
		got, now := map[string]bool{}, map[string]bool{}
		for _, p := range v.Audit(t.Context()) {
			switch p.Kind {
			case "plan buries proof":
				got[p.Ref] = true
			case "proof about to be buried", "proof buried", "covered unproven":
				now[p.Ref] = true
			}
		}
		// What can be done today is named as such; the plan may have it in the right order.
		maps.DeleteFunc(want, func(ref string, _ bool) bool { return now[ref] && !got[ref] })
		if !maps.Equal(got, want) {
			t.Fatalf("the plan is said to bury %v, but buries %v", got, want)
		}
	})
}

// withLateProof adds to a build a lid that is fitted in an hour, a proof under it that is given
// two hours later, and one that work which is done owes; and has the covers of the other tasks
// wait, so that they come late too.
func withLateProof(v *View) *View {
	after := func(hours int) *units.When { return &units.When{At: v.Now + units.Instant(hours)*units.Hour} }
	b := v.Build
	rows := slices.Clone(b.Tasks.Rows)
	for i := range rows {
		if len(rows[i].Fits) > 0 {
			rows[i].NotBefore = after(1)
		}
	}
	lid := tasks.Task{ID: "fit-lid", Fits: []id.Item{"lid"}, NotBefore: after(1)}
	late := tasks.Task{ID: "late-proof", Reaches: []id.Item{"gland"}, NotBefore: after(3),
		Checks: []tasks.Check{{ID: "leak", Kind: "test", BeforeCover: true}}}
	done := tasks.Task{ID: "done-proof", Reaches: []id.Item{"gland"}, State: tasks.Finished, FinishedAt: after(-1),
		Checks: []tasks.Check{{ID: "leak", Kind: "test", BeforeCover: true}}}
	for _, t := range []*tasks.Task{&lid, &late, &done} {
		t.Hours.Low, t.Hours.Likely, t.Hours.High = 1, 1, 1
		t.SetDefaults()
		t.Uses = tasks.Uses{} // whenever it may
	}
	b.Tasks = build.ListOf(append(rows, lid, late, done)...)
	b.Items = build.ListOf(append(slices.Clone(b.Items.Rows), access.Item{ID: "lid", Opening: &access.Opening{OpenMin: 1}},
		access.Item{ID: "gland", Covers: []id.Item{"lid"}})...)
	return New(b, v.Now)
}

// coveredBy gives the tasks that a row closes in before they are finished, their proofs owed, and
// those that are finished now and owe them still.
func coveredBy(t *rapid.T, v *View, seq Sequence, r Row) []string {
	b := builtBy(v.Build, seq, r.Finish)
	rows := slices.Clone(b.Tasks.Rows)
	for i := range rows {
		if rows[i].ID == r.ID { // its cover goes on last
			rows[i].State, rows[i].FinishedAt = tasks.Started, nil
		}
	}
	b.Tasks = build.ListOf(rows...)
	in, err := New(b, r.Finish).CloseIn(string(r.ID))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	later := rowsByTask(&seq)
	for _, o := range in.NotProved {
		if row, open := later[o.Task]; !open || o.Task != r.ID && row.Finish >= r.Finish {
			out = append(out, string(o.Task))
		}
	}
	return out
}

// Every answer of the audit has a kind, a thing and a word, and comes once.
func TestLawAuditSaysAThingOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seen := map[string]bool{}
		for _, p := range drawView(t).Audit(t.Context()) {
			text := strings.Join([]string{p.Kind, p.Ref, p.Text}, ": ")
			if p.Kind == "" || p.Ref == "" || p.Text == "" || seen[text] {
				t.Fatalf("%q is said again, or says nothing", text)
			}
			seen[text] = true
		}
	})
}

// Work on a task now is ahead of its turn just where Today has it wait for other tasks.
func TestLawAheadIsWhatTodayWaitsFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		today := v.Today(nil, TodayOptions{})
		waits := map[id.Task][]string{}
		for _, c := range today.Cannot {
			for _, w := range c.WaitsFor {
				if w.Kind == "edge" || w.Kind == "lag" {
					waits[c.ID] = append(waits[c.ID], w.Ref)
				}
			}
		}
		for _, task := range v.Live.Tasks {
			if task.State == tasks.Finished {
				continue
			}
			var skips []string
			for _, a := range v.Ahead(task.ID, v.Now) {
				if !aboutShould(v, a, task.ID) {
					skips = append(skips, a.Ref)
				}
			}
			slices.Sort(skips)
			slices.Sort(waits[task.ID])
			if !slices.Equal(skips, waits[task.ID]) {
				t.Fatalf("work on %s skips %v, but it waits for %v", task.ID, skips, waits[task.ID])
			}
		}
	})
}

// aboutShould reports whether a is about a should edge into t.
func aboutShould(v *View, a Ahead, t id.Task) bool {
	return slices.ContainsFunc(v.Live.Edges, func(e deps.Edge) bool {
		return e.After == t && string(e.Before) == a.Ref && e.Kind == deps.Should
	})
}
