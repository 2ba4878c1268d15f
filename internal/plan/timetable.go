package plan

import (
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// timetable answers what calendar.Hours does, faster: the hours of the days that are looked
// at most are written out. Outside them it asks the hours.
type timetable struct {
	hours    *calendar.Hours
	always   bool
	from, to units.Instant // written out; from is a midnight
	runs     []run
	days     []int32 // by day: the first run that ends after its midnight
	ranks    []int32 // by 1<<rankBits minutes of the hours: the run that the first of them is in
	total    int     // minutes of all runs
}

// run is minutes of the hours without a gap. before: minutes of all runs before it.
type run struct {
	from, to units.Instant
	before   int
}

const rankBits = 7

func newTimetable(h *calendar.Hours, from, to units.Instant) *timetable {
	t := &timetable{hours: h, always: h.RoundTheClock(), from: from.Date().Start(), to: to}
	if t.always {
		return t
	}
	for at := t.from; ; {
		start, ok := h.Next(at)
		if !ok || start >= to {
			break
		}
		end := min(h.Until(start), to)
		t.add(start, end)
		at = end
	}
	t.index()
	return t
}

// add writes out [from, to), which joins on to the last run or follows it.
func (t *timetable) add(from, to units.Instant) {
	if n := len(t.runs); n > 0 && t.runs[n-1].to == from {
		t.runs[n-1].to = to
	} else {
		t.runs = append(t.runs, run{from, to, t.total})
	}
	t.total += int(to - from)
}

func (t *timetable) index() {
	i := 0
	for at := t.from; at < t.to; at += units.Day {
		for i < len(t.runs) && t.runs[i].to <= at {
			i++
		}
		t.days = append(t.days, int32(i))
	}
	i = 0
	for rank := 0; rank < t.total; rank += 1 << rankBits {
		for t.runs[i].before+int(t.runs[i].to-t.runs[i].from) <= rank {
			i++
		}
		t.ranks = append(t.ranks, int32(i))
	}
}

// find gives the first run that ends after at; false where that is not written out.
func (t *timetable) find(at units.Instant) (int, bool) {
	if at < t.from || at >= t.to || t.always {
		return 0, false
	}
	i := int(t.days[(at-t.from)/units.Day])
	for i < len(t.runs) && t.runs[i].to <= at {
		i++
	}
	return i, i < len(t.runs)
}

// minute gives the minute that has rank minutes of the runs before it; rank is less
// than total and not below 0.
func (t *timetable) minute(rank int) units.Instant {
	i := t.ranks[rank>>rankBits]
	for t.runs[i].before+int(t.runs[i].to-t.runs[i].from) <= rank {
		i++
	}
	return t.runs[i].from + units.Instant(rank-t.runs[i].before)
}

// rank gives the number of minutes of the runs before at.
func (t *timetable) rank(at units.Instant) (int, bool) {
	i, ok := t.find(at)
	if !ok {
		return 0, false
	}
	return t.runs[i].before + int(max(0, at-t.runs[i].from)), true
}

// place gives the number of minutes of the hours between the first time that is written out
// and at, less than 0 before it.
func (t *timetable) place(at units.Instant) int {
	switch i, ok := t.find(at); {
	case t.always:
		return int(at - t.from)
	case ok:
		return t.runs[i].before + int(max(0, at-t.runs[i].from))
	case at < t.from:
		return -t.hours.Count(at, t.from)
	case at < t.to:
		return t.total
	}
	return t.total + t.hours.Count(t.to, at)
}

// at gives the minute of a place; false where there is none.
func (t *timetable) at(place int) (units.Instant, bool) {
	switch {
	case t.always:
		return t.from + units.Instant(place), true
	case place < 0:
		return t.hours.LatestStart(t.from, -place)
	case place < t.total:
		return t.minute(place), true
	}
	end, ok := t.hours.Finish(t.to, place-t.total+1)
	return end - 1, ok
}

// next is calendar.Hours.Next.
func (t *timetable) next(at units.Instant) (units.Instant, bool) {
	if t.always {
		return at, true
	}
	if i, ok := t.find(at); ok {
		return max(at, t.runs[i].from), true
	}
	return t.hours.Next(at)
}

// until is calendar.Hours.Until, but that a run is not cut at midnight.
func (t *timetable) until(at units.Instant) units.Instant {
	if t.always {
		return t.hours.Until(at)
	}
	i, ok := t.find(at)
	switch {
	case !ok:
		return t.hours.Until(at)
	case at < t.runs[i].from:
		return at
	}
	return t.runs[i].to
}

// finish is calendar.Hours.Finish.
func (t *timetable) finish(start units.Instant, n int) (units.Instant, bool) {
	switch {
	case n <= 0:
		return start, true
	case t.always:
		return start + units.Instant(n), true
	}
	i, ok := t.find(start)
	if !ok {
		return t.hours.Finish(start, n)
	}
	at := max(start, t.runs[i].from)
	if end := at + units.Instant(n); end <= t.runs[i].to {
		return end, true
	}
	last := t.runs[i].before + int(at-t.runs[i].from) + n - 1
	if last >= t.total {
		return t.hours.Finish(start, n)
	}
	return t.minute(last) + 1, true
}

// latestStart is calendar.Hours.LatestStart.
func (t *timetable) latestStart(finish units.Instant, n int) (units.Instant, bool) {
	switch {
	case n <= 0:
		return finish, true
	case t.always:
		return finish - units.Instant(n), true
	}
	rank, ok := t.rank(finish)
	if !ok || rank < n {
		return t.hours.LatestStart(finish, n)
	}
	return t.minute(rank - n), true
}

// count is calendar.Hours.Count.
func (t *timetable) count(from, to units.Instant) int {
	if t.always || to <= from {
		return int(max(0, to-from))
	}
	a, ok := t.rank(from)
	b, too := t.rank(to)
	if !ok || !too {
		return t.hours.Count(from, to)
	}
	return b - a
}

// cure is a calendar.Cure on a timetable; while may be nil.
type cure struct {
	minutes int
	while   *timetable
}

// end is calendar.Cure.End.
func (c cure) end(finish units.Instant) (units.Instant, bool) {
	if c.while == nil {
		return finish + units.Instant(max(c.minutes, 0)), true
	}
	return c.while.finish(finish, c.minutes)
}

// latestFinish is calendar.Cure.LatestFinish.
func (c cure) latestFinish(end units.Instant) units.Instant {
	if c.while == nil {
		return end - units.Instant(max(c.minutes, 0))
	}
	if f, ok := c.while.latestStart(end, c.minutes); ok {
		return f
	}
	return calendar.Cure{Minutes: c.minutes, While: c.while.hours}.LatestFinish(end)
}

// timetables makes one timetable for each of the hours that jobs and cures have.
type timetables struct {
	known    map[*calendar.Hours]*timetable
	from, to units.Instant
}

// newTimetables writes out the hours of p for about twice as long as the jobs of any
// hours take, one after the other, and a year more.
func newTimetables(p *Problem) *timetables {
	const year, most = 400 * units.Day, 30 * 365 * units.Day
	sums := map[*calendar.Hours]int{}
	for j := range p.Jobs {
		sums[p.Jobs[j].Hours] += p.Jobs[j].Minutes
	}
	longest := units.Instant(0)
	for h, sum := range sums {
		if end, ok := h.Finish(p.Now, sum); ok {
			longest = max(longest, end-p.Now)
		}
	}
	return &timetables{known: map[*calendar.Hours]*timetable{}, from: p.Now - 7*units.Day,
		to: p.Now + min(most, year+2*longest)}
}

// of gives the timetable of h; nil for nil.
func (ts *timetables) of(h *calendar.Hours) *timetable {
	if h == nil {
		return nil
	}
	if ts.known[h] == nil {
		ts.known[h] = newTimetable(h, ts.from, ts.to)
	}
	return ts.known[h]
}
