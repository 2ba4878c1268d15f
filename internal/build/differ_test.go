package build_test

import (
	"reflect"
	"slices"
	"testing"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// TestDifferingEditsOnlyWhatDiffers: one record made, one changed and one removed are three
// edits, they lead from the one build to the other, and the running clock is left alone.
func TestDifferingEditsOnlyWhatDiffers(t *testing.T) {
	from := workshop()
	from.Clock = &daybook.Clock{Task: "set-frame", Since: 100}
	to := from
	to.Tasks = build.List[tasks.Task]{Keys: slices.Clone(from.Tasks.Keys), Rows: slices.Clone(from.Tasks.Rows)}
	to.Tasks.Rows[0].Name = "another name"
	to.Tasks.Keys = append(to.Tasks.Keys, 99)
	to.Tasks.Rows = append(to.Tasks.Rows, tasks.Task{ID: "one-more", Hours: units.Sure(1), Visits: 1, State: tasks.Todo, Uses: tasks.Uses{"builder": 1}})
	n := from.Edges.Len() - 1
	to.Edges = build.List[deps.Edge]{Keys: from.Edges.Keys[:n], Rows: from.Edges.Rows[:n]}
	edits := from.Differing(to)
	if len(edits) != 3 {
		t.Errorf("Differing() = %+v, want three edits", edits)
	}
	got, err := from.Apply(build.Change{Edits: edits})
	if err != nil || !reflect.DeepEqual(got.Records(), to.Records()) {
		t.Errorf("Apply(Differing()) = %+v, %v; want %+v", got, err, to)
	}
	if got.Clock == nil {
		t.Error("the clock is gone")
	}
	if same := from.Differing(from); len(same) != 0 {
		t.Errorf("Differing(itself) = %+v, want none", same)
	}
}
