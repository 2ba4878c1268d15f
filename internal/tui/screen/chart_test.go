package screen

import (
	"testing"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// 1970-01-05 and 2026-03-02 are Mondays (ISO 8601 calendar).
func TestAlign(t *testing.T) {
	monday := testkit.Now.Date().Start()
	for _, tt := range []struct {
		at, each, want units.Instant
	}{
		{testkit.Now, units.Day, monday},
		{testkit.Now, 60, testkit.Now},
		{testkit.Now + 59, 60, testkit.Now},
		{testkit.Now + 6*units.Day, 7 * units.Day, monday},
		{monday - 1, 7 * units.Day, monday - 7*units.Day},
		{0, units.Day, 0},
		{-1, units.Day, -units.Day},
		{0, 7 * units.Day, -3 * units.Day},
	} {
		if got := align(tt.at, tt.each); got != tt.want {
			t.Errorf("align(%s, %d) = %s, want %s", tt.at, tt.each, got, tt.want)
		}
	}
}

func marksText(ms []mark) string {
	out := make([]rune, len(ms))
	for i, m := range ms {
		out[i] = m.rune()
	}
	return string(out)
}

// TestMarks draws rows by hand, a column an hour from Monday 08:00.
func TestMarks(t *testing.T) {
	nine := testkit.Now // Monday 09:00
	hours := calendar.Compile([]calendar.Resource{calendar.DefaultBuilder()}).Of("builder")
	w := window{from: nine - 60, each: 60, cols: 12}
	row := func(start, finish, cured units.Instant) answer.Row {
		return answer.Row{Start: start, Finish: finish, CureEnd: cured}
	}
	for _, tt := range []struct {
		name string
		bar  bar
		want string
	}{
		// The builder works 08:00 to 12:00 and 13:00 to 17:00.
		{"over noon", bar{Row: row(nine, nine+6*60, 0), hours: hours}, " ███─██     "},
		{"then a cure", bar{Row: row(nine-60, nine, nine+150), hours: hours}, "█░░░        "},
		{"a part comes", bar{Row: row(nine+300, nine+360, 0), hours: hours, parts: []units.Instant{nine + 121}}, " │ P  █     "},
		{"not in sight", bar{Row: row(nine+9000, nine+9060, 0), hours: hours}, " │          "},
		{"hours not known", bar{Row: row(nine+180, nine+240, 0)}, " │  █       "},
		{"a few minutes", bar{Row: row(nine+61, nine+62, 0), hours: hours}, " │█         "},
	} {
		if got := marksText(tt.bar.marks(w, nine)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestLabels(t *testing.T) {
	w := window{from: testkit.Now.Date().Start(), each: units.Day, cols: 36}
	above, below := w.header()
	if above != "Mar                           Apr" {
		t.Errorf("months: %q", above)
	}
	if below != "2 4 6 8 10 13 16 19 22 25 28 31 3 5" {
		t.Errorf("days: %q", below)
	}
	hours := window{from: testkit.Now, each: 60, cols: 24}
	if above, below = hours.header(); above != "Mon 2 Mar      Tue 3 Mar" || below[:8] != "09 12 15" {
		t.Errorf("hours: %q over %q", above, below)
	}
	if year := month(units.Date(20454).Start()); year != "2026" { // 2026-01-01
		t.Errorf("January 2026 is %q", year)
	}
}

// TestEverythingIsSeenAtFirst: without zooming, the chart shows the whole plan in any width.
func TestEverythingIsSeenAtFirst(t *testing.T) {
	s := Sequence{}.With(workshop(t)).(Sequence)
	from, to := s.span()
	for cols := 3; cols < 200; cols++ {
		w := s.window(cols)
		if w.from > from || w.start(cols) < to {
			t.Errorf("in %d columns the chart shows %s to %s, the plan is %s to %s", cols, w.from, w.start(cols), from, to)
		}
	}
}

func TestAChartTooLongFollowsTheCursor(t *testing.T) {
	s := Sequence{}.With(workshop(t))
	for range 20 {
		s, _ = do(s, Finer)
	}
	s, _ = do(s, Last)
	seq := s.(Sequence)
	w := seq.window(30)
	if start := seq.bars[seq.cursor].Start; start < w.from || start >= w.start(30) {
		t.Errorf("the selected row starts %s, the chart shows %s to %s", start, w.from, w.start(30))
	}
}

func TestAnEmptySequence(t *testing.T) {
	v := answer.New(build.Build{}, testkit.Now)
	s := Sequence{}.With(Data{View: v, Seq: &answer.Sequence{}})
	s, _ = do(s, Down, Finer, Coarser, Last, PageUp)
	checkView(t, s, 80, 20)
}
