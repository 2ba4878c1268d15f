package access_test

import (
	"math"
	"slices"
	"time"

	"github.com/crillab/gophersat/solver"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// pbVan is a van to be asked about with a general pseudo-boolean optimiser. Nothing in this
// file knows how the solver of this package works; it is made from the rules alone.
type pbVan struct {
	places []access.Place
	items  []access.Item
	room   map[id.Place]int
	item   map[id.Item]int
}

func newPBVan(places []access.Place, items []access.Item) *pbVan {
	v := &pbVan{places: places, items: items, room: map[id.Place]int{}, item: map[id.Item]int{}}
	for i, p := range places {
		v.room[p.ID] = i
	}
	for i, it := range items {
		v.item[it.ID] = i
	}
	return v
}

// pbProblem is one question. Its variables are facts and entries. The facts: being in place
// p for the visits (p), being in it at all (places + p), item i being open (2 × places +
// i), which is also the act of opening it. An entry enters a place by one way, for the
// visits or once. A fact needs one of the moves that make it true, a move needs
// all its conditions, and what shuts each other out is not done together.
//
// That allows moves that wait for each other. Such loops are forbidden as they turn up:
// where the moves of an optimum cannot be done one after the other, the facts that were
// never made true are a set in which each needs another; for each of them one of the moves
// that lead into that set from without has to be done (loop formulas: Lin & Zhao, ASSAT,
// AAAI 2002, from memory). Vans have few loops, so that this helps the optimiser much. The usual way, in
// which the problem is written down once and for all, is to number the facts in the order in which they
// come true (Imai & Fukunaga, "On a practical, integer-linear programming model for
// delete-free tasks and its use as a heuristic for cost-optimal planning", JAIR 54, 2015, from memory); order asks for that.
type pbProblem struct {
	*pbVan
	fitted []bool
	visits int
	lits   []int // by fact: its variable; 0 as long as it is not needed
	facts  []int // those needed
	makers [][]int
	moves  []pbMove
	goals  []int
	vars   int
	rules  [][]int // clauses
	cost   []solver.Lit
	weight []int
	loops  int  // that were forbidden
	order  bool // forbid all loops beforehand, by numbers
}

// pbMove makes a fact true.
type pbMove struct {
	makes, lit int
	needs      []int // facts
}

// pbForm says how a question is written down.
type pbForm struct {
	whole bool // the whole van; else only what the targets may depend on, which spares the optimiser much work
	order bool // with numbers against loops; else loops are forbidden as they turn up
}

// newPB poses the question of a job.
func newPB(v *pbVan, j job, fitted []bool, form pbForm) *pbProblem {
	facts := 2*len(v.places) + len(v.items)
	p := &pbProblem{pbVan: v, fitted: fitted, visits: max(1, j.visits), lits: make([]int, facts),
		makers: make([][]int, facts), order: form.order}
	for _, name := range j.places {
		p.goals = append(p.goals, v.room[name])
	}
	for _, name := range j.items {
		it := v.items[v.item[name]]
		if it.Place != "" {
			p.goals = append(p.goals, v.room[it.Place])
		}
		p.goals = append(p.goals, p.open(it.Covers)...)
	}
	for _, g := range once(p.goals) {
		p.rules = append(p.rules, []int{p.lit(g)})
	}
	if form.whole {
		p.askForAll()
	}
	for i := 0; i < len(p.facts); i++ {
		p.explain(p.facts[i])
	}
	p.justify()
	p.shut()
	return p
}

// askForAll takes every fact for needed.
func (p *pbProblem) askForAll() {
	for f := range p.lits {
		i, once := f-2*len(p.places), f >= len(p.places)
		if i >= 0 && p.fitted[i] || i < 0 && !(once && p.visits == 1) {
			p.lit(f)
		}
	}
}

func (p *pbProblem) newVar() int {
	p.vars++
	return p.vars
}

// lit gives the variable of a fact.
func (p *pbProblem) lit(fact int) int {
	if p.lits[fact] == 0 {
		p.lits[fact] = p.newVar()
		p.facts = append(p.facts, fact)
	}
	return p.lits[fact]
}

// open gives the facts that those of items that are fitted are open.
func (p *pbProblem) open(items []id.Item) []int {
	var facts []int
	for _, name := range once(items) {
		if i := p.item[name]; p.fitted[i] {
			facts = append(facts, 2*len(p.places)+i)
		}
	}
	return facts
}

// inAt gives the fact of being in a place at all.
func (p *pbProblem) inAt(room int) int {
	if p.visits == 1 {
		return room
	}
	return len(p.places) + room
}

// explain adds the moves that make a fact true.
func (p *pbProblem) explain(fact int) {
	n := len(p.places)
	switch {
	case fact < n:
		p.entries(fact, fact, p.visits, func(room int) int { return room })
	case fact < 2*n:
		p.entries(fact, fact-n, 1, p.inAt)
	default:
		it := p.items[fact-2*n]
		if it.Opening == nil {
			return
		}
		needs := p.open(it.Covers)
		if it.Place != "" {
			needs = append(needs, p.inAt(p.room[it.Place]))
		}
		p.move(fact, p.lit(fact), it.Opening.OpenMin+it.Opening.RefitMin, needs)
	}
}

// entries adds the ways into a room, to be paid so many times.
func (p *pbProblem) entries(fact, room, times int, in func(room int) int) {
	place := p.places[room]
	floor := len(place.ClosedBy) > 0 && !slices.ContainsFunc(place.ClosedBy, func(i id.Item) bool { return p.fitted[p.item[i]] })
	if floor || len(place.Ways) == 0 && !place.Shut {
		p.move(fact, p.newVar(), 0, nil)
		return
	}
	for _, w := range place.Ways {
		needs := p.open(w.Through)
		if w.From != "" {
			needs = append(needs, in(p.room[w.From]))
		}
		p.move(fact, p.newVar(), w.EnterMin*float64(times), needs)
	}
}

// move adds a move that costs so many minutes, which are whole quarters.
func (p *pbProblem) move(makes, lit int, minutes float64, needs []int) {
	for _, n := range needs {
		p.rules = append(p.rules, []int{-lit, p.lit(n)})
	}
	p.makers[makes] = append(p.makers[makes], len(p.moves))
	p.moves = append(p.moves, pbMove{makes: makes, lit: lit, needs: needs})
	if w := int(math.Round(4 * minutes)); w > 0 {
		p.cost, p.weight = append(p.cost, solver.IntToLit(int32(lit))), append(p.weight, w)
	}
}

// justify says that a fact is true only where a move makes it so; being in a place at all
// also where it is entered for the visits.
func (p *pbProblem) justify() {
	n := len(p.places)
	for _, f := range p.facts {
		visited := f >= n && f < 2*n && p.lits[f-n] != 0
		if visited && p.order {
			p.move(f, p.newVar(), 0, []int{f - n})
		}
		rule := []int{-p.lits[f]}
		for _, m := range p.makers[f] {
			rule = append(rule, p.moves[m].lit)
		}
		if visited && !p.order {
			rule = append(rule, p.lits[f-n])
		}
		if f < 2*n || len(p.makers[f]) == 0 {
			p.rules = append(p.rules, rule)
		}
	}
}

// shut says what may not be done together with opening an item.
func (p *pbProblem) shut() {
	n := len(p.places)
	for _, f := range p.facts {
		if f < 2*n {
			continue
		}
		for _, z := range p.items[f-2*n].Blocks {
			if z == string(p.items[f-2*n].ID) {
				continue
			}
			if i, ok := p.item[id.Item(z)]; ok && p.lits[2*n+i] != 0 {
				p.rules = append(p.rules, []int{-p.lits[f], -p.lits[2*n+i]})
			}
			if room, ok := p.room[id.Place(z)]; ok {
				for _, m := range append(slices.Clone(p.makers[room]), p.makers[n+room]...) {
					p.rules = append(p.rules, []int{-p.lits[f], -p.moves[m].lit})
				}
			}
		}
	}
}

// optimum gives the least cost in quarters of a minute, less than 0 where there is no way.
// It is false where that took longer than limit.
func (p *pbProblem) optimum(limit time.Duration) (int, bool) {
	end := time.Now().Add(limit)
	for {
		res, ok := p.minimize(end)
		if !ok {
			return 0, false
		}
		if res.Status == solver.Unsat {
			return -1, true
		}
		never := p.neverTrue(res.Model)
		if len(never) == 0 {
			return res.Weight, true
		}
		p.forbid(never)
	}
}

// minimize lets the optimiser work until end. It cannot be stopped, so it is left behind when it
// takes longer.
func (p *pbProblem) minimize(end time.Time) (solver.Result, bool) {
	var rules []solver.PBConstr
	for _, r := range p.rules {
		rules = append(rules, solver.PropClause(slices.Clone(r)...))
	}
	if p.order {
		rules = append(rules, p.numbers()...)
	}
	problem := solver.ParsePBConstrs(rules)
	if problem.Status == solver.Unsat {
		return solver.Result{Status: solver.Unsat}, true
	}
	if len(p.cost) > 0 {
		problem.SetCostFunc(slices.Clone(p.cost), slices.Clone(p.weight))
	}
	done := make(chan solver.Result, 1)
	go func() { done <- solver.New(problem).Optimal(nil, nil) }()
	select {
	case res := <-done:
		return res, true
	case <-time.After(time.Until(end)):
		return solver.Result{}, false
	}
}

// numbers gives every fact a number, and says that a move makes a fact with a higher number than
// those of what it needs.
func (p *pbProblem) numbers() []solver.PBConstr {
	bits, at := 1, make([]int, len(p.lits))
	for 1<<bits < len(p.facts) {
		bits++
	}
	for i, f := range p.facts {
		at[f] = p.vars + 1 + i*bits
	}
	var rules []solver.PBConstr
	for _, m := range p.moves {
		for _, need := range m.needs {
			if need == m.makes {
				rules = append(rules, solver.PropClause(-m.lit))
				continue
			}
			rules = append(rules, above(m.lit, at[m.makes], at[need], bits))
		}
	}
	return rules
}

// above says that, where lit is true, the number that begins with variable a is higher than that of b.
func above(lit, a, b, bits int) solver.PBConstr {
	lits, weights := []int{-lit}, []int{1 << bits}
	for i := range bits { // a + (all ones - b) is at least a full number of bits
		lits, weights = append(lits, a+i, -(b+i)), append(weights, 1<<i, 1<<i)
	}
	return solver.GtEq(lits, weights, 1<<bits)
}

// neverTrue does the moves of a model one after the other, as far as that goes. Where it does
// not reach the goals it gives the facts of the model that were not made true.
func (p *pbProblem) neverTrue(model []bool) []int {
	isTrue := make([]bool, len(p.lits))
	for again := true; again; {
		again = false
		for _, m := range p.moves {
			if !model[m.lit-1] || isTrue[m.makes] || slices.ContainsFunc(m.needs, func(f int) bool { return !isTrue[f] }) {
				continue
			}
			isTrue[m.makes], again = true, true
			if m.makes < len(p.places) {
				isTrue[p.inAt(m.makes)] = true
			}
		}
	}
	if !slices.ContainsFunc(p.goals, func(g int) bool { return !isTrue[g] }) {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(p.facts), func(f int) bool { return isTrue[f] || !model[p.lits[f]-1] })
}

// forbid says that what makes one of these facts true comes from without.
func (p *pbProblem) forbid(loop []int) {
	var from []int
	n := len(p.places)
	p.loops++
	for _, f := range loop {
		for _, m := range p.makers[f] {
			if !slices.ContainsFunc(p.moves[m].needs, func(f int) bool { return slices.Contains(loop, f) }) {
				from = append(from, p.moves[m].lit)
			}
		}
		if f >= n && f < 2*n && p.lits[f-n] != 0 && !slices.Contains(loop, f-n) {
			from = append(from, p.lits[f-n])
		}
	}
	for _, f := range loop {
		p.rules = append(p.rules, append([]int{-p.lits[f]}, from...))
	}
}
