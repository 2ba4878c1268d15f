package exchange

import (
	"slices"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// sheet is what a kind of record looks like as a table.
type sheet[T any] struct {
	kind    build.Kind
	plural  string // the list in the build file
	list    func(*build.Build) *build.List[T]
	columns []column[T] // the first is id
	groups  []group
	must    string // the path of a field that a new record must have; empty: none
}

// group is three columns that are given together, or not at all. Alone, if any, is one
// column that stands for the three.
type group struct {
	names [3]string
	alone string
}

func (s sheet[T]) names() []string {
	var out []string
	for _, c := range s.columns {
		out = append(out, c.name)
	}
	return out
}

// columnFor gives the first column of a header that a path below a record belongs to.
func (s sheet[T]) columnFor(path string, header []string) (string, bool) {
	for _, c := range s.columns {
		if slices.Contains(header, c.name) && slices.Contains(parents(path), c.path) {
			return c.name, true
		}
	}
	return "", false
}

// taskSheet leaves out the checks of a task: they stay as they are.
func taskSheet() sheet[tasks.Task] {
	type task = tasks.Task
	return sheet[task]{
		kind: build.TaskKind, plural: "tasks", must: "hours",
		list:   func(b *build.Build) *build.List[task] { return &b.Tasks },
		groups: []group{{[3]string{"low_h", "likely_h", "high_h"}, "hours"}},
		columns: append([]column[task]{
			nameColumn("id", here(func(t *task) *string { return (*string)(&t.ID) })),
			textColumn("name", here(func(t *task) *string { return &t.Name })),
			textColumn("trade", here(func(t *task) *string { return &t.Trade })),
		}, slices.Concat(
			estimateColumns("hours", [3]string{"low_h", "likely_h", "high_h"}, func(t *task) *units.Estimate { return &t.Hours }),
			taskPlaceColumns(), taskTimeColumns(),
		)...),
	}
}

func taskPlaceColumns() []column[tasks.Task] {
	type task = tasks.Task
	return []column[task]{
		nameColumn("place", here(func(t *task) *string { return (*string)(&t.Place) })),
		namesColumn("fits", here(func(t *task) *[]id.Item { return &t.Fits })),
		namesColumn("reaches", here(func(t *task) *[]id.Item { return &t.Reaches })),
		wholeColumn("visits", here(func(t *task) *tasks.Visits { return &t.Visits })),
		usesColumn("uses", here(func(t *task) *tasks.Uses { return &t.Uses })),
		cureHoursColumn(),
		cureColumn(nameColumn("cure_while", cureField(func(c *tasks.Cure) *id.Resource { return &c.While }))).under("cure.while"),
		cureColumn(namesColumn("cure_holds", cureField(func(c *tasks.Cure) *[]id.Resource { return &c.Holds }))).under("cure.holds"),
		namesColumn("parts", here(func(t *task) *[]id.Part { return &t.Parts })),
	}
}

func taskTimeColumns() []column[tasks.Task] {
	type task = tasks.Task
	return []column[task]{
		whenColumn("not_before", here(func(t *task) **units.When { return &t.NotBefore })),
		whenColumn("not_after", here(func(t *task) **units.When { return &t.NotAfter })),
		nameColumn("state", here(func(t *task) *tasks.State { return &t.State })),
		numberColumn("spent_h", here(func(t *task) *float64 { return &t.SpentH })),
		orNoneColumn("left_h", here(func(t *task) **float64 { return &t.LeftH })),
		whenColumn("finished_at", here(func(t *task) **units.When { return &t.FinishedAt })),
		nameColumn("option", here(func(t *task) *string { return (*string)(&t.Option) })),
	}
}

// cureField is the way to a field of the cure of a task. It never writes to a cure that
// another build may share.
func cureField[V any](field func(*tasks.Cure) *V) at[tasks.Task, V] {
	return func(t *tasks.Task, make bool) *V {
		switch {
		case make:
			own := tasks.Cure{}
			if t.Cure != nil {
				own = *t.Cure
			}
			t.Cure = &own
		case t.Cure == nil:
			return nil
		}
		return field(t.Cure)
	}
}

// cureHoursColumn makes a cure, and "-" takes it away.
func cureHoursColumn() column[tasks.Task] {
	c := numberColumn("cure_hours", cureField(func(c *tasks.Cure) *float64 { return &c.Hours })).under("cure.hours")
	number := c.set
	c.set = func(t *tasks.Task, v cell) string {
		if v.text == nothing {
			t.Cure = nil
			return ""
		}
		return number(t, v)
	}
	return c
}

// cureColumn refuses to say more of a cure that there is not.
func cureColumn(c column[tasks.Task]) column[tasks.Task] {
	more := c.set
	c.set = func(t *tasks.Task, v cell) string {
		switch {
		case t.Cure != nil:
			return more(t, v)
		case v.text == nothing:
			return ""
		}
		return "there is no cure: give its cure_hours"
	}
	return c
}

// estimateColumns are three columns, and one that stands for the three.
func estimateColumns[T any](name string, three [3]string, field func(*T) *units.Estimate) []column[T] {
	show := func(c column[T]) column[T] {
		number := c.get
		c.get = func(t *T) string { // nothing is said of what a file may leave out
			if *field(t) == (units.Estimate{}) && name != "hours" {
				return ""
			}
			return number(t)
		}
		return c.under(name)
	}
	alone := columnOf(name, here(field), func(units.Estimate) string { return "" }, func(c cell) (units.Estimate, string) {
		v, why := c.number()
		return units.Sure(v), why
	})
	alone.short = true
	return []column[T]{
		alone,
		show(numberColumn(three[0], here(func(t *T) *float64 { return &field(t).Low }))),
		show(numberColumn(three[1], here(func(t *T) *float64 { return &field(t).Likely }))),
		show(numberColumn(three[2], here(func(t *T) *float64 { return &field(t).High }))),
	}
}

// itemSheet leaves out the fasteners and the service of an item: they stay as they are.
func itemSheet() sheet[access.Item] {
	type item = access.Item
	return sheet[item]{
		kind: build.ItemKind, plural: "items",
		list:   func(b *build.Build) *build.List[item] { return &b.Items },
		groups: []group{{names: [3]string{"at_x_mm", "at_y_mm", "at_z_mm"}}},
		columns: slices.Concat([]column[item]{
			nameColumn("id", here(func(i *item) *string { return (*string)(&i.ID) })),
			textColumn("name", here(func(i *item) *string { return &i.Name })),
			nameColumn("place", here(func(i *item) *string { return (*string)(&i.Place) })),
			namesColumn("covers", here(func(i *item) *[]id.Item { return &i.Covers })),
		}, openingColumns(), []column[item]{
			namesColumn("blocks", here(func(i *item) *[]string { return &i.Blocks })),
			numberColumn("mass_kg", here(func(i *item) *float64 { return &i.MassKg })),
			pointColumn("at_x_mm", 0), pointColumn("at_y_mm", 1), pointColumn("at_z_mm", 2),
			textColumn("label", here(func(i *item) *string { return &i.Label })),
			yesColumn("runs_hot", here(func(i *item) *bool { return &i.RunsHot })),
			yesColumn("fitted", here(func(i *item) *bool { return &i.Fitted })),
			nameColumn("option", here(func(i *item) *string { return (*string)(&i.Option) })),
		}),
	}
}

func openingColumns() []column[access.Item] {
	tools := columnOf("opening_tools", openingField(func(o *access.Opening) *[]string { return &o.Tools }), joined, cell.phrases)
	all := []column[access.Item]{
		textColumn("opening_how", openingField(func(o *access.Opening) *string { return &o.How })),
		numberColumn("opening_open_min", openingField(func(o *access.Opening) *float64 { return &o.OpenMin })),
		numberColumn("opening_refit_min", openingField(func(o *access.Opening) *float64 { return &o.RefitMin })),
		wholeColumn("opening_persons", openingField(func(o *access.Opening) *access.Persons { return &o.Persons })),
		tools,
		yesColumn("opening_single_use", openingField(func(o *access.Opening) *bool { return &o.SingleUse })),
	}
	for i, c := range all {
		all[i] = c.under("opening." + strings.TrimPrefix(c.name, "opening_"))
	}
	return all
}

// openingField is the way to a field of the opening of an item. It never writes to an
// opening that another build may share.
func openingField[V any](field func(*access.Opening) *V) at[access.Item, V] {
	return func(i *access.Item, make bool) *V {
		switch {
		case make && i.Opening == nil:
			i.Opening = &access.Opening{Persons: 1}
		case make:
			own := *i.Opening
			i.Opening = &own
		case i.Opening == nil:
			return nil
		}
		return field(i.Opening)
	}
}

// pointColumn is one of the three numbers of a position; "-" takes the position away.
func pointColumn(name string, axis int) column[access.Item] {
	return column[access.Item]{
		name: name, path: "at_mm",
		get: func(i *access.Item) string {
			if i.At == nil {
				return ""
			}
			return written(i.At[axis])
		},
		set: func(i *access.Item, c cell) string {
			if c.text == nothing {
				i.At = nil
				return ""
			}
			v, why := c.number()
			own := access.Point{}
			if i.At != nil {
				own = *i.At
			}
			own[axis] = v
			i.At = &own
			return why
		},
	}
}

func partSheet() sheet[parts.Part] {
	type part = parts.Part
	three := [3]string{"lead_low_days", "lead_likely_days", "lead_high_days"}
	return sheet[part]{
		kind: build.PartKind, plural: "parts",
		list:   func(b *build.Build) *build.List[part] { return &b.Parts },
		groups: []group{{three, "lead_days"}},
		columns: slices.Concat([]column[part]{
			nameColumn("id", here(func(p *part) *string { return (*string)(&p.ID) })),
			textColumn("name", here(func(p *part) *string { return &p.Name })),
			numberColumn("qty", here(func(p *part) *parts.Qty { return &p.Qty })),
		}, estimateColumns("lead_days", three, func(p *part) *units.Estimate { return &p.LeadDays }), []column[part]{
			whenColumn("ordered", here(func(p *part) **units.When { return &p.Ordered })),
			whenColumn("due", here(func(p *part) **units.When { return &p.Due })),
			whenColumn("arrived", here(func(p *part) **units.When { return &p.Arrived })),
			columnOf("cost", here(func(p *part) *string { return &p.Cost }), func(v string) string { return v }, costOf),
		}),
	}
}

// costOf keeps an amount as typed, but for a decimal comma.
func costOf(c cell) (string, string) {
	if c.text == nothing {
		return "", ""
	}
	return c.point(), textFlaw(c.text, false)
}
