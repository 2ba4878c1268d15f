package answer

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
)

// burying is a proof that is buried; by: the task that buries it, empty where that is past.
type burying struct {
	by    id.Task
	task  id.Task
	check id.Check
}

// first reports whether a proof has not been named yet, and takes it to be from then on.
func (a *auditor) first(by id.Task, o Owed) bool {
	b := burying{by, o.Task, o.Check}
	had := a.said[b]
	a.said[b] = true
	return !had
}

// buried finds proofs that were wanted before the cover went on, and did not come.
func (a *auditor) buried() {
	for _, t := range a.v.Live.Tasks {
		if t.State != tasks.Finished || !a.v.hidden(t) {
			continue
		}
		for _, o := range a.v.owedBeforeCover(t) {
			a.first("", o)
			a.add("proof buried", string(t.ID), fmt.Sprintf("open it up, and log %s --reading %s=VALUE (or --photo FILE)", t.ID, o.Check),
				"%s is closed in without %s", t.Title(), proofText(o))
		}
	}
}

// coveredUnproven finds the entries that closed something in before its proofs were in;
// those that buried has named are not named again.
func (a *auditor) coveredUnproven() {
	unproven := a.v.BuriesUnproven()
	for i, e := range a.v.Build.Days.Rows {
		for _, o := range unproven[a.v.Build.Days.Keys[i]] {
			if a.first("", o) {
				a.add("covered unproven", string(o.Task), fmt.Sprintf("see whether %s still tells the truth, and note it in the daybook", o.Check),
					"%s was done on %s and closed in %s before %s was in",
					a.v.taskTitle(e.Task), e.End().Date(), a.v.taskTitle(o.Task), proofText(o))
			}
		}
	}
}

// aboutToBury finds proofs that the work that can be done now would bury.
func (a *auditor) aboutToBury() {
	for _, t := range a.v.Live.Tasks {
		if s := a.v.Status(t.ID); s != Workable && s != UnderWay {
			continue
		}
		for _, o := range a.v.CloseInBy(t).NotProved {
			a.first(t.ID, o)
			a.add("proof about to be buried", string(o.Task), fmt.Sprintf("get it in before %s", t.ID),
				"%s would close in %s without %s", t.Title(), a.v.taskTitle(o.Task), proofText(o))
		}
	}
}

// planBuries finds proofs that the first order would bury: it finishes what closes a task in
// before the task itself, or at the same minute, or the task is done already and still owes
// them. What aboutToBury has named is left out.
func (a *auditor) planBuries() {
	rows := slices.Clone(a.rows)
	slices.SortStableFunc(rows, func(x, y plan.Row) int { return cmp.Compare(x.Finish, y.Finish) })
	fitted := a.v.fitted()
	for _, r := range rows {
		t := a.job[r.Job]
		y := a.v.solver().Set(t.Fits...)
		with := union(fitted, y)
		if len(t.Fits) > 0 {
			c := &cover{v: a.v, y: y, without: minus(fitted, y), with: with}
			a.buriedByRow(r, c)
			a.doneBuriedByRow(r, c)
		}
		fitted = with
	}
}

// buriedByRow finds what the finish of a row buries of what is not finished by then.
func (a *auditor) buriedByRow(r plan.Row, c *cover) {
	by := a.job[r.Job]
	for _, late := range a.rows {
		t := a.job[late.Job]
		owed := a.v.owedBeforeCover(t)
		if late.Finish < r.Finish || late.Job == r.Job || len(owed) == 0 {
			continue
		}
		if _, dearer := c.task(t); !dearer {
			continue
		}
		for _, o := range owed {
			if a.first(by.ID, o) {
				a.add("plan buries proof", string(t.ID), fmt.Sprintf("add an edge: %s before %s", t.ID, by.ID),
					"in the plan, %s is done by %s and closes in %s, which is not done before %s and owes %s",
					by.Title(), when(r.Finish), t.Title(), when(late.Finish), proofText(o))
			}
		}
	}
}

// doneBuriedByRow finds what the finish of a row buries of what is done already: each proof once,
// by the first row that does.
func (a *auditor) doneBuriedByRow(r plan.Row, c *cover) {
	by := a.job[r.Job]
	for _, t := range a.v.Live.Tasks {
		if t.State != tasks.Finished {
			continue
		}
		owed := slices.DeleteFunc(a.v.owedBeforeCover(t), a.named)
		if len(owed) == 0 {
			continue
		}
		if _, dearer := c.task(t); !dearer {
			continue
		}
		for _, o := range owed {
			a.first(by.ID, o)
			a.add("plan buries proof", string(t.ID), fmt.Sprintf("get it in before then, and log %s --reading %s=VALUE (or --photo FILE)", t.ID, o.Check),
				"in the plan, %s is done by %s and closes in %s, which is done and still owes %s",
				by.Title(), when(r.Finish), t.Title(), proofText(o))
		}
	}
}

// named reports whether a proof has been named already, whatever buries it.
func (a *auditor) named(o Owed) bool {
	for b := range a.said {
		if b.task == o.Task && b.check == o.Check {
			return true
		}
	}
	return false
}

// proofText names a proof, with what it is where that is said.
func proofText(o Owed) string {
	if o.What == "" {
		return string(o.Check)
	}
	return fmt.Sprintf("%s (%s)", o.Check, o.What)
}

// outOfTolerance finds proofs whose last reading is not what is wanted.
func (a *auditor) outOfTolerance() {
	for _, t := range a.v.Live.Tasks {
		for _, c := range t.Checks {
			if p := a.v.proof(t, c); p.State == ProofOut {
				a.add("out of tolerance", string(t.ID), fmt.Sprintf("put it right, and log %s --reading %s=VALUE", t.ID, c.ID),
					"%s: the last reading for %s was %s", t.Title(), proofText(Owed{Task: t.ID, Check: c.ID, What: c.What}), p.Value)
			}
		}
	}
}

// snagsAboutToGo finds open snags that the work that can be done now would close in.
func (a *auditor) snagsAboutToGo() {
	for _, s := range a.v.Build.Snags.Rows {
		if !a.v.SnagOpen(s) {
			continue
		}
		now := Sequence{}
		for _, t := range a.v.Live.Tasks {
			if st := a.v.Status(t.ID); (st == Workable || st == UnderWay) && t.ID != s.Became {
				now.Tasks = append(now.Tasks, Row{ID: t.ID})
			}
		}
		if by, ok := a.v.snagHider(&now, s); ok {
			a.add("snag about to be closed in", string(s.ID), fmt.Sprintf("mend it before %s", by.ID), "%s would close in a snag: %s", a.v.taskTitle(by.ID), s.What)
		}
	}
}
