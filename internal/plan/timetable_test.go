package plan

import (
	"math/rand/v2"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/units"
)

// hoursAtRandom makes hours with some days off and some with hours of their own; now and
// then they are round the clock, or there is not a minute in the week.
func hoursAtRandom(r *rand.Rand, now units.Date) *calendar.Hours {
	week := &calendar.Week{}
	for d := range 7 {
		for at := r.IntN(900); at < 1440 && r.IntN(4) > 0; at += 1 + r.IntN(500) {
			end := min(1440, at+1+r.IntN(400))
			week[d] = append(week[d], span(at, end))
			at = end
		}
	}
	res := calendar.Resource{ID: "a", Hours: week}
	switch r.IntN(6) {
	case 0:
		res.Hours = nil
	case 1:
		res.Hours = &calendar.Week{}
	}
	for range r.IntN(3) {
		from := now + units.Date(r.IntN(60)-5)
		res.Off = append(res.Off, calendar.Off{From: from, To: from + units.Date(r.IntN(9))})
		res.On = append(res.On, calendar.On{Date: now + units.Date(r.IntN(60)-5), Hours: []calendar.Span{span(600, 601+r.IntN(700))}})
	}
	return calendar.Compile([]calendar.Resource{res}).Of("a")
}

// A timetable gives what the hours do, in what is written out, across its ends, and outside.
func TestTimetableIsTheHours(t *testing.T) {
	now := instantOf(worldNow)
	for seed := range 300 {
		r := rand.New(rand.NewPCG(uint64(seed), 41))
		h := hoursAtRandom(r, now.Date())
		table := newTimetable(h, now-2*units.Day, now+units.Instant(20+r.IntN(30))*units.Day+77)
		for range 200 {
			at := now + units.Instant(r.IntN(70*1440)-5*1440)
			n := []int{0, 1, r.IntN(300), r.IntN(9000)}[r.IntN(4)]
			sameInstant(t, seed, "next", at, n, table.next, h.Next)
			sameInstant(t, seed, "finish", at, n, with(table.finish, n), with(h.Finish, n))
			sameInstant(t, seed, "latestStart", at, n, with(table.latestStart, n), with(h.LatestStart, n))
			to := at + units.Instant(r.IntN(30*1440)-1000)
			if got, want := table.count(at, to), h.Count(at, to); got != want {
				t.Fatalf("hours %d: count(%v, %v) = %d, want %d", seed, at, to, got, want)
			}
		}
	}
}

func with(f func(units.Instant, int) (units.Instant, bool), n int) func(units.Instant) (units.Instant, bool) {
	return func(at units.Instant) (units.Instant, bool) { return f(at, n) }
}

func sameInstant(t *testing.T, seed int, what string, at units.Instant, n int, got, want func(units.Instant) (units.Instant, bool)) {
	t.Helper()
	a, ok := got(at)
	b, too := want(at)
	if ok != too || ok && a != b {
		t.Fatalf("hours %d: %s(%v), %d minutes: %v %v, want %v %v", seed, what, at, n, a, ok, b, too)
	}
}

// A run of a timetable holds nothing but minutes of the hours, and ends where they do: at the
// next minute that is not in them, or at the end of what is written out.
func TestTimetableUntil(t *testing.T) {
	now := instantOf(worldNow)
	for seed := range 100 {
		r := rand.New(rand.NewPCG(uint64(seed), 42))
		h := hoursAtRandom(r, now.Date())
		end := now + 9*units.Day
		table := newTimetable(h, now, end)
		for range 50 {
			at := now + units.Instant(r.IntN(8*1440))
			until := table.until(at)
			if h.RoundTheClock() {
				continue
			}
			want := at
			for h.In(want) && want < end {
				want++
			}
			if until != want {
				t.Fatalf("hours %d: until(%v) = %v, want %v", seed, at, until, want)
			}
		}
	}
}

// A cure on a timetable ends, and must begin, when the calendar's does.
func TestCureOnTimetable(t *testing.T) {
	now := instantOf(worldNow)
	for seed := range 100 {
		r := rand.New(rand.NewPCG(uint64(seed), 43))
		want := calendar.Cure{Minutes: r.IntN(4000)}
		got := cure{minutes: want.Minutes}
		if r.IntN(3) > 0 {
			want.While = hoursAtRandom(r, now.Date())
			got.while = newTimetable(want.While, now, now+30*units.Day)
		}
		for range 50 {
			at := now + units.Instant(r.IntN(40*1440))
			sameInstant(t, seed, "end", at, want.Minutes, got.end, want.End)
			if a, b := got.latestFinish(at), want.LatestFinish(at); a != b {
				t.Fatalf("cure %d: latestFinish(%v) = %v, want %v", seed, at, a, b)
			}
		}
	}
}
