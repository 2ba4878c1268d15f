package answer

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

func lateOf(t *testing.T, v *View, part id.Part, until string) Late {
	t.Helper()
	d, err := units.ParseDate(until)
	if err != nil {
		t.Fatal(err)
	}
	l, err := v.Late(t.Context(), []Delay{{part, d}}, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A bay that is floor until the kickboard closes it: 3.5 minutes to lift it out and back, half a
// minute to get in. The tank is filled in it, in two trips, once the hose is there.
const hose = `
"places": [{"id": "bay", "closed_by": ["kickboard"], "ways": [{"through": ["kickboard"], "enter_min": 0.5}]}],
"items": [{"id": "kickboard", "opening": {"open_min": 1.5, "refit_min": 2}}],
"parts": [{"id": "hose", "arrived": "2026-02-27"}, {"id": "paint", "arrived": "2026-02-27"}],
"tasks": [{"id": "fill", "hours": 0.5, "place": "bay", "visits": 2, "parts": ["hose"]},
          {"id": "close", "hours": 1, "fits": ["kickboard"]}, {"id": "dry", "hours": 1}]`

// The hose comes on Monday evening. By hand: in time all is done on Monday, 150 minutes from
// 08:00, the filling before the closing. Hold: the filling on Tuesday at 08:00, whatever came
// after it then. Carry on: close and dry on Monday, fill on Tuesday, 30 + 4.5 minutes, rounded up.
// Nothing buried: dry on Monday, fill and close on Tuesday.
func TestLate(t *testing.T) {
	l := lateOf(t, viewOf(t, monday, hose), "hose", "2026-03-02")
	if l.Part != "hose" || l.Until.String() != "2026-03-02" || !slices.Equal(l.Waiting, []id.Task{"fill"}) || l.Present.Finish != at(t, "2026-03-02T10:30") {
		t.Errorf("%+v", l)
	}
	hold, carry, open := l.Choices[0], l.Choices[1], l.Choices[2]
	if hold.Name != HoldChoice || carry.Name != CarryOnChoice || open.Name != OpenChoice {
		t.Errorf("the choices are %q, %q, %q", hold.Name, carry.Name, open.Name)
	}
	if carry.Finish != at(t, "2026-03-03T08:35") || carry.WorkMin != 155 || carry.AccessMin != 5 || carry.Visits != 2 || carry.BoundFinish > carry.Finish {
		t.Errorf("carry on: %+v", carry)
	}
	want := []Buried{{By: []id.Item{"kickboard"}, Closed: Closed{Task: "fill", Visits: 2, AfterMin: ptr(4.5), ExtraMin: ptr(4.5)}}}
	if diff := cmp.Diff(want, carry.Closes); diff != "" {
		t.Errorf("carry on closes in (-want +got):\n%s", diff)
	}
	if open.Finish != at(t, "2026-03-03T09:30") || open.WorkMin != 150 || len(open.Closes) != 0 || open.Visits != 2 {
		t.Errorf("nothing buried: %+v", open)
	}
	turn := func(name id.Task) int {
		return slices.IndexFunc(l.Present.Sequence.Tasks, func(r Row) bool { return r.ID == name })
	}
	after := len(l.Present.Sequence.Tasks) - 1 - turn("fill") // tasks of an hour each
	if hold.Finish != at(t, "2026-03-03T08:30")+units.Instant(60*after) || hold.WorkMin != 150 || len(hold.Closes) != 0 {
		t.Errorf("hold: %+v", hold)
	}
}

// What must come first is told from what need not: the frame must be there for the tank.
func TestLateUnavoidable(t *testing.T) {
	v := viewOf(t, monday, `
"places": [{"id": "bay", "ways": [{"through": ["frame", "board"], "enter_min": 1}]}],
"items": [{"id": "frame", "opening": {"open_min": 2}}, {"id": "board", "opening": {"open_min": 4}}],
"parts": [{"id": "tank", "due": "2026-03-02"}],
"tasks": [{"id": "build", "hours": 1, "fits": ["frame"]}, {"id": "fit", "hours": 1, "place": "bay", "parts": ["tank"]},
          {"id": "panel", "hours": 1, "fits": ["board"]}],
"edges": [{"before": "build", "after": "fit", "why": "it stands on the frame"}]`)
	l := lateOf(t, v, "tank", "2026-03-04")
	row := func(after, extra float64, must bool, by ...id.Item) []Buried {
		return []Buried{{By: by, Unavoidable: must, Closed: Closed{Task: "fit", Visits: 1, BeforeMin: 1, AfterMin: &after, ExtraMin: &extra}}}
	}
	if diff := cmp.Diff(row(7, 6, false, "frame", "board"), l.Choices[1].Closes); diff != "" {
		t.Errorf("carry on (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(row(3, 2, true, "frame"), l.Choices[2].Closes); diff != "" {
		t.Errorf("nothing buried (-want +got):\n%s", diff)
	}
}

// Two ways in, with two walls to come in each, and a third through a hatch: no wall alone makes the
// way dearer, nor does any as the last of all. Carry on: four walls before Thursday, then through
// the hatch. Nothing buried: the walls of one way only after the tank.
func TestLateClosedTogether(t *testing.T) {
	v := viewOf(t, monday, `
"places": [{"id": "bay", "ways": [{"through": ["a1", "a2"]}, {"through": ["b1", "b2"]}, {"through": ["hatch"]}]}],
"items": [{"id": "a1"}, {"id": "a2"}, {"id": "b1"}, {"id": "b2"}, {"id": "hatch", "fitted": true, "opening": {"open_min": 2}}],
"parts": [{"id": "tank"}],
"tasks": [{"id": "fit", "hours": 1, "place": "bay", "parts": ["tank"]}, {"id": "wall-a1", "hours": 1, "fits": ["a1"]},
	{"id": "wall-a2", "hours": 1, "fits": ["a2"]}, {"id": "wall-b1", "hours": 1, "fits": ["b1"]}, {"id": "wall-b2", "hours": 1, "fits": ["b2"]}]`)
	l := lateOf(t, v, "tank", "2026-03-04")
	if carry := l.Choices[1]; len(carry.Closes) != 1 || *carry.Closes[0].ExtraMin != 2 || carry.Finish != at(t, "2026-03-05T09:02") {
		t.Errorf("carry on: %+v until %v", carry.Closes, carry.Finish)
	}
	if open := l.Choices[2]; len(open.Closes) != 0 || open.Finish != at(t, "2026-03-05T11:00") {
		t.Errorf("nothing buried: %+v until %v", open.Closes, open.Finish)
	}
}

func TestLateErrors(t *testing.T) {
	v := viewOf(t, monday, hose)
	var name *NameError
	if _, err := v.Late(t.Context(), []Delay{{Part: "hoes"}}, plan.Options{}); !errors.As(err, &name) || !slices.Equal(name.Near, []string{"hose"}) {
		t.Errorf("an unknown part: %v", err)
	}
	late := viewOf(t, monday, `"parts": [{"id": "p", "arrived": "2026-03-01"}], "tasks": [{"id": "a", "hours": 1, "parts": ["p"], "not_after": "2026-03-03"}]`)
	l := lateOf(t, late, "p", "2026-03-09")
	for _, c := range l.Choices {
		if c.NoOrder == "" || c.Closes == nil {
			t.Errorf("%s: %+v, but it cannot be done in time", c.Name, c)
		}
	}
	if text, err := build.Encode(l); err != nil || strings.Contains(string(text), "1970") {
		t.Errorf("a finish that is none is written: %s, %v", text, err)
	}
}

// Several parts are late together: each until its own day, and what waits waits for any.
func TestLateTogether(t *testing.T) {
	v := viewOf(t, monday, `"parts": [{"id": "p", "arrived": "2026-03-01"}, {"id": "q", "arrived": "2026-03-01"}],
"tasks": [{"id": "a", "hours": 1, "parts": ["p"]}, {"id": "b", "hours": 1, "parts": ["q"]}, {"id": "c", "hours": 1}, {"id": "d", "hours": 1}],
"edges": [{"before": "b", "after": "c"}]`)
	day := at(t, monday).Date()
	l, err := v.Late(t.Context(), []Delay{{"p", day}, {"q", day + 1}}, plan.Options{})
	if err != nil || !slices.Equal(l.Waiting, []id.Task{"a", "b", "c"}) || l.Part != "p" || len(l.Parts) != 2 {
		t.Fatalf("%+v, %v", l, err)
	}
	if carry := l.Choices[1]; carry.Finish != at(t, "2026-03-04T10:00") {
		t.Errorf("carry on ends %v", carry.Finish)
	}
	if v.Build.Parts.Rows[0].Arrived == nil {
		t.Error("the build itself has been changed")
	}
}

// Held with the parts as they are, the plan of the demo stays as it is, to the minute: with its helper
// days and warm days many tasks run in each other's pauses.
func TestHoldingNothingChangesNothing(t *testing.T) {
	now := at(t, "2026-03-04T08:00")
	v := New(demo.Build(now), now)
	for _, search := range []time.Duration{0, 50 * time.Millisecond} {
		l, err := v.Late(t.Context(), []Delay{{"p02", at(t, "2026-04-17").Date()}}, plan.Options{Time: search})
		if err != nil {
			t.Fatal(err)
		}
		hold := l.Choices[0]
		if hold.Finish != l.Present.Finish || hold.WorkMin != l.Present.WorkMin || hold.Visits != l.Present.Visits {
			t.Errorf("hold ends %v with %d minutes, the plan %v with %d", hold.Finish, hold.WorkMin, l.Present.Finish, l.Present.WorkMin)
		}
		for i, r := range hold.Sequence.Tasks {
			if was := l.Present.Sequence.Tasks[i]; r.ID != was.ID || r.Start != was.Start {
				t.Errorf("row %d is %s at %v, was %s at %v", i, r.ID, r.Start, was.ID, was.Start)
			}
		}
		if carry := l.Choices[1]; carry.Finish > hold.Finish {
			t.Errorf("carry on ends %v, hold %v", carry.Finish, hold.Finish)
		}
	}
}

// The laws of this file and of moves and parts would hold of builds in which nothing is buried,
// refused or dear, too.
func TestRandomBuildsAreLateInEarnest(t *testing.T) {
	seen := map[string]int{}
	count := func(what string, is bool) {
		if is {
			seen[what]++
		}
	}
	look := func(t *rapid.T) {
		v := drawParts(t)
		l, err := v.Late(t.Context(), []Delay{{"part0", v.Now.Date() + 6}}, plan.Options{})
		if err != nil || l.Choices[1].NoOrder != "" || l.Choices[2].NoOrder != "" {
			return
		}
		hold, carry, open := l.Choices[0], l.Choices[1], l.Choices[2]
		count("dearer to hold", carry.Finish < hold.Finish)
		count("dearer to leave open", carry.Finish < open.Finish)
		for _, b := range carry.Closes {
			count("buried by choice", !b.Unavoidable)
			count("buried because it must", b.Unavoidable)
		}
		ids := v.taskIDs()
		price, err := v.Move(t.Context(), ids[len(ids)-1], Place{Before: ids[0]}, plan.Options{})
		var refused *MoveError
		count("refused", errors.As(err, &refused))
		count("later by hand", err == nil && price.LaterMin > 0)
		rows, err := v.PartRows(t.Context(), &l.Present.Sequence)
		for _, r := range rows {
			count("slack for the finish", err == nil && r.SlackDays != nil && *r.SlackDaysFinish > *r.SlackDays)
		}
	}
	whats := []string{"dearer to hold", "dearer to leave open", "buried by choice", "buried because it must", "refused",
		"later by hand", "slack for the finish"}
	for round := 0; round < 20 && len(seen) < len(whats); round++ {
		rapid.Check(t, look)
	}
	for _, what := range whats {
		if seen[what] == 0 {
			t.Errorf("in no random build is anything %s", what)
		}
	}
}
