package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// NoteSnag puts a fault that was found on the list. About names an item, a task or a place;
// empty: nothing of these. The snag gets an id of its words. The error is a *answer.NameError
// where nothing has the name.
func (a *App) NoteSnag(ctx context.Context, about, what string) (daybook.Snag, build.Change, error) {
	var out daybook.Snag
	c, err := a.act(ctx, func(v *answer.View) (build.Change, error) {
		out = daybook.Snag{At: v.Now, What: strings.TrimSpace(what)}
		if out.What == "" {
			return build.Change{}, fmt.Errorf("a snag must say what is wrong")
		}
		if err := aim(v, &out, about); err != nil {
			return build.Change{}, err
		}
		out.ID = id.Snag(id.ProposeFree(out.What, func(s string) bool { return snagAt(v, id.Snag(s)) >= 0 }))
		if out.ID == "" {
			out.ID = id.Snag(id.ProposeFree("snag", func(s string) bool { return snagAt(v, id.Snag(s)) >= 0 }))
		}
		return build.Change{What: "note a snag: " + out.What, Edits: []build.Edit{v.Build.Adding(build.SnagKind, out, 0)}}, nil
	})
	return out, c, err
}

// aim sets what a snag is about.
func aim(v *answer.View, s *daybook.Snag, about string) error {
	if about == "" {
		return nil
	}
	if _, ok := v.Live.ItemAt[id.Item(about)]; ok {
		s.Item = id.Item(about)
		return nil
	}
	if _, ok := v.Live.TaskAt[id.Task(about)]; ok {
		s.Task = id.Task(about)
		return nil
	}
	if _, ok := v.Live.PlaceAt[id.Place(about)]; ok {
		s.Place = id.Place(about)
		return nil
	}
	return &answer.NameError{What: "item, task or place", Name: about, Near: answer.Near(about, thingsOf(v))}
}

func thingsOf(v *answer.View) []string {
	var out []string
	for x := range v.Live.ItemAt {
		out = append(out, string(x))
	}
	for x := range v.Live.TaskAt {
		out = append(out, string(x))
	}
	for x := range v.Live.PlaceAt {
		out = append(out, string(x))
	}
	slices.Sort(out)
	return out
}

// snagAt gives the place of a snag in its list; -1 for none.
func snagAt(v *answer.View, name id.Snag) int {
	return slices.IndexFunc(v.Build.Snags.Rows, func(s daybook.Snag) bool { return s.ID == name })
}

// onSnag changes an open snag.
func (a *App) onSnag(ctx context.Context, name id.Snag, do func(*answer.View, daybook.Snag, build.Key) (build.Change, error)) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (build.Change, error) {
		i := snagAt(v, name)
		if i < 0 {
			var names []id.Snag
			for _, s := range v.Build.Snags.Rows {
				names = append(names, s.ID)
			}
			return build.Change{}, &answer.NameError{What: "snag", Name: string(name), Near: answer.Near(string(name), names)}
		}
		s := v.Build.Snags.Rows[i]
		if !v.SnagOpen(s) {
			return build.Change{}, fmt.Errorf("snag %s is closed already", name)
		}
		return do(v, s, v.Build.Snags.Keys[i])
	})
}

// CloseSnag closes an open snag: it is mended. The error is a *answer.NameError for one that
// is not on the list.
func (a *App) CloseSnag(ctx context.Context, name id.Snag) (build.Change, error) {
	return a.onSnag(ctx, name, func(v *answer.View, s daybook.Snag, k build.Key) (build.Change, error) {
		s.Closed = &v.Now
		return build.Change{What: "close the snag: " + s.What, Edits: []build.Edit{v.Build.Editing(build.SnagKind, k, s)}}, nil
	})
}

// SnagTask makes a task of an open snag, of so many hours, in the place of what it is about;
// the snag is closed when that is done. The errors are those of CloseSnag, and that it has
// become a task already.
func (a *App) SnagTask(ctx context.Context, name id.Snag, hours units.Estimate) (tasks.Task, build.Change, error) {
	var t tasks.Task
	c, err := a.onSnag(ctx, name, func(v *answer.View, s daybook.Snag, k build.Key) (build.Change, error) {
		if s.Became != "" {
			return build.Change{}, fmt.Errorf("snag %s has become task %s already", name, s.Became)
		}
		t = mending(v, s, hours)
		s.Became = t.ID
		return build.Change{What: "make a task of the snag: " + s.What,
			Edits: []build.Edit{v.Build.Adding(build.TaskKind, t, 0), v.Build.Editing(build.SnagKind, k, s)}}, nil
	})
	return t, c, err
}

// mending is the task that mends a snag.
func mending(v *answer.View, s daybook.Snag, hours units.Estimate) tasks.Task {
	taken := func(name string) bool {
		return slices.ContainsFunc(v.Build.Tasks.Rows, func(t tasks.Task) bool { return string(t.ID) == name })
	}
	t := tasks.Task{ID: id.Task(id.ProposeFree("mend "+string(s.ID), taken)), Name: "Mend: " + s.What, Trade: "mending", Hours: hours, Place: s.Place}
	if i, ok := v.Live.TaskAt[s.Task]; ok {
		about := v.Live.Tasks[i]
		t.Place, t.Reaches = about.Place, about.Reaches
	}
	if i, ok := v.Live.ItemAt[s.Item]; ok {
		t.Place, t.Reaches = v.Live.Items[i].Place, []id.Item{s.Item}
	}
	t.SetDefaults()
	return t
}
