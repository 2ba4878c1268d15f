package forecast

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/vanlog/internal/units"
)

// rowsOf splits a table into its rows and their cells.
func rowsOf(table string) [][]string {
	var rows [][]string
	for line := range strings.Lines(strings.TrimSpace(table)) {
		rows = append(rows, strings.Fields(line))
	}
	return rows
}

func number(s string) (x float64) {
	if _, err := fmt.Sscan(s, &x); err != nil {
		panic(err)
	}
	return x
}

// network reads rows of: activity, those before it (- for none), low, likely, high.
func networkOf(table string) []Activity {
	at := map[string]int{}
	var out []Activity
	for i, row := range rowsOf(table) {
		a := Activity{Name: row[0], Range: units.Estimate{Low: number(row[2]), Likely: number(row[3]), High: number(row[4])}}
		for _, before := range strings.Split(row[1], ",") {
			if before != "-" {
				a.After = append(a.After, at[before])
			}
		}
		at[row[0]] = i
		out = append(out, a)
	}
	return out
}

func nearly(got, want []float64, tolerance float64) bool {
	return slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) <= tolerance })
}

const (
	// Mean times and variances printed there; the rest recomputed.
	lecture = `
A -   5 6 7
B -   1 3 5
C -   1 4 7
D A   1 2 3
E B   1 2 9
F C   1 5 9
G C   2 2 8
H E,F 4 4 10
I D   2 5 8
J H,G 2 2 8`
	advertising = `
A -  5 6 7
B -  8 8 11
C A  6 8 11
D -  9 12 15
E C  5 6 9
F D  5 6 7
G F  2 3 7
H B  4 4 5
I H  5 7 8`
	fourteen = `
A -   5 5 7
B -   1 2 5
C A   5 5 5
D A   4 8 13
E B,C 1 10 17
F D   1 5 7
G D   2 6 9
H E,F 4 4 6
I G,H 2 7 10
J I   2 4 7
K I   6 10 13
L J   2 6 6
M K   2 2 3
N L,M 7 7 12`
	reliable = `
A -   1 2 3
B A   2 3.5 8
C B   6 9 18
D C   4 5.5 10
E C   1 4.5 5
F E   4 4 10
G D   5 6.5 11
H E,G 5 8 17
I C   3 7.5 9
J F,I 3 9 9
K J   4 4 4
L J   1 5.5 7
M H   1 2 3
N K,L 5 5.5 9`
)

// worked are published networks with three-point times.
var worked = []struct {
	source   string
	table    string
	means    []float64
	floats   []float64
	critical string
	finish   float64
	variance float64
	chances  [][2]float64 // time, probability by the critical path
}{
	{
		source: "a lecture unit on critical paths with three-point estimates, ten activities (PRIME CPM unit 4)",
		table:  lecture, means: []float64{6, 3, 4, 2, 3, 5, 3, 5, 5, 3}, floats: []float64{4, 3, 0, 4, 3, 0, 7, 0, 4, 0},
		critical: "C F H J", finish: 17, variance: 4.778, chances: [][2]float64{{18, .676}, {20, .915}},
	},
	{
		source: "W. J. Stevenson, Operations Management, advertising firm (attribution from memory, figures as printed)",
		table:  advertising, means: []float64{6, 8.5, 8.17, 12, 6.33, 6, 3.5, 4.17, 6.83}, floats: []float64{1, 2, 1, 0, 1, 0, 0, 2, 2},
		critical: "D F G", finish: 21.5, variance: 1.805, chances: [][2]float64{{24, .9686}},
	},
	{
		// Recomputed: the chances; printed there: mean times, deviations and the dates of A to F.
		source: "fourteen activities, stored page wizedu 717873", table: fourteen,
		means:    []float64{5.333, 2.333, 5, 8.167, 9.667, 4.667, 5.833, 4.333, 6.667, 4.167, 9.833, 5.333, 2.167, 7.833},
		floats:   []float64{0, 8, 0, 1.833, 0, 1.833, 5, 0, 0, 2.5, 0, 2.5, 0, 0},
		critical: "A C E H I K M N", finish: 50.833, variance: 11.194, chances: [][2]float64{{55, .8935}, {53, .7414}},
	},
	{
		source: "F. Hillier and G. Lieberman, Introduction to Operations Research, Reliable Construction Co. " +
			"(predecessors and estimates from memory; durations, deadline and result as printed)",
		table: reliable, means: []float64{2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6}, floats: []float64{0, 0, 0, 4, 0, 0, 4, 4, 2, 0, 1, 0, 4, 0},
		critical: "A B C E F J L N", finish: 44, variance: 9, chances: [][2]float64{{47, .8413}},
	},
}

func TestClassicAgreesWithPublishedNetworks(t *testing.T) {
	for _, tt := range worked {
		network := networkOf(tt.table)
		p, err := Classic(network)
		if err != nil {
			t.Fatalf("%s: %v", tt.source, err)
		}
		if !nearly(p.Mean, tt.means, .005) {
			t.Errorf("%s: means %v, want %v", tt.source, p.Mean, tt.means)
		}
		if !nearly(p.Float, tt.floats, .001) {
			t.Errorf("%s: floats %v, want %v", tt.source, p.Float, tt.floats)
		}
		var critical []string
		for _, i := range p.Critical {
			critical = append(critical, network[i].Name)
		}
		if got := strings.Join(critical, " "); got != tt.critical {
			t.Errorf("%s: critical %s, want %s", tt.source, got, tt.critical)
		}
		if !nearly([]float64{p.Finish, p.Spread * p.Spread}, []float64{tt.finish, tt.variance}, .0015) {
			t.Errorf("%s: finish %v, variance %v, want %v and %v", tt.source, p.Finish, p.Spread*p.Spread, tt.finish, tt.variance)
		}
		for _, c := range tt.chances {
			if got := p.Chance(c[0]); math.Abs(got-c[1]) > .0006 {
				t.Errorf("%s: P(<=%v) = %.4f, want %v", tt.source, c[0], got, c[1])
			}
		}
	}
}

// TestVariancesAsPrinted: the lecture unit prints them, to two places.
func TestVariancesAsPrinted(t *testing.T) {
	p, err := Classic(networkOf(lecture))
	if want := []float64{.11, .44, 1, .11, 1.78, 1.78, 1, 1, 1, 1}; err != nil || !nearly(p.Variance, want, .005) {
		t.Errorf("variances %v, want %v (%v)", p.Variance, want, err)
	}
}

// TestEstimatesOfTheTrade: three-point estimates whose mean and deviation are known: 5/8/14,
// 2/4/8 and 4/10/24 hours (computed by hand from (O+4M+P)/6 and (P-O)/6).
func TestEstimatesOfTheTrade(t *testing.T) {
	for _, tt := range []struct {
		hours            units.Estimate
		mean, deviations float64
	}{
		{units.Estimate{Low: 5, Likely: 8, High: 14}, 8.5, 1.5},
		{units.Estimate{Low: 2, Likely: 4, High: 8}, 4.333, 1},
		{units.Estimate{Low: 4, Likely: 10, High: 24}, 11.333, 3.333},
	} {
		p, err := Classic([]Activity{{Name: "a", Range: tt.hours}})
		if err != nil || !nearly([]float64{p.Finish, p.Spread}, []float64{tt.mean, tt.deviations}, .001) {
			t.Errorf("%v: mean %v, deviation %v, want %v and %v (%v)", tt.hours, p.Finish, p.Spread, tt.mean, tt.deviations, err)
		}
	}
}

// TestMostUncertainOfSeveralLongestPaths: the rule of the textbooks for paths as long.
func TestMostUncertainOfSeveralLongestPaths(t *testing.T) {
	p, err := Classic(networkOf(`
A -   4 4 4
B -   1 4 7
C A,B 2 2 2
D -   6 6 6`))
	if err != nil || !slices.Equal(p.Critical, []int{1, 2}) || p.Spread != 1 || p.Finish != 6 {
		t.Errorf("critical %v, spread %v, finish %v, want [1 2], 1, 6 (%v)", p.Critical, p.Spread, p.Finish, err)
	}
}

func TestSureNetworkHasNoChanceBetween(t *testing.T) {
	p, _ := Classic([]Activity{{Range: units.Sure(3)}, {Range: units.Sure(4), After: []int{0}}})
	for at, want := range map[float64]float64{6.99: 0, 7: 1, 8: 1} {
		if got := p.Chance(at); got != want {
			t.Errorf("Chance(%v) = %v, want %v", at, got, want)
		}
	}
	if p, err := Classic(nil); err != nil || p.Finish != 0 || p.Chance(0) != 1 {
		t.Errorf("nothing to do: %+v, %v, want done at 0", p, err)
	}
}

func TestClassicRefuses(t *testing.T) {
	for _, network := range [][]Activity{
		{{Name: "a", Range: units.Estimate{Low: 2, Likely: 1, High: 3}}},
		{{Name: "a", After: []int{0}}},
		{{Name: "a", After: []int{1}}, {Name: "b"}},
	} {
		var wrong *ProblemError
		if _, err := Classic(network); !errors.As(err, &wrong) || wrong.Ref != "a" {
			t.Errorf("Classic(%v): %v, want a ProblemError about a", network, err)
		}
	}
}
