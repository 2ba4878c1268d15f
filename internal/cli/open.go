package cli

import (
	"cmp"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/app"
	"example.com/vanlog/internal/id"
)

// path gives the file that is meant: --build, else VANLOG_BUILD, else the one last opened.
func (e *env) path() (string, error) {
	if path := cmp.Or(e.file, e.Env("VANLOG_BUILD"), e.last()); path != "" {
		return path, nil
	}
	return "", &noBuildError{}
}

// app opens the build that is meant.
func (e *env) app() (*app.App, error) {
	path, err := e.path()
	if err != nil {
		return nil, err
	}
	s, err := e.Open(path)
	if err != nil {
		return nil, err
	}
	return e.on(s), nil
}

// on gives the app on a store, and remembers the build as the one last opened.
func (e *env) on(s app.Store) *app.App {
	e.remember(s.Path())
	if e.now != nil {
		return app.NewAt(s, *e.now)
	}
	return app.New(s, e.clock)
}

// view gives the build that is meant, at its planning time.
func (e *env) view(ctx context.Context) (*answer.View, error) {
	a, err := e.app()
	if err != nil {
		return nil, err
	}
	return a.View(ctx)
}

// lastFile is where the name of the build last opened is kept; none where the
// surroundings name no such place.
func (e *env) lastFile() string {
	switch {
	case filepath.IsAbs(e.Env("XDG_STATE_HOME")):
		return filepath.Join(e.Env("XDG_STATE_HOME"), "vanlog", "last")
	case e.Env("LOCALAPPDATA") != "":
		return filepath.Join(e.Env("LOCALAPPDATA"), "vanlog", "last")
	case e.Env("HOME") != "":
		return filepath.Join(e.Env("HOME"), ".local", "state", "vanlog", "last")
	}
	return ""
}

func (e *env) last() string {
	text, err := os.ReadFile(e.lastFile())
	if err != nil {
		return ""
	}
	return strings.TrimSuffix(string(text), "\n")
}

// remember keeps the name of the build last opened. That it cannot is no reason to stop: the
// name can always be given.
func (e *env) remember(path string) {
	full, err := filepath.Abs(path)
	file := e.lastFile()
	if err != nil || file == "" || e.last() == full {
		return
	}
	if os.MkdirAll(filepath.Dir(file), 0o700) == nil {
		_ = os.WriteFile(file, []byte(full+"\n"), 0o600)
	}
}

// there reports whether there is something at path.
func there(path string) bool {
	_, err := os.Stat(path)
	return err == nil || !errors.Is(err, os.ErrNotExist)
}

// names completes the names of one kind of record in the shell.
func (e *env) names(of func(*answer.View) []string) cobra.CompletionFunc {
	return func(c *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		if e.prepare(c, nil) != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		v, err := e.view(c.Context())
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		names := slices.DeleteFunc(of(v), func(n string) bool { return !strings.HasPrefix(n, typed) })
		slices.Sort(names)
		return slices.Compact(names), cobra.ShellCompDirectiveNoFileComp
	}
}

func tasksOf(v *answer.View) []string { return textOf(v.Live.TaskAt) }

func targetsOf(v *answer.View) []string {
	return append(textOf(v.Live.ItemAt), textOf(v.Live.PlaceAt)...)
}

func itemsAndTasksOf(v *answer.View) []string {
	return append(textOf(v.Live.ItemAt), textOf(v.Live.TaskAt)...)
}

func choicesOf(v *answer.View) []string {
	var out []string
	for _, o := range v.Build.Options.Rows {
		out = append(out, o.Choice)
	}
	return out
}

// textOf gives names as text, in any order.
func textOf[K id.Task | id.Item | id.Place](at map[K]int) []string {
	var out []string
	for name := range at {
		out = append(out, string(name))
	}
	return out
}
