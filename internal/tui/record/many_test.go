package record

import (
	"strings"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func TestTaskList(t *testing.T) {
	b := build.Build{Tasks: build.ListOf(tasks.Task{ID: "sweep"})}
	for line, want := range map[string]tasks.Task{
		"Fit the pump board 3h":      {ID: "fit-the-pump-board", Name: "Fit the pump board", Hours: units.Sure(3)},
		"- Fit the pump board, 1h30": {ID: "fit-the-pump-board", Name: "Fit the pump board", Hours: units.Sure(1.5)},
		"3. Frames 12-20-32 h":       {ID: "frames", Name: "Frames", Hours: units.Estimate{Low: 12, Likely: 20, High: 32}},
		"[ ] Frames (2/4/8)":         {ID: "frames", Name: "Frames", Hours: units.Estimate{Low: 2, Likely: 4, High: 8}},
		"Sweep 20 min":               {ID: "sweep-2", Name: "Sweep", Hours: units.Sure(20.0 / 60)},
		"* Drill 1,5 h":              {ID: "drill", Name: "Drill", Hours: units.Sure(1.5)},
		"Drill: 1.5 hours":           {ID: "drill", Name: "Drill", Hours: units.Sure(1.5)},
		"Bolt the M8":                {ID: "bolt-the-m8", Name: "Bolt the M8", Hours: units.Sure(1)},
		"Cut 4 panels":               {ID: "cut-4-panels", Name: "Cut 4 panels", Hours: units.Sure(1)},
	} {
		got, wrong := TaskList(b, line)
		if len(got) != 1 || len(wrong) > 0 || got[0].ID != want.ID || got[0].Name != want.Name || got[0].Hours != want.Hours {
			t.Errorf("%q gives %+v, %q", line, got, wrong)
		}
	}
}

// A list keeps its order, its empty lines mean nothing, its ids are apart, and what is wrong is
// named by its line.
func TestTaskListOfSeveral(t *testing.T) {
	got, wrong := TaskList(build.Build{}, "Sweep\n\n  Sweep  \n…\nGlue 8-4-2 h\nLast 2h")
	if len(got) != 3 || got[0].ID != "sweep" || got[1].ID != "sweep-2" || got[2].ID != "last" {
		t.Errorf("%+v", got)
	}
	if len(wrong) != 2 || !strings.HasPrefix(wrong[0], "line 4: ") || !strings.HasPrefix(wrong[1], "line 5: ") {
		t.Errorf("wrong are %q", wrong)
	}
}
