package testkit

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"example.com/vanlog/internal/build"
)

// Memory keeps a build as package store does, but in memory: made by its first change,
// which is never undone.
type Memory struct {
	mu      sync.Mutex
	build   build.Build
	rev     build.Rev
	changes []change
	name    string
}

type change struct {
	build.Change
	dropped bool // undone, and something else done since
}

// NewMemory makes a store with b in it. It panics where b is at fault: a test made it.
func NewMemory(b build.Build) *Memory {
	if faults := b.Check(); len(faults) > 0 {
		panic(faults)
	}
	made := build.Change{Seq: 1, At: Now, What: "new build"}
	for _, r := range b.Records() {
		made.Edits = append(made.Edits, build.Edit{Kind: r.Kind, Key: r.Key, After: r.Data})
	}
	return &Memory{build: b, rev: 1, changes: []change{{Change: made}}, name: "memory.van"}
}

// Backup refuses: there is no file.
func (m *Memory) Backup(context.Context, string) error {
	return errors.New("this build is not in a file")
}

// Path gives a name that is no file.
func (m *Memory) Path() string { return m.name }

// Rev gives the revision.
func (m *Memory) Rev(ctx context.Context) (build.Rev, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.rev, ctx.Err()
}

// Load gives the build.
func (m *Memory) Load(ctx context.Context) (build.Build, build.Rev, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.build, m.rev, ctx.Err()
}

// Commit carries c out; build.ErrStale where the build is no longer at rev.
func (m *Memory) Commit(ctx context.Context, c build.Change, rev build.Rev) (build.Change, build.Rev, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if ctx.Err() != nil {
		return c, 0, ctx.Err()
	}
	if rev != m.rev {
		return c, 0, fmt.Errorf("at revision %d, not %d: %w", m.rev, rev, build.ErrStale)
	}
	if err := m.carryOut(c.Edits); err != nil {
		return c, 0, err
	}
	for i := range m.changes {
		m.changes[i].dropped = m.changes[i].Undone
	}
	c.Seq, c.Undone = uint64(len(m.changes)+1), false
	m.changes = append(m.changes, change{Change: c})
	return c, m.rev, nil
}

func (m *Memory) carryOut(edits []build.Edit) error {
	next, err := m.build.Patch(edits)
	if err != nil {
		return err
	}
	m.build, m.rev = next, m.rev+1
	return nil
}

// Undo takes the newest change back that is not undone.
func (m *Memory) Undo(ctx context.Context) (build.Change, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for i := len(m.changes) - 1; i > 0; i-- {
		c := &m.changes[i]
		if c.Undone {
			continue
		}
		if err := m.carryOut(c.Inverse().Edits); err != nil {
			return build.Change{}, err
		}
		c.Undone = true
		return c.Change, ctx.Err()
	}
	return build.Change{}, fmt.Errorf("undo: %w", build.ErrNothing)
}

// Redo does the oldest change again that is undone and not dropped.
func (m *Memory) Redo(ctx context.Context) (build.Change, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for i := range m.changes {
		c := &m.changes[i]
		if !c.Undone || c.dropped {
			continue
		}
		if err := m.carryOut(c.Edits); err != nil {
			return build.Change{}, err
		}
		c.Undone = false
		return c.Change, ctx.Err()
	}
	return build.Change{}, fmt.Errorf("redo: %w", build.ErrNothing)
}

// History gives the newest changes, newest first, without their edits.
func (m *Memory) History(ctx context.Context, most int) ([]build.Change, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []build.Change
	for i := len(m.changes) - 1; i >= 0 && (most < 1 || len(out) < most); i-- {
		c := m.changes[i].Change
		c.Edits = nil
		out = append(out, c)
	}
	return out, ctx.Err()
}

// Verify checks the build.
func (m *Memory) Verify(ctx context.Context) ([]build.Problem, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var problems []build.Problem
	for _, f := range m.build.Check() {
		problems = append(problems, build.Problem{Kind: "build", Ref: f.Path, Text: f.Text})
	}
	return problems, ctx.Err()
}
