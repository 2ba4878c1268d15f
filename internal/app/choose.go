package app

import (
	"context"
	"fmt"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/id"
)

// Choose makes an option the chosen one of its choice, in one change with the one that was
// chosen before. An option that is chosen already gives a change without a Seq. The error is
// a *answer.NameError for an unknown option, a build.Faults where the build would be at fault
// with it.
func (a *App) Choose(ctx context.Context, o id.Option) (build.Change, error) {
	return a.act(ctx, func(v *answer.View) (c build.Change, err error) {
		next, err := v.Build.Choose(o)
		if err != nil {
			var names []id.Option
			for _, row := range v.Build.Options.Rows {
				names = append(names, row.ID)
			}
			return c, &answer.NameError{What: "option", Name: string(o), Near: answer.Near(string(o), names)}
		}
		for i, row := range next.Options.Rows {
			if row != v.Build.Options.Rows[i] {
				c.Edits = append(c.Edits, v.Build.Editing(build.OptionKind, next.Options.Keys[i], row))
			}
			if row.ID == o {
				c.What = fmt.Sprintf("choose %s for %s", optionTitle(row), row.Choice)
			}
		}
		return c, nil
	})
}

func optionTitle(o build.Option) string {
	if o.Name == "" {
		return string(o.ID)
	}
	return o.Name
}
