package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/units"
)

// clock reads a time.
func clock(s string) units.Instant {
	t, err := units.ParseInstant(s)
	if err != nil {
		panic(err)
	}
	return t
}

// aWeek is a small order of work by hand: a Monday to the next one, with all marks.
func aWeek() draw.Chart {
	return draw.Chart{
		Title: "Van: the order of work", Summary: "Finish: Mon 9 Mar 12:00.",
		Now: clock("2026-03-02T07:30"), Finish: clock("2026-03-09T12:00"), Bound: clock("2026-03-06T12:00"),
		Rows: []draw.ChartRow{
			{ID: "t3", Name: "Bond the floor", Trade: "floor", Start: clock("2026-03-03T13:00"), Finish: clock("2026-03-04T12:00"),
				CureEnd: clock("2026-03-06T12:00"), Critical: true, Spans: []draw.Stretch{
					{From: clock("2026-03-03T13:00"), To: clock("2026-03-03T17:00")}, {From: clock("2026-03-04T08:00"), To: clock("2026-03-04T12:00")}}},
			{ID: "t1", Name: "Pull the cables", Trade: "electrics", Start: clock("2026-03-02T08:00"), Finish: clock("2026-03-02T16:00"),
				SlackEnd: clock("2026-03-05T12:00"), AccessShare: 0.25, Needs: []string{"Helper"}},
			{ID: "t2", Name: "Order of the owner", Trade: "buying", Start: clock("2026-03-03T08:00"), Finish: clock("2026-03-03T08:00"), Milestone: true},
			{ID: "t4", Name: "Fit the panels", Trade: "walls", Start: clock("2026-03-09T08:00"), Finish: clock("2026-03-09T12:00"), Critical: true},
		},
		Arrivals: []draw.Arrival{{Name: "Windows", At: clock("2026-02-20T00:00"), Late: true}, {Name: "Sheet goods", At: clock("2026-03-04T00:00")}},
		Bands: []draw.Band{{Name: "Helper", Spans: []draw.Stretch{{From: clock("2026-03-02T13:00"), To: clock("2026-03-02T17:00")}}},
			{Name: "Fitter", Spans: []draw.Stretch{{From: clock("2026-03-04T13:00"), To: clock("2026-03-04T17:00")}}}},
		Off: []draw.Stretch{{From: clock("2026-03-07T00:00"), To: clock("2026-03-09T00:00")}},
	}
}

// months is n rows of work, one after the other, four a week.
func someMonths(n int) draw.Chart {
	c := draw.Chart{Title: "Long", Now: clock("2026-11-26T00:00")}
	for i := range n {
		at := c.Now + units.Day*units.Instant(2+i*7/4) + 480
		c.Rows = append(c.Rows, draw.ChartRow{ID: fmt.Sprintf("t%d", i), Name: "Work of some kind with a long name, and then more", Trade: "commissioning",
			Start: at, Finish: at + units.Day, CureEnd: at + units.Day*units.Instant(1+i%9), SlackEnd: at + units.Day*units.Instant(i%30)})
		c.Finish, c.Bound = at+9*units.Day, at
	}
	return c
}

func TestChartSVGGolden(t *testing.T) {
	golden(t, "testdata/chart.svg.golden", strings.TrimSuffix(string(draw.ChartSVG(aWeek())), "\n"))
}

// rowsOf gives the groups of the rows in the order in which they are printed.
func rowsOf(all []*element) (out []*element) {
	for _, e := range all {
		if e.name == "g" && e.attrs["class"] == "row" {
			out = append(out, e)
		}
	}
	return out
}

// in gives what a group holds.
func in(all []*element, g *element) (out []*element) {
	for _, e := range all {
		if slices.Contains(e.within, g) {
			out = append(out, e)
		}
	}
	return out
}

func TestChartRowsByStart(t *testing.T) {
	var got []string
	all := parse(t, draw.ChartSVG(aWeek()))
	last := math.Inf(-1)
	for _, g := range rowsOf(all) {
		got = append(got, g.attrs["data-task"])
		for _, e := range in(all, g) {
			if e.name == "text" && e.text == g.attrs["data-task"] {
				if y := e.num("y"); y <= last {
					t.Errorf("%s stands at %.1f mm, the row before it at %.1f", e.text, y, last)
				} else {
					last = y
				}
			}
		}
	}
	if want := []string{"t1", "t2", "t3", "t4"}; !slices.Equal(got, want) {
		t.Errorf("rows %v, want %v", got, want)
	}
}

// TestChartSaysInWords: no mark goes without its word.
func TestChartSaysInWords(t *testing.T) {
	got := texts(draw.ChartSVG(aWeek()), t)
	for _, want := range []string{
		"Mon 2 08:00, 8h, way in 25 %, slack 2 d", "Tue 3 08:00, milestone", "Tue 3 13:00, 8h, critical, cured Fri 6 Mar", "Mon 9 08:00, 4h, critical",
		"Windows, from 20 Feb, late", "Sheet goods, from 4 Mar, in time", "there: Helper",
		"now, Mon 2 Mar 07:30", "finish, Mon 9 Mar 12:00", "no order can end before Fri 6 Mar 12:00",
		"work", "cures", "slack: it can end as late as the tick", "milestone", "a part comes", "a part is late", "a day off",
	} {
		if !slices.Contains(strings.Split(got, "\n"), want) {
			t.Errorf("%q is not said in\n%s", want, got)
		}
	}
	if strings.Contains(got, "Fitter") {
		t.Error("a resource that no row needs is drawn")
	}
	proven := aWeek()
	proven.Bound = proven.Finish
	if got := texts(draw.ChartSVG(proven), t); !strings.Contains(got, "finish; no order ends sooner, Mon 9 Mar 12:00") {
		t.Errorf("a proven plan is not said to be one:\n%s", got)
	}
	if got := texts(draw.ChartSVG(draw.Chart{Title: "T"}), t); !strings.Contains(got, "Nothing is left to do.") {
		t.Errorf("an empty plan: %s", got)
	}
}

// TestChartIsToScale: what is drawn stands where its time is: by the rule of three between
// the edges of the days, which are the edges of the day off.
func TestChartIsToScale(t *testing.T) {
	all := parse(t, draw.ChartSVG(aWeek()))
	var off *element
	work, cures := map[string][]*element{}, map[string]*element{}
	for _, e := range all {
		switch e.attrs["class"] {
		case "off":
			off = e
		case "work":
			id := e.inside("row").attrs["data-task"]
			work[id] = append(work[id], e)
		case "cure":
			if r := e.inside("row"); r != nil {
				cures[r.attrs["data-task"]] = e
			}
		}
	}
	day := off.num("width") / 2 // Saturday and Sunday
	x := func(s string) float64 {
		return off.num("x") + day*float64(clock(s)-clock("2026-03-07T00:00"))/float64(units.Day)
	}
	for _, tt := range []struct {
		what     string
		e        *element
		from, to string
	}{
		{"t1", work["t1"][0], "2026-03-02T08:00", "2026-03-02T16:00"},
		{"t3, first day", work["t3"][0], "2026-03-03T13:00", "2026-03-03T17:00"},
		{"t3, second day", work["t3"][1], "2026-03-04T08:00", "2026-03-04T12:00"},
		{"the cure of t3", cures["t3"], "2026-03-04T12:00", "2026-03-06T12:00"},
	} {
		x0, x1 := tt.e.num("x"), tt.e.num("x")+tt.e.num("width")
		if math.Abs(x0-x(tt.from)) > 0.03 || math.Abs(x1-x(tt.to)) > 0.03 {
			t.Errorf("%s is drawn from %.2f to %.2f mm, want %.2f to %.2f", tt.what, x0, x1, x(tt.from), x(tt.to))
		}
	}
	if len(work["t3"]) != 2 || len(work["t2"]) != 0 {
		t.Errorf("%d bars of t3 and %d of a milestone, want 2 and 0", len(work["t3"]), len(work["t2"]))
	}
}

// TestChartAxis: the calendar over the chart is that of package time, at every scale.
func TestChartAxis(t *testing.T) {
	for _, tt := range []struct {
		days  int
		every func(time.Time) (string, bool)
	}{
		{1, func(d time.Time) (string, bool) { return d.Format("Monday 2 January 2006"), true }},
		{7, func(d time.Time) (string, bool) { return d.Format("Mon 2 Jan"), true }},
		{30, func(d time.Time) (string, bool) { return d.Format("2"), true }},
		{70, func(d time.Time) (string, bool) { return d.Format("2 Jan"), d.Weekday() == time.Monday }},
		{400, func(d time.Time) (string, bool) { return d.Format("Jan"), d.Day() == 1 }},
		{3000, func(d time.Time) (string, bool) { return d.Format("2006"), d.YearDay() == 1 }},
		{30000, func(d time.Time) (string, bool) { return d.Format("2006"), d.YearDay() == 1 && d.Year()%10 == 0 }},
	} {
		from := time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC)
		c := draw.Chart{Now: units.InstantOf(from), Finish: units.InstantOf(from) + units.Day*units.Instant(tt.days) - 1}
		got := strings.Split(texts(draw.ChartSVG(c), t), "\n")
		at := 0
		for n := range tt.days {
			name, is := tt.every(from.AddDate(0, 0, n))
			last := n > tt.days-tt.days/8-1 && tt.days > 7 // a period that is cut off has no name
			if !is || last || tt.days > 10000 && name != "2030" && name != "2100" {
				continue
			}
			i := slices.Index(got[at:], name)
			if i < 0 {
				t.Fatalf("%d days: %q is not on the axis after %q", tt.days, name, got[:at])
			}
			at += i + 1
		}
	}
}

// TestChartFitsThePaper: a sheet is no larger than A4 (ISO 216) and Letter (ANSI Y14.1) on
// their sides less 10 mm at each edge, and nothing lies across the cut between two.
func TestChartFitsThePaper(t *testing.T) {
	const wide, high = 254, 190.5
	if wide > min(297, 279.4)-20 || high > min(210, 215.9)-19 {
		t.Fatal("the sheet of the test does not fit the paper")
	}
	all := parse(t, draw.ChartSVG(someMonths(160)))
	var sheets []*element
	for _, e := range all {
		if e.attrs["class"] == "sheet" {
			sheets = append(sheets, e)
		}
		i := slices.Index(sheets, e.inside("sheet"))
		for _, p := range e.points() {
			if y := p[1] + 3 - float64(i)*high; i >= 0 && (y < 1 || y > high-1) {
				t.Fatalf("a %s of sheet %d lies at %.1f mm of %.1f", e.name, i+1, y, high)
			}
		}
	}
	root := all[0]
	if got, want := root.attrs["height"], strconv.FormatFloat(float64(len(sheets))*high, 'f', -1, 64)+"mm"; got != want || root.attrs["width"] != "254mm" {
		t.Errorf("%d sheets are %s × %s, want %s high", len(sheets), root.attrs["width"], got, want)
	}
	if len(sheets) < 5 || len(sheets) > 12 {
		t.Errorf("160 rows take %d sheets", len(sheets))
	}
	if got := texts(draw.ChartSVG(someMonths(160)), t); !strings.Contains(got, "@page{size:254mm 190.5mm;margin:0}") {
		t.Error("the size of the printed page is not set")
	}
}

// TestChartHeadings: many rows stand under the week in which they start (ISO 8601, by package time).
func TestChartHeadings(t *testing.T) {
	c := someMonths(160)
	var want []string
	for _, r := range c.Rows {
		d := time.Date(2026, 11, 26, 0, 0, 0, 0, time.UTC).Add(time.Duration(r.Start-c.Now) * time.Minute)
		_, n := d.ISOWeek()
		want = append(want, fmt.Sprintf("Week %d,", n))
	}
	got := ""
	i := 0
	for _, e := range parse(t, draw.ChartSVG(c)) {
		if strings.HasPrefix(e.text, "Week ") {
			got = e.text
		}
		if e.attrs["class"] == "row" {
			if !strings.HasPrefix(got, want[i]) {
				t.Fatalf("%s stands under %q, want %q", e.attrs["data-task"], got, want[i])
			}
			i++
		}
	}
	if strings.Contains(texts(draw.ChartSVG(aWeek()), t), "Week ") {
		t.Error("a few rows have headings")
	}
}

// TestChartColours: words have at least 4.5 to 1 on white and on the shade of a day off (WCAG
// 2.1, 1.4.3); besides greys the palette is that of Okabe and Ito (https://jfly.uni-koeln.de/color/).
func TestChartColours(t *testing.T) {
	palette := []string{"none", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7"}
	for _, e := range parse(t, draw.ChartSVG(aWeek())) {
		for _, name := range []string{"fill", "stroke"} {
			c, ok := e.attrs[name]
			grey := len(c) == 7 && c[1:3] == c[3:5] && c[3:5] == c[5:7]
			if ok && !grey && !slices.Contains(palette, c) {
				t.Errorf("%s of a %s is %s", name, e.name, c)
			}
		}
		if e.name == "text" {
			if r := (luminance(t, "#e6e6e6") + 0.05) / (luminance(t, e.attrs["fill"]) + 0.05); r < 4.5 {
				t.Errorf("%q has %.1f to 1", e.text, r)
			}
		}
	}
}

func TestChartSameBytes(t *testing.T) {
	for _, c := range []draw.Chart{aWeek(), someMonths(100)} {
		want := draw.ChartSVG(c)
		shuffled := c
		shuffled.Rows, shuffled.Arrivals = slices.Clone(c.Rows), slices.Clone(c.Arrivals)
		slices.Reverse(shuffled.Rows)
		slices.Reverse(shuffled.Arrivals)
		if !bytes.Equal(want, draw.ChartSVG(c)) || !bytes.Equal(want, draw.ChartSVG(shuffled)) {
			t.Fatal("the same chart gives other bytes")
		}
	}
}

func BenchmarkChartSVG(b *testing.B) {
	c := someMonths(160)
	for b.Loop() {
		draw.ChartSVG(c)
	}
}
