package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// on draws the sketch on a canvas whose last foot lines are kept free, and gives what is to be
// said in them. What is asked about comes first, then the steps, then the names, in what
// room is left.
func (k *sketch) on(w, h, foot int) (Canvas, []string) {
	p := newPen(w, h, foot, k.extent())
	k.body(p)
	for _, s := range slices.Backward(k.places) {
		s.outline(p)
	}
	if k.inside != nil {
		p.rear(p.cells4(*k.inside)) // has no other place to go to
	}
	signs := &signs{letter: 'a', capital: 'A'}
	for _, s := range k.items {
		if s.selected {
			s.bracket(p, signs)
		}
	}
	for _, s := range k.items {
		if !s.selected && s.steps != "" {
			x, y := p.aside(p.cells4(s.flat), len(s.steps))
			p.put(x, y, len(s.steps), s.steps, Way)
		}
	}
	for _, s := range k.places {
		s.label(p, signs)
	}
	k.words(p)
	for _, s := range k.items {
		s.dot(p)
	}
	return p.Canvas, append(k.missing(), signs.words()...)
}

// signs hands out the letters that stand for names, and keeps what they mean.
type signs struct {
	letter, capital rune
	notes           []note
}

// note says what a sign means.
type note struct{ sign, title string }

func (g *signs) note(sign, title string) { g.notes = append(g.notes, note{sign, title}) }

// words gives the notes, numbers in their order before letters.
func (g *signs) words() []string {
	slices.SortStableFunc(g.notes, func(a, b note) int { return cmp.Compare(a.rank(), b.rank()) })
	var out []string
	for _, n := range g.notes {
		out = append(out, n.sign+" "+n.title)
	}
	return out
}

// rank is the first number of a sign, of a letter more than any.
func (n note) rank() int {
	first, _, _ := strings.Cut(strings.Trim(n.sign, "[]"), ",")
	if step, err := strconv.Atoi(first); err == nil {
		return step
	}
	return math.MaxInt
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

// sits reports whether a place takes a part of f.
func (k *sketch) sits(f flat) bool { return shape{flat: f}.overlaps(k.places) }

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
			if p.apart(at, y, len(word)) {
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

// bracket draws an item that is asked about: its step, or a capital letter, in brackets, with
// its name beside it where the paper is free, or else beneath the drawing.
func (s shape) bracket(p *pen, g *signs) {
	sign := "[" + s.steps + "]"
	if s.steps == "" {
		sign = "[" + string(g.capital) + "]"
		g.capital = min(g.capital+1, 'Z')
	}
	at := p.cells4(s.flat)
	x, y := p.aside(span{at.x0 - 1, at.y0, at.x0 - 1, at.y0}, len(sign))
	p.put(x, y, len(sign), sign, Selected)
	name := width(s.title)
	if after := x + len(sign) + 1; s.steps != "" && name > 0 && p.free(after, y, name) {
		p.put(after, y, name, s.title, Selected)
		return
	}
	g.note(sign, s.title)
}

// aside gives where n columns find room that hold no words, nearest to the start of a span.
func (p *pen) aside(s span, n int) (x, y int) {
	x, y = max(0, min(s.x0, p.W-n)), max(0, min(s.y0, p.low-1))
	best := p.W + 2*p.H
	for _, ok := range []func(x, y, n int) bool{p.apart, p.clear} {
		atX, atY := x, y
		for row := range p.low {
			for col := range p.W {
				if d := abs(col-x) + 2*abs(row-y); d < best && ok(col, row, n) {
					best, atX, atY = d, col, row
				}
			}
		}
		if best < p.W+2*p.H {
			return atX, atY
		}
	}
	return x, y
}

func abs(n int) int { return max(n, -n) }

// apart reports whether n columns hold no words, nor the columns beside them.
func (p *pen) apart(x, y, n int) bool {
	return p.clear(x, y, n) && !p.word(x-1, y) && !p.word(x+n, y)
}

// word reports whether a cell holds words.
func (p *pen) word(x, y int) bool { return p.in(x, y) && p.taken[y*p.W+x] }

// free reports whether n columns are there and hold neither words nor lines.
func (p *pen) free(x, y, n int) bool {
	for i := x; i < x+n; i++ {
		if !p.blank(i, y) {
			return false
		}
	}
	return true
}

// blank reports whether a cell holds nothing but a texture or dashes, and has no words beside it.
func (p *pen) blank(x, y int) bool {
	if !p.apart(x, y, 1) {
		return false
	}
	switch p.At(x, y).Rune {
	case 0, '░', '┆', '┄':
		return true
	}
	return false
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

// label writes the name of a place in it, after the number of its step. A name that finds no
// room is shortened, or has a sign that stands for it: the number, or the letter that is next.
func (s shape) label(p *pen, g *signs) {
	x, y, room := p.roomIn(p.cells4(s.flat))
	class := Label
	if s.selected {
		class = Selected
	}
	lead := 0
	if s.steps != "" {
		lead = len(s.steps) + 1
	}
	if room >= lead+s.least() {
		p.put(x, y, room, s.steps, Way)
		p.put(x+len(s.steps), y, lead-len(s.steps), " ", class)
		p.put(x+lead, y, room-lead, s.title, class)
		return
	}
	if s.steps != "" {
		x, y = p.aside(span{x, y, x, y}, len(s.steps))
		p.put(x, y, len(s.steps), s.steps, Way)
		g.note(s.steps, s.title)
		return
	}
	if room < 1 || g.letter > 'z' {
		return
	}
	p.put(x, y, 1, string(g.letter), class)
	g.note(string(g.letter), s.title)
	g.letter++
}

// least is how many columns a name must have: all of them for what the drawing is about,
// else more than half.
func (s shape) least() int {
	n := width(s.title)
	if s.meant {
		return n
	}
	return min(n, max(5, n/2+2))
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
		if at, n := p.untaken(from, to, row); n > room {
			x, y, room = at, row, n
		}
	}
	return x, y, room
}

// gap gives the longest run of cells without lines and words between two columns. It keeps
// away from what stands before it: a name would seem to belong to a number there.
func (p *pen) gap(from, to, y int) (x, n int) {
	run := 0
	for c := from; c <= to; c++ {
		if !p.blank(c, y) || run == 0 && (p.word(c-2, y) || p.word(c-3, y)) {
			run = 0
			continue
		}
		if run++; run > n {
			x, n = c-run+1, run
		}
	}
	return x, n
}

// untaken gives the longest run of cells between two columns that hold no words.
func (p *pen) untaken(from, to, y int) (x, n int) {
	run := 0
	for c := from; c <= to; c++ {
		if !p.apart(c, y, 1) {
			run = 0
			continue
		}
		if run++; run > n {
			x, n = c-run+1, run
		}
	}
	return x, n
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
