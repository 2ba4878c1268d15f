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
	on       Target
	title    string
	name     string  // the title as it was typed
	steps    string  // numbers of the way in: "2" or "1,4"
	deep     float64 // along the line of sight
	selected bool
	meant    bool // selected, on the way in, or a place with such an item in it
	beyond   bool // above or below the load space, which is looked at from above
	behind   bool // overhead from above, in the right half from the left
}

// sketch is a scene as a view sees it, before it has a scale.
type sketch struct {
	view      view
	space     *access.Box // the load space
	inside    *flat       // as seen
	wheelbase float64
	places    []shape // selected first, those beyond last, by area, small ones first
	items     []shape
	lost      []string            // what is selected and cannot be drawn
	bounds    []flat              // of everything that has a position, drawn or not
	at        map[Target]flat     // where what is asked about is
	guessed   map[Target]id.Place // items that are only known to be somewhere in their place
}

func newSketch(s Scene, v view) *sketch {
	k := &sketch{view: v, at: map[Target]flat{}, guessed: map[Target]id.Place{}}
	if s.Vehicle != nil {
		if f, ok := v.flatten(deref(s.Vehicle.InsideMm)); ok && s.Vehicle.InsideMm != nil {
			k.space, k.inside = s.Vehicle.InsideMm, &f
		}
		if wb := s.Vehicle.WheelbaseMm; wb > 0 && wb <= far {
			k.wheelbase = wb
		}
	}
	steps, selected, meant := s.steps(), s.selected(), s.meant()
	boxes := map[id.Place]flat{}
	for _, p := range s.Places {
		on := Target{Place: p.ID}
		k.addPlace(p, boxes, shape{on: on, steps: steps[on], selected: selected[on], meant: meant[p.ID]})
	}
	for _, i := range s.Items {
		on := Target{Item: i.ID}
		k.addItem(i, boxes, shape{on: on, steps: steps[on], selected: selected[on], meant: selected[on] || steps[on] != ""})
	}
	if len(meant) > 0 {
		k.leaveOutSheets()
	}
	slices.SortStableFunc(k.places, func(a, b shape) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.area(), b.area()))
	})
	return k
}

// meant gives the places that a drawing is about: those selected or on the way in, and those
// of items that are.
func (s Scene) meant() map[id.Place]bool {
	about := s.selected()
	for _, m := range s.Way {
		about[m.Target] = true
	}
	places := map[id.Place]bool{}
	for t := range about {
		if t.Place != "" {
			places[t.Place] = true
		}
	}
	for _, i := range s.Items {
		if about[Target{Item: i.ID}] && i.Place != "" {
			places[i.Place] = true
		}
	}
	return places
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

func (k *sketch) addPlace(p access.Place, boxes map[id.Place]flat, as shape) {
	f, ok := k.view.flatten(deref(p.Box))
	if p.Box == nil || !ok {
		if as.selected {
			k.lost = append(k.lost, lostNote(p.Title(), "box (box_mm)"))
		}
		return
	}
	boxes[p.ID], k.at[Target{Place: p.ID}] = f, f
	k.bounds = append(k.bounds, f)
	as.flat, as.name, as.title = f, p.Title(), clean(p.Title())
	as.deep, as.beyond, as.behind = k.view.deep(*p.Box), k.beyond(*p.Box), k.behind(*p.Box)
	k.places = append(k.places, as)
}

// beyond reports whether a box lies on the roof or under the floor of a van seen from
// above: it is then drawn in dashes, so that what is in the van is seen.
func (k *sketch) beyond(b access.Box) bool {
	return k.view == fromAbove && k.space != nil && (b[2] >= k.space[5] || b[5] <= k.space[2])
}

// behind reports whether a box lies overhead in a van seen from above, or in the right half
// of one seen from the left: others lie before it.
func (k *sketch) behind(b access.Box) bool {
	if k.view == fromTheLeft {
		return b[1] >= 0
	}
	return k.space != nil && b[2] >= (k.space[2]+k.space[5])/2
}

// sheet is how deep a place may be along the line of sight and still be a layer that others
// lie before or behind, such as a wall or the floor, in millimetres.
const sheet = 150

// leaveOutSheets takes out the layers that lie over other places, and what is beyond the load
// space, where the drawing is about something else: the other view shows them edge-on.
func (k *sketch) leaveOutSheets() {
	all := slices.Clone(k.places)
	k.places = slices.DeleteFunc(k.places, func(s shape) bool {
		return !s.meant && (s.beyond || s.deep <= sheet && s.overlaps(all))
	})
}

// deep gives how far a box goes along the line of sight: what the other view sees of its height.
func (v view) deep(b access.Box) float64 {
	f, _ := (fromAbove + fromTheLeft - v).flatten(b)
	return f.y1 - f.y0
}

// overlaps reports whether another of some shapes takes a part of the same area.
func (s shape) overlaps(all []shape) bool {
	return slices.ContainsFunc(all, func(o shape) bool {
		return o != s && min(o.x1, s.x1) > max(o.x0, s.x0) && min(o.y1, s.y1) > max(o.y0, s.y0)
	})
}

// addItem puts an item where it is, or, where that is not known and it matters, in the
// middle of its place.
func (k *sketch) addItem(i access.Item, boxes map[id.Place]flat, as shape) {
	on := Target{Item: i.ID}
	var f flat
	ok := false
	if i.At != nil {
		f, ok = k.view.point(*i.At)
	}
	if box, known := boxes[i.Place]; !ok && known && as.meant {
		f, ok = box.middle(), true
		k.guessed[on] = i.Place
	}
	switch {
	case ok:
		k.bounds = append(k.bounds, f)
		k.at[on] = f
		as.flat, as.name, as.title = f, i.Title(), clean(i.Title())
		k.items = append(k.items, as)
	case as.selected:
		k.lost = append(k.lost, lostNote(i.Title(), "position (at_mm), nor has its place a box (box_mm)"))
	}
}

func (k *sketch) empty() bool {
	return k.inside == nil && len(k.bounds) == 0
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
	all := slices.Clone(k.bounds)
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
