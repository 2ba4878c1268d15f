package cli

import (
	"fmt"
	"slices"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/draw"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// drawInto writes a drawing to a file, or to stdout where the name is "-".
func (e *env) drawInto(file string, text []byte) error {
	if file == "-" {
		_, err := e.Out.Write(text)
		return err
	}
	if err := replaceFile(file, text); err != nil {
		return fmt.Errorf("--svg %w", err)
	}
	e.note("written: %s", file)
	return nil
}

func (v *sequenceVerb) validate() error {
	if v.svg == "-" && v.asJSON {
		return &usageError{text: "--svg - and --json both want stdout", hint: "--svg FILE"}
	}
	return nil
}

// chart draws the order where that is asked for; done is true where nothing else is to be printed.
func (v *sequenceVerb) chart(view *answer.View, seq answer.Sequence) (done bool, err error) {
	if v.svg == "" {
		return false, nil
	}
	return v.svg == "-", v.drawInto(v.svg, draw.ChartSVG(chartOf(view, seq)))
}

// charting turns an order of work into a chart.
type charting struct {
	view *answer.View
	seq  answer.Sequence
	cal  *calendar.Calendars
}

// chartOf gives the chart of an order of work.
func chartOf(view *answer.View, seq answer.Sequence) draw.Chart {
	c := &charting{view: view, seq: seq, cal: calendar.Compile(view.Live.Resources)}
	out := draw.Chart{Title: or(view.Build.Head.Name, "Van") + ": the order of work", Summary: summaryOf(seq, len(view.Live.Tasks)),
		Now: seq.Now, Finish: seq.Finish, Bound: seq.BoundFinish}
	for _, r := range seq.Tasks {
		out.Rows = append(out.Rows, c.row(r))
	}
	main := c.mainResource()
	out.Arrivals, out.Off, out.Bands = c.arrivals(), c.daysOff(main), c.bands(main)
	return out
}

func summaryOf(s answer.Sequence, all int) string {
	bound := "no order ends sooner"
	if !s.Proven {
		bound = "no order can end before " + when(s.BoundFinish)
	}
	return fmt.Sprintf("As planned on %s. Finish: %s; %s. Work: %s, of it %s getting at things. %d tasks of %d are open.",
		when(s.Now), when(s.Finish), bound, units.Minutes(s.WorkMin), units.Minutes(s.AccessMin), len(s.Tasks), all)
}

func (c *charting) task(t id.Task) tasks.Task { return c.view.Live.Tasks[c.view.Live.TaskAt[t]] }

// hours gives when all that a task uses is there.
func (c *charting) hours(t tasks.Task) *calendar.Hours {
	var names []id.Resource
	for name := range t.Uses {
		if _, ok := c.view.Live.ResourceAt[name]; ok {
			names = append(names, name)
		}
	}
	return c.cal.Of(names...)
}

func (c *charting) row(r answer.Row) draw.ChartRow {
	t := c.task(r.ID)
	out := draw.ChartRow{ID: string(t.ID), Name: t.Title(), Trade: t.Trade, Start: r.Start, Finish: r.Finish, CureEnd: r.CureEnd,
		Spans: spansOf(c.hours(t), r.Start, r.Finish), Milestone: r.WorkMin == 0}
	for name := range t.Uses {
		if i, ok := c.view.Live.ResourceAt[name]; ok {
			out.Needs = append(out.Needs, resourceTitle(c.view.Live.Resources[i]))
		}
	}
	slices.Sort(out.Needs)
	if r.WorkMin > 0 {
		out.AccessShare = float64(r.AccessMin) / float64(r.WorkMin)
	}
	out.Critical = r.SlackMin == 0
	if late, ok := c.hours(t).Finish(r.Finish, r.SlackMin); ok && !out.Critical {
		out.SlackEnd = max(r.CureEnd, r.Finish) + late - r.Finish
	}
	return out
}

func resourceTitle(r calendar.Resource) string { return or(r.Name, string(r.ID)) }

// spansOf gives the runs of some hours between two times.
func spansOf(h *calendar.Hours, from, to units.Instant) []draw.Stretch {
	var out []draw.Stretch
	for {
		at, ok := h.Next(from)
		if !ok || at >= to {
			return out
		}
		from = min(to, h.Until(at))
		out = append(out, draw.Stretch{From: at, To: from})
	}
}

// arrivals gives the parts that open tasks still wait for. One is late where it is overdue, or
// where work stands where it does because of it.
func (c *charting) arrivals() []draw.Arrival {
	wanted, holds := map[id.Part]bool{}, map[string]bool{}
	for _, r := range c.seq.Tasks {
		for _, p := range c.task(r.ID).Parts {
			wanted[p] = true
		}
		for _, b := range r.Because {
			if b.Kind == "part" {
				holds[b.Ref] = true
			}
		}
	}
	var out []draw.Arrival
	for _, p := range c.view.Live.Parts {
		if wanted[p.ID] && p.Arrived == nil {
			at := p.ThereFrom(c.seq.Now)
			out = append(out, draw.Arrival{Name: p.Title(), At: at, Late: at < c.seq.Now || holds[string(p.ID)]})
		}
	}
	return out
}

// mainResource is what most of the open tasks use, the first of the build where several do.
func (c *charting) mainResource() id.Resource {
	n := map[id.Resource]int{}
	for _, r := range c.seq.Tasks {
		for name := range c.task(r.ID).Uses {
			n[name]++
		}
	}
	var best id.Resource
	for _, r := range c.view.Live.Resources {
		if !c.cal.Of(r.ID).RoundTheClock() && n[r.ID] > n[best] {
			best = r.ID
		}
	}
	return best
}

// daysOff gives the days on which a resource has no hours, those beside each other as one.
func (c *charting) daysOff(main id.Resource) []draw.Stretch {
	var out []draw.Stretch
	if main == "" {
		return nil
	}
	hours := c.cal.Of(main)
	for d := c.seq.Now.Date(); d <= c.end().Date(); d++ {
		if hours.Count(d.Start(), d.Start()+units.Day) > 0 {
			continue
		}
		if n := len(out); n > 0 && out[n-1].To == d.Start() {
			out[n-1].To += units.Day
		} else {
			out = append(out, draw.Stretch{From: d.Start(), To: d.Start() + units.Day})
		}
	}
	return out
}

// end is when the last of the plan is over, a year of cures at most.
func (c *charting) end() units.Instant {
	end := c.seq.Finish
	for _, r := range c.seq.Tasks {
		end = max(end, min(r.CureEnd, r.Finish+365*units.Day))
	}
	return end
}

// bands gives the hours of the other resources that open tasks use and that are not always there.
func (c *charting) bands(main id.Resource) []draw.Band {
	used := map[id.Resource]bool{}
	for _, r := range c.seq.Tasks {
		for name := range c.task(r.ID).Uses {
			used[name] = true
		}
	}
	var out []draw.Band
	for _, r := range c.view.Live.Resources {
		if hours := c.cal.Of(r.ID); used[r.ID] && r.ID != main && !hours.RoundTheClock() {
			out = append(out, draw.Band{Name: resourceTitle(r), Spans: spansOf(hours, c.seq.Now, c.end())})
		}
	}
	return out
}
