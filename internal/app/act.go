package app

import (
	"context"
	"errors"
	"fmt"
	"hash/maphash"
	"time"

	"example.com/vanlog/internal/answer"
	"example.com/vanlog/internal/build"
)

// patience is how long we try to get a change in between those of others.
const patience = 10 * time.Second

// act makes a change of the build as it is now and writes it. Where another process was
// quicker, it makes the change anew, of what that one left. A change without edits is
// not written: nothing would differ. The change that it gives then has no Seq.
func (a *App) act(ctx context.Context, change func(*answer.View) (build.Change, error)) (build.Change, error) {
	wait, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	for try := 0; ; try++ {
		c, err := a.actOnce(ctx, change)
		if !errors.Is(err, errOvertaken) {
			return c, err
		}
		select {
		case <-wait.Done():
			if ctx.Err() != nil {
				return c, ctx.Err()
			}
			return c, fmt.Errorf("others keep changing the build: %w", build.ErrBusy)
		case <-time.After(pause(try)):
		}
	}
}

// errOvertaken says that another process has changed the build since we read it.
var errOvertaken = errors.New("overtaken")

func (a *App) actOnce(ctx context.Context, change func(*answer.View) (build.Change, error)) (build.Change, error) {
	v, rev, err := a.view(ctx)
	if err != nil {
		return build.Change{}, err
	}
	c, err := change(v)
	if err != nil || len(c.Edits) == 0 {
		return c, err
	}
	c.At = v.Now
	next, err := v.Build.Apply(c)
	if err != nil {
		return c, err
	}
	c, rev, err = a.store.Commit(ctx, c, rev)
	a.mu.Lock()
	defer a.mu.Unlock()
	switch {
	case errors.Is(err, build.ErrStale):
		a.last = nil // read it again
		return c, errOvertaken
	case err == nil:
		a.keep(next, rev)
	}
	return c, err
}

// pause gives a time to wait, longer with every try, that differs from process to
// process: two that were in each other's way must not meet again.
func pause(try int) time.Duration {
	most := uint64(time.Millisecond) << min(try, 5)
	return time.Duration(maphash.Bytes(maphash.MakeSeed(), nil) % most)
}
