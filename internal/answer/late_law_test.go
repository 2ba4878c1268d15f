package answer

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/plan"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// TestLawLate compares the choices with all orders there are, worked through one by one.
func TestLawLate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawParts(t)
		delay := Delay{"part0", v.Now.Date() + units.Date(rapid.IntRange(0, 9).Draw(t, "late"))}
		l, err := v.Late(t.Context(), []Delay{delay}, plan.Options{})
		var none *plan.NoSequenceError
		if errors.As(err, &none) {
			if d, ok := newSerial(v).best(func(done) bool { return true }); ok {
				t.Fatalf("%v, but there is %v", err, d.order)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		with, err := v.delayed(l.Parts)
		if err != nil {
			t.Fatal(err)
		}
		c := &lateCheck{T: t, serial: newSerial(New(with.Build, v.Now)), l: l}
		c.waitingIsRight()
		c.holdKeepsTheOrder()
		c.carryOnIsBest()
		c.nothingIsBuried()
	})
}

// lateCheck is an answer against all orders.
type lateCheck struct {
	*rapid.T
	*serial
	l Late
}

func (c *lateCheck) waitingIsRight() {
	leads := c.leads()
	for _, t := range c.open {
		waits := slices.ContainsFunc(c.open, func(o tasks.Task) bool {
			return slices.Contains(o.Parts, "part0") && (o.ID == t.ID || leads[[2]id.Task{o.ID, t.ID}])
		})
		if waits != slices.Contains(c.l.Waiting, t.ID) {
			c.Fatalf("%s waits: %v; waiting are %v", t.ID, waits, c.l.Waiting)
		}
	}
}

func (c *lateCheck) holdKeepsTheOrder() {
	d, ok := c.run(c.inOrder(c.l.Present.Sequence))
	hold := c.l.Choices[0]
	if !ok || hold.Finish != d.finish || hold.WorkMin != d.work {
		c.Fatalf("hold ends %v with %d minutes; %v in that order end %v with %d (%v)", hold.Finish, hold.WorkMin, d.order, d.finish, d.work, ok)
	}
	c.figures(hold)
}

func (c *lateCheck) carryOnIsBest() {
	best, _ := c.best(func(done) bool { return true })
	carry := c.l.Choices[1]
	if carry.Finish != best.finish || carry.WorkMin != best.work {
		c.Fatalf("carry on ends %v with %d minutes; %v end %v with %d", carry.Finish, carry.WorkMin, best.order, best.finish, best.work)
	}
	c.figures(carry)
}

// figures checks the trips in and what is closed in of a choice against its own order.
func (c *lateCheck) figures(x LateChoice) {
	d, ok := c.run(c.inOrder(x.Sequence))
	if !ok {
		c.Fatalf("%s: %v is no order", x.Name, x.Sequence.Tasks)
	}
	var closed []id.Task
	for _, name := range d.order {
		task, _ := c.v.task(name)
		now, _ := c.v.reach(task, c.v.fitted())
		then, _ := c.v.reach(task, d.fitted[name])
		if slices.Contains(c.l.Waiting, name) && then > now {
			closed = append(closed, name)
		}
	}
	for i, b := range x.Closes {
		if i >= len(closed) || closed[i] != b.Task || len(b.By) == 0 || *b.ExtraMin != *b.AfterMin-b.BeforeMin {
			c.Fatalf("%s closes in %v, want %v", x.Name, x.Closes, closed)
		}
	}
	if len(closed) != len(x.Closes) || x.AccessMin > x.WorkMin {
		c.Fatalf("%s closes in %v, want %v", x.Name, x.Closes, closed)
	}
}

// nothingIsBuried checks the third choice where waiting tasks cannot be in each other's way: where
// all that fits anything could come after every waiting task that it need not come before.
func (c *lateCheck) nothingIsBuried() {
	open, leads := c.l.Choices[2], c.leads()
	if open.NoOrder != "" {
		return
	}
	for _, b := range open.Closes {
		if !b.Unavoidable {
			c.Fatalf("nothing buried closes in %+v", b)
		}
	}
	c.figures(open)
	best, _ := c.best(func(d done) bool { return c.clean(d, leads) })
	all, single := c.held(leads, true), c.held(leads, false)
	if loops(all, leads, c.v.taskIDs()) {
		return
	}
	d, _ := c.run(c.inOrder(open.Sequence))
	if !c.clean(d, leads) || open.Finish < best.finish {
		c.Fatalf("%v ends %v: something is buried; %v end %v", d.order, d.finish, best.order, best.finish)
	}
	dirty := false
	least, found := c.best(func(d done) bool {
		if !follows(d.order, single) {
			return false
		}
		dirty = dirty || !c.clean(d, leads)
		return true
	})
	for _, x := range c.l.Choices[:2] { // they may be better, and bury nothing all the same
		if d, _ := c.run(c.inOrder(x.Sequence)); c.clean(d, leads) && (!found || d.finish < least.finish || d.finish == least.finish && d.work < least.work) {
			least, found = d, true
		}
	}
	if !dirty && (!found || open.Finish != least.finish || open.WorkMin != least.work) || open.BoundFinish > open.Finish {
		c.Fatalf("nothing buried ends %v with %d minutes; %v end %v with %d", open.Finish, open.WorkMin, least.order, least.finish, least.work)
	}
}

// clean reports whether no waiting task is dearer than what must come before it makes it.
func (c *lateCheck) clean(d done, leads map[[2]id.Task]bool) bool {
	for _, name := range d.order {
		if !slices.Contains(c.l.Waiting, name) {
			continue
		}
		task, _ := c.v.task(name)
		must := slices.Clone(c.v.fitted())
		for _, o := range c.serial.open {
			if leads[[2]id.Task{o.ID, name}] {
				must = union(must, c.v.solver().Set(o.Fits...))
			}
		}
		least, _ := c.v.reach(task, must)
		if then, _ := c.v.reach(task, d.fitted[name]); then > least {
			return false
		}
	}
	return true
}

// held gives the pairs of waiting tasks and those to be held back: all that fit anything, or those
// that close one in by one item, over what is fitted now or as the last of all.
func (c *lateCheck) held(leads map[[2]id.Task]bool, all bool) [][2]id.Task {
	var out [][2]id.Task
	for _, name := range c.l.Waiting {
		t, _ := c.v.task(name)
		for _, y := range c.serial.open {
			if y.ID == name || leads[[2]id.Task{y.ID, name}] {
				continue
			}
			for _, x := range y.Fits {
				if all || c.closes(t, x, c.v.fitted()) || c.closes(t, x, c.v.solver().All()) {
					out = append(out, [2]id.Task{name, y.ID})
				}
			}
		}
	}
	return out
}

func (c *lateCheck) closes(t tasks.Task, x id.Item, fitted access.Set) bool {
	self := c.v.solver().Set(x)
	without, there := c.v.reach(t, minus(fitted, self))
	with, still := c.v.reach(t, union(fitted, self))
	return there && !slices.Contains(t.Fits, x) && (!still || with > without)
}

// loops reports whether the pairs and the must edges together go round in a circle.
func loops(pairs [][2]id.Task, leads map[[2]id.Task]bool, ids []id.Task) bool {
	all := map[[2]id.Task]bool{}
	for q, yes := range leads {
		all[q] = yes
	}
	for _, q := range pairs {
		all[q] = true
	}
	closeOver(all, ids)
	return slices.ContainsFunc(ids, func(t id.Task) bool { return all[[2]id.Task{t, t}] })
}

func follows(order []id.Task, pairs [][2]id.Task) bool {
	return !slices.ContainsFunc(pairs, func(q [2]id.Task) bool {
		return slices.Index(order, q[0]) > slices.Index(order, q[1])
	})
}
