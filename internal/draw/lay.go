package draw

import "slices"

// on draws the sketch on a canvas whose last foot lines are kept free, and gives what is to be
// said in them.
func (k *sketch) on(w, h, foot int) (Canvas, []string) {
	p := newPen(w, h, foot, k.extent())
	k.body(p)
	for _, s := range slices.Backward(k.places) {
		s.outline(p)
	}
	for _, s := range k.items {
		s.pin(p)
	}
	notes := k.missing()
	letter := 'a'
	for _, s := range k.places {
		if sign := s.label(p, letter); sign != "" {
			notes = append(notes, sign+" "+s.title)
			if sign == string(letter) {
				letter++
			}
		}
	}
	k.words(p)
	for _, s := range k.items {
		s.dot(p)
	}
	return p.Canvas, notes
}

// body draws what the van is without its fittings.
func (k *sketch) body(p *pen) {
	if k.inside == nil {
		return
	}
	p.box(p.cells4(*k.inside), Outline)
	p.box(p.cells4(k.cab()), Outline)
	for _, f := range k.wheels() {
		s := p.cells4(f)
		p.box(s, Outline)
		p.set((s.x0+s.x1)/2, (s.y0+s.y1)/2, Cell{'o', Outline})
	}
}

// words names the cab and the doors, and marks the wheels where they are seen from above.
func (k *sketch) words(p *pen) {
	if k.inside == nil {
		return
	}
	in, cab := p.cells4(*k.inside), p.cells4(k.cab())
	if room := cab.x1 - cab.x0 - 1; room > 0 && !k.sits(k.cab()) {
		word := "cab"[:min(3, room)]
		p.name((cab.x0+cab.x1+1-len(word))/2, (cab.y0+cab.y1)/2, room, word)
	}
	p.rear(in)
	if k.view == fromTheLeft {
		return
	}
	p.sides(k, in)
	if k.wheelbase > 0 {
		for _, x := range []float64{0, k.wheelbase} {
			at := p.cells4(flat{x, k.inside.y0, x, k.inside.y1})
			p.name(at.x0-1, at.y0, 3, "(o)")
			p.name(at.x0-1, at.y1, 3, "(o)")
		}
	}
}

// sits reports whether a place takes the middle of f.
func (k *sketch) sits(f flat) bool {
	m := f.middle()
	for _, s := range k.places {
		if s.x0 < m.x0 && m.x0 < s.x1 && s.y0 < m.y0 && m.y0 < s.y1 {
			return true
		}
	}
	return false
}

// rear writes the rear doors down the columns behind the load space.
func (p *pen) rear(in span) {
	word := "R"
	for _, longer := range []string{"rear", "rear doors"} {
		if in.y1-in.y0 >= len(longer)-1 {
			word = longer
		}
	}
	y := in.y0 + (in.y1-in.y0+1-len(word))/2
	for i, r := range word {
		p.put(in.x1+2, y+i, 1, string(r), Outline)
	}
}

// sides names the sliding door, which is on the right side, and the left side.
func (p *pen) sides(k *sketch, in span) {
	from := k.inside.x0 + doorFrom
	door := p.cells4(flat{from, k.inside.y0, from + doorWide, k.inside.y0})
	room := min(door.x1, in.x1-1) - door.x0 + 1
	p.name(door.x0, door.y0, room, "sliding door", "door", "D")
	p.name(door.x0, in.y1, room, "left side", "left", "L")
}

// name writes the first of some words that finds room among the words that are there.
func (p *pen) name(x, y, room int, words ...string) {
	for _, word := range words {
		for at := x; at+len(word) <= x+room; at++ {
			if p.clear(at, y, len(word)) {
				p.put(at, y, len(word), word, Outline)
				return
			}
		}
	}
}

func (s shape) outline(p *pen) {
	class := Place
	if s.selected {
		class = Selected
	}
	at := p.cells4(s.flat)
	if s.beyond && !s.selected {
		p.dashes(at, class)
		return
	}
	p.box(at, class)
	if s.selected {
		p.fill(at, '░', Selected)
	}
}

// pin draws an item that matters: its number, and brackets and its name where it is selected.
func (s shape) pin(p *pen) {
	at := p.cells4(s.flat)
	if !s.selected {
		if s.steps != "" {
			x := p.free(at.x0, at.y0, len(s.steps))
			p.put(x, at.y0, len(s.steps), s.steps, Way)
		}
		return
	}
	sign := s.steps
	if sign == "" {
		sign = "#"
	}
	x := max(0, min(at.x0-1, p.W-len(sign)-2))
	p.put(x, at.y0, len(sign)+2, "["+sign+"]", Selected)
	after, before := p.W-(x+len(sign)+3), x-1
	switch name := width(s.title); {
	case name <= after || after >= before:
		p.put(x+len(sign)+3, at.y0, after, s.title, Selected)
	default:
		p.put(max(0, before-name), at.y0, before, s.title, Selected)
	}
}

// free gives the first of n columns in line y, from x on, that hold no words; x where there
// are none.
func (p *pen) free(x, y, n int) int {
	for at := x; p.in(at, y); at++ {
		if p.clear(at, y, n) {
			return at
		}
	}
	return x
}

// clear reports whether n columns in line y from x on are there and hold no words.
func (p *pen) clear(x, y, n int) bool {
	for i := x; i < x+n; i++ {
		if !p.in(i, y) || y >= p.low || p.taken[y*p.W+i] {
			return false
		}
	}
	return true
}

// label writes the name of a place in it. Where the name finds no room, it gives the sign
// that stands for it: the number of its step, or the letter that is next; empty
// where the name is in, or even the letter is not.
func (s shape) label(p *pen, letter rune) string {
	at := p.cells4(s.flat)
	x, y, room := p.roomIn(at)
	text, class := s.title, Label
	if s.selected {
		class = Selected
	}
	lead := 0
	if s.steps != "" {
		lead = len(s.steps) + 1
	}
	if least := min(width(text), 5); room >= lead+least {
		p.put(x, y, room, s.steps, Way)
		p.put(x+len(s.steps), y, lead-len(s.steps), " ", class)
		p.put(x+lead, y, room-lead, text, class)
		return ""
	}
	if s.steps != "" {
		x = max(0, min(x, p.W-len(s.steps)))
		p.put(x, y, len(s.steps), s.steps, Way)
		return s.steps
	}
	if room < 1 || letter > 'z' {
		return ""
	}
	p.put(x, y, 1, string(letter), class)
	return string(letter)
}

// roomIn finds the line within a span with most room for words: the first that has enough for
// a name, else the longest; where nothing is within, on its edge.
func (p *pen) roomIn(s span) (x, y, room int) {
	x, y = s.x0, s.y0
	for row := s.y0 + 1; row < s.y1; row++ {
		if at, n := p.gap(s.x0+1, s.x1-1, row); n > room {
			x, y, room = at, row, n
		}
	}
	if room > 0 {
		return x, y, room
	}
	for _, row := range []int{s.y0, s.y1} {
		from, to := s.x0+1, s.x1-1
		if from > to {
			from, to = s.x0, s.x1
		}
		if n := p.untaken(from, to, row); n > room {
			x, y, room = from, row, n
		}
	}
	return x, y, room
}

// gap gives the longest run of cells without lines and words between two columns.
func (p *pen) gap(from, to, y int) (x, n int) {
	run := 0
	for c := from; c <= to; c++ {
		cell := p.At(c, y)
		if !p.in(c, y) || y >= p.low || p.taken[y*p.W+c] || cell.Rune != 0 && cell.Rune != '░' && cell.Rune != '┆' && cell.Rune != '┄' {
			run = 0
			continue
		}
		if run++; run > n {
			x, n = c-run+1, run
		}
	}
	return x, n
}

// untaken counts the cells from one column on that hold no words.
func (p *pen) untaken(from, to, y int) int {
	n := 0
	for c := from; c <= to && p.in(c, y) && y < p.low && !p.taken[y*p.W+c]; c++ {
		n++
	}
	return n
}

// dot draws an item that is neither selected nor on the way, unless something that says
// more is there.
func (s shape) dot(p *pen) {
	at := p.cells4(s.flat)
	if s.selected || s.steps != "" || !p.in(at.x0, at.y0) || at.y0 >= p.low || p.taken[at.y0*p.W+at.x0] {
		return
	}
	switch p.At(at.x0, at.y0).Rune {
	case 0, '─', '│', '┄', '┆':
		p.set(at.x0, at.y0, Cell{'•', Item})
	}
}
