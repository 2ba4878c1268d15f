package cli

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/exchange"
)

// exportVerb is `vanlog export`.
type exportVerb struct {
	*env
	table, out string
}

func newExport(e *env) *cobra.Command {
	v := &exportVerb{env: e}
	c := &cobra.Command{
		Use:   "export [--csv tasks|items|parts] [-o FILE]",
		Short: "write the build as a build file, or one list of it as a table",
		Args:  takes(0, 0, "no arguments (-o FILE names the file)"),
		RunE:  v.run,
	}
	c.Flags().StringVar(&v.table, "csv", "", "write a table of these: `tasks`, items or parts")
	c.Flags().StringVarP(&v.out, "output", "o", "-", "the `FILE` to write, - for stdout")
	return c
}

func (v *exportVerb) run(c *cobra.Command, _ []string) error {
	kind, err := tableKind(v.table, "--csv")
	if err != nil {
		return err
	}
	if v.asJSON && v.table != "" {
		return usage("--csv writes a table, which is no JSON: leave out --json or --csv")
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := writeBuild(&text, view.Build, kind); err != nil {
		return fmt.Errorf("export: %w", err)
	}
	if v.out == "-" {
		_, err := v.Out.Write(text.Bytes())
		return err
	}
	if err := replaceFile(v.out, text.Bytes()); err != nil {
		return fmt.Errorf("-o %w", err)
	}
	v.note("written: %s", v.out)
	return nil
}

func writeBuild(w *bytes.Buffer, b build.Build, kind build.Kind) error {
	if kind == "" {
		return exchange.WriteJSON(w, b)
	}
	return exchange.WriteCSV(w, b, kind)
}
