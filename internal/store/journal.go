package store

import (
	"bytes"
	"context"
	"fmt"
	"math"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/units"
)

// entry is a change in the journal, without its edits.
type entry struct {
	At      units.Instant `json:"at"`
	What    string        `json:"what"`
	Made    bool          `json:"made,omitempty"` // it made the file, and is never undone
	Undone  bool          `json:"undone,omitempty"`
	Dropped bool          `json:"dropped,omitempty"` // undone, and something else done since: never again
}

func (e entry) change(seq uint64) build.Change {
	return build.Change{Seq: seq, At: e.At, What: e.What, Undone: e.Undone}
}

func putEntry(tx *bolt.Tx, seq uint64, e entry) error {
	return putJSON(tx, journalBucket, keyOf(seq), e)
}

func editsOf(tx *bolt.Tx, seq uint64) (edits []build.Edit, err error) {
	data, err := need(tx, editsBucket, keyOf(seq))
	if err == nil {
		err = decode(editsBucket, keyOf(seq), data, &edits)
	}
	return edits, err
}

// backwards calls fn with the entries of the journal, newest first, until it says no
// more.
func backwards(tx *bolt.Tx, fn func(seq uint64, e entry) (more bool)) error {
	b, err := bucketOf(tx, journalBucket)
	if err != nil {
		return err
	}
	st, err := stateOf(tx)
	if err != nil {
		return err
	}
	c := b.Cursor()
	key, value := c.Last()
	for want := st.Changes; want > 0; want-- {
		e, err := entryAt(want, key, value)
		if err != nil {
			return err
		}
		if !fn(want, e) {
			return nil
		}
		key, value = c.Prev()
	}
	return nil
}

// entryAt reads the entry that should be that of change seq.
func entryAt(seq uint64, key, value []byte) (e entry, err error) {
	if !bytes.Equal(key, keyOf(seq)) {
		return e, broken(journalBucket, keyOf(seq), "is gone")
	}
	data, _, err := unseal(journalBucket, key, value)
	if err == nil {
		err = decode(journalBucket, key, data, &e)
	}
	return e, err
}

// undoneTail gives the changes that can be done again, newest first.
func undoneTail(tx *bolt.Tx) (seqs []uint64, es []entry, err error) {
	err = backwards(tx, func(seq uint64, e entry) bool {
		if e.Undone && !e.Dropped {
			seqs, es = append(seqs, seq), append(es, e)
		}
		return e.Undone
	})
	return seqs, es, err
}

// dropUndone marks what was undone so that it is never done again: something else is
// done now.
func dropUndone(tx *bolt.Tx) error {
	seqs, es, err := undoneTail(tx)
	for i, seq := range seqs {
		es[i].Dropped = true
		if err := putEntry(tx, seq, es[i]); err != nil {
			return err
		}
	}
	return err
}

// Undo takes back the newest change that is not undone, and gives it, Undone.
// build.ErrNothing where there is none; the change that made the file is not undone.
func (f *File) Undo(ctx context.Context) (build.Change, error) {
	return f.turn(ctx, true, func(tx *bolt.Tx) (seq uint64, e entry, err error) {
		err = backwards(tx, func(s uint64, have entry) bool {
			seq, e = s, have
			return have.Undone
		})
		if err == nil && (seq == 0 || e.Made || e.Undone) {
			err = fmt.Errorf("undo: %w", build.ErrNothing)
		}
		return seq, e, err
	})
}

// Redo does the oldest undone change again, and gives it. build.ErrNothing where there
// is none, or where something was changed since it was undone.
func (f *File) Redo(ctx context.Context) (build.Change, error) {
	return f.turn(ctx, false, func(tx *bolt.Tx) (uint64, entry, error) {
		seqs, es, err := undoneTail(tx)
		if err == nil && len(seqs) == 0 {
			err = fmt.Errorf("redo: %w", build.ErrNothing)
		}
		if err != nil {
			return 0, entry{}, err
		}
		return seqs[len(seqs)-1], es[len(es)-1], nil
	})
}

// turn takes the change that find gives back, or does it again.
func (f *File) turn(ctx context.Context, back bool, find func(*bolt.Tx) (uint64, entry, error)) (c build.Change, err error) {
	err = f.update(ctx, ourSchema, func(tx *bolt.Tx) error {
		seq, e, err := find(tx)
		if err != nil {
			return err
		}
		e.Undone = back
		c = e.change(seq)
		if c.Edits, err = editsOf(tx, seq); err != nil {
			return err
		}
		return turnOne(tx, c, e)
	})
	return c, err
}

func turnOne(tx *bolt.Tx, c build.Change, e entry) error {
	st, err := stateOf(tx)
	if err != nil {
		return err
	}
	edits := c.Edits
	if c.Undone {
		edits = c.Inverse().Edits
	}
	if st, err = carryOut(tx, st, edits); err != nil {
		return err
	}
	if err := putEntry(tx, c.Seq, e); err != nil {
		return err
	}
	return putState(tx, st)
}

// History gives the newest changes, newest first, without their edits; most < 1: all.
func (f *File) History(ctx context.Context, most int) ([]build.Change, error) {
	if most < 1 {
		most = math.MaxInt
	}
	var out []build.Change
	err := f.view(ctx, ourSchema, func(tx *bolt.Tx) error {
		return backwards(tx, func(seq uint64, e entry) bool {
			out = append(out, e.change(seq))
			return len(out) < most
		})
	})
	return out, err
}
