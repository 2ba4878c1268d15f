package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// planned gives a build with its first order of work, which is always the same.
func planned(t *testing.T, b build.Build, now units.Instant) (*answer.View, answer.Sequence) {
	t.Helper()
	view := answer.New(b, now)
	seq, err := view.Sequence(context.Background(), plan.Options{Schedules: 1})
	if err != nil {
		t.Fatal(err)
	}
	return view, seq
}

func demoPlan(t *testing.T) (*answer.View, answer.Sequence) {
	t.Helper()
	now, err := units.ParseInstant("2026-11-26T00:00")
	if err != nil {
		t.Fatal(err)
	}
	return planned(t, demo.Build(now), now)
}

// TestChartOfTheDemo looks at one order of the demonstration build from all sides: it takes a
// while to find.
func TestChartOfTheDemo(t *testing.T) {
	view, seq := demoPlan(t)
	t.Run("slack", func(t *testing.T) { slackOfTheChart(t, view, seq) })
	t.Run("spans", func(t *testing.T) { spansOfTheChart(t, view, seq) })
	t.Run("bands", func(t *testing.T) { bandsOfTheChart(t, view, seq) })
	t.Run("the same again", func(t *testing.T) { chartIsTheSame(t, view, seq) })
}

// delayed carries an order out with one task that ends later, and gives when all of it ends:
// forwards and in its order, each task when what it comes after lets it, never earlier than planned.
func delayed(view *answer.View, seq answer.Sequence, which id.Task, until units.Instant) units.Instant {
	cal := calendar.Compile(view.Live.Resources)
	end := map[id.Task]units.Instant{}
	rows := map[id.Task]answer.Row{}
	all := units.Instant(0)
	for _, r := range seq.Tasks {
		rows[r.ID] = r
		start := r.Start
		for _, e := range view.Live.Edges {
			before, open := rows[e.Before]
			if e.After != r.ID || !open || before.Finish > r.Start {
				continue
			}
			gap := before.CureEnd - before.Finish
			if e.LagH != nil {
				gap = units.Instant(*e.LagH * 60)
			}
			if e.Kind == deps.Should {
				gap = 0
			}
			start = max(start, end[e.Before]+gap)
		}
		used := view.Live.Tasks[view.Live.TaskAt[r.ID]].Uses
		var names []id.Resource
		for name := range used {
			names = append(names, name)
			for _, o := range seq.Tasks {
				if at, done := end[o.ID]; done && o.Finish <= r.Start && view.Live.Tasks[view.Live.TaskAt[o.ID]].Uses[name] > 0 {
					start = max(start, at)
				}
			}
		}
		end[r.ID], _ = cal.Of(names...).Finish(start, r.WorkMin)
		if r.ID == which {
			end[r.ID] = until
		}
		all = max(all, end[r.ID]+r.CureEnd-r.Finish)
	}
	return all
}

// slackOfTheChart: a task that ends as late as its slack allows does not put the plan off,
// by an independent run forwards through the order; one that is critical puts it off as soon
// as it takes another hour of its working time.
func slackOfTheChart(t *testing.T, view *answer.View, seq answer.Sequence) {
	t.Helper()
	cal := calendar.Compile(view.Live.Resources)
	chart := chartOf(view, seq)
	slack, critical := 0, 0
	for i, r := range chart.Rows {
		task := id.Task(r.ID)
		var names []id.Resource
		for name := range view.Live.Tasks[view.Live.TaskAt[task]].Uses {
			names = append(names, name)
		}
		if !r.Critical {
			slack++
			late := r.SlackEnd - (r.CureEnd - r.Finish)
			if got := delayed(view, seq, task, late); got > seq.Finish {
				t.Errorf("%s ends %s, within its slack: the plan ends %s, not %s", r.ID, late, got, seq.Finish)
			}
			continue
		}
		critical++
		late, _ := cal.Of(names...).Finish(seq.Tasks[i].Finish, 60)
		if got := delayed(view, seq, task, late); got <= seq.Finish {
			t.Errorf("%s is critical, but may end %s", r.ID, late)
		}
	}
	if slack == 0 || critical == 0 {
		t.Errorf("%d tasks with slack, %d critical: nothing was checked", slack, critical)
	}
}

// spansOfTheChart: the minutes of the bars are the minutes of work, and all bars lie
// within the row.
func spansOfTheChart(t *testing.T, view *answer.View, seq answer.Sequence) {
	t.Helper()
	for i, r := range chartOf(view, seq).Rows {
		n := units.Instant(0)
		for _, s := range r.Spans {
			if s.From < r.Start || s.To > r.Finish || s.From >= s.To {
				t.Fatalf("%s from %s to %s has a bar from %s to %s", r.ID, r.Start, r.Finish, s.From, s.To)
			}
			n += s.To - s.From
		}
		if int(n) != seq.Tasks[i].WorkMin {
			t.Errorf("%s: bars of %d min, %d min of work", r.ID, n, seq.Tasks[i].WorkMin)
		}
	}
}

// TestArrivalsOfTheChart: of the small build the grinder has not come, eight days ahead; a
// task stands where it does because of it.
func TestArrivalsOfTheChart(t *testing.T) {
	view, seq := planned(t, testkit.Workshop(), testkit.Now)
	c := chartOf(view, seq)
	want := draw.Arrival{Name: "Wet grinder", At: (testkit.Now.Date() + 9).Start(), Late: true}
	if !slices.Equal(c.Arrivals, []draw.Arrival{want}) {
		t.Errorf("arrivals %v, want %v", c.Arrivals, want)
	}
	// 2026-03-02 is a Monday, and the builder works on weekdays (ISO 8601 calendar).
	saturday := (testkit.Now.Date() + 5).Start()
	if len(c.Off) == 0 || c.Off[0] != (draw.Stretch{From: saturday, To: saturday + 2*units.Day}) {
		t.Errorf("days off %v, the first is %s for two days", c.Off, saturday)
	}
}

// bandsOfTheChart: those who are there on some days only, and not the builder.
func bandsOfTheChart(t *testing.T, view *answer.View, seq answer.Sequence) {
	t.Helper()
	var names []string
	for _, b := range chartOf(view, seq).Bands {
		names = append(names, b.Name)
	}
	for _, want := range []string{"Second pair of hands", "Licensed gas fitter", "Licensed electrician"} {
		if !slices.Contains(names, want) {
			t.Errorf("bands %q, without %s", names, want)
		}
	}
	if slices.Contains(names, "Builder") || slices.Contains(names, "Inside of the van") {
		t.Errorf("bands %q", names)
	}
}

// chartIsTheSame: maps have no order, the drawing has one.
func chartIsTheSame(t *testing.T, view *answer.View, seq answer.Sequence) {
	t.Helper()
	want := draw.ChartSVG(chartOf(view, seq))
	for range 2 {
		if !bytes.Equal(want, draw.ChartSVG(chartOf(view, seq))) {
			t.Fatal("the same order gives another drawing")
		}
	}
}

func TestDrawInto(t *testing.T) {
	var out, note bytes.Buffer
	e := &env{World: World{Out: &out, Err: &note}}
	if err := e.drawInto("-", []byte("<svg/>")); err != nil || out.String() != "<svg/>" || note.Len() > 0 {
		t.Errorf("to stdout: %v, %q, %q", err, out.String(), note.String())
	}
	file := filepath.Join(t.TempDir(), "plan.svg")
	if err := e.drawInto(file, []byte("<svg/>")); err != nil || note.String() != "written: "+file+"\n" {
		t.Errorf("to a file: %v, %q", err, note.String())
	}
	if text, err := os.ReadFile(file); err != nil || string(text) != "<svg/>" {
		t.Errorf("the file has %q, %v", text, err)
	}
	none := filepath.Join(t.TempDir(), "no", "plan.svg")
	if err := e.drawInto(none, nil); err == nil || !strings.HasPrefix(err.Error(), "--svg "+none+": ") {
		t.Errorf("where there is no directory: %v", err)
	}
}

func TestSVGAndJSON(t *testing.T) {
	v := &sequenceVerb{env: &env{asJSON: true}, svg: "-"}
	if err := v.validate(); err == nil || !strings.Contains(err.Error(), "both want stdout") {
		t.Errorf("--svg - --json: %v", err)
	}
	v.svg = "plan.svg"
	if err := v.validate(); err != nil {
		t.Errorf("--svg FILE --json: %v", err)
	}
}
