package answer

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/plan"
)

// Where a part is due on the day that the build says, holding is the plan itself: no later, and no
// more work.
func TestLawLateOnTheSameDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawCrowd(t)
		for _, p := range v.Live.Parts {
			due, known := p.DueDate()
			if !known || p.Arrived != nil {
				continue
			}
			l, err := v.Late(t.Context(), []Delay{{p.ID, due}}, plan.Options{Schedules: 30})
			if err != nil {
				return // there is no order
			}
			hold := l.Choices[0]
			if hold.NoOrder != "" || hold.Finish > l.Present.Finish || hold.Finish == l.Present.Finish && hold.WorkMin > l.Present.WorkMin {
				t.Fatalf("hold %+v, the plan %+v", hold, l.Present)
			}
		}
	})
}
