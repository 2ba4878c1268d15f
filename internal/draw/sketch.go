package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// view says from where the van is looked at.
type view int

const (
	fromAbove view = iota
	fromTheLeft
)

// flat is a box as a view sees it, in millimetres: x to the right, y down.
type flat struct{ x0, y0, x1, y1 float64 }

// far is the largest position that is drawn, in millimetres; what lies further out is
// moved to there.
const far = 1e6

// flatten gives what the view sees of a box; false where a number is none.
func (v view) flatten(b access.Box) (flat, bool) {
	for i, n := range b {
		if math.IsNaN(n) {
			return flat{}, false
		}
		b[i] = max(-far, min(far, n))
	}
	f := flat{b[0], -b[4], b[3], -b[1]}
	if v == fromTheLeft {
		f = flat{b[0], -b[5], b[3], -b[2]}
	}
	return flat{min(f.x0, f.x1), min(f.y0, f.y1), max(f.x0, f.x1), max(f.y0, f.y1)}, true
}

func (v view) point(p access.Point) (flat, bool) {
	return v.flatten(access.Box{p[0], p[1], p[2], p[0], p[1], p[2]})
}

func (f flat) join(o flat) flat {
	return flat{min(f.x0, o.x0), min(f.y0, o.y0), max(f.x1, o.x1), max(f.y1, o.y1)}
}

func (f flat) area() float64 { return (f.x1 - f.x0) * (f.y1 - f.y0) }

func (f flat) middle() flat {
	x, y := (f.x0+f.x1)/2, (f.y0+f.y1)/2
	return flat{x, y, x, y}
}

// shape is a thing to be drawn: a place, or an item at a point.
type shape struct {
	flat
	title    string
	steps    string // numbers of the way in: "2" or "1,4"
	selected bool
	beyond   bool // above or below the load space, which is looked at from above
}

// sketch is a scene as a view sees it, before it has a scale.
type sketch struct {
	view      view
	space     *access.Box // the load space
	inside    *flat       // as seen
	wheelbase float64
	places    []shape // selected first, those beyond last, by area, small ones first
	items     []shape
	lost      []string // what is selected and cannot be drawn
}

func newSketch(s Scene, v view) *sketch {
	k := &sketch{view: v}
	if s.Vehicle != nil {
		if f, ok := v.flatten(deref(s.Vehicle.InsideMm)); ok && s.Vehicle.InsideMm != nil {
			k.space, k.inside = s.Vehicle.InsideMm, &f
		}
		if wb := s.Vehicle.WheelbaseMm; wb > 0 && wb <= far {
			k.wheelbase = wb
		}
	}
	steps, selected := s.steps(), s.selected()
	boxes := map[id.Place]flat{}
	for _, p := range s.Places {
		k.addPlace(p, boxes, steps[Target{Place: p.ID}], selected[Target{Place: p.ID}])
	}
	for _, i := range s.Items {
		k.addItem(i, boxes, steps[Target{Item: i.ID}], selected[Target{Item: i.ID}])
	}
	slices.SortStableFunc(k.places, func(a, b shape) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.area(), b.area()))
	})
	return k
}

func deref(b *access.Box) access.Box {
	if b == nil {
		return access.Box{}
	}
	return *b
}

// rank says who finds room for its name first.
func (s shape) rank() int {
	switch {
	case s.selected:
		return 0
	case s.beyond:
		return 2
	}
	return 1
}

func (s Scene) steps() map[Target]string {
	at := map[Target]string{}
	for _, m := range s.Way {
		if at[m.Target] != "" {
			at[m.Target] += ","
		}
		at[m.Target] += strconv.Itoa(m.Step)
	}
	return at
}

func (s Scene) selected() map[Target]bool {
	on := map[Target]bool{}
	for _, t := range s.Selected {
		on[t] = true
	}
	return on
}

func (k *sketch) addPlace(p access.Place, boxes map[id.Place]flat, steps string, selected bool) {
	f, ok := k.view.flatten(deref(p.Box))
	if p.Box == nil || !ok {
		if selected {
			k.lost = append(k.lost, lostNote(p.Title(), "box (box_mm)"))
		}
		return
	}
	boxes[p.ID] = f
	k.places = append(k.places, shape{f, clean(p.Title()), steps, selected, k.beyond(*p.Box)})
}

// beyond reports whether a box lies on the roof or under the floor of a van seen from
// above: it is then drawn in dashes, so that what is in the van is seen.
func (k *sketch) beyond(b access.Box) bool {
	return k.view == fromAbove && k.space != nil && (b[2] >= k.space[5] || b[5] <= k.space[2])
}

// addItem puts an item where it is, or, where that is not known and it matters, in the
// middle of its place.
func (k *sketch) addItem(i access.Item, boxes map[id.Place]flat, steps string, selected bool) {
	matters := selected || steps != ""
	var f flat
	ok := false
	if i.At != nil {
		f, ok = k.view.point(*i.At)
	} else if box, known := boxes[i.Place]; known && matters {
		f, ok = box.middle(), true
	}
	switch {
	case ok:
		k.items = append(k.items, shape{f, clean(i.Title()), steps, selected, false})
	case selected:
		k.lost = append(k.lost, lostNote(i.Title(), "position (at_mm), nor has its place a box (box_mm)"))
	}
}

func (k *sketch) empty() bool {
	return k.inside == nil && len(k.places) == 0 && len(k.items) == 0
}

// What every van has and no build says: lengths in millimetres, common practice, no source.
const (
	overhang  = 950  // from the front axle to the front
	wheel     = 680  // across a wheel
	underbody = 700  // from the load floor down to the road
	doorFrom  = 100  // from the front of the load space to the sliding door
	doorWide  = 1250 // the sliding door
)

// cab gives the space in front of the load space.
func (k *sketch) cab() flat {
	f := *k.inside
	f.x1, f.x0 = f.x0, min(-overhang, f.x0-overhang)
	if k.view == fromTheLeft {
		f.y0 += (f.y1 - f.y0) / 4 // lower than the load space of a van with a high roof
	}
	return f
}

// wheels gives the wheels as the side view sees them.
func (k *sketch) wheels() []flat {
	if k.wheelbase == 0 || k.inside == nil || k.view != fromTheLeft {
		return nil
	}
	road := k.inside.y1 + underbody
	var out []flat
	for _, x := range []float64{0, k.wheelbase} {
		out = append(out, flat{x - wheel/2, road - wheel, x + wheel/2, road})
	}
	return out
}

// extent gives what the drawing must hold.
func (k *sketch) extent() flat {
	var all []flat
	for _, s := range slices.Concat(k.places, k.items) {
		all = append(all, s.flat)
	}
	if k.inside != nil {
		all = append(all, *k.inside, k.cab())
		all = append(all, k.wheels()...)
	}
	f := all[0]
	for _, o := range all[1:] {
		f = f.join(o)
	}
	return f
}
