package record

import (
	"fmt"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// Entry is a record as a chooser shows it. The texts may be anything a person typed.
type Entry struct {
	Key      build.Key
	Title    string
	Subtitle string
}

// Lists gives the records of one kind, in the order of the build; none for a kind that is not
// one of Kinds.
func Lists(b build.Build, kind build.Kind) []Entry {
	switch kind {
	case build.TaskKind:
		return entries(b.Tasks, taskEntry)
	case build.EdgeKind:
		return entries(b.Edges, edgeEntry(b))
	case build.PlaceKind:
		return entries(b.Places, placeEntry)
	case build.ItemKind:
		return entries(b.Items, itemEntry)
	case build.PartKind:
		return entries(b.Parts, partEntry)
	case build.ResourceKind:
		return entries(b.Resources, resourceEntry)
	case build.OptionKind:
		return entries(b.Options, optionEntry)
	case build.StockKind:
		return entries(b.Stocks, func(s cutlist.Stock) (string, string) {
			return orID(s.Name, s.ID), many(len(s.Lengths), "length")
		})
	case build.CutKind:
		return entries(b.Cuts, func(c cutlist.Cut) (string, string) {
			return fmt.Sprintf("%d × %s", c.Qty, c.Length), words(string(c.ID), "from "+string(c.Stock), c.Note)
		})
	case build.SnagKind:
		return entries(b.Snags, snagEntry)
	case build.HeadKind:
		return []Entry{{Key: 1, Title: orID(b.Head.Name, "this build"), Subtitle: "name, units, sizes and masses of the van"}}
	}
	return nil
}

func entries[T any](l build.List[T], say func(T) (title, sub string)) []Entry {
	out := make([]Entry, len(l.Rows))
	for i, r := range l.Rows {
		out[i].Key = l.Keys[i]
		out[i].Title, out[i].Subtitle = say(r)
	}
	return out
}

// words joins what there is of some texts.
func words(texts ...string) string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, ", ")
}

func many(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

func taskEntry(t tasks.Task) (string, string) {
	return t.Title(), words(string(t.ID), t.Trade, string(t.State), number(t.Hours.Likely)+" h")
}

func edgeEntry(b build.Build) func(deps.Edge) (string, string) {
	_, from := names(b.Tasks.Rows, taskName)
	title := make(map[string]string, len(from))
	for _, c := range from {
		title[c.ID] = c.Name
	}
	return func(e deps.Edge) (string, string) {
		return orID(title[string(e.Before)], e.Before) + " before " + orID(title[string(e.After)], e.After), words(string(e.Kind), e.Why)
	}
}

func placeEntry(p access.Place) (string, string) {
	return p.Title(), words(string(p.ID), p.Posture, many(len(p.Ways), "way")+" in")
}

func itemEntry(i access.Item) (string, string) {
	in, opens := "", "never opened"
	if i.Place != "" {
		in = "in " + string(i.Place)
	}
	if i.Opening != nil {
		opens = i.Opening.How
	}
	return i.Title(), words(string(i.ID), in, opens)
}

func partEntry(p parts.Part) (string, string) {
	state := "not ordered"
	switch {
	case p.Arrived != nil:
		state = "arrived " + p.Arrived.String()
	case p.Due != nil:
		state = "due " + p.Due.String()
	case p.Ordered != nil:
		state = "ordered " + p.Ordered.String()
	}
	return p.Title(), words(string(p.ID), state)
}

func resourceEntry(r calendar.Resource) (string, string) {
	hours := "day and night"
	if r.Hours != nil {
		hours = strings.Join(showWeek(*r.Hours), ", ")
	}
	return orID(r.Name, r.ID), words(string(r.ID), hours)
}

func optionEntry(o build.Option) (string, string) {
	chosen := ""
	if o.Chosen {
		chosen = "chosen"
	}
	return orID(o.Name, o.ID), words(o.Choice, string(o.ID), chosen)
}
