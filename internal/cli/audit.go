package cli

import (
	"errors"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/build"
)

func newAudit(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "audit",
		Short: "everything that is wrong with the plan or the record",
		Args:  takes(0, 0, "no arguments"),
		RunE:  func(c *cobra.Command, _ []string) error { return e.audit(c) },
	}
}

func (e *env) audit(c *cobra.Command) error {
	view, err := e.view(c.Context())
	if err != nil {
		return err
	}
	found := view.Audit(c.Context())
	if e.asJSON {
		if err := e.printJSON(map[string]any{"problems": found}); err != nil {
			return err
		}
	} else {
		e.problems(found)
	}
	if len(found) > 0 {
		return errNo
	}
	return nil
}

func (e *env) problems(found []build.Problem) {
	if len(found) == 0 {
		e.say("nothing is wrong")
	}
	for _, p := range found {
		e.say("%s: %s: %s", p.Kind, p.Ref, p.Text)
		if p.Hint != "" {
			e.say("  hint: %s", p.Hint)
		}
	}
}

func newVerify(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "verify",
		Short: "whether the file holds what was written to it",
		Long: `Whether the file holds what was written to it: its pages, the check sum of every record,
every reference, and that the changes in its history lead to what it holds.`,
		Args: takes(0, 0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error { return e.verify(c) },
	}
}

// verified is the answer of verify.
type verified struct {
	OK       bool            `json:"ok"`
	Problems []build.Problem `json:"problems"`
}

func (e *env) verify(c *cobra.Command) error {
	path, err := e.path()
	if err != nil {
		return err
	}
	found, err := e.check(c, path)
	if errors.Is(err, build.ErrDamaged) && e.asJSON {
		damage := build.Problem{Kind: "damaged", Ref: path, Text: err.Error(), Hint: hintFor(err)}
		return errors.Join(e.printJSON(verified{Problems: []build.Problem{damage}}), err)
	}
	if err != nil {
		return err
	}
	if e.asJSON {
		err = e.printJSON(verified{OK: len(found) == 0, Problems: append([]build.Problem{}, found...)})
	} else {
		e.problems(found)
	}
	if err == nil && len(found) > 0 {
		return errNo
	}
	return err
}

func (e *env) check(c *cobra.Command, path string) ([]build.Problem, error) {
	s, err := e.Open(path)
	if err != nil {
		return nil, err
	}
	return e.on(s).Verify(c.Context())
}
