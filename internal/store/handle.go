package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime/debug"
	"syscall"
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"example.com/vanlog/internal/build"
)

// patience is how long we wait for others who have the file open. They need a few
// milliseconds each.
const patience = 3 * time.Second

// mode says what a file is opened for.
type mode int

const (
	reading mode = iota + 1
	writing
	creating
)

// handle is an open, locked file.
type handle struct {
	db   *bolt.DB
	file *os.File // the same file, to look at its pages
	mode mode
}

// view runs fn in a reading transaction, once the pages and the schema were found good.
func (f *File) view(ctx context.Context, schema func(*bolt.Tx) error, fn func(*bolt.Tx) error) error {
	return f.with(ctx, reading, func(h *handle) error {
		if err := f.look(h); err != nil {
			return err
		}
		return h.db.View(func(tx *bolt.Tx) error {
			if err := schema(tx); err != nil {
				return err
			}
			f.remember(h, stampOf(tx))
			return fn(tx)
		})
	})
}

// update runs fn in a writing transaction, once the pages and the schema were found
// good. An error means that nothing of it was saved.
func (f *File) update(ctx context.Context, schema func(*bolt.Tx) error, fn func(*bolt.Tx) error) error {
	if f.seen.Load() == nil {
		// Opened for writing, bbolt reads the list of free pages before we can look at it.
		if err := f.view(ctx, schema, func(*bolt.Tx) error { return nil }); err != nil {
			return err
		}
	}
	return f.with(ctx, writing, func(h *handle) error {
		if err := f.look(h); err != nil {
			return err
		}
		return f.commit(h, func(tx *bolt.Tx) error {
			if err := schema(tx); err != nil {
				return err
			}
			return fn(tx)
		})
	})
}

// create makes the file and runs fn in its first transaction. Where that fails there is
// no file afterwards.
func (f *File) create(fn func(*bolt.Tx) error) error {
	return f.with(context.Background(), creating, func(h *handle) error {
		if err := f.commit(h, fn); err != nil {
			return err
		}
		return syncFolder(f.path)
	})
}

// commit runs fn in a writing transaction, and tells its errors from those of writing.
func (f *File) commit(h *handle, fn func(*bolt.Tx) error) error {
	var s *stamp
	var own error
	err := h.db.Update(func(tx *bolt.Tx) error {
		if own = fn(tx); own == nil {
			s = stampOf(tx)
		}
		return own
	})
	if own != nil {
		return own
	}
	if err != nil { // of a full disk, bbolt does not always pass the cause on
		return fmt.Errorf("nothing was saved: %w: %w", build.ErrReadOnly, err)
	}
	f.remember(h, s)
	return nil
}

// with opens the file, runs fn and lets go of the file.
func (f *File) with(ctx context.Context, m mode, fn func(*handle) error) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	h, err := open(ctx, f.path, m)
	if err == nil {
		err = guard(func() error { return fn(h) })
		h.letGo(err)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", f.path, err)
	}
	return nil
}

// open opens and locks a file, and waits for others that have it open.
func open(ctx context.Context, path string, m mode) (*handle, error) {
	wait, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	for step := time.Millisecond; ; step = min(2*step, 16*time.Millisecond) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		h, err := tryOpen(path, m)
		if !errors.Is(err, berrors.ErrTimeout) {
			return h, err
		}
		select {
		case <-wait.Done():
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			return nil, build.ErrBusy
		case <-time.After(step):
		}
	}
}

// tryOpen opens and locks a file if nobody else has it open, else it gives
// berrors.ErrTimeout.
func tryOpen(path string, m mode) (*handle, error) {
	if err := lookAt(path, m); err != nil {
		return nil, err
	}
	h := &handle{mode: m}
	err := guard(func() (err error) {
		h.db, err = bolt.Open(path, 0o600, &bolt.Options{
			Timeout:      time.Nanosecond, // once; we wait ourselves, in smaller steps
			ReadOnly:     m == reading,
			FreelistType: bolt.FreelistMapType,
			NoStatistics: true,
			OpenFile:     h.openFile,
		})
		return err
	})
	if err != nil {
		h.letGo(err)
		return nil, explain(err, m)
	}
	return h, nil
}

// lookAt refuses what bbolt would make a new, empty file of without a word.
func lookAt(path string, m mode) error {
	info, err := os.Stat(path)
	switch {
	case m == creating:
		return nil // openFile sees to it that it is not there
	case errors.Is(err, fs.ErrNotExist):
		return build.ErrAbsent
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return fmt.Errorf("it is no file: %w", build.ErrAbsent)
	case info.Size() == 0:
		return fmt.Errorf("it is empty: %w", build.ErrDamaged)
	}
	return nil
}

// openFile never makes a file by the way, and never opens one that is to be made.
func (h *handle) openFile(name string, flag int, perm fs.FileMode) (*os.File, error) {
	flag &^= os.O_CREATE
	if h.mode == creating {
		flag |= os.O_CREATE | os.O_EXCL
	}
	file, err := os.OpenFile(name, flag, perm)
	h.file = file
	return file, err
}

// letGo closes the file; err is how its use ended. An error of closing is none of ours:
// what was committed is on disk.
func (h *handle) letGo(err error) {
	var c *crash
	switch {
	case errors.As(err, &c):
		// bbolt may still hold its own locks: closing it could wait for ever.
		if h.file != nil {
			unlock(h.file)
			_ = h.file.Close()
		}
	case h.db != nil:
		_ = h.db.Close()
	}
	if h.mode == creating && err != nil && h.file != nil {
		_ = os.Remove(h.file.Name())
	}
}

// explain says in our words why a file could not be opened.
func explain(err error, m mode) error {
	var errno syscall.Errno
	var c *crash
	switch {
	case errors.Is(err, berrors.ErrTimeout), errors.As(err, &c):
		return err
	case errors.Is(err, fs.ErrExist):
		return build.ErrExists
	case m != reading && errors.As(err, &errno):
		return fmt.Errorf("%w: %w", build.ErrReadOnly, err)
	case errors.As(err, &errno):
		return err
	}
	return fmt.Errorf("%w: %w", build.ErrDamaged, err)
}

// crash is a panic of bbolt, or a fault of reading where the file has no more bytes.
type crash struct{ cause any }

func (c *crash) Error() string { return fmt.Sprintf("%v: %v", build.ErrDamaged, c.cause) }

func (c *crash) Unwrap() error { return build.ErrDamaged }

// guard runs fn and turns its panics into a *crash. bbolt panics where a page is not
// what it expects, and the kernel raises a fault where a mapped file is too short.
func guard(fn func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if cause := recover(); cause != nil {
			err = &crash{cause: cause}
		}
	}()
	return fn()
}

// stamp is a file as it was when we last knew it: its pages good, its revision known.
type stamp struct {
	info os.FileInfo
	txid uint64 // of bbolt; it counts transactions
	rev  build.Rev
}

// stampOf gives the stamp of a transaction, nil where it has no state yet.
func stampOf(tx *bolt.Tx) *stamp {
	st, err := stateOf(tx)
	if err != nil {
		return nil
	}
	return &stamp{txid: uint64(tx.ID()), rev: st.Rev}
}

// remember keeps a stamp of the file as it is now on disk.
func (f *File) remember(h *handle, s *stamp) {
	if s == nil {
		return
	}
	if info, err := h.file.Stat(); err == nil {
		s.info = info
		f.seen.Store(s)
	}
}

// errHalf says that one of the two meta pages is damaged. Reading goes by the other.
var errHalf = fmt.Errorf("a meta page is bad, so the last change may be missing; a backup of the file can be used: %w",
	build.ErrDamaged)

// look looks at the pages of an open file, unless it did before and nothing was written
// since.
func (f *File) look(h *handle) error {
	m, both, err := newestMeta(h.file, int64(h.db.Info().PageSize))
	if err != nil {
		return err
	}
	if h.mode == writing && !both { // it would hide the damage, and with it that a change is gone
		return errHalf
	}
	if s := f.seen.Load(); s != nil && s.txid == m.Txid {
		info, err := h.file.Stat()
		if err == nil && os.SameFile(info, s.info) && info.ModTime().Equal(s.info.ModTime()) && info.Size() == s.info.Size() {
			return nil
		}
	}
	return lookThrough(h.file, m)
}

// stillAt reports whether the file at path is still the one of s and nothing was
// committed since. It takes no lock: while another process writes, the pages may be half
// written, and then the answer is no.
func (s *stamp) stillAt(path string) bool {
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil || !os.SameFile(info, s.info) || info.Size() < s.info.Size() {
		return false // another file, maybe under the number of the old one, or one cut short
	}
	m, err := metaAt(file, 0)
	if err != nil {
		return false
	}
	other, err := metaAt(file, int64(m.PageSize))
	return err == nil && max(m.Txid, other.Txid) == s.txid
}

// syncFolder makes the name of a new file as safe as its content.
func syncFolder(path string) error {
	folder, err := os.Open(folderOf(path))
	if err != nil {
		return nil // not every system lets one open a folder
	}
	defer folder.Close()
	if err := folder.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, syscall.EINVAL) {
		return fmt.Errorf("%w: %w", build.ErrReadOnly, err)
	}
	return nil
}
