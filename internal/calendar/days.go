package calendar

import (
	"cmp"
	"slices"

	"example.com/vanlog/internal/units"
)

const dayMinutes = int(units.Day)

// resourceDays says when one resource is there, its spans in order and apart.
type resourceDays struct {
	week [7][]Span
	off  []Off
	own  map[units.Date][]Span // days with hours of their own
}

func daysOf(r Resource) resourceDays {
	days := resourceDays{off: r.Off, own: map[units.Date][]Span{}}
	for d := range days.week {
		days.week[d] = []Span{{0, dayMinutes}}
		if r.Hours != nil {
			days.week[d] = union(r.Hours[d])
		}
	}
	for _, on := range r.On {
		if _, again := days.own[on.Date]; !again {
			days.own[on.Date] = union(on.Hours)
		}
	}
	return days
}

// always reports whether the resource is there in every minute.
func (r resourceDays) always() bool {
	if len(r.off) > 0 || len(r.own) > 0 {
		return false
	}
	for _, spans := range r.week {
		if length(spans) < int64(dayMinutes) {
			return false
		}
	}
	return true
}

// on gives the spans of a day: its own hours before days off before the week.
func (r resourceDays) on(d units.Date) []Span {
	if own, ok := r.own[d]; ok {
		return own
	}
	for _, off := range r.off {
		if off.From <= d && d <= off.To {
			return nil
		}
	}
	return r.week[d.Weekday()]
}

// window gives the days from the first to, but not including, the end of what
// differs from the plain week in any of rs.
func window(rs []resourceDays) (first, end units.Date) {
	add := func(from, to units.Date) {
		if first == end {
			first, end = from, to+1
		}
		first, end = min(first, from), max(end, to+1)
	}
	for _, r := range rs {
		for _, off := range r.off {
			if off.From <= off.To {
				add(off.From, off.To)
			}
		}
		for d := range r.own {
			add(d, d)
		}
	}
	return first, end
}

// union gives spans in order, with those that overlap or touch made one.
func union(spans []Span) []Span {
	sorted := slices.SortedFunc(slices.Values(spans), func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	var out []Span
	for _, s := range sorted {
		if n := len(out); n > 0 && s.From <= out[n-1].To {
			out[n-1].To = max(out[n-1].To, s.To)
		} else {
			out = append(out, s)
		}
	}
	return out
}

// common gives the spans in which all of rs are there.
func common(rs []resourceDays, spansOf func(resourceDays) []Span) []Span {
	out := []Span{{0, dayMinutes}}
	for i, r := range rs {
		if i == 0 {
			out = spansOf(r)
		} else {
			out = both(out, spansOf(r))
		}
	}
	return out
}

func both(a, b []Span) []Span {
	var out []Span
	for len(a) > 0 && len(b) > 0 {
		if s := (Span{max(a[0].From, b[0].From), min(a[0].To, b[0].To)}); s.From < s.To {
			out = append(out, s)
		}
		if a[0].To < b[0].To {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return out
}

// covers reports whether every minute of b is in a.
func covers(a, b []Span) bool { return length(both(a, b)) == length(b) }

func length(spans []Span) (n int64) {
	for _, s := range spans {
		n += int64(s.To - s.From)
	}
	return n
}
