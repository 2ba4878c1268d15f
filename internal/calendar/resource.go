package calendar

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Resource is what a task needs while it works: the builder's hands, a helper,
// the inside of the van, a warm workshop.
type Resource struct {
	ID       id.Resource `json:"id"`
	Name     string      `json:"name,omitempty"`
	Capacity Capacity    `json:"capacity,omitzero"` // units that can be used at once
	Hours    *Week       `json:"hours,omitempty"`   // nil: there day and night
	Off      []Off       `json:"off,omitempty"`
	On       []On        `json:"on,omitempty"` // replaces hours and off on its date
}

// SetDefaults fills in what a file may leave out and r does not say.
func (r *Resource) SetDefaults() { r.Capacity = cmp.Or(r.Capacity, 1) }

// Capacity counts units of a resource; a file that leaves it out means one.
type Capacity int

// IsZero reports whether c goes without saying in a file.
func (c Capacity) IsZero() bool { return c == 1 }

// Off is a run of days, both ends in it, on which a resource is not there.
type Off struct {
	From units.Date `json:"from"`
	To   units.Date `json:"to"`
}

// On gives a day hours of its own.
type On struct {
	Date  units.Date `json:"date"`
	Hours []Span     `json:"hours"`
}

// Span is a part of a day: the minutes From up to, but not including, To.
type Span struct{ From, To int }

// ParseSpan reads "08:00-12:00". The end may be "24:00".
func ParseSpan(s string) (Span, error) {
	var a, b, c, d int
	_, err := fmt.Sscanf(s, "%2d:%2d-%2d:%2d", &a, &b, &c, &d)
	sp := Span{a*60 + b, c*60 + d}
	if err != nil || sp.String() != s || b > 59 || d > 59 || sp.From >= sp.To || sp.To > 24*60 || sp.From < 0 {
		return Span{}, fmt.Errorf("%q are no hours of a day, want for example 08:00-12:00", s)
	}
	return sp, nil
}

// String gives the form that ParseSpan reads.
func (s Span) String() string {
	return fmt.Sprintf("%02d:%02d-%02d:%02d", s.From/60, s.From%60, s.To/60, s.To%60)
}

// MarshalText writes the form of String.
func (s Span) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what ParseSpan reads.
func (s *Span) UnmarshalText(b []byte) (err error) {
	*s, err = ParseSpan(string(b))
	return err
}

// Week holds the spans of each weekday, Monday first. A day without spans has
// no hours.
type Week [7][]Span

// DayNames are the names of the weekdays in a file, Monday first.
var DayNames = [7]string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// MarshalJSON writes the days that have hours, Monday first.
func (w Week) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	out.WriteByte('{')
	for d, spans := range w {
		if len(spans) == 0 {
			continue
		}
		if out.Len() > 1 {
			out.WriteByte(',')
		}
		b, err := json.Marshal(spans)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&out, "%q:%s", DayNames[d], b)
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}

// UnmarshalJSON reads what MarshalJSON writes; a name that is no weekday is an error.
func (w *Week) UnmarshalJSON(b []byte) error {
	var days map[string][]Span
	if err := json.Unmarshal(b, &days); err != nil {
		return err
	}
	*w = Week{}
	for d, name := range DayNames {
		w[d] = days[name]
		delete(days, name)
	}
	for name := range days {
		return fmt.Errorf("%q is no weekday, want mon, tue, wed, thu, fri, sat or sun", name)
	}
	return nil
}

// DefaultBuilder is who works on a build that names no resources: one builder,
// Monday to Friday, 08:00-12:00 and 13:00-17:00.
func DefaultBuilder() Resource {
	day := []Span{{8 * 60, 12 * 60}, {13 * 60, 17 * 60}}
	return Resource{ID: "builder", Name: "Builder", Capacity: 1, Hours: &Week{day, day, day, day, day}}
}
