package deps_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/units"
)

// roundTheClock is when every minute counts; a unit of a worked example is a minute.
var roundTheClock = calendar.Compile(nil).Of()

// rowsOf splits a table into its rows and their cells.
func rowsOf(table string) [][]string {
	var rows [][]string
	for line := range strings.Lines(strings.TrimSpace(table)) {
		rows = append(rows, strings.Fields(line))
	}
	return rows
}

// network makes a network of rows: activity, those before it (- for none), duration.
func network(rows [][]string) deps.Network {
	var n deps.Network
	at := map[string]int{}
	for i, row := range rows {
		at[row[0]] = i
		n.Activities = append(n.Activities, deps.Activity{Minutes: number(row[2]), Hours: roundTheClock})
		for _, before := range strings.Split(row[1], ",") {
			if before != "-" {
				n.Links = append(n.Links, deps.Link{From: at[before], To: i})
			}
		}
	}
	return n
}

func number(s string) (n int) {
	if _, err := fmt.Sscan(s, &n); err != nil {
		panic(err)
	}
	return n
}

// cells gives dates as a worked table has them: ES EF LS LF TF FF.
func cells(d deps.Dates) []int {
	return []int{int(d.EarlyStart), int(d.EarlyFinish), int(d.LateStart), int(d.LateFinish), d.TotalFloat, d.FreeFloat}
}

// worked are activity networks with every date and float.
var worked = []struct {
	source   string
	finish   int
	critical string
	table    string // activity, those before, duration, ES EF LS LF TF FF
}{
	{
		// Early dates, finish and critical activities are the book's, late dates and
		// floats recomputed.
		source: "C. Hendrickson and T. Au, Project Management for Construction, 2nd ed., ch. 10, nine-activity project",
		finish: 30, critical: "A C F I", table: `
A -   4  0  4  0  4  0  0
B -   3  0  3  9 12  9  9
C A   8  4 12  4 12  0  0
D A   7  4 11 15 22 11 10
E B,C 9 12 21 13 22  1  0
F B,C 12 12 24 12 24 0  0
G D,E 2 21 23 22 24  1  1
H D,E 5 21 26 25 30  4  4
I F,G 6 24 30 24 30  0  0`,
	},
	{
		// Mean times, in weeks; dates recomputed, critical path and finish printed there.
		source: "a lecture unit on critical paths with three-point estimates, ten activities (PRIME CPM unit 4)",
		finish: 17, critical: "C F H J", table: `
A -   6 0  6  4 10 4 0
B -   3 0  3  3  6 3 0
C -   4 0  4  0  4 0 0
D A   2 6  8 10 12 4 0
E B   3 3  6  6  9 3 3
F C   5 4  9  4  9 0 0
G C   3 4  7 11 14 7 7
H E,F 5 9 14  9 14 0 0
I D   5 8 13 12 17 4 4
J H,G 3 14 17 14 17 0 0`,
	},
	{
		// The duration of each, critical path, finish and floats as given for the project.
		source: "F. S. Hillier and G. J. Lieberman, Introduction to Operations Research, the construction project with 14 activities (part from memory)",
		finish: 44, critical: "A B C E F J L N", table: `
A -    2  0  2  0  2 0 0
B A    4  2  6  2  6 0 0
C B   10  6 16  6 16 0 0
D C    6 16 22 20 26 4 0
E C    4 16 20 16 20 0 0
F E    5 20 25 20 25 0 0
G D    7 22 29 26 33 4 0
H E,G  9 29 38 33 42 4 0
I C    7 16 23 18 25 2 2
J F,I  8 25 33 25 33 0 0
K J    4 33 37 34 38 1 1
L J    5 33 38 33 38 0 0
M H    2 38 40 42 44 4 4
N K,L  6 38 44 38 44 0 0`,
	},
}

func TestWorkedNetworks(t *testing.T) {
	for _, tt := range worked {
		t.Run(tt.source, func(t *testing.T) {
			rows := rowsOf(tt.table)
			checkWorked(t, network(rows), rows, 3, tt.finish, strings.Fields(tt.critical))
		})
	}
}

// checkWorked checks dates against a table whose dates begin in a column.
func checkWorked(t *testing.T, n deps.Network, rows [][]string, column, finish int, critical []string) {
	t.Helper()
	dates, end, err := n.Schedule()
	if err != nil || int(end) != finish {
		t.Fatalf("Schedule = %d, %v, want the finish %d", end, err, finish)
	}
	for i, row := range rows {
		var want []int
		for _, cell := range row[column:] {
			want = append(want, number(cell))
		}
		if got := cells(dates[i]); !slices.Equal(got, want) {
			t.Errorf("%s: ES EF LS LF TF FF = %v, want %v", row[0], got, want)
		}
		if got, want := dates[i].Critical, slices.Contains(critical, row[0]); got != want {
			t.Errorf("%s: critical %t, want %t", row[0], got, want)
		}
	}
}

// arrows are networks whose activities are arrows between events: what ends in an event comes
// before what begins in it. ES, EF, LS, LF and slack (TF) are printed; FF recomputed.
var arrows = []struct {
	source   string
	finish   int
	critical string
	table    string // arrow, duration, ES EF LS LF TF FF
}{
	{
		source: "B. W. Taylor, Introduction to Management Science, ch. 8, solutions p. 114",
		finish: 20, critical: "1-3 3-4 4-5 5-6", table: `
1-2  7  0  7  2  9 2 0
1-3 10  0 10  0 10 0 0
2-4  6  7 13  9 15 2 2
3-4  5 10 15 10 15 0 0
3-5  4 10 14 14 18 4 4
4-5  3 15 18 15 18 0 0
5-6  2 18 20 18 20 0 0`,
	},
	{
		source: "B. W. Taylor, Introduction to Management Science, ch. 8, solutions p. 115; 4-5 is a dummy",
		finish: 38, critical: "1-3 3-5 5-7 7-8 8-9", table: `
1-2  8  0  8  1  9  1  0
1-3 10  0 10  0 10  0  0
1-4  9  0  9  6 15  6  0
2-5  6  8 14  9 15  1  1
2-6  4  8 12 16 20  8  0
3-5  5 10 15 10 15  0  0
4-5  0  9  9 15 15  6  6
4-7  7  9 16 20 27 11 11
5-7 12 15 27 15 27  0  0
5-8 15 15 30 16 31  1  1
6-9 18 12 30 20 38  8  8
7-8  4 27 31 27 31  0  0
8-9  7 31 38 31 38  0  0`,
	},
}

func TestWorkedArrows(t *testing.T) {
	for _, tt := range arrows {
		t.Run(tt.source, func(t *testing.T) {
			rows := rowsOf(tt.table)
			var n deps.Network
			for i, row := range rows {
				n.Activities = append(n.Activities, deps.Activity{Minutes: number(row[1]), Hours: roundTheClock})
				for k, other := range rows {
					if strings.HasPrefix(other[0], row[0][2:]+"-") {
						n.Links = append(n.Links, deps.Link{From: i, To: k})
					}
				}
			}
			checkWorked(t, n, rows, 2, tt.finish, strings.Fields(tt.critical))
		})
	}
}

// columns are networks given column by column: M. Vanhoucke, Integrated Project Management
// and Control (Springer 2014). ES and LS as in a public copy of the book's
// values; the floats recomputed.
var columns = []struct {
	source                    string
	finish                    int
	durations, links          string
	es, ls, totals, freeFloat string
}{
	{
		source: "Vanhoucke p. 6, project 1", finish: 11,
		durations: "1 2 2 4 3 3 3 2 1 1 2 1 1 1 1 2 1",
		links: "1>2 1>3 2>4 2>5 2>6 3>7 3>8 3>9 3>10 4>11 5>11 6>11 7>12 8>13 9>14 10>15 " +
			"11>16 11>17 12>16 12>17 13>16 13>17 14>16 14>17 15>16 15>17",
		es: "0 1 1 3 3 3 3 3 3 3 7 6 5 4 4 9 9", ls: "0 1 3 3 4 4 5 6 7 7 7 8 8 8 8 9 10",
		totals: "0 0 2 0 1 1 2 3 4 4 0 2 3 4 4 0 1", freeFloat: "0 0 0 0 1 1 0 0 0 0 0 2 3 4 4 0 1",
	},
	{
		source: "Vanhoucke p. 9, project 2", finish: 25,
		durations: "1 1 3 2 2 2 2 1 4 5 3 3 4 5 1 5 2",
		links: "1>2 2>3 3>4 3>6 4>5 6>7 5>8 7>8 8>9 8>10 8>11 8>12 8>13 " +
			"9>14 10>14 11>14 12>14 13>14 13>15 14>16 14>17 15>16 15>17",
		es: "0 1 2 5 7 5 7 9 10 10 10 10 10 15 14 20 20", ls: "0 1 2 5 7 5 7 9 11 10 12 12 11 15 19 20 23",
		totals: "0 0 0 0 0 0 0 0 1 0 2 2 1 0 5 0 3", freeFloat: "0 0 0 0 0 0 0 0 1 0 2 2 0 0 5 0 3",
	},
}

func TestWorkedColumns(t *testing.T) {
	for _, tt := range columns {
		t.Run(tt.source, func(t *testing.T) {
			es, ls := strings.Fields(tt.es), strings.Fields(tt.ls)
			tf, ff := strings.Fields(tt.totals), strings.Fields(tt.freeFloat)
			var n deps.Network
			var rows [][]string
			var critical []string
			for i, duration := range strings.Fields(tt.durations) {
				n.Activities = append(n.Activities, deps.Activity{Minutes: number(duration), Hours: roundTheClock})
				name, d := fmt.Sprint(i+1), number(duration)
				rows = append(rows, []string{name, es[i], fmt.Sprint(number(es[i]) + d), ls[i], fmt.Sprint(number(ls[i]) + d), tf[i], ff[i]})
				if tf[i] == "0" {
					critical = append(critical, name)
				}
			}
			for _, link := range strings.Fields(tt.links) {
				from, to, _ := strings.Cut(link, ">")
				n.Links = append(n.Links, deps.Link{From: number(from) - 1, To: number(to) - 1})
			}
			checkWorked(t, n, rows, 1, tt.finish, critical)
		})
	}
}

// TestLagIsACure checks the rules and figures of US Navy NAVEDTRA 14233 (Seabee), ch. 2,
// fig. 2-13: "Lag times are mandatory wait times between activities. A common example is
// concrete cure times." Its text gives 1020: ES 3, EF 10, LS 5, LF 12, TF 2, FF 1; 1040:
// EF 11, LF the smaller of 11 and 12; 1050: ES 11, LS 12; 3 days lag after 1070;
// critical 1010-1040-1060-1070. The durations of 1050 and later are ours: the figure is not to
// be had.
func TestLagIsACure(t *testing.T) {
	const table = `
1010 -         3  0  3  0  3 0 0
1020 1010      7  3 10  5 12 2 1
1040 1010      8  3 11  3 11 0 0
1050 1020,1040 3 11 14 12 15 1 1
1060 1040      4 11 15 11 15 0 0
1070 1050,1060 2 15 17 15 17 0 0
1080 -         1 20 21 20 21 0 0`
	rows := rowsOf(table)
	critical := strings.Fields("1010 1040 1060 1070 1080")
	three := 3
	lagged := network(rows)
	lagged.Links = append(lagged.Links, deps.Link{From: 5, To: 6, Lag: &three})
	t.Run("as a lag", func(t *testing.T) { checkWorked(t, lagged, rows, 3, 21, critical) })
	cured := network(rows)
	cured.Activities[5].Cure = calendar.Cure{Minutes: 3}
	cured.Links = append(cured.Links, deps.Link{From: 5, To: 6})
	t.Run("as a cure", func(t *testing.T) { checkWorked(t, cured, rows, 3, 21, critical) })
}

func TestTheFinishIncludesTheLastCure(t *testing.T) {
	n := deps.Network{Start: 100, Activities: []deps.Activity{
		{Minutes: 10, Hours: roundTheClock, Cure: calendar.Cure{Minutes: 60}},
		{Minutes: 30, Hours: roundTheClock},
	}}
	dates, finish, err := n.Schedule()
	if err != nil || finish != 170 {
		t.Fatalf("Schedule = %d, %v, want the finish 170", finish, err)
	}
	if got, want := cells(dates[1]), []int{100, 130, 140, 170, 40, 40}; !slices.Equal(got, want) {
		t.Errorf("the one without a cure: %v, want %v", got, want)
	}
	if !dates[0].Critical {
		t.Error("the one whose cure ends last is not critical")
	}
}

func TestNothingStartsBeforeTheNetwork(t *testing.T) {
	early := -50
	n := deps.Network{Start: 1000, Activities: []deps.Activity{
		{Minutes: 10, Hours: roundTheClock, Release: 5}, {Minutes: 10, Hours: roundTheClock},
	}, Links: []deps.Link{{From: 0, To: 1, Lag: &early}}}
	dates, finish, err := n.Schedule()
	if err != nil || dates[1].EarlyStart != 1000 || finish != 1010 {
		t.Errorf("early start %d, finish %d, %v, want 1000 and 1010", dates[1].EarlyStart, finish, err)
	}
}

func TestSomeNetworksNeverFinish(t *testing.T) {
	day, err := units.ParseDate("2026-03-02")
	if err != nil {
		t.Fatal(err)
	}
	once := calendar.Resource{ID: "fitter", Hours: &calendar.Week{}, On: []calendar.On{{Date: day, Hours: []calendar.Span{{From: 540, To: 600}}}}}
	hours := calendar.Compile([]calendar.Resource{once}).Of("fitter")
	for _, tt := range []struct {
		name string
		last deps.Activity
	}{
		{"more work than hours", deps.Activity{Minutes: 61, Hours: hours}},
		{"hours that are over", deps.Activity{Minutes: 1, Hours: hours, Release: (day + 1).Start()}},
		{"a cure that is never warm enough", deps.Activity{Minutes: 1, Hours: roundTheClock, Cure: calendar.Cure{Minutes: 61, While: hours}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			first := deps.Activity{Minutes: 1, Hours: roundTheClock}
			n := deps.Network{Start: day.Start(), Activities: []deps.Activity{first, tt.last}}
			_, _, err := n.Schedule()
			if never, ok := err.(*deps.NeverError); !ok || never.Activity != 1 {
				t.Errorf("Schedule error = %v, want that activity 1 never finishes", err)
			}
		})
	}
}
