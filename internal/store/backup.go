package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

// Backup writes a copy of the file, history included, while others may go on using it,
// and verifies the copy before it gets its name. build.ErrExists where there is a file
// of that name; build.ErrDamaged where the copy, and so this file, is not sound.
func (f *File) Backup(ctx context.Context, to string) error {
	if _, err := os.Lstat(to); err == nil {
		return fmt.Errorf("%s: %w", to, build.ErrExists)
	}
	temp, err := f.copyBeside(ctx, to)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if err := sound(ctx, temp); err != nil {
		return fmt.Errorf("%s is not fit to be copied: %w", f.path, err)
	}
	return moveTo(temp, to)
}

// Restore puts the backup from in the place of the file to, history included, once it
// was verified. Its revision goes on from that of the file it replaces, so that
// everybody who has that one read sees that it has changed.
func Restore(ctx context.Context, from, to string) error {
	temp, err := (&File{path: from}).copyBeside(ctx, to)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if _, err := Open(temp); err != nil { // it may be of an older schema
		return err
	}
	if err := sound(ctx, temp); err != nil {
		return err
	}
	return replace(ctx, temp, to)
}

// sound gives an error that says what is wrong with a file.
func sound(ctx context.Context, path string) error {
	problems, err := (&File{path: path}).Verify(ctx)
	if err == nil && len(problems) > 0 {
		err = fmt.Errorf("%s: %s: %w", problems[0].Ref, problems[0].Text, build.ErrDamaged)
	}
	return err
}

// replace moves temp into the place of a file, while nobody else has that open. A file
// that cannot be opened any more is replaced as it is.
func replace(ctx context.Context, temp, to string) error {
	var rev build.Rev
	h, err := open(ctx, to, writing)
	if errors.Is(err, build.ErrBusy) || ctx.Err() != nil {
		return err
	}
	if err == nil {
		defer h.letGo(nil)
		rev = h.rev()
	}
	next := &File{path: temp}
	err = next.update(ctx, ourSchema, func(tx *bolt.Tx) error {
		st, err := stateOf(tx)
		if err != nil {
			return err
		}
		st.Rev = max(st.Rev, rev) + 1
		return putState(tx, st)
	})
	if err != nil {
		return err
	}
	return moveTo(temp, to)
}

// rev gives the revision of an open file as far as it can be read.
func (h *handle) rev() (rev build.Rev) {
	_ = guard(func() error {
		return h.db.View(func(tx *bolt.Tx) error {
			st, err := stateOf(tx)
			rev = st.Rev
			return err
		})
	})
	return rev
}

// copyTo writes a copy of the file as it is, over an older copy.
func (f *File) copyTo(ctx context.Context, to string) error {
	temp, err := f.copyBeside(ctx, to)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if err := (&File{path: temp}).view(ctx, anySchema, func(*bolt.Tx) error { return nil }); err != nil {
		return err
	}
	return moveTo(temp, to)
}

// copyBeside writes a copy of the file into a new file beside to, and gives its name.
func (f *File) copyBeside(ctx context.Context, to string) (string, error) {
	temp, err := os.CreateTemp(folderOf(to), "."+filepath.Base(to)+".*")
	if err != nil {
		return "", fmt.Errorf("%s: %w: %w", to, build.ErrReadOnly, err)
	}
	var writeErr error
	err = f.view(ctx, anySchema, func(tx *bolt.Tx) error {
		if _, writeErr = tx.WriteTo(temp); writeErr == nil {
			writeErr = temp.Sync()
		}
		return nil
	})
	closeErr := temp.Close()
	if writeErr = errors.Join(writeErr, closeErr); err == nil && writeErr != nil {
		err = fmt.Errorf("%s: %w: %w", to, build.ErrReadOnly, writeErr)
	}
	if err != nil {
		_ = os.Remove(temp.Name())
		return "", err
	}
	return temp.Name(), nil
}

// moveTo gives a finished file its name.
func moveTo(temp, to string) error {
	if err := os.Rename(temp, to); err != nil {
		return fmt.Errorf("%w: %w", build.ErrReadOnly, err)
	}
	return syncFolder(to)
}

func folderOf(path string) string { return filepath.Dir(path) }
