package answer

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"example.com/vanlog/internal/find"
)

// The kinds of things that can be found.
const (
	TaskThing     = "task"
	ItemThing     = "item"
	PlaceThing    = "place"
	PartThing     = "part"
	EntryThing    = "entry" // its ID is its number in the daybook
	EdgeThing     = "edge"  // its ID is the task that comes after
	CheckThing    = "proof" // its ID is its task
	OptionThing   = "option"
	ResourceThing = "resource"
	CutThing      = "cut"
	SnagThing     = "snag"
)

// Things gives everything in the build that a person may look for: what is there by name first,
// then snags, then the daybook, the newest entry first.
func (v *View) Things() []find.Thing {
	t := &thingList{v: v}
	t.work()
	t.van()
	t.supply()
	t.past()
	return t.out
}

type thingList struct {
	v   *View
	out []find.Thing
}

func (l *thingList) add(kind, id, title string, more ...string) {
	l.out = append(l.out, find.Thing{Kind: kind, ID: id, Title: title, More: strings.TrimSpace(strings.Join(more, " "))})
}

func (l *thingList) work() {
	for _, t := range l.v.Live.Tasks {
		l.add(TaskThing, string(t.ID), t.Name, t.Trade, string(t.State))
	}
	for _, t := range l.v.Live.Tasks {
		for _, c := range t.Checks {
			l.add(CheckThing, string(t.ID), cmp.Or(c.What, string(c.ID)), string(c.ID), string(c.Kind), c.Want, t.Name)
		}
	}
	for _, e := range l.v.Live.Edges {
		if e.Why != "" {
			l.add(EdgeThing, string(e.After), e.Why, string(e.Before), "before", l.v.taskTitle(e.Before), l.v.taskTitle(e.After))
		}
	}
}

func (l *thingList) van() {
	for _, x := range l.v.Live.Items {
		more := []string{x.Label, string(x.Place)}
		for _, s := range x.Service {
			more = append(more, s.What)
		}
		if x.Opening != nil {
			more = append(append(more, x.Opening.How), x.Opening.Tools...)
		}
		l.add(ItemThing, string(x.ID), x.Name, more...)
	}
	for _, p := range l.v.Live.Places {
		more := []string{p.Posture}
		for _, w := range p.Ways {
			more = append(more, w.Note)
		}
		l.add(PlaceThing, string(p.ID), p.Name, more...)
	}
}

func (l *thingList) supply() {
	for _, p := range l.v.Live.Parts {
		l.add(PartThing, string(p.ID), p.Name, p.Cost)
	}
	for _, o := range l.v.Build.Options.Rows {
		l.add(OptionThing, string(o.ID), o.Name, o.Choice)
	}
	for _, r := range l.v.Live.Resources {
		l.add(ResourceThing, string(r.ID), r.Name)
	}
	for _, c := range l.v.Build.Cuts.Rows {
		l.add(CutThing, string(c.ID), fmt.Sprintf("%d × %s", c.Qty, c.Length), c.Note, string(c.Stock), string(c.Task))
	}
}

func (l *thingList) past() {
	for _, s := range l.v.Build.Snags.Rows {
		l.add(SnagThing, string(s.ID), s.What, string(s.Item), string(s.Task), string(s.Place))
	}
	days := l.v.Build.Days
	for i := days.Len() - 1; i >= 0; i-- {
		e := days.Rows[i]
		more := append([]string{e.Note, string(e.Task), e.At.Date().String()}, e.Photos...)
		for _, r := range e.Readings {
			more = append(more, string(r.Check), r.Value, r.Tool, r.Source)
		}
		l.add(EntryThing, strconv.FormatUint(uint64(days.Keys[i]), 10), l.v.taskTitle(e.Task), more...)
	}
}
