package answer

import (
	"fmt"
	"testing"

	"example.com/vanlog/internal/id"
)

// What is glued holds the inside while it cures, so what goes inside does not fit into the same
// day behind it. A cure that is over by the time its turn comes keeps nothing out. By hand.
func TestFitsMindsCures(t *testing.T) {
	const rest = `"resources": [{"id": "builder"}, {"id": "inside", "capacity": %d}, {"id": "warm"}],
"tasks": [{"id": "glue", "hours": 1, "cure": {"hours": %s, "holds": ["inside"]}}, {"id": "saw", "hours": 3},
          {"id": "line", "hours": 1, "uses": {"builder": 1, "inside": 1}}]`
	for _, tt := range []struct {
		name     string
		capacity int
		cure     string
		want     []id.Task
		begin    id.Task
	}{
		{"cures overnight", 1, `12`, []id.Task{"glue", "saw"}, ""},
		{"cures while it is sawn", 1, `3`, []id.Task{"glue", "saw", "line"}, ""},
		{"cures a little longer", 1, `3.1`, []id.Task{"glue", "saw"}, ""},
		{"room for two", 2, `12`, []id.Task{"glue", "saw", "line"}, ""},
		{"cures while warm", 1, `1, "while": "warm"`, []id.Task{"glue", "saw"}, ""},
	} {
		f := viewOf(t, monday, fmt.Sprintf(rest, tt.capacity, tt.cure)).Today(nil, TodayOptions{Hours: 8}).Fits
		var got []id.Task
		for _, g := range f.Groups {
			got = append(got, g.Tasks...)
		}
		if fmt.Sprint(got) != fmt.Sprint(tt.want) {
			t.Errorf("%s: fits %v, want %v", tt.name, got, tt.want)
		}
		if f.Begin != nil {
			t.Errorf("%s: begin %+v, want nothing: what is left waits for the cure", tt.name, f.Begin)
		}
	}
}

// Two cures that hold the same place cannot both begin in it.
func TestFitsKeepsTwoCuresApart(t *testing.T) {
	f := viewOf(t, monday, `"resources": [{"id": "builder"}, {"id": "press"}],
"tasks": [{"id": "one", "hours": 1, "cure": {"hours": 12, "holds": ["press"]}}, {"id": "two", "hours": 1, "cure": {"hours": 12, "holds": ["press"]}}]`).
		Today(nil, TodayOptions{Hours: 8}).Fits
	if len(f.Groups) != 1 || fmt.Sprint(f.Groups[0].Tasks) != "[one]" {
		t.Errorf("%+v, want one of the two: the press is taken while it cures", f.Groups)
	}
}
