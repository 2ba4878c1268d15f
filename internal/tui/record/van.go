package record

import (
	"errors"
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

const boxHint = "six numbers in mm: x y z of one corner, then of the other; x behind the front axle," +
	" y right of the middle (left is below 0), z above the load floor; ctrl+o sets it on the drawing"

func placeSheet(b build.Build) sheet[access.Place] {
	c := choicesOf(b)
	ways := lines(ask("ways", "Ways in", "a line each: from; through; minutes; note."+
		" For example: wader-locker; locker-back; 2. From "+outside+" where nothing comes first"),
		func(p *access.Place) *[]access.Way { return &p.Ways }, showWay, readWay(c))
	ways.field.From = slices.Concat(c.places, c.items)
	return sheet[access.Place]{
		title: access.Place.Title,
		slots: []slot[access.Place]{
			must(text(ask("name", "Name", "a part of the van you are in or reach into, for example: Tank bay"),
				func(p *access.Place) *string { return &p.Name })),
			idSlot(c.placeIDs, func(p *access.Place) *id.Place { return &p.ID }),
			text(ask("posture", "Posture", "how you are there: stand, kneel, crawl, lie, reach in"), func(p *access.Place) *string { return &p.Posture }),
			perhaps(ask("box", "Box", boxHint), func(p *access.Place) **access.Box { return &p.Box }, showBox, readBox),
			picks(ask("closed_by", "Closed by", "until one of these is fitted it is open floor"), c.items,
				func(p *access.Place) *[]id.Item { return &p.ClosedBy }),
			ways,
		},
		live: proposing(c.placeIDs, byName),
	}
}

// waySheet is the form of one way into a place.
func waySheet(b build.Build, title string, index int) sheet[access.Place] {
	c := choicesOf(b)
	return sheet[access.Place]{
		title: func(p access.Place) string { return p.Title() + ", " + title },
		slots: []slot[access.Place]{
			pick(ask("from", "From", "the place you are in first; none: from outside"), c.places,
				func(p *access.Place) *id.Place { return &way(p, index).From }),
			picks(ask("through", "Through", "items that must be open on this way"), c.items,
				func(p *access.Place) *[]id.Item { return &way(p, index).Through }),
			amount(ask("enter_min", "Minutes", "to get in, each time"), func(p *access.Place) *float64 { return &way(p, index).EnterMin }, readMinutes),
			text(ask("note", "Note", "what to mind"), func(p *access.Place) *string { return &way(p, index).Note }),
		},
		final: func(p *access.Place, _ widget.Form) error {
			if way(p, index).From == p.ID {
				return errors.New("a way cannot come from the place it leads into")
			}
			return nil
		},
	}
}

// way gives a way of p to be changed, in a list of its own.
func way(p *access.Place, index int) *access.Way {
	p.Ways = slices.Clone(p.Ways)
	return &p.Ways[index]
}

func itemSheet(b build.Build) sheet[access.Item] {
	c := choicesOf(b)
	return sheet[access.Item]{
		title: access.Item.Title,
		slots: slices.Concat(itemPlace(c), itemOpening(), itemRest(c)),
		final: finalItem,
		live:  liveItem(proposing(c.itemIDs, byName)),
	}
}

// itemPlace asks what an item is and where.
func itemPlace(c choices) []slot[access.Item] {
	return []slot[access.Item]{
		must(text(ask("name", "Name", "a thing that is fitted, for example: Lab bench kickboard"), func(i *access.Item) *string { return &i.Name })),
		idSlot(c.itemIDs, func(i *access.Item) *id.Item { return &i.ID }),
		pick(ask("place", "Place", "where you must be to work on it; none: always within reach unless covered"), c.places,
			func(i *access.Item) *id.Place { return &i.Place }),
		picks(ask("covers", "Covered by", "items that must be open first"), c.items, func(i *access.Item) *[]id.Item { return &i.Covers }),
		yes(ask("fitted", "Fitted already", "in the van now, without a task that fits it"), func(i *access.Item) *bool { return &i.Fitted }),
		perhaps(ask("at", "Position", "three numbers in mm: behind the front axle, right of the middle, above the load floor; ctrl+o sets it on the drawing"),
			func(i *access.Item) **access.Point { return &i.At }, showPoint, readPoint),
		amount(ask("mass", "Mass", "in kg"), func(i *access.Item) *float64 { return &i.MassKg }, readNumber),
	}
}

// itemOpening asks how it is opened.
func itemOpening() []slot[access.Item] {
	return []slot[access.Item]{
		opensSlot(),
		text(ask("how", "How", "such as: lift out, unscrew, slide back"), func(i *access.Item) *string { return &opening(i).How }),
		amount(ask("open_min", "Minutes to open", "such as 1.5 or 1h30"), func(i *access.Item) *float64 { return &opening(i).OpenMin }, readMinutes),
		amount(ask("refit_min", "Minutes to refit", "such as 1.5 or 1h30"), func(i *access.Item) *float64 { return &opening(i).RefitMin }, readMinutes),
		count(ask("persons", "Persons", "people it takes"), func(i *access.Item) *access.Persons { return &opening(i).Persons }),
		typed(ask("tools", "Tools", "with semicolons between, such as: T25 driver; step"),
			func(i *access.Item) *[]string { return &opening(i).Tools }, showTools, readTools),
		yes(ask("single_use", "Destroyed by it", "a seal or a glued panel that is new each time"),
			func(i *access.Item) *bool { return &opening(i).SingleUse }),
		lines(ask("fasteners", "Fasteners", "a line each: what; how many; torque. For example: M6×20 button head; 4; 9 N·m"),
			func(i *access.Item) *[]access.Fastener { return &opening(i).Fasteners }, showFastener, readFastener),
	}
}

// itemRest asks for what else is known of it.
func itemRest(c choices) []slot[access.Item] {
	return []slot[access.Item]{
		picks(ask("blocks", "Blocks", "places and items nobody gets at while this is open"), slices.Concat(c.places, c.items),
			func(i *access.Item) *[]string { return &i.Blocks }),
		text(ask("label", "Label", "what is written on it"), func(i *access.Item) *string { return &i.Label }),
		lines(ask("service", "Service", "a line each: job; times a year; minutes. For example: clean the pump strainer; 4; 10"),
			func(i *access.Item) *[]access.Service { return &i.Service }, showService, readService),
		yes(ask("runs_hot", "Runs hot", "so that nothing that minds heat goes beside it"), func(i *access.Item) *bool { return &i.RunsHot }),
		pick(ask("option", "Design option", "only there while this option is chosen; none: always"), c.options,
			func(i *access.Item) *id.Option { return &i.Option }),
	}
}

// opening gives the opening of i to be changed, one of its own.
func opening(i *access.Item) *access.Opening {
	o := access.Opening{Persons: 1}
	if i.Opening != nil {
		o = *i.Opening
	}
	i.Opening = &o
	return &o
}

func opensSlot() slot[access.Item] {
	f := ask("opens", "Can be opened", "no: once fitted it is never opened again")
	f.Asks = widget.YesNo
	return slot[access.Item]{
		field: f,
		get:   func(i *access.Item) string { return yesNo(i.Opening != nil) },
		set: func(i *access.Item, s string) error {
			if i.Opening = nil; s == "yes" {
				opening(i)
			}
			return nil
		},
	}
}

func showTools(tools []string) string { return oneLine(strings.Join(tools, "; ")) }

func readTools(s string) ([]string, error) {
	var out []string
	for _, t := range strings.Split(s, ";") {
		if t = strings.TrimSpace(t); t != "" {
			out = append(out, t)
		}
	}
	return out, nil
}

// finalItem takes the opening away from an item that is not opened.
func finalItem(i *access.Item, f widget.Form) error {
	switch {
	case f.Value("opens") != "yes":
		i.Opening = nil
	case i.Opening == nil:
		opening(i)
	}
	if slices.Contains(i.Covers, i.ID) {
		return errors.New("an item cannot cover itself")
	}
	for _, s := range i.Blocks {
		if s == string(i.ID) || s == string(i.Place) {
			return errors.New("an item cannot block itself or its own place")
		}
	}
	return nil
}

// liveItem takes what is said about the opening to mean that there is one.
func liveItem(next func(widget.Form, bool) widget.Form) func(widget.Form, bool) widget.Form {
	return func(f widget.Form, isNew bool) widget.Form {
		for _, name := range []string{"how", "open_min", "refit_min", "persons", "tools", "single_use", "fasteners"} {
			if f.Touched(name) && !f.Touched("opens") {
				f = f.With("opens", "yes")
			}
		}
		return next(f, isNew)
	}
}
