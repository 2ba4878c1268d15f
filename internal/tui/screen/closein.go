package screen

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

// CloseIn shows what will be closed in, by the item that does it, and for one item everything
// that is behind it. The zero CloseIn has no data yet.
type CloseIn struct {
	data   Data
	list   widget.List
	covers map[string]cover // by the name of the item
	asked  id.Item          // whose page is shown; empty: an item is being picked
	warned []answer.Caution // about the item asked for
	top    int              // first fact of the page that is seen
}

// cover is an item, and all that it closes in.
type cover struct {
	item  id.Item
	fitBy id.Task        // the open task that fits it; empty: none
	when  *units.Instant // when that begins in the plan; nil: not known
	edges []answer.Derived
	owed  []answer.Owed
}

// Scope is BehindScope where the page of an item is shown, else CoverScope.
func (c CloseIn) Scope() string {
	if c.asked != "" {
		return BehindScope
	}
	return CoverScope
}

// With shows other data.
func (c CloseIn) With(d Data) Screen {
	c.data = d
	if d.View == nil {
		return c
	}
	covers := coversOf(d)
	c.covers = make(map[string]cover, len(covers))
	for _, x := range covers {
		c.covers[string(x.item)] = x
	}
	if _, live := d.View.Live.ItemAt[c.asked]; !live {
		c.asked = ""
	}
	c.list = c.list.WithRows(c.rows(covers)).Sized(d.Lines)
	if c.list.Typed() == "" {
		c.list = c.list.Searched()
	}
	return c
}

// coversOf groups the edges by item: first what will be fitted, in the order of the plan,
// then the rest in the order of the build.
func coversOf(d Data) []cover {
	if d.Closes == nil {
		return nil
	}
	starts := map[id.Task]units.Instant{}
	if d.Seq != nil {
		for _, r := range d.Seq.Tasks {
			starts[r.ID] = r.Start
		}
	}
	at := map[id.Item]int{}
	var out []cover
	for _, e := range d.Closes.Edges {
		i, have := at[e.Item]
		if !have {
			i, at[e.Item] = len(out), len(out)
			x := cover{item: e.Item, fitBy: e.FitBy, owed: d.Closes.Owed[e.Item]}
			if start, ok := starts[e.FitBy]; ok {
				x.when = &start
			}
			out = append(out, x)
		}
		out[i].edges = append(out[i].edges, e)
	}
	slices.SortStableFunc(out, sooner)
	return out
}

// sooner puts what is fitted sooner first, then what will be fitted some time, then the rest.
func sooner(a, b cover) int {
	rank := func(c cover) int {
		switch {
		case c.when != nil:
			return 0
		case c.fitBy != "":
			return 1
		}
		return 2
	}
	if rank(a) == 0 && rank(b) == 0 {
		return cmp.Compare(*a.when, *b.when)
	}
	return cmp.Compare(rank(a), rank(b))
}

func (c CloseIn) rows(covers []cover) []widget.Row {
	rest := slices.IndexFunc(covers, func(x cover) bool { return x.fitBy == "" })
	if rest < 0 {
		rest = len(covers)
	}
	var rows []widget.Row
	if rest > 0 {
		rows = append(rows, widget.Row{Head: true, Text: fmt.Sprintf("Will be fitted, in the order of the plan (%d)", rest)})
	}
	for i, x := range covers {
		if i == rest {
			rows = append(rows, widget.Row{Head: true, Text: fmt.Sprintf("Fitted already, or no task fits it (%d)", len(covers)-rest)})
		}
		rows = append(rows, c.row(x))
	}
	return rows
}

func (c CloseIn) row(x cover) widget.Row {
	row := widget.Row{ID: string(x.item), Text: c.data.thing(string(x.item)), Note: priceOf(x.edges).words("%d for good"), Tone: widget.Warn}
	if x.when != nil {
		row.Note = x.when.Format("2 Jan") + ": " + row.Note
	}
	if n := len(x.owed); n > 0 {
		row.Note, row.Tone = fmt.Sprintf("%s, %d unproven", row.Note, n), widget.Bad
	}
	return row
}

// price is what some things cost more from the moment they are closed in.
type price struct {
	once, yearly float64 // minutes: of tasks, and of a year's services
	barred       int     // how many cannot be reached any more
}

func priceOf(edges []answer.Derived) price {
	var p price
	for _, e := range edges {
		switch {
		case e.ExtraMin == nil:
			p.barred++
		case e.Service != "":
			p.yearly += *e.ExtraMin
		default:
			p.once += *e.ExtraMin
		}
	}
	return p
}

// words says a price; forGood is what to say of the number of those that are barred.
func (p price) words(forGood string) string {
	var words []string
	if p.barred > 0 {
		words = append(words, fmt.Sprintf(forGood, p.barred))
	}
	if p.once > 0 {
		words = append(words, timeOf(p.once)+" more")
	}
	if p.yearly > 0 {
		words = append(words, timeOf(p.yearly)+" more a year")
	}
	if len(words) == 0 {
		return "costs no more"
	}
	return strings.Join(words, ", ")
}

// Do moves, shows the page of an item, and asks for things to be done with the task that
// fits it.
func (c CloseIn) Do(a Action) (Screen, Effect) {
	if c.asked != "" {
		return c.doPage(a)
	}
	if k, ok := movement(a); ok {
		c.list, _ = c.list.Key(k)
		return c, nil
	}
	row, ok := c.list.Selected()
	switch {
	case a == Back:
		c.list, _ = c.list.Key(widget.Key{Name: "esc"})
	case a == Enter && ok:
		c.asked, c.warned, c.top = id.Item(row.ID), nil, 0
		return c, c.Again()
	}
	return c, nil
}

// Again asks once more for what the page that is shown warns of; nil where none is.
func (c CloseIn) Again() Effect {
	if c.asked == "" {
		return nil
	}
	return FindCautions{Item: c.asked}
}

// Warned takes the answer to a FindCautions.
func (c CloseIn) Warned(asked FindCautions, cautions []answer.Caution) CloseIn {
	if asked.Item == c.asked {
		c.warned = cautions
	}
	return c
}

func (c CloseIn) doPage(a Action) (Screen, Effect) {
	if a == Back {
		c.asked, c.warned = "", nil
		return c, nil
	}
	if a == FinishTask || a == WriteEntry {
		return c, c.withFitter(a)
	}
	c.top = scrolled(c.top, a, c.data.Lines, len(c.facts()))
	return c, nil
}

// withFitter asks for something to be done with the task that fits the item.
func (c CloseIn) withFitter(a Action) Effect {
	t := c.covers[string(c.asked)].fitBy
	switch {
	case t == "":
		return Refuse{Text: "no open task fits " + c.data.thing(string(c.asked))}
	case a == FinishTask:
		return Finish{Task: t}
	}
	return OpenEntry{Task: t}
}

// Typed takes letters while an item is picked: they search.
func (c CloseIn) Typed(k widget.Key) (Screen, Effect, bool) {
	if c.asked != "" || !searches(k, c.list.Typed()) {
		return c, nil, false
	}
	list, out := c.list.Key(k)
	c.list = list
	return c, nil, out != widget.Unused
}

// Focus is the item, and what is behind it.
func (c CloseIn) Focus() Focus {
	name := string(c.asked)
	if name == "" {
		row, ok := c.list.Selected()
		if !ok {
			return Focus{}
		}
		name = row.ID
	}
	return Focus{Targets: []string{name}, Behind: c.behind(c.covers[name])}
}

// behind gives where the things are that an item closes in, each place once.
func (c CloseIn) behind(x cover) []string {
	var out []string
	for _, e := range x.edges {
		name := string(e.Of)
		if e.Task != "" {
			name = whereOf(c.data, e.Task)
		}
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// whereOf gives the item or place at which a task is worked on.
func whereOf(d Data, t id.Task) string {
	task := d.task(t)
	for _, x := range slices.Concat(task.Fits, task.Reaches) {
		return string(x)
	}
	return string(task.Place)
}
