package screen

import (
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
)

// handed gives the Bench after some actions, with the answer to what it asked for.
func handed(t *testing.T, d Data, as ...Action) Bench {
	t.Helper()
	s, e := do(Bench{}.With(d), as...)
	if e != (AskToday{}) {
		t.Fatalf("it asks for %#v", e)
	}
	today := d.View.Today(d.Seq, s.(Bench).AtHand())
	d.Today = &today
	return s.With(d).(Bench)
}

func TestHoursAtHandGoRound(t *testing.T) {
	d := workshop(t)
	var got []float64
	s := Bench{}.With(d)
	for range 6 {
		s, _ = s.Do(HoursAtHand)
		got = append(got, s.(Bench).AtHand().Hours)
	}
	if want := []float64{1, 2, 4, 8, 0, 1}; !slices.Equal(got, want) {
		t.Errorf("the key goes through %v, want %v", got, want)
	}
}

// TestTheListIsCutToWhatFits holds the list against the answer: the tasks of the groups and the
// one to begin are there, each once, and no others.
func TestTheListIsCutToWhatFits(t *testing.T) {
	d := workshop(t)
	for n := 1; n <= 4; n++ {
		b := handed(t, d, slices.Repeat([]Action{HoursAtHand}, n)...)
		var want, got []id.Task
		for _, g := range b.data.Today.Groups {
			want = append(want, g.Tasks...)
		}
		if x := b.data.Today.Begin; x != nil {
			want = append(want, x.Task)
		}
		for _, r := range b.rows() {
			if !r.Head {
				got = append(got, id.Task(r.ID))
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d presses: the list has %v, want %v", n, got, want)
		}
		checkView(t, b, 80, 20)
	}
	wantSeen(t, handed(t, d, HoursAtHand, HoursAtHand), "At hand: 2 h, filled with 2h", "Not in these hours: ")
}

func TestAllIsShownAgain(t *testing.T) {
	b := handed(t, workshop(t), HoursAtHand, HoursAtHand, HoursAtHand, HoursAtHand, HoursAtHand)
	wantSeen(t, b, "Workable:", "Waiting")
	if frame := seen(t, b); strings.Contains(frame, "At hand") {
		t.Errorf("hours are shown that nobody said:\n%s", frame)
	}
}

func TestAHelperIsSaid(t *testing.T) {
	b := handed(t, workshop(t), HelperHere)
	if b.AtHand() != (answer.TodayOptions{Helper: true}) {
		t.Errorf("at hand: %+v", b.AtHand())
	}
	wantSeen(t, b, "A helper is here", "Workable:")
	b = handed(t, workshop(t), HelperHere, HoursAtHand)
	wantSeen(t, b, "At hand: 1 h, filled with ", "a helper is here")
}
