package answer

import (
	"strings"
	"testing"

	"example.com/vanlog/internal/exchange"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// monday is the planning time of the tests: 2026-03-02 is a Monday.
const monday = "2026-03-02T08:00"

func at(t testing.TB, text string) units.Instant {
	t.Helper()
	i, err := units.ParseInstant(text)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// viewOf gives the view of a build file at a time. Lists is what stands after the head.
func viewOf(t testing.TB, now, lists string) *View {
	t.Helper()
	text := `{"format": "vanlog-build", "version": 1, "name": "test", "units": "metric", ` + lists + `}`
	b, err := exchange.ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatalf("test build: %v", err)
	}
	return New(b, at(t, now))
}

// bench is a van in which a pump stands in a tank bay under a bench. Fitting the kickboard
// closes the bay; it takes 3.5 minutes to lift it out and back, and 0.5 to get in.
const bench = `
"resources": [{"id": "builder", "hours": {"mon": ["08:00-12:00", "13:00-17:00"], "tue": ["08:00-12:00", "13:00-17:00"], "wed": ["08:00-12:00", "13:00-17:00"]}},
              {"id": "helper", "hours": {"tue": ["10:00-12:00"]}},
              {"id": "inside"}],
"places": [{"id": "bay", "name": "Tank bay", "closed_by": ["kickboard"], "ways": [{"through": ["kickboard"], "enter_min": 0.5}]}],
"items": [{"id": "kickboard", "name": "Kickboard", "opening": {"how": "lift out", "open_min": 1.5, "refit_min": 2, "persons": 2,
             "tools": ["T25 driver"], "fasteners": [{"what": "M6 screw", "count": 4, "torque": "9 N·m"}]}},
          {"id": "pump", "name": "Pump", "place": "bay", "fitted": true, "service": [{"what": "clean the strainer", "per_year": 4}]}],
"parts": [{"id": "hose", "name": "Hose", "due": "2026-03-03"}],
"tasks": [
  {"id": "straps", "name": "Tank straps", "hours": 1, "place": "bay", "state": "finished", "finished_at": "2026-02-27T12:00",
   "checks": [{"id": "torque", "kind": "torque", "what": "straps torqued", "want": "12 N·m ±10 %", "before_cover": true},
              {"id": "photo", "kind": "photo", "what": "straps"}]},
  {"id": "plumb", "name": "Plumb the pump", "hours": 2, "place": "bay", "reaches": ["pump"], "visits": 3},
  {"id": "seal", "name": "Seal the floor", "hours": 1, "uses": {"builder": 1, "inside": 1}, "cure": {"hours": 24, "holds": ["inside"]}},
  {"id": "lay", "name": "Lay the floor", "hours": 1, "uses": {"builder": 1, "inside": 1}},
  {"id": "close", "name": "Fit the kickboard", "hours": 1, "fits": ["kickboard"]},
  {"id": "fill", "name": "Fill the tank", "hours": 0.5, "place": "bay", "parts": ["hose"]},
  {"id": "lift", "name": "Lift the fridge", "hours": 1, "uses": {"builder": 1, "helper": 1}}],
"edges": [{"before": "seal", "after": "lay", "why": "wet sealant"},
          {"before": "plumb", "after": "fill", "lag_h": 2, "why": "joints set"},
          {"before": "plumb", "after": "close", "kind": "should", "rework_h": 0.5}]`

func idOf(s string) id.Task { return id.Task(s) }
