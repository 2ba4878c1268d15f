package access

import (
	"slices"

	"example.com/vanlog/internal/id"
)

// Burial says what an item does, by being fitted, to the way to some targets.
type Burial struct {
	Item    id.Item
	Without Cost // of the way while it is not fitted
	With    Cost // of the way when it is; nothing where ForGood
	ForGood bool // there is no way when it is
}

// Burials gives the items that make q dearer by being fitted, or bar it, all other items
// being as q.Fitted says; in the order of the van. Items asked for are tried as well: leave
// those out that the task itself will fit. Asking it of every task of a build is quick, as
// answers about one item more or less rest on each other.
func (s *Solver) Burials(q Query) []Burial {
	ask := s.asked.find(s.van, q)
	base, known := ask.cost(s, q.Fitted)
	set := q.Fitted.only(ask.relevant)
	var out []Burial
	ask.relevant.each(func(i int32) {
		b := Burial{Item: s.van.items[i].id, Without: base, With: base}
		without, with := known, known
		if set.has(i) {
			set.drop(i)
			b.Without, without = ask.cost(s, set)
			set.add(i)
		} else {
			set.add(i)
			b.With, with = ask.cost(s, set)
			set.drop(i)
		}
		b.ForGood = !with
		if without && (b.ForGood || b.With > b.Without) {
			out = append(out, b)
		}
	})
	return slices.Clip(out)
}
