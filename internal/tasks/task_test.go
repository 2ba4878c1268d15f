package tasks

import (
	"encoding/json"
	"testing"

	"example.com/vanlog/internal/units"
)

func TestLeftMinutes(t *testing.T) {
	half := 0.5
	hours := units.Estimate{Low: 1, Likely: 4, High: 9}
	for _, tt := range []struct {
		name string
		task Task
		want int
	}{
		{"to do: the likely hours", Task{Hours: hours, SpentH: 1}, 240},
		{"started: less those spent", Task{Hours: hours, State: Started, SpentH: 1.5}, 150},
		{"never below nothing", Task{Hours: hours, State: Started, SpentH: 7}, 0},
		{"what the person says is left", Task{Hours: hours, State: Started, SpentH: 7, LeftH: &half}, 30},
		{"finished", Task{Hours: hours, State: Finished, LeftH: &half}, 0},
		{"half a minute rounds up", Task{Hours: units.Sure(1.0 / 120)}, 1},
	} {
		if got := tt.task.LeftMinutes(); got != tt.want {
			t.Errorf("%s: LeftMinutes() = %d, want %d", tt.name, got, tt.want)
		}
	}
}

// TestDefaultsGoWithoutSaying: what a file may leave out is left out again.
func TestDefaultsGoWithoutSaying(t *testing.T) {
	task := Task{ID: "a", Hours: units.Sure(2)}
	task.SetDefaults()
	got, err := json.Marshal(task)
	if want := `{"id":"a","hours":2}`; err != nil || string(got) != want {
		t.Errorf("Marshal = %s, %v; want %s", got, err, want)
	}
	task.Uses, task.Visits = Uses{}, 3
	got, err = json.Marshal(task)
	if want := `{"id":"a","hours":2,"visits":3,"uses":{}}`; err != nil || string(got) != want {
		t.Errorf("Marshal = %s, %v; want %s", got, err, want)
	}
}
