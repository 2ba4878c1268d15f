package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
)

func newBackup(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "backup [FILE]",
		Short: "a verified copy of the build, history and all",
		Long: `Write a copy of the build, history and all, and verify it. Without FILE it goes to the backup folder
of the settings, under the name of the build with day and minute.`,
		Args: takes(0, 1, "one FILE at most"),
		RunE: func(c *cobra.Command, args []string) error {
			a, err := e.app()
			if err != nil {
				return err
			}
			to, err := e.backupFile(a.Path(), args)
			if err != nil {
				return err
			}
			if err := a.Backup(c.Context(), to); err != nil {
				return err
			}
			if e.asJSON {
				return e.printJSON(map[string]string{"file": to})
			}
			e.say("written and verified: %s", to)
			return nil
		},
	}
}

// backupFile gives the file that a backup goes to: the one that is named, else one in the
// backup folder.
func (e *env) backupFile(from string, args []string) (string, error) {
	if len(args) > 0 {
		return args[0], nil
	}
	s, err := e.wanted()
	if err != nil {
		return "", err
	}
	if s.BackupFolder == "" {
		return "", &usageError{text: "no FILE is named, and no backup folder is set", hint: "vanlog backup FILE, or vanlog settings backup_folder FOLDER"}
	}
	return filepath.Join(s.BackupFolder, e.stamped(filepath.Base(from))), nil
}

// stamped puts day and minute into the name of a file.
func (e *env) stamped(name string) string {
	stamp := strings.NewReplacer("T", "-", ":", "").Replace(e.clock().String())
	return strings.TrimSuffix(name, filepath.Ext(name)) + "-" + stamp + filepath.Ext(name)
}

func newRestore(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "restore FILE",
		Short: "put a backup in the place of the build",
		Long: `Verify a backup, and put it in the place of the build that is meant, history and all. What was there is
kept beside it under another name.`,
		Args: takes(1, 1, "one FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			path, err := e.path()
			if err != nil {
				return err
			}
			kept, err := e.keepBeside(path)
			if err != nil {
				return err
			}
			if err := e.Restore(c.Context(), args[0], path); err != nil {
				if kept != "" {
					_ = os.Remove(kept) // it is the same as what is there
				}
				return err
			}
			e.remember(path)
			if e.asJSON {
				return e.printJSON(map[string]string{"file": path, "kept": kept})
			}
			e.say("restored: %s", path)
			if kept != "" {
				e.say("what was there is kept: %s", kept)
			}
			return nil
		},
	}
}

// keepBeside copies a file as it is, be it damaged or not, beside it; empty where there is none.
func (e *env) keepBeside(path string) (string, error) {
	text, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return "", nil
	}
	if err != nil {
		return "", fmt.Errorf("keep what is there: %w", err)
	}
	kept := filepath.Join(filepath.Dir(path), e.stamped("before-restore-"+filepath.Base(path)))
	for n := 2; there(kept); n++ {
		kept = filepath.Join(filepath.Dir(path), e.stamped(fmt.Sprintf("before-restore-%d-%s", n, filepath.Base(path))))
	}
	if err := os.WriteFile(kept, text, 0o600); err != nil {
		return "", fmt.Errorf("keep what is there: %w", err)
	}
	return kept, nil
}
