package screen

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/testkit"
	"example.com/vanlog/internal/units"
)

// checkAnySize fails where a screen of some size between 20×5 and 250×80 has not exactly that size.
func checkAnySize(t *rapid.T, s Screen) {
	w, h := rapid.IntRange(20, 250).Draw(t, "w"), rapid.IntRange(5, 80).Draw(t, "h")
	lines := strings.Split(s.View(styles(), w, h), "\n")
	if len(lines) != h {
		t.Fatalf("%T at %d×%d has %d lines", s, w, h, len(lines))
	}
	for _, line := range lines {
		if got := ansi.StringWidth(line); got != w || strings.ContainsAny(line, "\x1b\t\r") {
			t.Fatalf("%T at %d×%d has a line %d wide: %q", s, w, h, got, line)
		}
	}
}

// foreseen is the workshop with its forecast.
func foreseen(t *testing.T) Data {
	t.Helper()
	d := workshop(t)
	f, err := d.View.Forecast(t.Context(), *d.Seq, answer.ForecastOptions{Samples: 200})
	if err != nil {
		t.Fatal(err)
	}
	d.Outlook = Outlook{Forecast: &f}
	return d
}

func TestForecastDo(t *testing.T) {
	d := foreseen(t)
	p80 := d.Forecast.P80.Date()
	for _, tt := range []struct {
		name string
		a    Action
		want Effect
	}{
		{"a day later than P80", DayAfter, FindForecast{By: p80 + 1}},
		{"a day sooner", DayBefore, FindForecast{By: p80 - 1}},
		{"a week later", WeekAfter, FindForecast{By: p80 + 7}},
		{"a week sooner", WeekBefore, FindForecast{By: p80 - 7}},
		{"with what was learned", SwapLearned, FindForecast{Learn: true}},
		{"back", Back, ClosePage{}},
		{"scrolling asks for nothing", PageDown, nil},
	} {
		if _, got := (Forecast{}).With(d).Do(tt.a); got != tt.want {
			t.Errorf("%s: %#v, want %#v", tt.name, got, tt.want)
		}
	}
	d.Asked = FindForecast{Learn: true, By: p80 + 20}
	for a, want := range map[Action]Effect{DayAfter: FindForecast{true, p80 + 21}, SwapLearned: FindForecast{By: p80 + 20}} {
		if _, got := (Forecast{}).With(d).Do(a); got != want {
			t.Errorf("%#v, want %#v", got, want)
		}
	}
	if _, got := (Forecast{}).Do(DayAfter); got != nil {
		t.Errorf("before anything is known it asks for %#v", got)
	}
}

func TestTheForecastSaysWhatItKnows(t *testing.T) {
	d := foreseen(t)
	d.Asked.By = d.Forecast.P80.Date()
	s := Forecast{}.With(d)
	wantSeen(t, s, "P50", "P80", "P95", d.Forecast.P95.Format("Mon 2 Jan 2006"), "about ", "200 lives", "What moves P80 most",
		"Hours against estimates in finished work, not applied")
	share := 0.5
	f := *d.Forecast
	f.ByChance, f.By, f.Applied, f.Movers, f.Learned = &share, &units.When{At: d.Asked.By.Start(), DateOnly: true}, true, nil, nil
	d.Outlook = Outlook{Forecast: &f, Asked: d.Asked, Looking: true}
	wantSeen(t, s.With(d), "50 %  (left", "being worked out again", "Nothing by itself moves P80", "nothing is learned of any trade")
	d.Outlook = Outlook{Forecast: &f, Aged: true}
	wantSeen(t, s.With(d), "the build has changed since")
	wantSeen(t, s.With(Data{View: d.View, Outlook: Outlook{NoView: "it loops"}}), "it loops")
	wantSeen(t, s.With(Data{View: d.View}), "Living through the plan")
}

// TestTheChanceReadFromTheBars holds it against lives one by one: n of them, evenly spread in their
// bar, counted to the end of the day.
func TestTheChanceReadFromTheBars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := answer.Forecast{P80: testkit.Now}
		from := testkit.Now.Date().Start()
		var lives []float64
		for range rapid.IntRange(1, 6).Draw(t, "bars") {
			to := from + units.Instant(rapid.IntRange(60, 5*24*60).Draw(t, "length"))
			n := rapid.IntRange(0, 50).Draw(t, "count")
			for i := range n {
				lives = append(lives, float64(from)+float64(to-from)*(float64(i)+0.5)/float64(n))
			}
			f.Bins = append(f.Bins, answer.Bin{From: from, To: to, Count: n})
			from = to
		}
		by := testkit.Now.Date() + units.Date(rapid.IntRange(-2, 30).Draw(t, "by"))
		done := 0
		for _, at := range lives {
			if at <= float64((by + 1).Start()) {
				done++
			}
		}
		s := Forecast{data: Data{Outlook: Outlook{Forecast: &f, Asked: FindForecast{By: by}}}}
		got, about := s.chance()
		want := float64(done) / float64(max(1, len(lives)))
		// In the bar that the day ends in, one life more or less.
		if !about || math.Abs(got-want) > 1.001/float64(max(1, len(lives))) {
			t.Fatalf("the chance is %v, want %v", got, want)
		}
	})
}

// TestTheHighestBarFillsItsColumn, an empty one none of it, and the others the nearest eighth below.
func TestTheHighestBarFillsItsColumn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var counts []int
		f := &answer.Forecast{}
		for i := range rapid.IntRange(1, 20).Draw(t, "bars") {
			n := rapid.IntRange(0, 500).Draw(t, "count")
			counts = append(counts, n)
			f.Bins = append(f.Bins, answer.Bin{From: units.Instant(i), To: units.Instant(i + 1), Count: n})
		}
		most, high := max(1, slices.Max(counts)), rapid.IntRange(2, 8).Draw(t, "high")
		lines := Forecast{data: Data{Outlook: Outlook{Forecast: f}}}.histogram(styles(), 200, high)
		for i, n := range counts {
			want := n * high * 8 / most
			got := 0
			for _, line := range lines[:high] {
				got += slices.Index([]rune(" ▁▂▃▄▅▆▇█"), []rune(line)[2+5*i])
			}
			if got != want {
				t.Fatalf("bar %d of %v is %d eighths high, want %d", i, counts, got, want)
			}
		}
	})
}

func TestPagesTakeAnySizeAndAction(t *testing.T) {
	d := foreseen(t)
	hostile := "a\tb\x1b[31m\r\n日本語 \u202e" + strings.Repeat("and so on ", 20)
	for i := range d.Forecast.Movers {
		d.Forecast.Movers[i].Text = hostile
	}
	for i := range d.Seq.Idle {
		d.Seq.Idle[i].Because.Text = hostile
	}
	d.Forecast.Learned = append(d.Forecast.Learned, answer.Learned{Trade: hostile})
	for i := range d.View.Live.Tasks {
		d.View.Live.Tasks[i].Name = hostile
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]Screen{Forecast{}, Idle{}, Sequence{}, Bench{}}).Draw(t, "screen").With(d)
		for range rapid.IntRange(0, 12).Draw(t, "actions") {
			var e Effect
			s, e = s.Do(Action(rapid.IntRange(int(Up), int(SwapLearned)).Draw(t, "action")))
			if ask, ok := e.(PriceMove); ok {
				price, err := d.View.Move(t.Context(), ask.Task, ask.To, planOptions())
				s = s.(Sequence).Priced(ask, price, rapid.Bool().Draw(t, "first"), err)
			}
		}
		checkAnySize(t, s)
	})
}

func TestPercent(t *testing.T) {
	if diff := cmp.Diff([]string{"0 %", "50 %", "100 %"}, []string{percent(0), percent(0.499), percent(1)}); diff != "" {
		t.Error(diff)
	}
}
