package main

import (
	"fmt"
	"math/rand/v2"
)

// row is a record of a build file.
type row = map[string]any

// generated is a random build file.
type generated map[string]any

// maker makes one random build. What it makes is without faults: edges and ways lead
// forward, so that there are no loops.
type maker struct {
	*rand.Rand
	items, places, parts []string
	fitted               map[string]bool // by a task
	full                 bool            // with resources of its own
}

func generate(seed uint64) generated {
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 2)), fitted: map[string]bool{}}
	m.full = m.chance(80)
	for i := range m.IntN(11) {
		m.items = append(m.items, fmt.Sprintf("i%d", i))
	}
	for i := range m.IntN(5) {
		m.places = append(m.places, fmt.Sprintf("p%d", i))
	}
	for i := range m.IntN(3) {
		m.parts = append(m.parts, fmt.Sprintf("part%d", i))
	}
	g := generated{"format": "vanlog-build", "version": 1, "name": fmt.Sprintf("random %d", seed), "units": "metric"}
	g["options"] = []row{{"id": "o1", "choice": "c", "chosen": m.chance(50)}}
	chosen := g["options"].([]row)[0]["chosen"].(bool)
	g["options"] = append(g["options"].([]row), row{"id": "o2", "choice": "c", "chosen": !chosen})
	if m.full {
		g["resources"] = m.resources()
	}
	g["places"], g["items"], g["parts"] = m.each(m.places, m.place), m.each(m.items, m.item), m.each(m.parts, m.part)
	var names []string
	for i := range 3 + m.IntN(6) {
		names = append(names, fmt.Sprintf("t%d", i))
	}
	g["tasks"] = m.each(names, m.task)
	g["edges"] = m.edges(names)
	return g
}

func (m *maker) chance(percent int) bool { return m.IntN(100) < percent }

func (m *maker) each(names []string, make func(i int, name string) row) []row {
	out := []row{}
	for i, n := range names {
		out = append(out, make(i, n))
	}
	return out
}

// some picks up to most of the names, each once.
func (m *maker) some(names []string, most int) []string {
	out := []string{}
	if len(names) == 0 {
		return out
	}
	for _, i := range m.Perm(len(names))[:min(m.IntN(most+1), len(names))] {
		out = append(out, names[i])
	}
	return out
}

// quarter gives a number of quarters, up to most.
func (m *maker) quarter(most int) float64 { return float64(m.IntN(4*most+1)) / 4 }

func (m *maker) resources() []row {
	day := []string{"08:00-12:00", "13:00-17:00"}
	week := row{}
	for _, d := range []string{"mon", "tue", "wed", "thu", "fri"} {
		if m.chance(80) {
			week[d] = day
		}
	}
	week["sat"] = []string{"09:00-13:00"}
	builder := row{"id": "builder", "hours": week}
	if m.chance(40) {
		builder["off"] = []row{{"from": "2026-03-03", "to": "2026-03-04"}}
	}
	if m.chance(40) {
		builder["on"] = []row{{"date": "2026-03-08", "hours": []string{"10:00-14:00", "15:00-15:30"}}}
	}
	helper := row{"id": "helper", "hours": row{"tue": []string{"10:00-16:00"}, "sat": []string{"09:00-12:00"}, "mon": []string{"08:00-09:30"}}}
	if m.chance(20) {
		helper["capacity"] = 2
	}
	warm := row{"id": "warm", "hours": row{"mon": []string{"08:00-18:00"}, "wed": []string{"06:30-18:00"}, "fri": []string{"00:00-24:00"}}}
	return []row{builder, helper, {"id": "inside", "capacity": 1 + m.IntN(2)}, warm}
}

func (m *maker) place(i int, name string) row {
	p := row{"id": name}
	if m.chance(25) {
		p["closed_by"] = m.some(m.items, 2)
	}
	ways := []row{}
	for range m.IntN(3) {
		way := row{"through": m.some(m.items, 2), "enter_min": m.quarter(3)}
		if i > 0 && m.chance(50) {
			way["from"] = m.places[m.IntN(i)]
		}
		ways = append(ways, way)
	}
	p["ways"] = ways
	return p
}

func (m *maker) item(i int, name string) row {
	it := row{"id": name, "covers": m.some(m.items[i+1:], 2)}
	if len(m.places) > 0 && m.chance(60) {
		it["place"] = m.places[m.IntN(len(m.places))]
	}
	if m.chance(93) {
		it["opening"] = row{"open_min": m.quarter(4), "refit_min": m.quarter(3), "persons": 1 + m.IntN(2), "tools": []string{"T25 driver"}}
	}
	if m.chance(15) {
		it["blocks"] = m.blocks(name, it["place"])
	}
	if m.chance(30) {
		it["service"] = []row{{"what": "clean", "per_year": 1 + m.IntN(6)}}
	}
	it["fitted"] = m.chance(30)
	if m.chance(15) {
		it["option"] = []string{"o1", "o2"}[m.IntN(2)]
	}
	return it
}

// blocks picks what an item shuts while it is open: neither itself nor its own place.
func (m *maker) blocks(name string, place any) []string {
	out := []string{}
	for _, b := range m.some(append(append([]string{}, m.items...), m.places...), 2) {
		if b != name && b != place {
			out = append(out, b)
		}
	}
	return out
}

func (m *maker) part(_ int, name string) row {
	p := row{"id": name, "lead_days": []int{1, 2 + m.IntN(4), 9}}
	switch m.IntN(4) {
	case 0:
		p["arrived"] = "2026-02-20"
	case 1:
		p["due"] = fmt.Sprintf("2026-03-%02d", 1+m.IntN(8))
	case 2:
		p["ordered"] = "2026-02-27"
	}
	return p
}

func (m *maker) task(i int, name string) row {
	likely := m.quarter(5)
	t := row{"id": name, "hours": []float64{likely / 2, likely, likely * 2}, "reaches": m.some(m.items, 2),
		"fits": m.fits(), "visits": 1 + m.IntN(4), "parts": m.some(m.parts, 1)}
	if len(m.places) > 0 && m.chance(60) {
		t["place"] = m.places[m.IntN(len(m.places))]
	}
	if m.full {
		m.use(t)
	}
	if m.chance(10) {
		t["not_before"] = []string{"2026-03-04", "2026-03-03T10:30"}[m.IntN(2)]
	}
	if m.chance(5) {
		t["not_after"] = []string{"2026-03-20", "2026-03-05T12:00", "2026-03-13"}[m.IntN(3)]
	}
	if m.chance(10) {
		t["option"] = []string{"o1", "o2"}[m.IntN(2)]
	}
	m.progress(t)
	return t
}

// fits picks items that no other task fits.
func (m *maker) fits() []string {
	out := []string{}
	for _, x := range m.some(m.items, 2) {
		if !m.fitted[x] {
			m.fitted[x] = true
			out = append(out, x)
		}
	}
	return out
}

func (m *maker) use(t row) {
	switch m.IntN(10) {
	case 0:
		t["uses"] = row{}
	case 1, 2:
		t["uses"] = row{"builder": 1, "helper": 1}
	case 3, 4:
		t["uses"] = row{"builder": 1, "inside": 1}
	case 5:
		t["uses"] = row{"builder": 1, "warm": 1}
	}
	if m.chance(35) {
		cure := row{"hours": m.quarter(24)}
		if m.chance(50) {
			cure["while"] = "warm"
		}
		if m.chance(40) {
			cure["holds"] = []string{"inside"}
		}
		t["cure"] = cure
	}
}

func (m *maker) progress(t row) {
	switch m.IntN(10) {
	case 0:
		t["state"], t["finished_at"] = "finished", []string{"2026-03-01T17:00", "2026-02-27", "2026-03-02T07:59"}[m.IntN(3)]
	case 1:
		t["state"] = "finished"
	case 2:
		t["state"], t["spent_h"] = "started", m.quarter(3)
	}
	if t["state"] != "finished" && m.chance(10) {
		t["left_h"] = m.quarter(3)
	}
}

func (m *maker) edges(names []string) []row {
	out := []row{}
	for j := range names {
		for i := range j {
			if !m.chance(25) {
				continue
			}
			e := row{"before": names[i], "after": names[j]}
			switch m.IntN(4) {
			case 0:
				e["kind"], e["rework_h"] = "should", m.quarter(2)
			case 1:
				e["lag_h"] = m.quarter(20)
			}
			if m.chance(15) && e["kind"] == "should" { // these may go back
				e["before"], e["after"] = names[j], names[i]
			}
			out = append(out, e)
		}
	}
	return out
}

// lives reports whether a record is of the chosen design.
func (g generated) lives(r row) bool {
	for _, o := range g["options"].([]row) {
		if r["option"] == o["id"] {
			return o["chosen"].(bool)
		}
	}
	return true
}

func (g generated) liveItems() []string {
	var out []string
	for _, r := range g["items"].([]row) {
		if g.lives(r) {
			out = append(out, r["id"].(string))
		}
	}
	return out
}

// liveNames gives all items and places that can be asked for.
func (g generated) liveNames() []string {
	out := g.liveItems()
	for _, r := range g["places"].([]row) {
		out = append(out, r["id"].(string))
	}
	return out
}

func (g generated) openTasks() int {
	n := 0
	for _, r := range g["tasks"].([]row) {
		if g.lives(r) && r["state"] != "finished" {
			n++
		}
	}
	return n
}
