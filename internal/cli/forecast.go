package cli

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/units"
)

// forecastVerb is `vanlog forecast`.
type forecastVerb struct {
	*env
	samples int
	seed    uint64
	seconds float64
	learn   bool
	inOrder bool
	by      string
}

func newForecast(e *env) *cobra.Command {
	v := &forecastVerb{env: e}
	c := &cobra.Command{
		Use:   "forecast",
		Short: "when the build will be done, and how sure that is",
		Long: `When the build will be done, and how sure that is: the order of work is lived through many
times, each time with other luck in how long tasks take and when parts come. P80 is the
time by which four in five of these lives are done.

Luck is drawn from the low, likely and high hours of tasks, half of it shared within a
trade, and from lead times. What finished work says of each trade is always shown; with
--learn it is applied.`,
		Example: "  vanlog forecast\n  vanlog forecast --learn --by 2026-06-30",
		Args:    takes(0, 0, "no arguments"),
		RunE:    v.run,
	}
	c.Flags().IntVar(&v.samples, "samples", 10000, "live through the plan this `NUMBER` of times")
	c.Flags().Uint64Var(&v.seed, "seed", 0, "a `NUMBER` that steers luck and the search")
	c.Flags().Float64Var(&v.seconds, "seconds", 1, "search for the order of work for `SECONDS` at most")
	c.Flags().BoolVar(&v.learn, "learn", false, "apply what finished work says of each trade")
	c.Flags().BoolVar(&v.inOrder, "in-order", false, "keep the order to the letter: never go on with later work while something is waited for")
	c.Flags().StringVar(&v.by, "by", "", "say how likely it is done by `DATE`, for example 2026-06-30")
	return c
}

// maxSamples bounds the memory that a forecast takes: four bytes for each life and open task, so
// 80 megabytes for 200 tasks.
const maxSamples = 100_000

func (v *forecastVerb) options() (answer.ForecastOptions, error) {
	o := answer.ForecastOptions{Samples: v.samples, Seed: v.seed, Learn: v.learn, InOrder: v.inOrder}
	if v.samples < 1 || v.samples > maxSamples {
		return o, usage("--samples: want 1 to %d, got %d", maxSamples, v.samples)
	}
	if v.by != "" {
		by, err := units.ParseWhen(v.by)
		if err != nil {
			return o, usage("--by: %v", err)
		}
		o.By = &by
	}
	return o, nil
}

func (v *forecastVerb) run(c *cobra.Command, _ []string) error {
	o, err := v.options()
	if err != nil {
		return err
	}
	view, search, err := v.planning(c, v.seconds)
	if err != nil {
		return err
	}
	seq, err := view.Sequence(c.Context(), plan.Options{Time: search, Seed: v.seed})
	if err != nil {
		return err
	}
	f, err := view.Forecast(c.Context(), seq, o)
	if err != nil {
		return err
	}
	if v.asJSON {
		return v.printJSON(f)
	}
	v.print(f)
	return nil
}

func (v *forecastVerb) print(f answer.Forecast) {
	v.say("P50:    %s", when(f.P50))
	v.say("P80:    %s (done by then in four lives of five, of %d)", when(f.P80), f.Samples)
	v.say("P95:    %s", when(f.P95))
	v.say("plan:   %s, kept in %s of the lives", when(f.PlanFinish), percent(f.PlanChance))
	if f.By != nil {
		v.say("by:     %s, met in %s of the lives", f.By, percent(*f.ByChance))
	}
	v.histogram(f)
	v.movers(f.Movers)
	v.learned(f)
}

func percent(share float64) string {
	switch {
	case share > 0 && share < 0.01:
		return "less than 1 %"
	case share < 1 && share > 0.99:
		return "more than 99 %"
	}
	return fmt.Sprintf("%.0f %%", share*100)
}

// barWidth is how long the longest bar of the histogram is.
const barWidth = 40

// histogram shows the finishes as bars, the marks of the percentiles beside them.
func (v *forecastVerb) histogram(f answer.Forecast) {
	most := 1
	for _, b := range f.Bins {
		most = max(most, b.Count)
	}
	v.say("")
	for _, b := range f.Bins {
		bar := strings.Repeat("#", int(math.Ceil(barWidth*float64(b.Count)/float64(most))))
		v.say("%s", strings.TrimRight(fmt.Sprintf("%s  %5.1f %%  %-*s  %s", b.From.Format("Mon 2006-01-02"),
			100*float64(b.Count)/float64(f.Samples), barWidth, bar, marks(f, b)), " "))
	}
}

// marks names what lies in a bin.
func marks(f answer.Forecast, b answer.Bin) string {
	var out []string
	for _, m := range []struct {
		name string
		at   units.Instant
	}{{"plan", f.PlanFinish}, {"P50", f.P50}, {"P80", f.P80}, {"P95", f.P95}} {
		if b.From <= m.at && m.at < b.To {
			out = append(out, m.name)
		}
	}
	return strings.Join(out, " ")
}

func (v *forecastVerb) movers(ms []answer.Mover) {
	for i, m := range ms {
		if i == 0 {
			v.say("")
			v.say("what moves P80 most, and how much sooner it is when that comes out as likely:")
		}
		v.say("  %-10s %s %s", float(m.GainMin), m.Kind, m.Text)
	}
}

func (v *forecastVerb) learned(f answer.Forecast) {
	v.say("")
	if len(f.Learned) == 0 {
		v.say("learned: nothing yet; no task of a trade is finished with hours in the daybook")
		return
	}
	state := "not applied; --learn applies it"
	if f.Applied {
		state = "applied"
	}
	v.say("learned from finished tasks, hours spent to likely hours (%s):", state)
	rows := [][]string{{"TRADE", "TASKS", "AS IT WAS", "RECKONED", "80 % WITHIN"}}
	for _, l := range f.Learned {
		rows = append(rows, []string{l.Trade, fmt.Sprint(l.Count), fmt.Sprintf("%.2f", l.Raw), fmt.Sprintf("%.2f", l.Ratio),
			fmt.Sprintf("%.2f-%.2f", l.Low, l.High)})
	}
	v.table(rows...)
}
