package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/exchange"
)

// importVerb is `vanlog import`.
type importVerb struct {
	*env
	kind string
}

// imported is what an import did.
type imported struct {
	File    string `json:"file"`
	Created bool   `json:"created"`
	Tasks   int    `json:"tasks"`
	Items   int    `json:"items"`
	Parts   int    `json:"parts"`
	Edges   int    `json:"edges"`
	Added   int    `json:"added"`   // rows of a table
	Changed int    `json:"changed"` // rows of a table
}

func newImport(e *env) *cobra.Command {
	v := &importVerb{env: e}
	c := &cobra.Command{
		Use:   "import FILE.json|FILE.csv|-",
		Short: "read a build file or a table, all of it or nothing",
		Long: `Read a build file (JSON) or a table (CSV); - reads from stdin.
A build file takes the place of everything in the build; a table adds rows and changes those
that are there. Either is one change: vanlog undo takes it back. Where the build does not
exist yet it is made.`,
		Args: takes(1, 1, "one FILE, or - for stdin"),
		RunE: v.run,
	}
	c.Flags().StringVar(&v.kind, "kind", "", "what the rows of a table are: `task`, item or part")
	return c
}

func (v *importVerb) run(c *cobra.Command, args []string) error {
	kind, err := tableKind(v.kind, "--kind")
	if err != nil {
		return err
	}
	text, err := v.read(args[0])
	if err != nil {
		return err
	}
	path, err := v.path()
	if err != nil {
		return err
	}
	table := isTable(args[0], text)
	if kind != "" && !table {
		return usage("--kind is for tables, and %s is a build file", args[0])
	}
	done := imported{File: path, Created: !there(path)}
	if table {
		err = v.table(c.Context(), &done, text, kind, args[0])
	} else {
		err = v.buildFile(c.Context(), &done, text, args[0])
	}
	if err != nil {
		return err
	}
	return v.report(done, table)
}

func (v *importVerb) read(name string) ([]byte, error) {
	if name == "-" {
		return io.ReadAll(v.In)
	}
	return os.ReadFile(name)
}

// isTable reports whether a file is a table: by its name, else by how it begins.
func isTable(name string, text []byte) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".csv":
		return true
	case ".json":
		return false
	}
	return !bytes.HasPrefix(bytes.TrimLeft(text, "\ufeff \t\r\n"), []byte("{"))
}

// tableKind reads the name of a kind that tables have, one or many; the empty one is none.
func tableKind(name, flag string) (build.Kind, error) {
	switch strings.TrimSuffix(name, "s") {
	case "":
		return "", nil
	case "task":
		return build.TaskKind, nil
	case "item":
		return build.ItemKind, nil
	case "part":
		return build.PartKind, nil
	}
	return "", usage("%s: %q has no table, want tasks, items or parts", flag, name)
}

func (v *importVerb) buildFile(ctx context.Context, done *imported, text []byte, from string) error {
	b, err := exchange.ReadJSON(bytes.NewReader(text))
	if err != nil {
		return err
	}
	done.count(b)
	return v.put(ctx, done, b, "import "+filepath.Base(from))
}

// table reads a table into the build as it is when it is written, or into a new one.
func (v *importVerb) table(ctx context.Context, done *imported, text []byte, kind build.Kind, from string) error {
	merged := func(old build.Build) (build.Build, string, error) {
		b, added, changed, err := exchange.ReadCSV(bytes.NewReader(text), old, kind)
		done.Added, done.Changed = added, changed
		done.count(b)
		return b, fmt.Sprintf("import %s: %d new, %d changed", filepath.Base(from), added, changed), err
	}
	if done.Created {
		name := strings.TrimSuffix(filepath.Base(done.File), filepath.Ext(done.File))
		b, what, err := merged(build.Build{Head: build.Head{Name: name}})
		if err != nil {
			return err
		}
		return v.put(ctx, done, b, what)
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	_, err = a.Merge(ctx, merged)
	return err
}

// put writes b into the file that is meant, which it makes where there is none.
func (v *importVerb) put(ctx context.Context, done *imported, b build.Build, what string) error {
	if done.Created {
		s, err := v.Create(done.File, b, what, v.clock())
		if err == nil {
			v.on(s)
		}
		return err
	}
	a, err := v.app()
	if err != nil {
		return err
	}
	_, err = a.Import(ctx, b, what)
	return err
}

func (d *imported) count(b build.Build) {
	d.Tasks, d.Items, d.Parts, d.Edges = b.Tasks.Len(), b.Items.Len(), b.Parts.Len(), b.Edges.Len()
}

func (v *importVerb) report(d imported, table bool) error {
	if v.asJSON {
		return v.printJSON(d)
	}
	if table {
		v.say("imported: %d rows new, %d changed", d.Added, d.Changed)
	}
	v.say("%s now has %d tasks, %d edges, %d items, %d parts", d.File, d.Tasks, d.Edges, d.Items, d.Parts)
	switch {
	case d.Created:
		v.say("the file is new")
	case table && d.Added+d.Changed == 0:
		v.say("nothing differs from what was there")
	case !table:
		v.say("it took the place of what was there; vanlog undo brings that back")
	default:
		v.say("vanlog undo takes it back")
	}
	return nil
}
