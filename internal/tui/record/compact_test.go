package record

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// said is a text that a line can hold: no semicolon, no blanks at the ends.
var said = rapid.StringMatching(`[a-zA-Zäß×·%0-9][a-z 0-9,.×-]{0,12}[a-z0-9]`)

var minutes = rapid.SampledFrom([]float64{0, 0.5, 2, 2.25, 90})

// undoes checks that read gives back what show was given.
func undoes[R any](t *rapid.T, show func(R) string, read func(string) (R, error), r R) {
	got, err := read(show(r))
	if err != nil || !reflect.DeepEqual(got, r) {
		t.Fatalf("%+v is shown as %q and read as %+v, %v", r, show(r), got, err)
	}
}

// TestLinesReadWhatTheyShow for everything that is written as a line or a word.
func TestLinesReadWhatTheyShow(t *testing.T) {
	c := choices{places: []widget.Choice{{ID: "bay"}}, items: []widget.Choice{{ID: "lid"}, {ID: "back"}}}
	rapid.Check(t, func(t *rapid.T) {
		undoes(t, showCheck, readCheck, tasks.Check{
			ID: id.Check(rapid.SampledFrom([]string{"c", "photo", "strap-torque"}).Draw(t, "id")), Kind: rapid.SampledFrom(tasks.Kinds()).Draw(t, "kind"),
			What: said.Draw(t, "what"), Want: rapid.SampledFrom([]string{"", "12 N·m ±10 %", "≥ 50 mm"}).Draw(t, "want"), BeforeCover: rapid.Bool().Draw(t, "cover"),
		})
		undoes(t, showWay, readWay(c), access.Way{
			From:    id.Place(rapid.SampledFrom([]string{"", "bay"}).Draw(t, "from")),
			Through: rapid.SampledFrom([][]id.Item{nil, {"lid"}, {"back", "lid"}}).Draw(t, "through"), EnterMin: minutes.Draw(t, "min"), Note: said.Draw(t, "note"),
		})
		undoes(t, showFastener, readFastener, access.Fastener{
			What: said.Draw(t, "what"), Count: access.Count(rapid.IntRange(1, 99).Draw(t, "count")), Torque: rapid.SampledFrom([]string{"", "9 N·m", "80 lbf·in"}).Draw(t, "torque"),
		})
		undoes(t, showService, readService, access.Service{What: said.Draw(t, "what"), PerYear: minutes.Draw(t, "per year"), Minutes: minutes.Draw(t, "min")})
		undoes(t, showLength, readLength, cutlist.Length{
			Length: "3000 mm", Have: rapid.Ptr(rapid.IntRange(0, 99), true).Draw(t, "have"), Cost: rapid.SampledFrom([]string{"", "41.00"}).Draw(t, "cost"),
		})
		from := units.Date(rapid.IntRange(0, 30_000).Draw(t, "from"))
		undoes(t, showOff, readOff, calendar.Off{From: from, To: from + units.Date(rapid.IntRange(0, 9).Draw(t, "days"))})
		undoes(t, showOn, readOn, calendar.On{Date: from, Hours: anySpans(t)})
		undoes(t, showBox, readBox, access.Box{-1, -2.5, 0, number3(t), 0, 1e6})
		undoes(t, showEstimate, readEstimate(readHours), units.Estimate{Low: 0, Likely: 1.5, High: 1.5 + number3(t)})
		undoes(t, showUses, func(s string) (tasks.Uses, error) {
			return readUses(s, []widget.Choice{{ID: "builder"}, {ID: "inside"}})
		}, tasks.Uses{"builder": rapid.IntRange(1, 9).Draw(t, "n"), "inside": 1})
		week := calendar.Week{anySpans(t), anySpans(t), nil, anySpans(t), anySpans(t), anySpans(t), anySpans(t)}
		undoes(t, func(w *calendar.Week) string { return strings.Join(showWeek(*w), "\n") }, readWeekOrNever, &week)
	})
}

func readWeekOrNever(s string) (*calendar.Week, error) {
	if s == "" {
		return readWeek(never)
	}
	return readWeek(s)
}

func number3(t *rapid.T) float64 { return float64(rapid.IntRange(0, 9_999_999).Draw(t, "n")) / 1000 }

func anySpans(t *rapid.T) []calendar.Span {
	return rapid.SampledFrom([][]calendar.Span{nil, {{From: 480, To: 720}}, {{From: 480, To: 720}, {From: 780, To: 1440}}}).Draw(t, "spans")
}
