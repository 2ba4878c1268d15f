package calendar

import (
	"fmt"
	"sync"
	"testing"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"

	"pgregory.net/rapid"
)

func at(t testing.TB, s string) units.Instant {
	t.Helper()
	i, err := units.ParseInstant(s)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

func date(t testing.TB, s string) units.Date { return at(t, s).Date() }

// easter is a builder at work Monday to Friday who is away over Easter 2026 (Good
// Friday 3 April to Easter Monday 6 April, the western computus) but comes in for
// a while on the Saturday.
func easter(t testing.TB) Resource {
	r := DefaultBuilder()
	r.Off = []Off{{date(t, "2026-04-03"), date(t, "2026-04-06")}}
	r.On = []On{
		{date(t, "2026-04-04"), []Span{{600, 840}}},
		{date(t, "2026-04-08"), nil},
		{date(t, "2026-04-08"), []Span{{0, 1440}}}, // the first entry of a date holds
	}
	return r
}

func TestFinishOverHolidays(t *testing.T) {
	cal := Compile([]Resource{easter(t), {ID: "inside"}})
	h := cal.Of("builder", "inside")
	for _, tt := range []struct {
		start   string
		minutes int
		want    string
	}{
		{"2026-03-30T08:00", 0, "2026-03-30T08:00"},
		{"2026-03-30T08:00", 1, "2026-03-30T08:01"},
		{"2026-03-30T08:00", 240, "2026-03-30T12:00"},
		{"2026-03-30T08:00", 241, "2026-03-30T13:01"},
		{"2026-03-30T06:30", 480, "2026-03-30T17:00"},
		{"2026-04-02T16:00", 60, "2026-04-02T17:00"},
		{"2026-04-02T16:00", 61, "2026-04-04T10:01"},
		{"2026-04-02T16:00", 300, "2026-04-04T14:00"},
		{"2026-04-02T16:00", 301, "2026-04-07T08:01"},
		{"2026-04-07T13:00", 240, "2026-04-07T17:00"},
		{"2026-04-07T13:00", 241, "2026-04-09T08:01"},
		{"2026-04-10T16:00", 61, "2026-04-13T08:01"},
	} {
		if got, ok := h.Finish(at(t, tt.start), tt.minutes); !ok || got != at(t, tt.want) {
			t.Errorf("Finish(%s, %d) = %v, %v, want %s", tt.start, tt.minutes, got, ok, tt.want)
		}
	}
}

// April 2026 begins on a Wednesday and has 22 days from Monday to Friday. Two are off
// at Easter, one has no hours: 19 days of 480 minutes, and 240 minutes of a Saturday.
func TestCountOfAMonthWithHolidays(t *testing.T) {
	h := Compile([]Resource{easter(t)}).Of("builder")
	if got, want := h.Count(at(t, "2026-04-01"), at(t, "2026-05-01")), 19*480+240; got != want {
		t.Errorf("April has %d minutes, want %d", got, want)
	}
	if got, want := h.Count(at(t, "2027-03-01"), at(t, "2027-03-29")), 20*480; got != want {
		t.Errorf("four weeks after all holidays have %d minutes, want %d", got, want)
	}
	if got := h.Count(at(t, "2027-03-01"), at(t, "2026-03-01")); got != 0 {
		t.Errorf("Count backwards = %d, want 0", got)
	}
}

func TestHoursThatNeverCome(t *testing.T) {
	start := at(t, "2026-03-02")
	cal := Compile([]Resource{
		{ID: "early", Hours: &Week{0: {{0, 600}}}},
		{ID: "late", Hours: &Week{0: {{600, 1440}}}},
		{ID: "once", Hours: &Week{}, On: []On{{start.Date() + 3, []Span{{60, 120}}}}},
		{ID: "gone", Off: []Off{{date(t, "1900-01-01"), date(t, "2299-12-31")}}},
	})
	for _, names := range [][]id.Resource{{"early", "late"}, {"gone"}, {"once", "early"}} {
		h := cal.Of(names...)
		if got, ok := h.Next(start); ok {
			t.Errorf("%v: Next = %v, want never", names, got)
		}
		if got, ok := h.Finish(start, 1); ok {
			t.Errorf("%v: Finish = %v, want never", names, got)
		}
		if got, ok := h.LatestStart(start, 1); ok {
			t.Errorf("%v: LatestStart = %v, want never", names, got)
		}
		if got, ok := (Cure{Minutes: 5, While: h}).End(start); ok {
			t.Errorf("%v: cure ends at %v, want never", names, got)
		}
	}
	once := cal.Of("once")
	if got, ok := once.Finish(start, 60); !ok || got != start+3*units.Day+120 {
		t.Errorf("Finish of the only hour = %v, %v", got, ok)
	}
	if got, ok := once.Finish(start, 61); ok {
		t.Errorf("Finish beyond the only hour = %v, want never", got)
	}
	if _, ok := Compile([]Resource{DefaultBuilder()}).Of("builder").Finish(start, 1<<40); ok {
		t.Error("work of millions of years finishes within a hundred")
	}
}

func TestRoundTheClock(t *testing.T) {
	whole := Week{}
	for d := range whole {
		whole[d] = []Span{{720, 1440}, {0, 720}}
	}
	cal := Compile([]Resource{{ID: "inside"}, {ID: "whole", Hours: &whole}, DefaultBuilder()})
	for _, names := range [][]id.Resource{nil, {"inside"}, {"inside", "whole"}} {
		h := cal.Of(names...)
		if !h.RoundTheClock() {
			t.Errorf("%v is not round the clock", names)
		}
		if got, ok := h.Finish(-5, 7); got != 2 || !ok {
			t.Errorf("%v: Finish(-5, 7) = %d, want 2", names, got)
		}
		if got, ok := h.LatestStart(2, 7); got != -5 || !ok {
			t.Errorf("%v: LatestStart(2, 7) = %d, want -5", names, got)
		}
	}
	if cal.Of("builder").RoundTheClock() {
		t.Error("the builder works day and night")
	}
	if cal.Of("builder", "inside") != cal.Of("whole", "builder", "builder") {
		t.Error("hours of the same minutes are not shared")
	}
}

func TestOfAnUnknownNamePanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("Of an unknown name did not panic")
		}
	}()
	Compile(nil).Of("ghost")
}

func TestOfFromManyGoroutines(t *testing.T) {
	cal := Compile([]Resource{easter(t), {ID: "helper", Hours: &Week{5: {{540, 780}}}}})
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			h := cal.Of([]id.Resource{"builder", "helper"}[i%2])
			if _, ok := h.Finish(at(t, "2026-03-30"), 1000+i); !ok {
				t.Error("no finish")
			}
		})
	}
	wg.Wait()
}

func TestCure(t *testing.T) {
	warm := Compile([]Resource{{ID: "warm", Hours: &Week{0: {{480, 1080}}, 1: {{480, 1080}}}}}).Of("warm")
	for _, tt := range []struct {
		cure        Cure
		finish, end string
	}{
		{Cure{}, "2026-03-02T10:00", "2026-03-02T10:00"},
		{Cure{While: warm}, "2026-03-02T07:00", "2026-03-02T07:00"},
		{Cure{Minutes: 1440}, "2026-03-02T10:00", "2026-03-03T10:00"},
		{Cure{Minutes: 480, While: warm}, "2026-03-02T10:00", "2026-03-02T18:00"},
		{Cure{Minutes: 481, While: warm}, "2026-03-02T10:00", "2026-03-03T08:01"},
		{Cure{Minutes: 1440, While: warm}, "2026-03-02T10:00", "2026-03-09T14:00"},
	} {
		if got, ok := tt.cure.End(at(t, tt.finish)); !ok || got != at(t, tt.end) {
			t.Errorf("%d minutes after %s end at %v, %v, want %s", tt.cure.Minutes, tt.finish, got, ok, tt.end)
		}
	}
}

// aResource draws a resource whose every exception lies in the six weeks after from.
func aResource(t *rapid.T, name id.Resource, from units.Date) Resource {
	spans := func(label string) (out []Span) {
		for range rapid.IntRange(0, 3).Draw(t, label) {
			a := rapid.IntRange(0, 1439).Draw(t, "from")
			out = append(out, Span{a, rapid.IntRange(a+1, 1440).Draw(t, "to")})
		}
		return out
	}
	r := Resource{ID: name, Capacity: 1}
	if rapid.IntRange(0, 3).Draw(t, "bound") > 0 {
		r.Hours = &Week{}
		for d := range r.Hours {
			r.Hours[d] = spans("day")
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "offs") {
		a := from + units.Date(rapid.IntRange(0, 40).Draw(t, "off"))
		r.Off = append(r.Off, Off{a, a + units.Date(rapid.IntRange(-1, 4).Draw(t, "days"))})
	}
	for range rapid.IntRange(0, 3).Draw(t, "ons") {
		r.On = append(r.On, On{from + units.Date(rapid.IntRange(0, 40).Draw(t, "on")), spans("own")})
	}
	return r
}

// there says by the rules of the build file, minute by minute, whether r is there.
func there(r Resource, t units.Instant) bool {
	in := func(spans []Span) bool {
		for _, s := range spans {
			if s.From <= t.Clock() && t.Clock() < s.To {
				return true
			}
		}
		return false
	}
	for _, on := range r.On {
		if on.Date == t.Date() {
			return in(on.Hours)
		}
	}
	for _, off := range r.Off {
		if off.From <= t.Date() && t.Date() <= off.To {
			return false
		}
	}
	return r.Hours == nil || in(r.Hours[t.Date().Weekday()])
}

// The naive calendar walks minute by minute from a fortnight before the exceptions
// to a fortnight after them.
func TestHoursAgainstEveryMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		origin := units.Date(rapid.IntRange(-3000, 30000).Draw(t, "origin"))
		rs := []Resource{aResource(t, "a", origin), aResource(t, "b", origin)}
		h := Compile(rs).Of("a", "b")
		from, to := (origin - 14).Start(), (origin + 60).Start()
		var minutes []units.Instant
		in := func(m units.Instant) bool { return there(rs[0], m) && there(rs[1], m) }
		for m := from; m < to; m++ {
			if in(m) {
				minutes = append(minutes, m)
			}
		}
		for range 20 {
			checkAround(t, h, in, minutes, from)
		}
	})
}

func checkAround(t *rapid.T, h *Hours, in func(units.Instant) bool, minutes []units.Instant, from units.Instant) {
	day := rapid.IntRange(0, 73).Draw(t, "day")
	s := from + units.Day*units.Instant(day) + units.Instant(rapid.IntRange(0, 1439).Draw(t, "clock"))
	if h.In(s) != in(s) {
		t.Fatalf("In(%v) = %v", s, h.In(s))
	}
	k := 0
	for k < len(minutes) && minutes[k] < s {
		k++
	}
	if got := h.Count(from, s); got != k {
		t.Fatalf("Count to %v = %d, want %d", s, got, k)
	}
	if got, ok := h.Next(s); k < len(minutes) && (!ok || got != minutes[k]) {
		t.Fatalf("Next(%v) = %v, want %v", s, got, minutes[k])
	}
	checkUntil(t, h, in, s)
	n := rapid.IntRange(1, 3000).Draw(t, "n")
	if k+n <= len(minutes) {
		end, ok := h.Finish(s, n)
		if !ok || end != minutes[k+n-1]+1 {
			t.Fatalf("Finish(%v, %d) = %v, want %v", s, n, end, minutes[k+n-1]+1)
		}
	}
	if k >= n {
		if got, ok := h.LatestStart(s, n); !ok || got != minutes[k-n] {
			t.Fatalf("LatestStart(%v, %d) = %v, want %v", s, n, got, minutes[k-n])
		}
		if got := (Cure{Minutes: n, While: h}).LatestFinish(s); got != minutes[k-n] {
			t.Fatalf("LatestFinish(%v) = %v, want %v", s, got, minutes[k-n])
		}
	}
}

func checkUntil(t *rapid.T, h *Hours, in func(units.Instant) bool, s units.Instant) {
	want := s
	for in(want) && (want == s || want.Clock() > 0) {
		want++
	}
	if got := h.Until(s); !h.RoundTheClock() && got != want {
		t.Fatalf("Until(%v) = %v, want %v", s, got, want)
	}
}

func TestContainsAgainstEveryMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rs := []Resource{aResource(t, "a", 20000), aResource(t, "b", 20000)}
		cal := Compile(rs)
		want := true
		for m := units.Date(19990).Start(); m < units.Date(20060).Start(); m++ {
			want = want && (there(rs[0], m) || !there(rs[1], m))
		}
		if got := cal.Of("a").Contains(cal.Of("b")); got != want {
			t.Fatalf("Contains = %v, want %v", got, want)
		}
		if !cal.Of("a").Contains(cal.Of("a", "b")) {
			t.Fatal("hours do not contain their part")
		}
	})
}

func TestCureLatestFinishUndoesEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := aResource(t, "a", 20000)
		c := Cure{Minutes: rapid.IntRange(0, 2000).Draw(t, "cure")}
		if rapid.Bool().Draw(t, "bound") {
			c.While = Compile([]Resource{r}).Of("a")
		}
		end := units.Instant(20000*1440 + rapid.IntRange(0, 60000).Draw(t, "end"))
		f := c.LatestFinish(end)
		if got, ok := c.End(f); ok && got > end {
			t.Fatalf("End(%v) = %v, after %v", f, got, end)
		}
		if got, ok := c.End(f + 1); ok && got <= end {
			t.Fatalf("%v is a later finish whose cure ends by %v", f+1, end)
		}
	})
}

func ExampleHours_Finish() {
	cal := Compile([]Resource{DefaultBuilder()})
	friday, _ := units.ParseInstant("2026-03-06T16:00")
	end, _ := cal.Of("builder").Finish(friday, 120)
	fmt.Println(end)
	// Output: 2026-03-09T09:00
}

func BenchmarkFinish(b *testing.B) {
	h := Compile([]Resource{easter(b)}).Of("builder")
	start := at(b, "2026-03-30T08:00")
	for i := 0; b.Loop(); i++ {
		if _, ok := h.Finish(start+units.Instant(i%40000), 700); !ok {
			b.Fatal("no finish")
		}
	}
}
