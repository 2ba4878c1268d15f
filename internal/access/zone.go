package access

import "slices"

// A zone is what stands behind a landmark: facts, a goal among them, of which none is true
// for nothing. Every plan has one of the moves that lead into the zone, whatever is
// fitted. So zones can be handed on from one set of fitted items to the next.

// lists are lists of numbers, end to end.
type lists struct{ all, ends []int32 }

func (l *lists) get(i int) []int32 {
	if i == 0 {
		return l.all[:l.ends[0]]
	}
	return l.all[l.ends[i-1]:l.ends[i]]
}

func (l *lists) clear() { l.all, l.ends = l.all[:0], l.ends[:0] }

// handOn is how many zones are handed on at most.
const handOn = 64

// lose notes a zone that f, a flow that does not reach the goals, has not reached: into
// it lead only moves that lead out of what f has reached.
func (s *search) lose(f *flow) {
	if !s.proof {
		return
	}
	s.zone = s.zone[:0]
	for _, goal := range s.g.goals {
		if !f.have[goal] {
			s.enter(goal)
			break
		}
	}
	for i := 0; i < len(s.zone); i++ {
		for _, m := range s.g.makers(s.zone[i]) {
			if !f.ready(m) && !s.fromZone(m) {
				s.enter(f.missing(m))
			}
		}
	}
	s.loseZone(s.zone)
	s.leaveZone()
	if len(s.zones.ends) < handOn {
		s.zones.all = append(s.zones.all, s.zone...)
		s.zones.ends = append(s.zones.ends, int32(len(s.zones.all)))
	}
}

func (s *search) enter(f int32) {
	s.zone = append(s.zone, f)
	s.inZone[f] = true
}

func (s *search) leaveZone() {
	for _, f := range s.zone {
		s.inZone[f] = false
	}
}

func (s *search) loseZone(zone []int32) {
	for _, f := range zone {
		s.lost[f] = true
	}
}

// fromZone reports whether m needs a fact of the zone.
func (s *search) fromZone(m int32) bool {
	for _, f := range s.g.needs(m) {
		if s.inZone[f] {
			return true
		}
	}
	return false
}

// handOver gives the search landmarks behind zones that were found with other items
// fitted; a zone is a list of keys.
func (d *desk) handOver(zones *lists) {
	s := &d.hunt
	s.handed.clear()
	for i := range zones.ends {
		s.zone = s.zone[:0]
		if d.nearZone(zones.get(i)) {
			s.intoZone()
			s.handed.all = append(s.handed.all, s.zone...)
			s.handed.ends = append(s.handed.ends, int32(len(s.handed.all)))
		}
		s.leaveZone()
	}
}

// nearZone enters a zone as facts of near, as far as they are there; it is false where no
// goal is left in it. What is true for nothing by now is not in near, and the rest
// is a zone without it.
func (d *desk) nearZone(keys []int32) bool {
	aim := false
	for _, key := range keys {
		raw := d.factOf[key]
		if raw == none || d.nearOf[raw] == none {
			continue
		}
		f := d.nearOf[raw]
		d.hunt.enter(f)
		aim = aim || d.near.goal[f]
	}
	return aim
}

// intoZone adds the landmark of the moves that lead into the zone.
func (s *search) intoZone() {
	l := &s.found
	from := len(l.moves)
	for _, f := range s.zone {
		for _, m := range s.g.makers(f) {
			if !s.fromZone(m) && !slices.Contains(l.moves[from:], m) {
				l.moves = append(l.moves, m)
			}
		}
	}
	l.ends, l.paid = append(l.ends, int32(len(l.moves))), append(l.paid, 0)
}

// zonesFound gives the zones that the proof of the search rests on, as keys.
func (d *desk) zonesFound() *lists {
	s, out := &d.hunt, &lists{}
	for i := range s.handed.ends {
		if len(out.ends) < handOn && s.helped[i] {
			d.addZone(out, s.handed.get(i))
		}
	}
	for i := range s.zones.ends {
		if len(out.ends) < handOn {
			d.addZone(out, s.zones.get(i))
		}
	}
	return out
}

func (d *desk) addZone(to *lists, zone []int32) {
	for _, f := range zone {
		to.all = append(to.all, d.keys[d.queue[f]])
	}
	to.ends = append(to.ends, int32(len(to.all)))
}
