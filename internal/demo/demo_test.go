package demo

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/exchange"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// asWritten is the demo build with the dates of its file.
func asWritten() build.Build { return Build(present.Start()) }

func written(t *testing.T, b build.Build) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := exchange.WriteJSON(&out, b); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestPresentIsTheWednesdayOfTheFile(t *testing.T) {
	if got := present.String(); got != "2026-03-04" || present.Weekday() != 2 {
		t.Errorf("present = %s, weekday %d", got, present.Weekday())
	}
}

func TestTheFileIsWhatAnExportWrites(t *testing.T) {
	if diff := cmp.Diff(string(file), string(written(t, asWritten()))); diff != "" {
		t.Errorf("dipper.json is not as an export writes it (-file +export):\n%s", diff)
	}
}

func TestAnyPresentHoldsNoFaultsAndComesBack(t *testing.T) {
	for _, day := range []string{"1999-12-31", "2024-02-29", "2026-03-04", "2026-12-31", "2027-01-03T23:59", "2100-06-15"} {
		now, err := units.ParseInstant(day)
		if err != nil {
			t.Fatal(err)
		}
		b := Build(now)
		if faults := b.Check(); len(faults) > 0 {
			t.Fatalf("at %s: %v", day, faults)
		}
		first := written(t, b)
		again, err := exchange.ReadJSON(bytes.NewReader(first))
		if err != nil {
			t.Fatalf("at %s: %v", day, err)
		}
		if !bytes.Equal(first, written(t, again)) {
			t.Fatalf("at %s: export, import and export again differ", day)
		}
	}
}

// drawNow draws a time between 1980 and 2150.
func drawNow(t *rapid.T) units.Instant {
	return units.Instant(rapid.Int64Range(3650*1440, 65000*1440).Draw(t, "now"))
}

// datesOf gives every time in b, in the order of the file.
func datesOf(b build.Build) []units.Instant {
	var all []units.Instant
	add := func(times ...*units.When) {
		for _, w := range times {
			if w != nil {
				all = append(all, w.At)
			}
		}
	}
	for _, r := range b.Resources.Rows {
		for _, o := range r.Off {
			all = append(all, o.From.Start(), o.To.Start())
		}
		for _, o := range r.On {
			all = append(all, o.Date.Start())
		}
	}
	for _, p := range b.Parts.Rows {
		add(p.Ordered, p.Due, p.Arrived)
	}
	for _, t := range b.Tasks.Rows {
		add(t.NotBefore, t.NotAfter, t.FinishedAt)
	}
	for _, d := range b.Days.Rows {
		all = append(all, d.At)
	}
	return all
}

func TestDatesMoveByWholeWeeks(t *testing.T) {
	before := datesOf(asWritten())
	if n := strings.Count(string(file), "\"2026-"); n != len(before) {
		t.Fatalf("%d dates in the file, the test looks at %d", n, len(before))
	}
	rapid.Check(t, func(t *rapid.T) {
		now := drawNow(t)
		b := Build(now)
		if b.Head.Now != nil {
			t.Fatal("the demo's time must run")
		}
		after := datesOf(b)
		by := after[0] - before[0]
		for i := range after {
			if after[i]-before[i] != by {
				t.Fatalf("date %d moved by %d minutes, the first by %d", i, after[i]-before[i], by)
			}
		}
		if by%(7*units.Day) != 0 {
			t.Fatalf("moved by %d minutes, which are no whole weeks", by)
		}
		year, week := now.Date().ISOWeek()
		if y, w := (present + units.Date(by/units.Day)).ISOWeek(); y != year || w != week {
			t.Fatalf("the present moved to week %d-W%d, now is %d-W%d", y, w, year, week)
		}
		first, last := b.Days.Rows[0].At, b.Days.Rows[b.Days.Len()-1].End()
		if last > now || now.Date()-first.Date() < 42 || now.Date()-first.Date() > 48 {
			t.Fatalf("daybook from %s to %s at %s", first, last, now)
		}
	})
}

func TestEachBuildIsItsOwn(t *testing.T) {
	one, other := asWritten(), asWritten()
	one.Parts.Rows[0].Ordered.At = 0
	one.Days.Rows[0].At = 0
	if other.Parts.Rows[0].Ordered.At == 0 || other.Days.Rows[0].At == 0 {
		t.Error("two demo builds share their records")
	}
}

// spent is what the daybook says of a task.
type spent struct {
	minutes  int
	end      units.Instant
	finished bool
}

func spentOn(b build.Build) map[id.Task]spent {
	all := map[id.Task]spent{}
	for _, d := range b.Days.Rows {
		s := all[d.Task]
		all[d.Task] = spent{s.minutes + d.Minutes, max(s.end, d.End()), s.finished || d.Finished}
	}
	return all
}

func TestTasksAgreeWithTheDaybook(t *testing.T) {
	b := asWritten()
	spent := spentOn(b)
	states := map[tasks.State]int{}
	for _, task := range b.Tasks.Rows {
		s := spent[task.ID]
		states[task.State]++
		if want := math.Round(float64(s.minutes)/60*1e4) / 1e4; task.SpentH != want {
			t.Errorf("%s: spent %v h, the daybook has %v h", task.ID, task.SpentH, want)
		}
		if (s.minutes > 0) != (task.State != tasks.Todo) || s.finished != (task.State == tasks.Finished) {
			t.Errorf("%s is %s; the daybook has %d minutes, finished %t", task.ID, task.State, s.minutes, s.finished)
		}
		if at := task.FinishedAt; (at != nil) != s.finished || at != nil && at.At != s.end {
			t.Errorf("%s finished at %v, the daybook says %s", task.ID, at, s.end)
		}
	}
	if states[tasks.Finished] < 25 || states[tasks.Started] < 2 || states[tasks.Todo] < 100 {
		t.Errorf("states %v: the demo must show all of them", states)
	}
	checkNoOverlap(t, b)
}

func checkNoOverlap(t *testing.T, b build.Build) {
	t.Helper()
	for i, d := range b.Days.Rows[1:] {
		if before := b.Days.Rows[i]; before.End() > d.At {
			t.Errorf("%s at %s begins before %s has ended", d.Task, d.At, before.Task)
		}
	}
}

// This builder takes about a quarter longer than the likely hours: the forecast has a
// bias to learn.
func TestTheBuilderIsSlowerThanLikely(t *testing.T) {
	var likely, took float64
	for _, task := range asWritten().Tasks.Rows {
		if task.State == tasks.Finished {
			likely += task.Hours.Likely
			took += task.SpentH
		}
	}
	if ratio := took / likely; ratio < 1.15 || ratio > 1.35 {
		t.Errorf("took %.2f times the likely hours, want about 1.25", ratio)
	}
}

// skipped gives what the entries came before: "task: what was not there".
func skipped(b build.Build) []string {
	cal := calendar.Compile(b.Resources.Rows)
	live := b.Live()
	var out []string
	for _, d := range b.Days.Rows {
		for _, e := range live.Edges {
			if e.After == d.Task && e.Kind == deps.Must && d.At < readyAfter(live, cal, e) {
				out = append(out, string(d.Task)+": "+string(e.Before))
			}
		}
		for _, p := range live.Tasks[live.TaskAt[d.Task]].Parts {
			if at := live.Parts[live.PartAt[p]].Arrived; at == nil || d.At < at.At {
				out = append(out, string(d.Task)+": "+string(p))
			}
		}
	}
	return out
}

// readyAfter gives when the task after e could start.
func readyAfter(live build.Live, cal *calendar.Calendars, e deps.Edge) units.Instant {
	before := live.Tasks[live.TaskAt[e.Before]]
	if before.FinishedAt == nil {
		return math.MaxInt64
	}
	if before.Cure == nil || e.LagH != nil {
		return before.FinishedAt.At
	}
	cure := calendar.Cure{Minutes: units.RoundMinutes(before.Cure.Hours)}
	if before.Cure.While != "" {
		cure.While = cal.Of(before.Cure.While)
	}
	end, _ := cure.End(before.FinishedAt.At)
	return end
}

func TestTwoEntriesCameAheadOfTheirTurn(t *testing.T) {
	want := []string{"r04: r03", "b07: b06", "b07: p01", "b07: p04", "b07: p05", "b07: p12"}
	if got := skipped(asWritten()); !slices.Equal(got, want) {
		t.Errorf("entries ahead of their turn: %v, want %v", got, want)
	}
}

func TestSomeProofsAreMissing(t *testing.T) {
	b := asWritten()
	var missing []string
	for _, task := range b.Tasks.Rows {
		for _, c := range task.Checks {
			if task.State == tasks.Finished && !given(t, b, task.ID, c) {
				missing = append(missing, string(task.ID)+" "+string(c.ID))
			}
		}
	}
	want := []string{"s03 test", "s13 certificate", "b04 receipt", "r02 photo", "r05 photo"}
	if !slices.Equal(missing, want) {
		t.Errorf("proofs missing: %v, want %v", missing, want)
	}
}

// given reports whether the daybook holds a proof.
func given(t *testing.T, b build.Build, task id.Task, c tasks.Check) (ok bool) {
	for _, d := range b.Days.Rows {
		if d.Task != task {
			continue
		}
		if c.Kind == tasks.Photo {
			ok = ok || len(d.Photos) > 0
		}
		for _, r := range d.Readings {
			if r.Check == c.ID {
				ok = holds(t, c, r.Value)
			}
		}
	}
	return ok
}

func holds(t *testing.T, c tasks.Check, reading string) bool {
	if c.Want == "" {
		return true
	}
	want, err := units.ParseWant(c.Want)
	if err != nil {
		t.Fatal(err)
	}
	q, err := units.ParseQuantity(reading)
	if err != nil {
		t.Fatal(err)
	}
	ok, err := want.Holds(q)
	if err != nil {
		t.Fatal(err)
	}
	return ok
}

func TestPartsStandDifferently(t *testing.T) {
	count := map[string]int{}
	for _, p := range asWritten().Parts.Rows {
		switch {
		case p.Arrived != nil:
			count["arrived"]++
		case p.Ordered == nil:
			count["to order"]++
		case p.Due.At.Date() < present:
			count["overdue"]++
		case p.Due.At.Date() > p.Ordered.At.Date()+units.Date(p.LeadDays.Likely)+14:
			count["late"]++
		default:
			count["on its way"]++
		}
	}
	for _, state := range []string{"arrived", "to order", "overdue", "late", "on its way"} {
		if count[state] == 0 {
			t.Errorf("no part is %s: %v", state, count)
		}
	}
}
