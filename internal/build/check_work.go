package build

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

func partName(p parts.Part) string     { return string(p.ID) }
func taskName(t tasks.Task) string     { return string(t.ID) }
func stockName(s cutlist.Stock) string { return string(s.ID) }
func cutName(c cutlist.Cut) string     { return string(c.ID) }

func (c *checker) part(path string, p parts.Part) {
	c.own(path, "part", string(p.ID), c.ids.parts[string(p.ID)])
	c.within(path+".qty", float64(p.Qty), 0, mostCount)
	if p.Qty == 0 {
		c.faults.Add(path+".qty", "0 is too little, want more than 0")
	}
	c.estimate(path+".lead_days", p.LeadDays, mostDays)
	c.money(path+".cost", p.Cost)
}

func (c *checker) task(path string, t tasks.Task) {
	c.own(path, "task", string(t.ID), c.ids.tasks[string(t.ID)])
	c.estimate(path+".hours", t.Hours, mostHours)
	c.named(path+".place", "place", string(t.Place), c.ids.places)
	checkNames(c, path+".fits", "item", t.Fits, c.ids.items)
	checkNames(c, path+".reaches", "item", t.Reaches, c.ids.items)
	c.within(path+".visits", float64(t.Visits), 1, mostCount)
	c.uses(path, t)
	checkNames(c, path+".parts", "part", t.Parts, c.ids.parts)
	if t.NotBefore != nil && t.NotAfter != nil && t.NotAfter.Until() <= t.NotBefore.At {
		c.faults.Add(path+".not_after", "%s is before not_before, %s", t.NotAfter, t.NotBefore)
	}
	c.checks(path, t.Checks)
	if !t.State.Valid() {
		c.faults.Add(path+".state", "%q is none of todo, started, finished", t.State)
	}
	c.within(path+".spent_h", t.SpentH, 0, mostHours)
	if t.LeftH != nil {
		c.within(path+".left_h", *t.LeftH, 0, mostHours)
	}
	c.named(path+".option", "option", string(t.Option), c.ids.options)
}

func (c *checker) uses(path string, t tasks.Task) {
	for _, r := range slices.Sorted(maps.Keys(t.Uses)) {
		c.named(path+".uses", "resource", string(r), c.ids.resources)
		c.within(path+".uses."+string(r), float64(t.Uses[r]), 0, mostCount)
	}
	if t.Cure == nil {
		return
	}
	c.within(path+".cure.hours", t.Cure.Hours, 0, mostHours)
	c.named(path+".cure.while", "resource", string(t.Cure.While), c.ids.resources)
	checkNames(c, path+".cure.holds", "resource", t.Cure.Holds, c.ids.resources)
}

func (c *checker) checks(path string, checks []tasks.Check) {
	seen := map[id.Check]bool{}
	for i, k := range checks {
		at := fmt.Sprintf("%s.checks[%d]", path, i)
		switch {
		case !id.Valid(k.ID):
			c.faults.Add(at+".id", "%q is no id: want 1 to 40 of a-z, 0-9 and hyphens, not beginning with a hyphen", k.ID)
		case seen[k.ID]:
			c.faults.Add(at+".id", "there is a check %q already", k.ID)
		}
		seen[k.ID] = true
		if !slices.Contains(tasks.Kinds(), k.Kind) {
			c.faults.Add(at+".kind", "%q is none of %v", k.Kind, tasks.Kinds())
		}
		c.want(at+".want", k)
	}
}

func (c *checker) want(path string, k tasks.Check) {
	if k.Want == "" {
		return
	}
	w, err := units.ParseWant(k.Want)
	switch {
	case err != nil:
		c.faults.Add(path, "%v", err)
	case k.Kind == "torque" && w.Dimension() != units.Torque:
		c.faults.Add(path, "%q is no torque, for example 12 N·m ±10 %% or 80 lbf·in", k.Want)
	}
}

func (c *checker) edge(path string, e deps.Edge) {
	if e.Before == "" || e.After == "" {
		c.faults.Add(path, "an edge wants before and after")
	}
	c.named(path+".before", "task", string(e.Before), c.ids.tasks)
	c.named(path+".after", "task", string(e.After), c.ids.tasks)
	if !e.Kind.Valid() {
		c.faults.Add(path+".kind", "%q is neither must nor should", e.Kind)
	}
	c.within(path+".rework_h", e.ReworkH, 0, mostHours)
	if e.LagH != nil {
		c.within(path+".lag_h", *e.LagH, -mostHours, mostHours)
	}
}

// loops finds the loops of must edges, in the designs as chosen and with each other
// option chosen in its place.
func (c *checker) loops() {
	said := map[string]bool{}
	designs := []Build{c.b}
	for _, o := range c.b.Options.Rows {
		if other, err := c.b.Choose(o.ID); err == nil && !o.Chosen {
			designs = append(designs, other)
		}
	}
	for _, d := range designs {
		for _, loop := range c.loopsOf(d) {
			text := deps.LoopText(loop)
			if !said[text] {
				said[text] = true
				c.faults = append(c.faults, Fault{Path: c.edgePath(loop[0]), Text: "tasks wait for each other: " + text, Cycle: true})
			}
		}
	}
}

func (c *checker) loopsOf(d Build) [][]deps.Edge {
	l := d.Live()
	ids := make([]id.Task, 0, len(l.Tasks))
	for t := range l.TaskAt {
		ids = append(ids, t)
	}
	slices.SortFunc(ids, func(a, b id.Task) int { return l.TaskAt[a] - l.TaskAt[b] })
	return deps.Cycles(ids, l.Edges)
}

func (c *checker) edgePath(e deps.Edge) string {
	i := slices.IndexFunc(c.b.Edges.Rows, func(have deps.Edge) bool {
		return have.Before == e.Before && have.After == e.After && have.Kind == e.Kind
	})
	return fmt.Sprintf("edges[%d]", i)
}

func (c *checker) option(path string, o Option) {
	c.own(path, "option", string(o.ID), c.ids.options[string(o.ID)])
	if o.Choice == "" {
		c.faults.Add(path+".choice", "option %q answers no choice", o.ID)
	}
}

// choices checks that each choice has one chosen option, and says so where its first stands.
func (c *checker) choices() {
	chosen := map[string]int{}
	for _, o := range c.b.Options.Rows {
		if o.Chosen {
			chosen[o.Choice]++
		}
	}
	said := map[string]bool{}
	for i, o := range c.b.Options.Rows {
		if chosen[o.Choice] != 1 && !said[o.Choice] {
			said[o.Choice] = true
			c.faults.addNames(fmt.Sprintf("options[%d].chosen", i), "choice %q has %d chosen options, want exactly one", o.Choice, chosen[o.Choice])
		}
	}
}

func (c *checker) stock(path string, s cutlist.Stock) {
	c.own(path, "stock", string(s.ID), c.ids.stocks[string(s.ID)])
	c.length(path+".kerf", s.Kerf, true)
	c.length(path+".trim", s.Trim, true)
	c.within(path+".kg_per_m", s.KgPerM, 0, mostKg)
	for k, l := range s.Lengths {
		c.stockLength(fmt.Sprintf("%s.lengths[%d]", path, k), l)
	}
}

func (c *checker) cut(path string, cut cutlist.Cut) {
	c.own(path, "cut", string(cut.ID), c.ids.cuts[string(cut.ID)])
	if cut.Stock == "" {
		c.faults.Add(path+".stock", "cut %q has no stock to be cut from", cut.ID)
	}
	c.named(path+".stock", "stock", string(cut.Stock), c.ids.stocks)
	c.neededLength(path+".length", cut.Length)
	c.within(path+".qty", float64(cut.Qty), 1, mostCount)
	c.named(path+".task", "task", string(cut.Task), c.ids.tasks)
}

func (c *checker) stockLength(path string, l cutlist.Length) {
	c.neededLength(path+".length", l.Length)
	if l.Have != nil {
		c.within(path+".have", float64(*l.Have), 0, mostCount)
	}
	c.money(path+".cost", l.Cost)
}

func (c *checker) neededLength(path, typed string) {
	if typed == "" {
		c.faults.Add(path, "a length is missing")
	}
	c.length(path, typed, false)
}

func (c *checker) entry(path string, d daybook.Entry) {
	if d.Task == "" {
		c.faults.Add(path+".task", "an entry without a task")
	}
	c.named(path+".task", "task", string(d.Task), c.ids.tasks)
	c.within(path+".minutes", float64(d.Minutes), 0, mostMin)
	c.within(path+".visits", float64(d.Visits), 0, mostCount)
	at, ok := c.ids.tasks[string(d.Task)]
	for i, r := range d.Readings {
		if !ok {
			return
		}
		c.reading(fmt.Sprintf("%s.readings[%d]", path, i), c.b.Tasks.Rows[at], r)
	}
}

func (c *checker) reading(path string, t tasks.Task, r daybook.Reading) {
	k, ok := t.Check(r.Check)
	if !ok {
		c.faults.Add(path+".check", "task %q has no check %q", t.ID, r.Check)
		return
	}
	if k.Want == "" {
		return
	}
	q, err := units.ParseQuantity(r.Value)
	if err != nil {
		c.faults.Add(path+".value", "%v", err)
		return
	}
	if w, err := units.ParseWant(k.Want); err == nil {
		if _, err := w.Holds(q); err != nil {
			c.faults.Add(path+".value", "%v", err)
		}
	}
}

func (c *checker) snag(path string, s daybook.Snag) {
	c.own(path, "snag", string(s.ID), c.ids.snags[string(s.ID)])
	if strings.TrimSpace(s.What) == "" {
		c.faults.Add(path, "a snag that does not say what is wrong")
	}
	c.named(path+".item", "item", string(s.Item), c.ids.items)
	c.named(path+".task", "task", string(s.Task), c.ids.tasks)
	c.named(path+".place", "place", string(s.Place), c.ids.places)
	c.named(path+".became", "task", string(s.Became), c.ids.tasks)
}
