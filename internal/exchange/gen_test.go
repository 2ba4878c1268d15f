package exchange

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// maker draws builds without faults.
type maker struct{ *rapid.T }

func (m maker) some(name string, most int) int { return rapid.IntRange(0, most).Draw(m.T, name) }
func (m maker) coin() bool                     { return rapid.Bool().Draw(m.T, "coin") }

func (m maker) words() string {
	s := rapid.StringOfN(rapid.RuneFrom(nil, unicode.L, unicode.N, unicode.P, unicode.S, unicode.Zs), 0, 12, -1).Draw(m.T, "words")
	return strings.ToValidUTF8(s, "")
}

func (m maker) number() float64 {
	return rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 1e5), rapid.SampledFrom([]float64{0.1, 2.5, 1e-7, 12345.678})).Draw(m.T, "number")
}

func (m maker) one(list ...string) string { return rapid.SampledFrom(list).Draw(m.T, "one") }

func (m maker) estimate() units.Estimate {
	if m.coin() {
		return units.Sure(m.number())
	}
	v := []float64{m.number(), m.number(), m.number()}
	slices.Sort(v)
	return units.Estimate{Low: v[0], Likely: v[1], High: v[2]}
}

func (m maker) minute() units.Instant {
	return units.Instant(rapid.Int64Range(0, 150*365*1440).Draw(m.T, "minute"))
}

func (m maker) when() *units.When {
	switch m.some("when", 2) {
	case 1:
		return &units.When{At: m.minute().Date().Start(), DateOnly: true}
	case 2:
		return &units.When{At: m.minute()}
	}
	return nil
}

// ids gives names with numbers, one and more of them.
func ids[S ~string](m maker, prefix string, most int) []S {
	out := make([]S, m.some(prefix, most))
	for i := range out {
		out[i] = S(fmt.Sprintf("%s-%d", prefix, i))
	}
	return out
}

// pick gives one of a list, or nothing.
func pick[S ~string](m maker, from []S) S {
	if len(from) == 0 || m.coin() {
		return ""
	}
	return rapid.SampledFrom(from).Draw(m.T, "pick")
}

// subset gives some of a list in its order; nil for none.
func subset[S any](m maker, from []S) []S {
	var out []S
	for _, s := range from {
		if m.coin() {
			out = append(out, s)
		}
	}
	return out
}

func mapped[A, B any](list []A, f func(A) B) []B {
	var out []B
	for _, a := range list {
		out = append(out, f(a))
	}
	return out
}

// van holds the names that records may use of one another.
type van struct {
	resources []id.Resource
	places    []id.Place
	items     []id.Item
	parts     []id.Part
	tasks     []id.Task
	options   []id.Option
	stocks    []id.Stock
	cuts      []id.Cut
}

func (m maker) build() build.Build {
	v := van{
		resources: append([]id.Resource{"builder"}, ids[id.Resource](m, "hand", 2)...), places: ids[id.Place](m, "bay", 3),
		items: ids[id.Item](m, "panel", 4), parts: ids[id.Part](m, "p", 3), tasks: ids[id.Task](m, "job", 5),
		options: ids[id.Option](m, "way", 2), stocks: ids[id.Stock](m, "bar", 2), cuts: ids[id.Cut](m, "cut", 3),
	}
	b := build.Build{
		Head:      m.head(),
		Resources: build.ListOf(mapped(v.resources, m.resource)...),
		Places:    build.ListOf(mapped(v.places, func(p id.Place) access.Place { return m.place(p, v) })...),
		Items:     build.ListOf(mapped(v.items, func(i id.Item) access.Item { return m.item(i, v) })...),
		Parts:     build.ListOf(mapped(v.parts, m.part)...),
		Tasks:     build.ListOf(mapped(v.tasks, func(t id.Task) tasks.Task { return m.task(t, v) })...),
		Edges:     build.ListOf(m.edges(v)...),
		Options: build.ListOf(mapped(v.options, func(o id.Option) build.Option {
			return build.Option{ID: o, Choice: "how", Name: m.words(), Chosen: o == "way-0"}
		})...),
		Stocks: build.ListOf(mapped(v.stocks, m.stock)...),
	}
	if len(v.stocks) > 0 {
		b.Cuts = build.ListOf(mapped(v.cuts, func(c id.Cut) cutlist.Cut {
			return cutlist.Cut{ID: c, Stock: v.stocks[0], Length: m.length(), Qty: cutlist.Qty(1 + m.some("qty", 3)), Task: pick(m, v.tasks), Note: m.note()}
		})...)
	}
	b.Days = build.ListOf(m.days(b.Tasks.Rows)...)
	return b
}

func (m maker) note() string {
	if m.coin() {
		return m.words() + "\n\t" + m.words()
	}
	return ""
}

func (m maker) length() string { return m.one("3 mm", "23 3/16 in", "5 cm") }

func (m maker) head() build.Head {
	h := build.Head{Name: m.words(), Units: m.one("", "metric", "imperial")}
	if m.coin() {
		now := m.minute()
		h.Now = &now
	}
	if m.coin() {
		h.Vehicle = &build.Vehicle{WheelbaseMm: m.number(), InsideMm: m.box(), LimitsKg: &build.Limits{Total: m.number()}}
	}
	if m.coin() && h.Vehicle != nil {
		h.Vehicle.EmptyKg = &build.Axles{Front: m.number(), Rear: m.number()}
	}
	return h
}

func (m maker) box() *access.Box {
	if m.coin() {
		return nil
	}
	return &access.Box{-m.number(), -m.number(), 0, m.number(), m.number(), m.number()}
}

func (m maker) spans() []calendar.Span {
	from := m.some("from", 20*60)
	return []calendar.Span{{From: from, To: from + 1 + m.some("long", 180)}}
}

func (m maker) resource(r id.Resource) calendar.Resource {
	out := calendar.Resource{ID: r, Name: m.words(), Capacity: calendar.Capacity(1 + m.some("capacity", 2))}
	if m.coin() {
		out.Hours = &calendar.Week{}
		out.Hours[m.some("day", 6)] = m.spans()
	}
	if m.coin() {
		day := m.minute().Date()
		out.Off = []calendar.Off{{From: day, To: day + 3}}
		out.On = []calendar.On{{Date: day, Hours: []calendar.Span{}}, {Date: day + 1, Hours: m.spans()}}
	}
	return out
}

func (m maker) place(p id.Place, v van) access.Place {
	out := access.Place{ID: p, Name: m.words(), Posture: m.one("", "kneel"), Box: m.box(), ClosedBy: subset(m, v.items)}
	if m.coin() {
		out.Ways = []access.Way{{Through: subset(m, v.items), EnterMin: m.number(), Note: m.note()}, {From: pick(m, v.places)}}
	}
	return out
}

func (m maker) item(i id.Item, v van) access.Item {
	others := slices.DeleteFunc(slices.Clone(v.items), func(o id.Item) bool { return o == i })
	out := access.Item{ID: i, Name: m.words(), Place: pick(m, v.places), Covers: subset(m, others),
		Blocks: mapped(subset(m, others), func(o id.Item) string { return string(o) }),
		MassKg: m.number(), Label: m.words(), RunsHot: m.coin(), Fitted: m.coin(), Option: pick(m, v.options)}
	if m.coin() {
		out.Opening = &access.Opening{How: m.words(), OpenMin: m.number(), RefitMin: m.number(), Persons: access.Persons(1 + m.some("persons", 1)),
			Tools: subset(m, []string{"T25 driver", `10 mm "spanner"; long`, " x ", "a,b"}), SingleUse: m.coin()}
	}
	if m.coin() && out.Opening != nil {
		out.Opening.Fasteners = []access.Fastener{{What: m.words(), Count: 2, Torque: m.one("", "9 N·m", "80 lbf·in")}, {What: "pin", Count: 1}}
	}
	if m.coin() {
		out.At = &access.Point{m.number(), -m.number(), m.number()}
		out.Service = []access.Service{{What: m.words(), PerYear: m.number(), Minutes: m.number()}}
	}
	return out
}

func (m maker) part(p id.Part) parts.Part {
	return parts.Part{ID: p, Name: m.words(), Qty: parts.Qty(m.number() + 0.5), LeadDays: m.estimate(),
		Ordered: m.when(), Due: m.when(), Arrived: m.when(), Cost: m.one("", "129.00", "7")}
}

func (m maker) task(t id.Task, v van) tasks.Task {
	out := tasks.Task{ID: t, Name: m.words(), Trade: m.words(), Hours: m.estimate(), Place: pick(m, v.places),
		Fits: subset(m, v.items), Reaches: subset(m, v.items), Visits: tasks.Visits(1 + m.some("visits", 3)), Uses: tasks.Uses{},
		Parts: subset(m, v.parts), NotBefore: m.when(), State: tasks.State(m.one("todo", "started", "finished")),
		SpentH: m.number(), FinishedAt: m.when(), Option: pick(m, v.options)}
	for _, r := range subset(m, v.resources) {
		out.Uses[r] = 1 + m.some("units", 1)
	}
	if m.coin() {
		left := m.number()
		out.LeftH = &left
	}
	if m.coin() {
		out.Cure = &tasks.Cure{Hours: m.number(), While: pick(m, v.resources), Holds: subset(m, v.resources)}
	}
	if m.coin() {
		out.Checks = []tasks.Check{{ID: "tight", Kind: "torque", What: m.words(), Want: "12 N·m ±10 %", BeforeCover: m.coin()}, {ID: "seen", Kind: "photo"}}
	}
	return out
}

// edges all point forward, so that there are no loops.
func (m maker) edges(v van) []deps.Edge {
	var out []deps.Edge
	for i := range v.tasks {
		for j := range i {
			if !m.coin() {
				continue
			}
			e := deps.Edge{Before: v.tasks[j], After: v.tasks[i], Kind: deps.Kind(m.one("must", "should")), ReworkH: m.number(), Why: m.words()}
			if m.coin() {
				lag := m.number()
				e.LagH = &lag
			}
			out = append(out, e)
		}
	}
	return out
}

func (m maker) stock(s id.Stock) cutlist.Stock {
	have := m.some("have", 5)
	return cutlist.Stock{ID: s, Name: m.words(), Kerf: m.one("", "2.4 mm"), Trim: m.one("", "1/8 in"), KgPerM: m.number(),
		Lengths: []cutlist.Length{{Length: m.length(), Have: &have, Cost: "1.5"}, {Length: m.length()}}}
}

func (m maker) days(all []tasks.Task) []daybook.Entry {
	var out []daybook.Entry
	for _, t := range all {
		e := daybook.Entry{At: m.minute(), Task: t.ID, Minutes: m.some("minutes", 600), Visits: m.some("visits", 5), Note: m.note(),
			Photos: subset(m, []string{"a.jpg", "b ü.jpg"}), Finished: m.coin()}
		if len(t.Checks) > 0 {
			e.Readings = []daybook.Reading{{Check: "tight", Value: "106 lbf·in"}}
		}
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(a, b daybook.Entry) int { return int(a.At - b.At) })
	return out
}
