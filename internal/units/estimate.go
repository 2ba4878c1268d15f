package units

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
)

// Estimate is a low, a likely and a high value of the same thing, such as hours
// of work or days of lead time. In JSON it is three numbers, or one number
// where all are the same.
type Estimate struct{ Low, Likely, High float64 }

// ErrEstimate says what an estimate must look like.
var ErrEstimate = errors.New("want one number, or [low, likely, high] in rising order, none below 0")

// Sure is the estimate whose three values are v.
func Sure(v float64) Estimate { return Estimate{v, v, v} }

// Valid reports whether the values are finite, not negative and in rising order.
func (e Estimate) Valid() bool {
	return e.Low >= 0 && e.Low <= e.Likely && e.Likely <= e.High && !math.IsInf(e.High, 0)
}

// MarshalJSON writes one number where the three are the same, else all three.
func (e Estimate) MarshalJSON() ([]byte, error) {
	if e.Low == e.Likely && e.Likely == e.High {
		return json.Marshal(e.Likely)
	}
	return json.Marshal([]float64{e.Low, e.Likely, e.High})
}

// UnmarshalJSON reads what MarshalJSON writes.
func (e *Estimate) UnmarshalJSON(b []byte) error {
	var one float64
	if json.Unmarshal(b, &one) == nil {
		*e = Sure(one)
	} else {
		var three []*float64 // nil: null, which is no number
		if json.Unmarshal(b, &three) != nil || len(three) != 3 || slices.Contains(three, nil) {
			return ErrEstimate
		}
		*e = Estimate{*three[0], *three[1], *three[2]}
	}
	if !e.Valid() {
		return ErrEstimate
	}
	return nil
}

// RoundMinutes gives h hours in whole minutes, half a minute rounded up.
func RoundMinutes(h float64) int { return int(math.Floor(h*60 + 0.5)) }
