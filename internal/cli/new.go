package cli

import (
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.com/vanlog/internal/build"
)

// newVerb is `vanlog new`.
type newVerb struct {
	*env
	name, units string
}

func newNew(e *env) *cobra.Command {
	v := &newVerb{env: e}
	c := &cobra.Command{
		Use:   "new FILE --name NAME",
		Short: "make an empty build",
		Args:  takes(1, 1, "one FILE"),
		RunE:  v.run,
	}
	v.flags(c.Flags())
	return c
}

func (v *newVerb) flags(f *pflag.FlagSet) {
	f.StringVar(&v.name, "name", "", "the `NAME` of the build")
	f.StringVar(&v.units, "units", "metric", "`metric` or imperial, for display")
}

func (v *newVerb) validate() error {
	if v.name == "" {
		return &usageError{text: "a new build needs a name", hint: "vanlog new FILE --name NAME"}
	}
	if v.units != "metric" && v.units != "imperial" {
		return usage("--units: %q is neither metric nor imperial", v.units)
	}
	return nil
}

func (v *newVerb) run(_ *cobra.Command, args []string) error {
	if err := v.validate(); err != nil {
		return err
	}
	b := build.Build{Head: build.Head{Name: v.name, Units: v.units}}
	if faults := b.Check(); len(faults) > 0 {
		return faults
	}
	s, err := v.Create(args[0], b, "new build "+v.name, v.clock())
	if err != nil {
		return err
	}
	v.on(s)
	if v.asJSON {
		return v.printJSON(map[string]string{"file": s.Path(), "name": v.name})
	}
	v.say("made: %s, an empty build named %s", s.Path(), v.name)
	return nil
}
