package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/vanlog/internal/find"
)

// findVerb is `vanlog find`.
type findVerb struct {
	*env
	kind string
	most int
}

// found is what `vanlog find` prints.
type found struct {
	Kind  string `json:"kind"`
	ID    string `json:"id"`
	Title string `json:"title"`
	More  string `json:"more,omitempty"`
	Guess bool   `json:"guess,omitempty"` // with a word spelt otherwise
}

func newFind(e *env) *cobra.Command {
	v := &findVerb{env: e}
	c := &cobra.Command{
		Use:   "find WORDS",
		Short: "look for words in everything",
		Long: `Look for words in everything: tasks, proofs, items, labels, places, parts, notes, readings, photos.
The words may stand in any order; a slip of the fingers is guessed. The best come first.`,
		Args: cobra.ArbitraryArgs,
		RunE: v.run,
	}
	c.Flags().StringVar(&v.kind, "kind", "", "only of this `KIND`: task, proof, item, place, part, entry, edge, option, resource, cut, snag")
	c.Flags().IntVar(&v.most, "most", 20, "this `NUMBER` at most")
	return c
}

func (v *findVerb) run(c *cobra.Command, args []string) error {
	query := strings.Join(args, " ")
	if strings.TrimSpace(query) == "" {
		return &usageError{text: "find what?", hint: "vanlog find WORDS"}
	}
	if v.most < 1 {
		return usage("--most: want 1 or more, got %d", v.most)
	}
	view, err := v.view(c.Context())
	if err != nil {
		return err
	}
	things := view.Things()
	if v.kind != "" {
		things = slices.DeleteFunc(things, func(t find.Thing) bool { return t.Kind != v.kind })
	}
	hits, all := find.New(things).Find(query, v.most)
	out := []found{}
	for _, h := range hits {
		out = append(out, found{h.Kind, h.ID, h.Title, h.More, h.Guess})
	}
	if v.asJSON {
		return v.printJSON(map[string]any{"found": all, "hits": out})
	}
	v.hits(out, all)
	if all == 0 {
		return errNo
	}
	return nil
}

func (v *findVerb) hits(hits []found, all int) {
	switch {
	case all == 0:
		v.say("nothing has these words")
		return
	case hits[0].Guess:
		v.say("nothing has just these words; spelt nearly so:")
	}
	var rows [][]string
	for _, h := range hits {
		rows = append(rows, []string{h.Kind, h.ID, h.Title, h.More})
	}
	v.table(rows...)
	if all > len(hits) {
		v.say("%s", fmt.Sprintf("and %d more", all-len(hits)))
	}
}
