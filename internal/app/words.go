package app

import (
	"fmt"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// whatLogged says what an entry is, as the person would say it.
func whatLogged(t tasks.Task, l Logged) string {
	what := fmt.Sprintf("%s on %s", logged(l.Entry), t.Title())
	if l.Finished {
		what += ", finished"
	}
	if len(l.Ahead) > 0 {
		what += ", ahead of its turn"
	}
	return what
}

func logged(e daybook.Entry) string {
	switch {
	case e.Minutes > 0 || e.Finished:
		return "log " + units.Minutes(e.Minutes).String()
	case e.Visits > 0:
		return "log trips in"
	case len(e.Readings) > 0:
		return "enter a reading"
	case len(e.Photos) > 0:
		return "enter a photo"
	case e.Note != "":
		return "enter a note"
	}
	return "log " + units.Minutes(e.Minutes).String()
}

// titleOf gives the title of a task by its name.
func titleOf(v *answer.View, t id.Task) string {
	for _, task := range v.Build.Tasks.Rows {
		if task.ID == t {
			return task.Title()
		}
	}
	return string(t)
}

// named says which record a row is.
func named(kind build.Kind, row any) string {
	if name := nameOf(row); name != "" {
		return string(kind) + " " + name
	}
	return "the " + map[build.Kind]string{build.HeadKind: "head of the build", build.ClockKind: "clock"}[kind]
}

func nameOf(row any) string {
	switch r := row.(type) {
	case calendar.Resource:
		return string(r.ID)
	case access.Place:
		return r.Title()
	case access.Item:
		return r.Title()
	case parts.Part:
		return r.Title()
	case tasks.Task:
		return r.Title()
	case deps.Edge:
		return fmt.Sprintf("%s -> %s", r.Before, r.After)
	case build.Option:
		return string(r.ID)
	case cutlist.Stock:
		return string(r.ID)
	case cutlist.Cut:
		return string(r.ID)
	case daybook.Snag:
		return string(r.ID)
	case daybook.Entry:
		return fmt.Sprintf("%s of %s", r.Task, r.At)
	}
	return ""
}

// rowOf gives the record with key k of a kind; nil for a head, a clock, or none.
func rowOf(b build.Build, kind build.Kind, k build.Key) any {
	switch kind {
	case build.ResourceKind:
		return row(b.Resources, k)
	case build.PlaceKind:
		return row(b.Places, k)
	case build.ItemKind:
		return row(b.Items, k)
	case build.PartKind:
		return row(b.Parts, k)
	case build.TaskKind:
		return row(b.Tasks, k)
	case build.EdgeKind:
		return row(b.Edges, k)
	case build.OptionKind:
		return row(b.Options, k)
	case build.StockKind:
		return row(b.Stocks, k)
	case build.CutKind:
		return row(b.Cuts, k)
	case build.DayKind:
		return row(b.Days, k)
	case build.SnagKind:
		return row(b.Snags, k)
	}
	return nil
}

func row[T any](l build.List[T], k build.Key) any {
	r, _ := l.ByKey(k)
	return r
}
