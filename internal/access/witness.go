package access

// witness is a cost with the reasons for it, so that it can speak for other sets of fitted
// items: a plan that costs so much, which other items may be fitted without harm to; and
// landmarks that prove that none costs less, which fitted items may be taken out
// without harm to. It is what makes asking about one item more or less cheap.
type witness struct {
	cost  Cost
	set   Set    // fitted
	zones *lists // that the proof rests on
	harms Set    // fitting one of these may make it dearer
	helps Set    // taking out one of these may make it cheaper
}

func (w *witness) speaksFor(set Set) bool {
	for i, have := range w.set {
		if set[i]&^have&w.harms[i] != 0 || have&^set[i]&w.helps[i] != 0 {
			return false
		}
	}
	return true
}

// witness gives the reasons for the cost that solve has just found with set fitted; nil
// where the proof was broken off.
func (d *desk) witness(set Set, cost Cost) *witness {
	if d.far.open == 0 && d.hunt.stopped {
		return nil
	}
	both := make(Set, 2*len(set))
	w := &witness{cost: cost, set: set, zones: &lists{}, harms: both[:len(set)], helps: both[len(set):]}
	if cost != noWay {
		d.harms(w)
	}
	if cost != 0 {
		d.helps(w)
		if d.far.open == 0 {
			w.zones = d.zonesFound()
		}
	}
	return w
}

// harms adds what is not in the way of the best plan, but would be if it were fitted.
func (d *desk) harms(w *witness) {
	for _, c := range d.ask.covers {
		w.mayHarm(c)
	}
	f := &d.hunt.trial
	f.reset(&d.raw)
	for _, m := range d.hunt.best {
		f.allow(d.near.moves[m].raw)
	}
	for _, m := range d.freely {
		f.allow(m)
	}
	f.run()
	d.used = sized(d.used, len(d.raw.moves))
	clear(d.used)
	for _, goal := range d.raw.goals {
		d.harmsTo(w, goal)
	}
}

// harmsTo adds what would be in the way of the moves that make fact true.
func (d *desk) harmsTo(w *witness, fact int32) {
	m := d.hunt.trial.by[fact]
	if d.used[m] {
		return
	}
	d.used[m] = true
	mv := &d.raw.moves[m]
	var inTheWay []int32
	switch {
	case mv.opens:
		inTheWay = d.itemOf(mv).covers
	case mv.way != none:
		inTheWay = d.van.places[mv.group].ways[mv.way].through
	case int(mv.group) < len(d.van.places):
		inTheWay = d.van.places[mv.group].closedBy
	}
	for _, i := range inTheWay {
		w.mayHarm(i)
	}
	for _, need := range d.raw.needs(m) {
		d.harmsTo(w, need)
	}
}

func (w *witness) mayHarm(i int32) {
	if !w.set.has(i) {
		w.harms.add(i)
	}
}

// helps adds the fitted items without which there may be a cheaper way. Taking out an
// item is as good as having it open for nothing. That changes nothing where its being
// open is in none of the zones behind the landmarks that the proof rests on: these
// stand then as before.
func (d *desk) helps(w *witness) {
	places, things := len(d.van.places), len(d.van.places)+len(d.van.items)
	for f, key := range d.keys {
		if k := int(key); k >= places && k < things {
			if !d.harmless(int32(f)) {
				w.helps.add(key - int32(places))
			}
			continue
		}
		for _, i := range d.van.places[int(key)%things].closedBy {
			if w.set.has(i) {
				w.helps.add(i)
			}
		}
	}
}

// harmless reports whether fact f of raw, that an item is open, could come for nothing
// without making anything cheaper.
func (d *desk) harmless(f int32) bool {
	return d.far.have[f] && (d.far.open > 0 || d.nearOf[f] == none || !d.hunt.lost[d.nearOf[f]])
}
