package answer

import (
	"testing"

	"example.com/vanlog/internal/find"
)

// Everything that a person may remember leads to its thing.
func TestThingsAreFound(t *testing.T) {
	v := viewOf(t, monday, `"places": [{"id": "bay", "name": "Tank bay", "ways": [{"enter_min": 1, "note": "mind the step"}]}],
		"items": [{"id": "kick", "name": "Kickboard", "label": "K1", "place": "bay", "opening": {"how": "lift out", "open_min": 1, "tools": ["T25 driver"]},
			"service": [{"what": "rinse the strainer", "per_year": 1}]}],
		"parts": [{"id": "p1", "name": "Inverter", "cost": "129.00"}],
		"tasks": [{"id": "a", "name": "Strap the tank", "trade": "water", "hours": 1, "checks": [{"id": "pull", "kind": "torque", "what": "Straps torqued", "want": "12 N·m"}]},
			{"id": "b", "name": "Close", "hours": 1}],
		"edges": [{"before": "a", "after": "b", "why": "the panel hides it"}],
		"options": [{"id": "oak", "choice": "worktop", "name": "Oiled oak", "chosen": true}],
		"resources": [{"id": "hoist", "name": "Borrowed hoist"}, {"id": "builder"}],
		"snags": [{"id": "drip", "at": "2026-03-01T08:00", "what": "Drips at the elbow"}],
		"days": [{"at": "2026-02-20T08:00", "task": "a", "minutes": 5, "note": "left strap short", "photos": ["strap-7.jpg"],
			"readings": [{"check": "pull", "value": "11.9 N·m", "tool": "small wrench"}]}]`)
	x := find.New(v.Things())
	for query, want := range map[string][2]string{
		"strap the tank": {TaskThing, "a"}, "water": {TaskThing, "a"}, "torqued": {CheckThing, "a"}, "12 n·m": {CheckThing, "a"},
		"hides": {EdgeThing, "b"}, "k1": {ItemThing, "kick"}, "strainer": {ItemThing, "kick"}, "t25": {ItemThing, "kick"},
		"step": {PlaceThing, "bay"}, "129.00": {PartThing, "p1"}, "oak": {OptionThing, "oak"}, "borrowed": {ResourceThing, "hoist"},
		"elbow": {SnagThing, "drip"}, "left short": {EntryThing, "1"}, "strap-7": {EntryThing, "1"}, "11.9": {EntryThing, "1"},
		"small wrench": {EntryThing, "1"}, "2026-02-20": {EntryThing, "1"},
	} {
		hits, _ := x.Find(query, 5)
		if len(hits) == 0 || hits[0].Kind != want[0] || hits[0].ID != want[1] {
			t.Errorf("%q finds %+v, want %v", query, hits, want)
		}
	}
}
