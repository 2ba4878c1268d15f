package build

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/units"
)

// Check gives everything that is wrong with b, in the order of the build file:
// bad and double ids, ids that name nothing, loops of must edges, places that can be
// entered from nowhere, blocks of itself, quantities without a known unit, numbers out of
// range, choices without exactly one chosen option.
func (b Build) Check() Faults {
	c := &checker{b: b, ids: namesOf(b)}
	c.head()
	each(c, "resources", b.Resources.Rows, c.resource)
	each(c, "places", b.Places.Rows, c.place)
	c.entrances()
	each(c, "items", b.Items.Rows, c.item)
	each(c, "parts", b.Parts.Rows, c.part)
	each(c, "tasks", b.Tasks.Rows, c.task)
	each(c, "edges", b.Edges.Rows, c.edge)
	c.loops()
	each(c, "options", b.Options.Rows, c.option)
	c.choices()
	each(c, "stocks", b.Stocks.Rows, c.stock)
	each(c, "cuts", b.Cuts.Rows, c.cut)
	each(c, "days", b.Days.Rows, c.entry)
	each(c, "snags", b.Snags.Rows, c.snag)
	if b.Clock != nil {
		c.named("clock.task", "task", string(b.Clock.Task), c.ids.tasks)
	}
	return c.faults
}

// each checks the records of a list.
func each[T any](c *checker, list string, rows []T, check func(path string, row T)) {
	for i, row := range rows {
		path := list + "[" + strconv.Itoa(i) + "]"
		c.texts(path, row)
		check(path, row)
	}
}

// names says which ids a build has, and where each stands.
type names struct {
	resources, places, items, parts, tasks, options, stocks, cuts, snags map[string]int
}

func namesOf(b Build) names {
	n := names{
		resources: rowNames(b.Resources.Rows, func(r calendar.Resource) string { return string(r.ID) }),
		places:    rowNames(b.Places.Rows, func(p access.Place) string { return string(p.ID) }),
		items:     rowNames(b.Items.Rows, func(i access.Item) string { return string(i.ID) }),
		parts:     rowNames(b.Parts.Rows, partName),
		tasks:     rowNames(b.Tasks.Rows, taskName),
		options:   rowNames(b.Options.Rows, func(o Option) string { return string(o.ID) }),
		stocks:    rowNames(b.Stocks.Rows, stockName),
		cuts:      rowNames(b.Cuts.Rows, cutName),
		snags:     rowNames(b.Snags.Rows, func(s daybook.Snag) string { return string(s.ID) }),
	}
	if b.Resources.Len() == 0 {
		n.resources[string(calendar.DefaultBuilder().ID)] = -1
	}
	return n
}

// rowNames gives the first place of each name in a list.
func rowNames[T any](rows []T, name func(T) string) map[string]int {
	at := make(map[string]int, len(rows))
	for i, r := range rows {
		if _, twice := at[name(r)]; !twice {
			at[name(r)] = i
		}
	}
	return at
}

// checker gathers the faults of a build.
type checker struct {
	b      Build
	ids    names
	faults Faults
}

// own checks the id of a record at path, whose name stands first at the given place.
func (c *checker) own(path, kind, name string, first int) {
	switch {
	case name == "":
		c.faults.Add(path, "%s without an id", kind)
	case !id.Valid(name):
		c.faults.Add(path+".id", "%q is no id: want 1 to 40 of a-z, 0-9 and hyphens, not beginning with a hyphen", name)
	case !strings.HasSuffix(path, fmt.Sprintf("[%d]", first)):
		c.faults.Add(path+".id", "there is a %s %q already", kind, name)
	}
}

// named checks that a name given at path is one of a kind; the empty name is none.
func (c *checker) named(path, kind, name string, known map[string]int) {
	if _, ok := known[name]; name != "" && !ok {
		c.faults.addNames(path, "no %s %q", kind, name)
	}
}

func checkNames[S ~string](c *checker, path, kind string, list []S, known map[string]int) {
	for i, name := range list {
		at := fmt.Sprintf("%s[%d]", path, i)
		if name == "" {
			c.faults.Add(at, "no %s without a name", kind)
			continue
		}
		c.named(at, kind, string(name), known)
	}
}

// The most that a number may be. More is a slip of the keyboard, and the engines, which
// count whole minutes, could not count that far.
const (
	mostHours = 1e5 // more than eleven years, day and night
	mostDays  = 1e5
	mostMin   = 1e6
	mostMm    = 1e6
	mostKg    = 1e6
	mostCount = 1e6
)

// within checks a number.
func (c *checker) within(path string, have, least, most float64) {
	switch {
	case math.IsNaN(have) || have < least:
		c.faults.Add(path, "%v is too little, want at least %v", have, least)
	case have > most:
		c.faults.Add(path, "%v is too much, want at most %.0f", have, most)
	}
}

func (c *checker) estimate(path string, e units.Estimate, most float64) {
	switch {
	case !e.Valid():
		c.faults.Add(path, "%v", units.ErrEstimate)
	default:
		c.within(path, e.High, 0, most)
	}
}

// length checks a typed length, which may be missing; it may be nought only where that
// makes sense, and never less.
func (c *checker) length(path, typed string, nought bool) {
	q, ok := c.quantity(path, typed, units.Length, "length, for example 3.2 mm or 23 3/16 in")
	if !ok {
		return
	}
	mm, err := q.In("mm")
	switch {
	case err != nil:
		c.faults.Add(path, "%v", err)
	case mm.Sign() < 0 || mm.Sign() == 0 && !nought:
		c.faults.Add(path, "%q is too little for a length", typed)
	case mm.Cmp(big.NewRat(mostMm, 1)) > 0:
		c.faults.Add(path, "%q is too much, want at most 1 km", typed)
	}
}

// quantity checks a typed quantity, which may be missing, against what it must measure. It
// gives one that is there and good.
func (c *checker) quantity(path, typed string, dim units.Dimension, want string) (q units.Quantity, ok bool) {
	if typed == "" {
		return q, false
	}
	q, err := units.ParseQuantity(typed)
	switch {
	case err != nil:
		c.faults.Add(path, "%v", err)
	case q.Dimension() != dim:
		c.faults.Add(path, "%q is no %s", typed, want)
	default:
		return q, true
	}
	return q, false
}

var decimal = regexp.MustCompile(`^\d{1,12}(\.\d{1,4})?$`)

func (c *checker) money(path, typed string) {
	if typed != "" && !decimal.MatchString(typed) {
		c.faults.Add(path, "%q is no amount, want a decimal number such as 129.00", typed)
	}
}

func (c *checker) box(path string, b *access.Box) {
	if b == nil {
		return
	}
	for axis, name := range []string{"x", "y", "z"} {
		c.finite(path, b[axis])
		c.finite(path, b[axis+3])
		if b[axis] > b[axis+3] {
			c.faults.Add(path, "%s runs from %v back to %v", name, b[axis], b[axis+3])
		}
	}
}

func (c *checker) finite(path string, v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e6 {
		c.faults.Add(path, "%v is no position in millimetres", v)
	}
}

func (c *checker) head() {
	h := c.b.Head
	if !cleanText(h.Name, false) {
		c.faults.Add("name", "has control characters or broken UTF-8 in it")
	}
	if h.Units != "" && h.Units != "metric" && h.Units != "imperial" {
		c.faults.Add("units", "%q is neither metric nor imperial", h.Units)
	}
	v := h.Vehicle
	if v == nil {
		return
	}
	c.within("vehicle.wheelbase_mm", v.WheelbaseMm, 0, mostMm)
	c.box("vehicle.inside_mm", v.InsideMm)
	if v.EmptyKg != nil {
		c.within("vehicle.empty_kg.front", v.EmptyKg.Front, 0, mostKg)
		c.within("vehicle.empty_kg.rear", v.EmptyKg.Rear, 0, mostKg)
	}
	if l := v.LimitsKg; l != nil {
		c.within("vehicle.limits_kg.total", l.Total, 0, mostKg)
		c.within("vehicle.limits_kg.front", l.Front, 0, mostKg)
		c.within("vehicle.limits_kg.rear", l.Rear, 0, mostKg)
	}
}

func (c *checker) resource(path string, r calendar.Resource) {
	c.own(path, "resource", string(r.ID), c.ids.resources[string(r.ID)])
	c.within(path+".capacity", float64(r.Capacity), 1, mostCount)
	for i, o := range r.Off {
		if o.To < o.From {
			c.faults.Add(fmt.Sprintf("%s.off[%d]", path, i), "runs from %s back to %s", o.From, o.To)
		}
	}
}
