package answer

import (
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
)

// Status gives the word for how t stands: of a task that is done whether it is hidden
// by now, else whether every proof it owes is in (a task that owes none is just done).
// A task that is not known waits.
func (v *View) Status(t id.Task) Status {
	task, ok := v.task(t)
	switch {
	case !ok:
		return Waiting
	case task.State == tasks.Finished && v.hidden(task):
		return Hidden
	case task.State == tasks.Finished && len(task.Checks) > 0 && len(v.Owed(t)) == 0:
		return Proven
	case task.State == tasks.Finished:
		return Done
	case task.State == tasks.Started || v.onTheClock(t):
		return UnderWay
	case len(v.waits(task, &waitContext{})) == 0:
		return Workable
	}
	return Waiting
}

func (v *View) onTheClock(t id.Task) bool { return v.Build.Clock != nil && v.Build.Clock.Task == t }
