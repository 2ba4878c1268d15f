package answer

import (
	"context"
	"slices"

	"example.com/vanlog/internal/access"
)

// Another is the second-best way: the cheapest that does without at least one thing that
// the best way opens, or one way in that it goes by.
type Another struct {
	CostMin float64  `json:"cost_min"`
	MoreMin float64  `json:"more_min"` // than the best way
	Proven  bool     `json:"proven"`
	Steps   []Step   `json:"steps"`
	Without []string `json:"without"` // what the best way opens or enters and this one does not
}

// Another gives the second-best way to the targets: the cheapest that does without at least
// one thing of the best way; false where there is none, or none was found in time. Where it
// enters a place by another way than the best, Without names the place. The errors are those
// of Reach.
func (v *View) Another(ctx context.Context, targets []string, visits int, f Fitted) (Another, bool, error) {
	q, err := v.question(targets, visits, f)
	if err != nil {
		return Another{}, false, err
	}
	best, err := v.way(ctx, q)
	if err != nil {
		return Another{}, false, wayError(targets, err)
	}
	second, found, err := v.second(ctx, q, best)
	if err != nil || !found {
		return Another{}, false, err
	}
	return Another{CostMin: second.Cost.Minutes(), MoreMin: max(0, second.Cost-best.Cost).Minutes(), Proven: second.Proven,
		Steps: v.wayOf(targets, q.Visits, second).Steps, Without: without(best, second)}, true, nil
}

// second searches for the second-best way, as long as way does. The error is that of ctx.
func (v *View) second(ctx context.Context, q access.Query, best access.Plan) (access.Plan, bool, error) {
	search, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	plan, found, err := v.solver().Second(search, q, best)
	if err != nil {
		return access.Plan{}, false, ctx.Err()
	}
	return plan, found, nil
}

// without gives the names of what best opens and enters and other does not, or not so.
func without(best, other access.Plan) []string {
	out := []string{}
	for _, s := range best.Steps {
		if s.Do == access.At {
			continue
		}
		same := func(o access.Step) bool {
			return o.Do == s.Do && o.Item == s.Item && o.Place == s.Place && o.Way == s.Way
		}
		if !slices.ContainsFunc(other.Steps, same) {
			out = addNew(out, string(s.Item)+string(s.Place))
		}
	}
	return out
}
