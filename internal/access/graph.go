package access

// graph is a planning problem without deletes: moves make facts true, from nothing, and
// a fact once true stays so. Facts are being in a place and being open.
type graph struct {
	facts int
	moves []move
	pre   []int32 // the facts that the moves need, end to end
	users []int32 // the moves that need the facts, end to end
	first []int32 // users[first[f]:first[f+1]] need fact f
	made  []int32 // the moves that make the facts true, end to end
	begin []int32 // made[begin[f]:begin[f+1]] make fact f true
	low   []mask  // by move: what it needs of the first 128 facts
	goals []int32
	goal  []bool // by fact
}

// mask is a set of the first 128 facts of a graph; more says that there are others.
type mask struct {
	a, b uint64
	more bool
}

func (k *mask) add(f int32) {
	switch {
	case f < 64:
		k.a |= 1 << f
	case f < 128:
		k.b |= 1 << (f - 64)
	default:
		k.more = true
	}
}

func (k *mask) drop(f int32) {
	switch {
	case f < 64:
		k.a &^= 1 << f
	case f < 128:
		k.b &^= 1 << (f - 64)
	}
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

// reserve makes room for all that a question about v can come to, at a guess.
func (g *graph) reserve(v *van) {
	moves := len(v.items)
	for i := range v.places {
		moves += 2 * max(1, len(v.places[i].ways)) // for the visits, and once
	}
	g.moves, g.pre = make([]move, 0, moves), make([]int32, 0, 3*moves)
}

func (g *graph) needs(m int32) []int32 { return g.pre[g.moves[m].from:g.moves[m].to] }

// makers gives the moves that make f true.
func (g *graph) makers(f int32) []int32 { return g.made[g.begin[f]:g.begin[f+1]] }

// usersOf gives the moves that need f.
func (g *graph) usersOf(f int32) []int32 { return g.users[g.first[f]:g.first[f+1]] }

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
	g.users, g.low = sized(g.users, len(g.pre)), sized(g.low, len(g.moves))
	for m := range g.moves {
		g.low[m] = mask{}
		for _, f := range g.needs(int32(m)) {
			g.low[m].add(f)
			g.users[g.first[f+1]] = int32(m)
			g.first[f+1]++
		}
	}
	g.linkMakers()
	g.goal = sized(g.goal, g.facts)
	clear(g.goal)
	for _, f := range g.goals {
		g.goal[f] = true
	}
}

func (g *graph) linkMakers() {
	g.begin = sized(g.begin, g.facts+2)
	clear(g.begin)
	n := 0
	for m := range g.moves {
		for _, f := range g.moves[m].adds {
			if f != none {
				g.begin[f+2]++
				n++
			}
		}
	}
	for f := 2; f < len(g.begin); f++ {
		g.begin[f] += g.begin[f-1]
	}
	g.made = sized(g.made, n)
	for m := range g.moves {
		for _, f := range g.moves[m].adds {
			if f != none {
				g.made[g.begin[f+1]] = int32(m)
				g.begin[f+1]++
			}
		}
	}
}

// aim adds a goal, if it is none yet.
func (g *graph) aim(f int32) {
	if !g.goal[f] {
		g.goal[f] = true
		g.goals = append(g.goals, f)
	}
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
	have    []bool  // by fact
	low     mask    // the same of the first 128 facts
	by      []int32 // by fact that is true: the move that made it so
	allowed []bool  // by move
	trail   []int32 // the true facts, in the order in which they came true
	head    int     // those of trail that have been followed up
	open    int     // goals that are not true yet
}

// reset starts afresh in g with nothing allowed.
func (f *flow) reset(g *graph) {
	f.g, f.head, f.open, f.trail = g, 0, len(g.goals), f.trail[:0]
	f.allowed, f.have, f.by = sized(f.allowed, len(g.moves)), sized(f.have, g.facts), sized(f.by, g.facts)
	clear(f.allowed)
	clear(f.have)
	f.low = mask{}
}

// allow lets m be done; run follows it up.
func (f *flow) allow(m int32) {
	f.allowed[m] = true
	if f.ready(m) {
		f.do(m)
	}
}

// ready reports whether all that m needs is true.
func (f *flow) ready(m int32) bool {
	k := &f.g.low[m]
	return k.a&^f.low.a|k.b&^f.low.b == 0 && (!k.more || f.missing(m) == none)
}

// missing gives a fact that m needs and that is not true, or none.
func (f *flow) missing(m int32) int32 {
	for _, fact := range f.g.needs(m) {
		if !f.have[fact] {
			return fact
		}
	}
	return none
}

func (f *flow) do(m int32) {
	for _, fact := range f.g.moves[m].adds {
		if fact != none && !f.have[fact] {
			f.have[fact], f.by[fact] = true, m
			f.low.add(fact)
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
	for _, m := range f.g.usersOf(fact) {
		if f.allowed[m] && f.ready(m) {
			f.do(m)
		}
	}
}

// back takes everything back that came true after the first n facts.
func (f *flow) back(n int) {
	for _, fact := range f.trail[n:] {
		f.have[fact] = false
		f.low.drop(fact)
		if f.g.goal[fact] {
			f.open++
		}
	}
	f.trail, f.head = f.trail[:n], min(f.head, n)
}

// leadsOut reports whether m can be done and would make something true that is not.
func (f *flow) leadsOut(m int32) bool {
	a := f.g.moves[m].adds
	return (!f.have[a[0]] || a[1] != none && !f.have[a[1]]) && f.ready(m)
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
