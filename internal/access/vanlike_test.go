package access_test

import (
	"fmt"
	"math/rand/v2"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
)

// vanLike is a large van made at random, built up like a real one: an aisle that is
// entered freely, bays one behind the other with panels between them, in each bay
// items in layers, some bays open floor until something is built, some doors that shut
// others while they stand open.
type vanLike struct {
	places []access.Place
	items  []access.Item
	jobs   []job
}

// job is a task: where it is done, what has to be within reach, how often.
type job struct {
	places []id.Place
	items  []id.Item
	visits int
}

func newVanLike(seed uint64, items, jobs int) vanLike {
	r := rand.New(rand.NewPCG(seed, 2))
	v := vanLike{places: []access.Place{{ID: "aisle"}}}
	for i := range max(3, items/7) {
		v.places = append(v.places, access.Place{ID: id.Place(fmt.Sprintf("bay-%d", i))})
	}
	for i := range items {
		v.items = append(v.items, v.item(r, i))
	}
	for i := range v.places[1:] {
		v.waysInto(r, i+1)
	}
	for range jobs {
		v.jobs = append(v.jobs, v.job(r))
	}
	return v
}

// item is behind up to three items that are fitted after it in the same place.
func (v *vanLike) item(r *rand.Rand, i int) access.Item {
	at := r.IntN(len(v.places))
	it := access.Item{ID: id.Item(fmt.Sprintf("item-%03d", i)), Place: v.places[at].ID}
	for j := len(v.items) - 1; j >= 0 && len(it.Covers) < 3; j-- {
		if v.items[j].Place == it.Place && r.IntN(2) == 0 {
			it.Covers = append(it.Covers, v.items[j].ID)
		}
	}
	if r.IntN(25) > 0 {
		it.Opening = &access.Opening{OpenMin: float64(1+r.IntN(40)) / 4, RefitMin: float64(1+r.IntN(60)) / 4}
	}
	if r.IntN(20) == 0 {
		if z := v.places[1+r.IntN(len(v.places)-1)].ID; z != it.Place {
			it.Blocks = append(it.Blocks, string(z))
		}
	}
	return it
}

// waysInto gives a bay up to three ways, from bays before it and from outside, each
// through a panel or two of where one comes from.
func (v *vanLike) waysInto(r *rand.Rand, at int) {
	p := &v.places[at]
	for range 1 + r.IntN(3) {
		from := r.IntN(at)
		w := access.Way{From: v.places[max(0, from, at-4)].ID, EnterMin: float64(r.IntN(9)) / 2}
		if r.IntN(8) == 0 {
			w.From = ""
		}
		w.Through = v.panels(r, w.From, p.ID)
		p.Ways = append(p.Ways, w)
	}
	if r.IntN(6) == 0 {
		p.ClosedBy = []id.Item{v.items[r.IntN(len(v.items))].ID}
	}
}

// panels picks up to two items that stand between one place and another.
func (v *vanLike) panels(r *rand.Rand, from, to id.Place) []id.Item {
	var out []id.Item
	for range 20 {
		it := v.items[r.IntN(len(v.items))]
		if it.Place != to && (it.Place == from || from == "") && it.Opening != nil {
			out = append(out, it.ID)
		}
		if len(out) == 1+r.IntN(2) {
			break
		}
	}
	return once(out)
}

func (v *vanLike) job(r *rand.Rand) job {
	j := job{visits: 1}
	if r.IntN(2) == 0 {
		j.visits = 1 + r.IntN(12)
	}
	if r.IntN(2) == 0 {
		j.places = append(j.places, v.places[r.IntN(len(v.places))].ID)
	}
	for range 1 + r.IntN(3) {
		j.items = append(j.items, v.items[r.IntN(len(v.items))].ID)
	}
	return j
}

func (j job) query(fitted access.Set) access.Query {
	return access.Query{Places: j.places, Items: j.items, Visits: j.visits, Fitted: fitted}
}
