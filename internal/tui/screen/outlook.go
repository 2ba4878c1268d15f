package screen

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// Forecast is the page of when the build will be done, and how sure that is. The zero Forecast
// has no data yet.
type Forecast struct {
	data Data
	top  int
}

// Scope is ForecastScope.
func (s Forecast) Scope() string { return ForecastScope }

// With shows other data.
func (s Forecast) With(d Data) Screen {
	s.data = d
	return s
}

// Typed has no use for letters.
func (s Forecast) Typed(widget.Key) (Screen, Effect, bool) { return s, nil, false }

// Do dials the day that is asked about, applies what was learned or not, scrolls, or closes
// the page.
func (s Forecast) Do(a Action) (Screen, Effect) {
	if a == Back {
		return s, ClosePage{}
	}
	ask := s.data.Asked
	if a == SwapLearned {
		ask.Learn = !ask.Learn
		return s, ask
	}
	if days := dialled(a); days != 0 && s.data.Forecast != nil {
		ask.By = s.by() + days
		return s, ask
	}
	s.top = scrolled(s.top, a, s.data.Lines, max(1, s.below()))
	return s, nil
}

// dialled gives the days by which an action moves a date.
func dialled(a Action) units.Date {
	switch a {
	case DayBefore:
		return -1
	case DayAfter:
		return 1
	case WeekBefore:
		return -7
	case WeekAfter:
		return 7
	}
	return 0
}

// by gives the day that is asked about: as dialled, else that of P80.
func (s Forecast) by() units.Date {
	if s.data.Asked.By != 0 {
		return s.data.Asked.By
	}
	return s.data.Forecast.P80.Date()
}

// chance gives the share of lives that are done by the end of the day that is asked about;
// about says that it is read from the bars, until the answer comes.
func (s Forecast) chance() (share float64, about bool) {
	f, by := s.data.Forecast, s.by()
	if f.ByChance != nil && f.By != nil && f.By.At.Date() == by {
		return *f.ByChance, false
	}
	done, all, end := 0.0, 0.0, (by + 1).Start()
	for _, b := range f.Bins {
		all += float64(b.Count)
		if length := float64(b.To - b.From); length > 0 {
			done += float64(b.Count) * max(0, min(1, float64(end-b.From)/length))
		}
	}
	return done / max(1, all), true
}

// View draws the days over the bars of all lives, and beneath them what moves the finish.
func (s Forecast) View(st widget.Styles, w, h int) string {
	switch {
	case s.data.View == nil:
		return notYet(st, w, h)
	case s.data.NoView != "":
		return widget.Cells(strings.Join(Facts(st, w, Fact{"no forecast", s.data.NoView, widget.Bad}), "\n"), w, h)
	case s.data.Forecast == nil:
		return widget.Cells(st.Dim.Render(widget.Fit("Living through the plan many times, each time with other luck …", w)), w, h)
	}
	lines := append([]string{st.Strong.Render(widget.Fit("When it will be done", w))}, s.days(st, w)...)
	high := max(0, min(8, h-len(lines)-9))
	if high > 1 {
		lines = append(lines, s.histogram(st, w, high)...)
	}
	room := max(0, h-len(lines)-1)
	lines = append(lines, "")
	return widget.Cells(strings.Join(append(lines, scrolledFacts(st, w, room, s.movers(), s.top)...), "\n"), w, h)
}

// days are P50, P80, P95, the plan, and the day that is asked about.
func (s Forecast) days(st widget.Styles, w int) []string {
	f := s.data.Forecast
	day := func(t units.Instant) string { return t.Format("Mon 2 Jan 2006") }
	share, about := s.chance()
	chance := percent(share)
	if about {
		chance = "about " + chance
	}
	state := fmt.Sprintf("%d lives", f.Samples)
	switch {
	case s.data.Looking:
		state += "; being worked out again …"
	case s.data.Aged:
		state += "; the build has changed since"
	}
	return Facts(st, w,
		Fact{"P50", day(f.P50) + ", as likely before as after", widget.Plain},
		Fact{"P80", day(f.P80) + ", four lives in five are done", widget.Good},
		Fact{"P95", day(f.P95) + ", nineteen in twenty", widget.Plain},
		Fact{"the plan", day(f.PlanFinish) + ", " + percent(f.PlanChance), widget.Plain},
		Fact{"by " + s.by().Format("Mon 2 Jan 2006"), chance + "  (left and right dial the day)", widget.Warn},
		Fact{"from", state, widget.Quiet})
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// histogram draws the lives as bars over the days, high lines and two for the days beneath.
func (s Forecast) histogram(st widget.Styles, w, high int) []string {
	bins := s.data.Forecast.Bins
	if len(bins) == 0 {
		return nil
	}
	most := 1
	for _, b := range bins {
		most = max(most, b.Count)
	}
	each := max(1, min(5, (w-14)/len(bins)))
	lines := make([]string, high)
	for i := range lines {
		var row strings.Builder
		for _, b := range bins {
			row.WriteString(strings.Repeat(block(b.Count*high*8/most-(high-1-i)*8), each))
		}
		lines[i] = st.Good.Render(widget.Fit("  "+row.String(), w))
	}
	return append(lines, s.axis(st, w, bins, each)...)
}

// block gives a sign that is so many eighths high.
func block(eighths int) string {
	return string([]rune(" ▁▂▃▄▅▆▇█")[max(0, min(8, eighths))])
}

// axis marks P50, P80 and P95 beneath the bars, and the first and the last day.
func (s Forecast) axis(st widget.Styles, w int, bins []answer.Bin, each int) []string {
	f, from, to := s.data.Forecast, bins[0].From, bins[len(bins)-1].To
	width := each * len(bins)
	marks := []rune(strings.Repeat("─", width))
	for _, at := range []units.Instant{f.P50, f.P80, f.P95} {
		col := int(int64(at-from) * int64(width) / max(1, int64(to-from)))
		marks[max(0, min(col, width-1))] = '┴'
	}
	first, last := from.Format("2 Jan"), to.Format("2 Jan 2006")
	words := first + strings.Repeat(" ", max(1, width-ansi.StringWidth(first)-ansi.StringWidth(last))) + last
	return []string{widget.Fit("  "+string(marks)+" P50 P80 P95", w), st.Dim.Render(widget.Fit("  "+words, w))}
}

// below is how many facts stand under the bars.
func (s Forecast) below() int {
	if s.data.Forecast == nil {
		return 0
	}
	return len(s.movers())
}

// movers are what moves P80 most, and what finished work says of each trade.
func (s Forecast) movers() []Fact {
	f := s.data.Forecast
	facts := []Fact{{Text: "What moves P80 most, when it comes out as likely:"}}
	for _, m := range f.Movers {
		facts = append(facts, Fact{Label: " -", Text: fmt.Sprintf("%s (%s): %s sooner", m.Text, m.Kind, clockSpan(m.GainMin))})
	}
	if len(f.Movers) == 0 {
		facts[0].Text = "Nothing by itself moves P80."
	}
	applied := "not applied"
	if f.Applied {
		applied = "applied"
	}
	title := Fact{Text: "Hours against estimates in finished work, " + applied + ":"}
	if len(f.Learned) == 0 {
		title.Text = "No finished work has hours yet: nothing is learned of any trade."
	}
	facts = append(facts, Fact{Text: " "}, title)
	for _, l := range f.Learned {
		facts = append(facts, Fact{Label: " -", Text: fmt.Sprintf("%s: × %.2f (%s done; four in five times × %.2f to %.2f)",
			l.Trade, l.Ratio, count(l.Count, "task"), l.Low, l.High)})
	}
	return slices.Clip(facts)
}
