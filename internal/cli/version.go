package cli

import (
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func newVersion(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "the version of this program",
		Args:  takes(0, 0, "no arguments"),
		RunE: func(*cobra.Command, []string) error {
			version := buildVersion()
			if e.asJSON {
				return e.printJSON(map[string]string{"version": version, "go": runtime.Version()})
			}
			e.say("vanlog %s (%s %s/%s)", version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return nil
		},
	}
}

// buildVersion gives what the Go tool wrote into the program.
func buildVersion() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}
