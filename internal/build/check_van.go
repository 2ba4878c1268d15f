package build

import (
	"fmt"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/units"
)

func (c *checker) place(path string, p access.Place) {
	c.own(path, "place", string(p.ID), c.ids.places[string(p.ID)])
	c.box(path+".box_mm", p.Box)
	checkNames(c, path+".closed_by", "item", p.ClosedBy, c.ids.items)
	for i, w := range p.Ways {
		at := fmt.Sprintf("%s.ways[%d]", path, i)
		c.named(at+".from", "place", string(w.From), c.ids.places)
		checkNames(c, at+".through", "item", w.Through, c.ids.items)
		c.within(at+".enter_min", w.EnterMin, 0, mostMin)
	}
}

// entrances finds the places that no chain of ways leads to from outside, whatever is
// open and whichever designs are chosen.
func (c *checker) entrances() {
	entered := map[string]bool{"": true}
	for found := true; found; {
		found = false
		for _, p := range c.b.Places.Rows {
			if !entered[string(p.ID)] && c.leadsIn(p, entered) {
				entered[string(p.ID)], found = true, true
			}
		}
	}
	for i, p := range c.b.Places.Rows {
		if !entered[string(p.ID)] {
			c.faults.Add(fmt.Sprintf("places[%d].ways", i), "place %q cannot be entered: no way leads there from outside", p.ID)
		}
	}
}

// leadsIn reports whether p can be entered from the places entered so far. A way from a
// place that is not there is a fault of its own and counts as leading in.
func (c *checker) leadsIn(p access.Place, entered map[string]bool) bool {
	for _, w := range p.Ways {
		_, known := c.ids.places[string(w.From)]
		if entered[string(w.From)] || !known {
			return true
		}
	}
	return len(p.Ways) == 0
}

func (c *checker) item(path string, i access.Item) {
	c.own(path, "item", string(i.ID), c.ids.items[string(i.ID)])
	c.named(path+".place", "place", string(i.Place), c.ids.places)
	checkNames(c, path+".covers", "item", i.Covers, c.ids.items)
	for k, cover := range i.Covers {
		if cover == i.ID {
			c.faults.Add(fmt.Sprintf("%s.covers[%d]", path, k), "item %q cannot cover itself", i.ID)
		}
	}
	if i.Opening != nil {
		c.opening(path+".opening", *i.Opening)
	}
	c.blocks(path, i)
	c.within(path+".mass_kg", i.MassKg, 0, mostKg)
	if i.At != nil {
		for _, v := range i.At {
			c.finite(path+".at_mm", v)
		}
	}
	for k, s := range i.Service {
		c.within(fmt.Sprintf("%s.service[%d].per_year", path, k), s.PerYear, 0, mostCount)
		c.within(fmt.Sprintf("%s.service[%d].minutes", path, k), s.Minutes, 0, mostMin)
	}
	c.named(path+".option", "option", string(i.Option), c.ids.options)
}

func (c *checker) opening(path string, o access.Opening) {
	c.within(path+".open_min", o.OpenMin, 0, mostMin)
	c.within(path+".refit_min", o.RefitMin, 0, mostMin)
	c.within(path+".persons", float64(o.Persons), 1, mostCount)
	for i, f := range o.Fasteners {
		at := fmt.Sprintf("%s.fasteners[%d]", path, i)
		c.within(at+".count", float64(f.Count), 1, mostCount)
		c.quantity(at+".torque", f.Torque, units.Torque, "torque, for example 9 N·m or 80 lbf·in")
	}
}

func (c *checker) blocks(path string, i access.Item) {
	for k, name := range i.Blocks {
		at := fmt.Sprintf("%s.blocks[%d]", path, k)
		_, place := c.ids.places[name]
		_, item := c.ids.items[name]
		switch {
		case name == string(i.ID) && !place:
			c.faults.Add(at, "item %q cannot block itself", i.ID)
		case name == string(i.Place) && name != "":
			c.faults.Add(at, "item %q cannot block its own place %q", i.ID, i.Place)
		case !place && !item:
			c.faults.addNames(at, "no place or item %q", name)
		}
	}
}
