package cli

import (
	"errors"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/photo"
	"example.com/vanlog/internal/settings"
)

func newSettings(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "settings [NAME [VALUE]]",
		Short: "what you want of vanlog, whatever the build",
		Long: `Show the settings, or change one; an empty VALUE ('') is the default again. They are kept in
XDG_CONFIG_HOME, in vanlog/settings.json. What belongs to a build, such as its units, is kept in it.`,
		Example: "  vanlog settings photo_folder ~/pictures/camera",
		Args:    takes(0, 2, "NAME and VALUE if you like"),
		RunE:    func(_ *cobra.Command, args []string) error { return e.settings(args) },
	}
}

// wanted gives the settings.
func (e *env) wanted() (settings.Settings, error) { return settings.Read(settings.File(e.Env)) }

func (e *env) settings(args []string) error {
	s, err := e.wanted()
	if err != nil {
		return err
	}
	if len(args) == 2 {
		if s, err = s.With(args[0], args[1]); err != nil {
			return usage("%v", err)
		}
		if err := settings.Write(settings.File(e.Env), s); err != nil {
			return err
		}
	} else if len(args) == 1 {
		if _, err := s.With(args[0], ""); err != nil {
			return usage("%v", err)
		}
	}
	if e.asJSON {
		return e.printJSON(s)
	}
	var rows [][]string
	for _, f := range settings.Fields() {
		if len(args) == 0 || args[0] == f.Name {
			rows = append(rows, []string{f.Name, or(s.Get(f.Name), "(none)"), f.About})
		}
	}
	e.table(rows...)
	return nil
}

// newest stands for the newest picture of the photo folder where a photo is named.
const newest = "newest"

// newestFor puts the newest picture of the photo folder in the place of its word.
func (e *env) newestFor(photos []string) error {
	for i, p := range photos {
		if p != newest {
			continue
		}
		s, err := e.wanted()
		if err != nil {
			return err
		}
		path, err := photo.Newest(s.PhotoFolder)
		if errors.Is(err, photo.ErrNoFolder) {
			return hinted(err, "vanlog settings photo_folder FOLDER")
		}
		if err != nil {
			return err
		}
		photos[i] = path
	}
	return nil
}
