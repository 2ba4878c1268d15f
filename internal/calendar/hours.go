package calendar

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"sync"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Calendars holds the compiled hours of some resources.
type Calendars struct {
	resources map[id.Resource]resourceDays

	mu    sync.Mutex
	hours map[string]*Hours // by sorted names, resources that are always there left out
}

// Compile prepares the hours of rs for fast counting.
func Compile(rs []Resource) *Calendars {
	c := &Calendars{resources: map[id.Resource]resourceDays{}, hours: map[string]*Hours{}}
	for _, r := range rs {
		c.resources[r.ID] = daysOf(r)
	}
	return c
}

// Of gives the minutes in which all the named resources are in their hours.
// No names, or only resources without hours, give hours round the clock.
// Hours of the same names are shared. It panics on a name that Compile was not given.
// It is safe for use by several goroutines.
func (c *Calendars) Of(names ...id.Resource) *Hours {
	bound := make([]string, 0, len(names))
	for _, name := range names {
		r, known := c.resources[name]
		if !known {
			panic(fmt.Sprintf("calendar: no resource %q was compiled", name))
		}
		if !r.always() {
			bound = append(bound, string(name))
		}
	}
	slices.Sort(bound)
	bound = slices.Compact(bound)
	c.mu.Lock()
	defer c.mu.Unlock()
	key := strings.Join(bound, " ")
	h := c.hours[key]
	if h == nil {
		h = c.together(bound)
		c.hours[key] = h
	}
	return h
}

func (c *Calendars) together(names []string) *Hours {
	rs := make([]resourceDays, len(names))
	for i, name := range names {
		rs[i] = c.resources[id.Resource(name)]
	}
	return newHours(rs)
}

// century is how far Next, Finish and LatestStart look.
const century = 36525 * units.Day

// Hours is a set of minutes on the clock.
//
// Every week is the same, but for the days of a window that holds all days off
// and days with hours of their own. Within the window the minutes before each day
// are kept; outside it they follow from the number of weeks. Hours never change,
// so they need no lock.
type Hours struct {
	week       [7][]Span
	weekBefore [8]int64 // minutes of the week before each weekday, and of the whole
	first, end units.Date
	days       [][]Span // of the window: first up to, but not including, end
	before     []int64  // minutes of the window before each of its days, and of the whole
	always     bool
}

func newHours(rs []resourceDays) *Hours {
	h := &Hours{always: len(rs) == 0}
	for d := range h.week {
		h.week[d] = common(rs, func(r resourceDays) []Span { return r.week[d] })
		h.weekBefore[d+1] = h.weekBefore[d] + length(h.week[d])
	}
	h.first, h.end = window(rs)
	h.before = []int64{0}
	for d := h.first; d < h.end; d++ {
		spans := common(rs, func(r resourceDays) []Span { return r.on(d) })
		h.days = append(h.days, spans)
		h.before = append(h.before, h.before[len(h.before)-1]+length(spans))
	}
	return h
}

// RoundTheClock reports whether every minute is in h.
func (h *Hours) RoundTheClock() bool { return h.always }

// In reports whether the minute that begins at t is in h.
func (h *Hours) In(t units.Instant) bool {
	if h.always {
		return true
	}
	clock := t.Clock()
	for _, s := range h.day(t.Date()) {
		if s.From <= clock && clock < s.To {
			return true
		}
	}
	return false
}

// Next gives the first minute of h at or after t; false where there is none
// (within a hundred years).
func (h *Hours) Next(t units.Instant) (units.Instant, bool) {
	if h.always {
		return t, true
	}
	if end, ok := h.finishNear(t, 1); ok {
		return end - 1, true
	}
	s, ok := h.minute(h.rank(t))
	return s, ok && s-t <= century
}

// Until gives the end of the run of minutes of h, without a gap, that t is in; t
// where t is not in h. A run is cut at midnight. Round the clock it never ends.
func (h *Hours) Until(t units.Instant) units.Instant {
	if h.always {
		return math.MaxInt64
	}
	clock := t.Clock()
	for _, s := range h.day(t.Date()) {
		if s.From <= clock && clock < s.To {
			return t + units.Instant(s.To-clock)
		}
	}
	return t
}

// Contains reports whether every minute of other is in h.
func (h *Hours) Contains(other *Hours) bool {
	if h.always || h == other {
		return true
	}
	for d := range h.week {
		if !covers(h.week[d], other.week[d]) {
			return false
		}
	}
	from, to := min(h.first, other.first), max(h.end, other.end)
	for d := from; d < to; d++ {
		if !covers(h.day(d), other.day(d)) {
			return false
		}
	}
	return true
}

// Finish gives the end of the n-th minute of h at or after start; start itself
// where n is 0; false where h has not that many minutes.
func (h *Hours) Finish(start units.Instant, n int) (units.Instant, bool) {
	switch {
	case n <= 0:
		return start, true
	case h.always:
		return start + units.Instant(n), true
	case units.Instant(n) > century:
		return 0, false
	}
	if end, ok := h.finishNear(start, n); ok {
		return end, true
	}
	last, ok := h.minute(h.rank(start) + int64(n) - 1)
	return last + 1, ok && last-start <= century
}

// finishNear is Finish where the end lies within a few days of start; else false.
func (h *Hours) finishNear(start units.Instant, n int) (units.Instant, bool) {
	const days = 5
	d := start.Date()
	midnight := d.Start()
	clock := int(start - midnight)
	for range days {
		for _, s := range h.day(d) {
			from := max(s.From, clock)
			if left := s.To - from; left > 0 {
				if n <= left {
					return midnight + units.Instant(from+n), true
				}
				n -= left
			}
		}
		d, midnight, clock = d+1, midnight+units.Day, 0
	}
	return 0, false
}

// LatestStart gives the latest minute s of h from which n minutes are done by
// finish: Finish(s, n) ≤ finish. For n = 0 it is finish.
func (h *Hours) LatestStart(finish units.Instant, n int) (units.Instant, bool) {
	switch {
	case n <= 0:
		return finish, true
	case h.always:
		return finish - units.Instant(n), true
	case units.Instant(n) > century:
		return 0, false
	}
	s, ok := h.minute(h.rank(finish) - int64(n))
	return s, ok && finish-s <= century
}

// Count gives the number of minutes of h in [from, to).
func (h *Hours) Count(from, to units.Instant) int {
	switch {
	case to <= from:
		return 0
	case h.always:
		return int(to - from)
	}
	return int(h.rank(to) - h.rank(from))
}

func (h *Hours) day(d units.Date) []Span {
	if h.first <= d && d < h.end {
		return h.days[d-h.first]
	}
	return h.week[d.Weekday()]
}

// rank gives the number of minutes of h before t, counted from the start of the
// window; negative before it.
func (h *Hours) rank(t units.Instant) int64 {
	d := t.Date()
	n, clock := h.dayRank(d), t.Clock()
	for _, s := range h.day(d) {
		if clock <= s.From {
			break
		}
		n += int64(min(clock, s.To) - s.From)
	}
	return n
}

func (h *Hours) dayRank(d units.Date) int64 {
	switch {
	case d < h.first:
		return h.weekRank(d) - h.weekRank(h.first)
	case d < h.end:
		return h.before[d-h.first]
	}
	return h.before[len(h.days)] + h.weekRank(d) - h.weekRank(h.end)
}

// weekRank gives the minutes that whole weeks without exceptions have before d,
// counted from the Monday of the week of 1970-01-01.
func (h *Hours) weekRank(d units.Date) int64 {
	day := d.Weekday()
	weeks := (int64(d) - int64(day) + 3) / 7 // a Monday: divides without rest
	return weeks*h.weekBefore[7] + h.weekBefore[day]
}

// minute gives the minute of h that has r minutes of h before it (see rank).
func (h *Hours) minute(r int64) (units.Instant, bool) {
	total := h.before[len(h.days)]
	switch {
	case 0 <= r && r < total:
		i := sort.Search(len(h.days), func(i int) bool { return h.before[i+1] > r })
		return within(h.first+units.Date(i), h.days[i], r-h.before[i]), true
	case h.weekBefore[7] == 0:
		return 0, false
	case r < 0:
		return h.weekMinute(r + h.weekRank(h.first)), true
	}
	return h.weekMinute(r - total + h.weekRank(h.end)), true
}

// weekMinute undoes weekRank.
func (h *Hours) weekMinute(r int64) units.Instant {
	weeks := r / h.weekBefore[7]
	if r%h.weekBefore[7] < 0 {
		weeks--
	}
	r -= weeks * h.weekBefore[7]
	day := 0
	for h.weekBefore[day+1] <= r {
		day++
	}
	return within(units.Date(weeks*7-3+int64(day)), h.week[day], r-h.weekBefore[day])
}

// within gives the minute of day d that has r minutes of its spans before it.
func within(d units.Date, spans []Span, r int64) units.Instant {
	for _, s := range spans {
		if n := int64(s.To - s.From); r >= n {
			r -= n
			continue
		}
		return d.Start() + units.Instant(int64(s.From)+r)
	}
	panic("calendar: minute beyond its day") // before and days disagree
}

// Cure is a wait that begins at a finish: Minutes on the clock, or minutes of
// While where that is not nil (glue does not set below its temperature).
type Cure struct {
	Minutes int
	While   *Hours
}

// End gives the end of the cure that begins at finish; false where it never ends.
// It is finish where there is nothing to wait for.
func (c Cure) End(finish units.Instant) (units.Instant, bool) {
	if c.While == nil {
		return finish + units.Instant(max(c.Minutes, 0)), true
	}
	return c.While.Finish(finish, c.Minutes)
}

// LatestFinish gives the latest finish f with End(f) ≤ end; a hundred years before
// end where there is none.
func (c Cure) LatestFinish(end units.Instant) units.Instant {
	if c.While == nil {
		return end - units.Instant(max(c.Minutes, 0))
	}
	f, ok := c.While.LatestStart(end, c.Minutes)
	if !ok {
		return end - century
	}
	return f
}
