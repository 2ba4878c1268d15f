package plan

import (
	"slices"

	"example.com/vanlog/internal/units"
)

// resume begins with rows of an order that was found before. Where they are a valid sequence
// still that is the best so far, and nothing else is needed: it reports that.
func (f *finder) resume(rows []Row) bool {
	n := len(f.m.jobs)
	if len(rows) == 0 {
		return false
	}
	start, finish := slices.Repeat([]units.Instant{never}, n), make([]units.Instant, n)
	known := 0
	for _, r := range rows {
		if start[r.Job] == never {
			known++
		}
		start[r.Job], finish[r.Job] = r.Start, r.Finish
	}
	list := f.m.listBy(func(j int) int64 { return int64(start[j]) })
	if known < n {
		f.attempt(newSchedule(f.m), list, nil)
		return false
	}
	found, err := evaluate(f.m.p, start, finish)
	if err != nil {
		f.attempt(newSchedule(f.m), list, nil)
		return false
	}
	f.take(found)
	f.list = list
	return true
}
