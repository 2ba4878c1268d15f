package answer

import (
	"maps"
	"math"
	"slices"

	"example.com/vanlog/internal/forecast"
	"example.com/vanlog/internal/tasks"
)

// Learned is what the finished work of a trade says: how long it took against its likely
// hours.
type Learned struct {
	Trade  string  `json:"trade"`
	Count  int     `json:"count"`  // finished tasks it comes from
	Raw    float64 `json:"raw"`    // mean (geometric) of actual / likely
	Ratio  float64 `json:"ratio"`  // Raw shrunk toward 1: this is applied
	Weight float64 `json:"weight"` // how far Ratio follows Raw, 0 to 1
	Low    float64 `json:"low"`    // four in five times the trade's ratio is at least so much
	High   float64 `json:"high"`   // and at most so much
	// Spread is how unsure Ratio is: the standard deviation of its logarithm.
	Spread float64 `json:"spread"`
}

// eighty is how many standard deviations to either side hold 80 % of a normal distribution.
const eighty = 1.2816

// Learned gives what the finished tasks of each trade say, by trade. Actual hours are
// those spent by the daybook, against likely hours. They have the access of the time in
// them, which no record holds apart; so a trade that had to open much looks slower than
// its work alone is.
func (v *View) Learned() []Learned { return learnedList(v.learned()) }

func (v *View) learned() map[string]forecast.Ratio {
	var done []forecast.Done
	for _, t := range v.Live.Tasks {
		if t.State == tasks.Finished {
			done = append(done, forecast.Done{Trade: t.Trade, Likely: t.Hours.Likely, Actual: t.SpentH})
		}
	}
	return forecast.Learn(done)
}

func learnedList(ratios map[string]forecast.Ratio) []Learned {
	out := []Learned{}
	for _, trade := range slices.Sorted(maps.Keys(ratios)) {
		r := ratios[trade]
		apart := math.Exp(eighty * r.Spread)
		out = append(out, Learned{Trade: trade, Count: r.Count, Raw: r.Raw, Ratio: r.Ratio, Weight: r.Weight,
			Low: r.Ratio / apart, High: r.Ratio * apart, Spread: r.Spread})
	}
	return out
}
