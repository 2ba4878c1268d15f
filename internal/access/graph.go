package access

// graph is a planning problem without deletes: moves make facts true, from nothing, and
// a fact once true stays so. Facts are being in a place and being open.
type graph struct {
	facts int
	moves []move
	pre   []int32 // the facts that the moves need, end to end
	users []int32 // the moves that need the facts, end to end
	first []int32 // users[first[f]:first[f+1]] need fact f
	goals []int32
	goal  []bool // by fact
}

// move is one thing to do.
type move struct {
	from, to int32    // pre[from:to] are needed
	adds     [2]int32 // the facts it makes true, none where there is only one
	weight   int64
	group    int32 // what it is about: a place by number, or an item by number after all places
	way      int32 // of the place, none: for nothing from outside
	visit    bool  // enters for the visits; else once
	opens    bool
	raw      int32 // in a reduced graph: the move it stands for
}

func (g *graph) clear() {
	g.facts, g.moves, g.pre, g.goals = 0, g.moves[:0], g.pre[:0], g.goals[:0]
}

func (g *graph) needs(m int32) []int32 { return g.pre[g.moves[m].from:g.moves[m].to] }

// link fills in what follows from facts, moves and goals.
func (g *graph) link() {
	g.first = sized(g.first, g.facts+2)
	clear(g.first)
	for _, f := range g.pre {
		g.first[f+2]++
	}
	for f := 2; f < len(g.first); f++ {
		g.first[f] += g.first[f-1]
	}
	g.users = sized(g.users, len(g.pre))
	for m := range g.moves {
		for _, f := range g.needs(int32(m)) {
			g.users[g.first[f+1]] = int32(m)
			g.first[f+1]++
		}
	}
	g.goal = sized(g.goal, g.facts)
	clear(g.goal)
	for _, f := range g.goals {
		g.goal[f] = true
	}
}

// aim adds a goal, if it is none yet, and tells whether it did.
func (g *graph) aim(f int32) bool {
	if g.goal[f] {
		return false
	}
	g.goal[f] = true
	g.goals = append(g.goals, f)
	return true
}

// sized gives s with length n; what is in it is anything.
func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/2)
	}
	return s[:n]
}

// flow is how far one gets in a graph with the moves allowed.
type flow struct {
	g       *graph
	left    []int32 // by move: what it needs and is not true yet
	have    []bool  // by fact
	by      []int32 // by fact that is true: the move that made it so
	allowed []bool  // by move
	trail   []int32 // the true facts, in the order in which they came true
	head    int     // those of trail that have been followed up
	open    int     // goals that are not true yet
}

// reset starts afresh in g with nothing allowed.
func (f *flow) reset(g *graph) {
	f.g, f.head, f.open, f.trail = g, 0, len(g.goals), f.trail[:0]
	f.left, f.allowed = sized(f.left, len(g.moves)), sized(f.allowed, len(g.moves))
	f.have, f.by = sized(f.have, g.facts), sized(f.by, g.facts)
	clear(f.allowed)
	clear(f.have)
	for m := range g.moves {
		f.left[m] = g.moves[m].to - g.moves[m].from
	}
}

// allow lets m be done; run follows it up.
func (f *flow) allow(m int32) {
	f.allowed[m] = true
	if f.left[m] == 0 {
		f.do(m)
	}
}

func (f *flow) do(m int32) {
	for _, fact := range f.g.moves[m].adds {
		if fact != none && !f.have[fact] {
			f.have[fact], f.by[fact] = true, m
			f.trail = append(f.trail, fact)
			if f.g.goal[fact] {
				f.open--
			}
		}
	}
}

// run does all that is allowed and can be done, and stops as soon as the goals are
// reached; it reports whether they are.
func (f *flow) run() bool {
	for f.head < len(f.trail) && f.open > 0 {
		f.follow()
	}
	return f.open == 0
}

// runOn does all that is allowed and can be done, even when the goals are reached.
func (f *flow) runOn() {
	for f.head < len(f.trail) {
		f.follow()
	}
}

func (f *flow) follow() {
	fact := f.trail[f.head]
	f.head++
	for _, m := range f.g.users[f.g.first[fact]:f.g.first[fact+1]] {
		if f.left[m]--; f.left[m] == 0 && f.allowed[m] {
			f.do(m)
		}
	}
}

// back takes everything back that came true after the first n facts.
func (f *flow) back(n int) {
	for i, fact := range f.trail[n:] {
		f.have[fact] = false
		if f.g.goal[fact] {
			f.open++
		}
		if n+i < f.head {
			for _, m := range f.g.users[f.g.first[fact]:f.g.first[fact+1]] {
				f.left[m]++
			}
		}
	}
	f.trail, f.head = f.trail[:n], min(f.head, n)
}

// new reports whether m would make something true that is not.
func (f *flow) new(m int32) bool {
	a := f.g.moves[m].adds
	return !f.have[a[0]] || a[1] != none && !f.have[a[1]]
}

// reaches reports whether the goals of g are reached with the moves that may be done.
func (f *flow) reaches(g *graph, may func(m int32) bool) bool {
	f.reset(g)
	for m := range g.moves {
		if may(int32(m)) {
			f.allow(int32(m))
		}
	}
	return f.run()
}
