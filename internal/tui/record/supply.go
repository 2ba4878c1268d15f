package record

import (
	"errors"
	"fmt"
	"strings"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tui/widget"
	"example.com/vanlog/internal/units"
)

func partName(p parts.Part) (id.Part, string)                { return p.ID, p.Name }
func resourceName(r calendar.Resource) (id.Resource, string) { return r.ID, r.Name }
func optionName(o build.Option) (id.Option, string)          { return o.ID, o.Name }
func stockName(s cutlist.Stock) (id.Stock, string)           { return s.ID, s.Name }
func orID[S ~string](name string, s S) string {
	if name == "" {
		return string(s)
	}
	return name
}

func partSheet(b build.Build) sheet[parts.Part] {
	c := choicesOf(b)
	day := func(name, label, hint string, at func(*parts.Part) **units.When) slot[parts.Part] {
		return perhaps(askDay(name, label, hint), at, units.When.String, readWhen)
	}
	return sheet[parts.Part]{
		fresh: parts.Part{Qty: 1},
		title: parts.Part.Title,
		slots: []slot[parts.Part]{
			must(text(ask("name", "Name", "a thing that is bought, for example: Water pump 12 V"), func(p *parts.Part) *string { return &p.Name })),
			idSlot(c.partIDs, func(p *parts.Part) *id.Part { return &p.ID }),
			must(typed(ask("qty", "How many", "pieces, or metres, as you count them"), func(p *parts.Part) *parts.Qty { return &p.Qty },
				func(q parts.Qty) string { return number(float64(q)) }, readQty)),
			typed(ask("lead", "Lead time", "days from order to arrival: low likely high, such as 3 10 30, or one number"),
				func(p *parts.Part) *units.Estimate { return &p.LeadDays }, showHours, readLead),
			day("ordered", "Ordered", whenHint, func(p *parts.Part) **units.When { return &p.Ordered }),
			day("due", "Due", "the day it should come: "+whenHint, func(p *parts.Part) **units.When { return &p.Due }),
			day("arrived", "Arrived", whenHint, func(p *parts.Part) **units.When { return &p.Arrived }),
			checked(ask("cost", "Cost", "a decimal number, such as 129.00"), func(p *parts.Part) *string { return &p.Cost }, readMoney),
		},
		live: proposing(c.partIDs, byName),
	}
}

func readQty(s string) (parts.Qty, error) {
	v, err := readNumber(s)
	if err == nil && v == 0 {
		err = errors.New("want more than 0")
	}
	return parts.Qty(v), err
}

func readLead(s string) (units.Estimate, error) {
	if s == "" {
		return units.Estimate{}, nil
	}
	return readEstimate(readNumber)(s)
}

func resourceSheet(b build.Build) sheet[calendar.Resource] {
	c := choicesOf(b)
	return sheet[calendar.Resource]{
		fresh: calendar.Resource{Capacity: 1},
		title: func(r calendar.Resource) string { return orID(r.Name, r.ID) },
		slots: []slot[calendar.Resource]{
			must(text(ask("name", "Name", "what work needs: hands, room, warmth. For example: Inside of the van"),
				func(r *calendar.Resource) *string { return &r.Name })),
			idSlot(c.resourceIDs, func(r *calendar.Resource) *id.Resource { return &r.ID }),
			count(ask("capacity", "How many", "that can be used at once"), func(r *calendar.Resource) *calendar.Capacity { return &r.Capacity }),
			weekSlot(),
			lines(ask("off", "Days off", "a line each: the first and the last day, such as 2026-04-03 2026-04-06, or one day"),
				func(r *calendar.Resource) *[]calendar.Off { return &r.Off }, showOff, readOff),
			lines(ask("on", "Days with other hours", "a line each: day and hours, such as 2026-04-12 10:00-14:00"),
				func(r *calendar.Resource) *[]calendar.On { return &r.On }, showOn, readOn),
		},
		live: proposing(c.resourceIDs, byName),
	}
}

const never = "never"

// weekSlot asks for the hours of the week, where no hours at all is another thing than
// being there day and night.
func weekSlot() slot[calendar.Resource] {
	f := ask("hours", "Hours", "a line each: days and hours, such as mon-fri 08:00-12:00 13:00-17:00. Empty: day and night")
	f.Asks = widget.Lines
	return slot[calendar.Resource]{
		field: f,
		get: func(r *calendar.Resource) string {
			switch {
			case r.Hours == nil:
				return ""
			case len(showWeek(*r.Hours)) == 0:
				return never
			}
			return strings.Join(showWeek(*r.Hours), "\n")
		},
		set: func(r *calendar.Resource, s string) (err error) {
			r.Hours, err = readWeek(s)
			return err
		},
	}
}

func readWeek(s string) (*calendar.Week, error) {
	var w calendar.Week
	switch s {
	case "":
		return nil, nil
	case never:
		return &w, nil
	}
	for _, line := range strings.Split(s, "\n") {
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		from, to, err := readDays(words[0])
		if err != nil {
			return nil, err
		}
		spans, err := readSpans(words[1:])
		if err != nil {
			return nil, err
		}
		for d := from; d <= to; d++ {
			if len(w[d]) > 0 {
				return nil, fmt.Errorf("%s has hours in two lines", calendar.DayNames[d])
			}
			w[d] = spans
		}
	}
	return &w, nil
}

func optionSheet(b build.Build) sheet[build.Option] {
	c := choicesOf(b)
	return sheet[build.Option]{
		title: func(o build.Option) string { return orID(o.Name, o.ID) },
		slots: []slot[build.Option]{
			must(text(ask("choice", "Choice", "the question of design that it answers, for example: kickboard fixing"),
				func(o *build.Option) *string { return &o.Choice })),
			must(text(ask("name", "Name", "the answer, for example: Captive screws"), func(o *build.Option) *string { return &o.Name })),
			idSlot(c.optIDs, func(o *build.Option) *id.Option { return &o.ID }),
		},
		final: func(o *build.Option, _ widget.Form) error {
			settleChosen(b, o)
			return nil
		},
		live: proposing(c.optIDs, byName),
	}
}

// settleChosen marks the first option of a choice as chosen, and one that comes to others as
// not chosen: of each choice exactly one is. Another is chosen where designs are compared.
func settleChosen(b build.Build, o *build.Option) {
	o.Chosen = true
	for _, other := range b.Options.Rows {
		if other.ID != o.ID && other.Choice == o.Choice {
			o.Chosen = o.Chosen && !other.Chosen
		}
	}
}

func stockSheet(b build.Build) sheet[cutlist.Stock] {
	c := choicesOf(b)
	length := readQuantity(units.Length, "3.2 mm or 1/8 in")
	return sheet[cutlist.Stock]{
		title: func(s cutlist.Stock) string { return orID(s.Name, s.ID) },
		slots: []slot[cutlist.Stock]{
			must(text(ask("name", "Name", "bars of one kind, for example: 40 × 40 T-slot bar"), func(s *cutlist.Stock) *string { return &s.Name })),
			idSlot(c.stIDs, func(s *cutlist.Stock) *id.Stock { return &s.ID }),
			checked(ask("kerf", "Kerf", "what the saw takes, with its unit: 2.4 mm"), func(s *cutlist.Stock) *string { return &s.Kerf }, length),
			checked(ask("trim", "Trim", "taken off the end of each bar, with its unit: 5 mm"), func(s *cutlist.Stock) *string { return &s.Trim }, length),
			amount(ask("mass", "Mass", "in kg a metre"), func(s *cutlist.Stock) *float64 { return &s.KgPerM }, readNumber),
			lines(ask("lengths", "Lengths", "a line each: length; how many you have; cost. For example: 3000 mm; 4; 41.00. "+
				"How many "+anyNumber+": as many as wanted can be bought"),
				func(s *cutlist.Stock) *[]cutlist.Length { return &s.Lengths }, showLength, readLength),
		},
		live: proposing(c.stIDs, byName),
	}
}

func cutSheet(b build.Build) sheet[cutlist.Cut] {
	c := choicesOf(b)
	ids, _ := names(b.Cuts.Rows, func(c cutlist.Cut) (id.Cut, string) { return c.ID, c.Note })
	return sheet[cutlist.Cut]{
		fresh: cutlist.Cut{Qty: 1},
		title: func(c cutlist.Cut) string { return string(c.ID) },
		slots: []slot[cutlist.Cut]{
			must(pick(ask("stock", "Cut from", "the bar stock"), c.stocks, func(c *cutlist.Cut) *id.Stock { return &c.Stock })),
			must(checked(ask("length", "Length", "with its unit: 589 mm or 23 3/16 in"), func(c *cutlist.Cut) *string { return &c.Length },
				readQuantity(units.Length, "589 mm or 23 3/16 in"))),
			count(ask("qty", "How many", "pieces"), func(c *cutlist.Cut) *cutlist.Qty { return &c.Qty }),
			pick(ask("task", "For task", "the task that needs them"), c.tasks, func(c *cutlist.Cut) *id.Task { return &c.Task }),
			text(ask("note", "Note", "for example: left upright"), func(c *cutlist.Cut) *string { return &c.Note }),
			idSlot(ids, func(c *cutlist.Cut) *id.Cut { return &c.ID }),
		},
		live: proposing(ids, func(f widget.Form) string {
			if note := f.Value("note"); id.Propose(note) != "" {
				return note
			}
			return strings.TrimSpace(f.Value("stock") + " " + f.Value("length"))
		}),
	}
}
