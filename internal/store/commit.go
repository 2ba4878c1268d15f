package store

import (
	"context"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

// Commit writes c, made from the build at rev, with its journal entry, in one
// transaction. It gives c with its Seq and the new revision; build.ErrStale where the
// file is no longer at rev or does not hold what c says was there before;
// build.ErrReadOnly where it could not be written, and nothing was.
func (f *File) Commit(ctx context.Context, c build.Change, rev build.Rev) (build.Change, build.Rev, error) {
	if err := writable(c.Edits); err != nil {
		return c, 0, err
	}
	var st state
	err := f.update(ctx, ourSchema, func(tx *bolt.Tx) (err error) {
		if st, err = stateOf(tx); err != nil {
			return err
		}
		if st.Rev != rev {
			return fmt.Errorf("it is at revision %d, no longer at %d: %w", st.Rev, rev, build.ErrStale)
		}
		st, err = record(tx, c, false)
		return err
	})
	if err != nil {
		return c, 0, err
	}
	c.Seq, c.Undone = st.Changes, false
	return c, st.Rev, nil
}

// writable refuses edits that could not be read back.
func writable(edits []build.Edit) error {
	for _, e := range edits {
		if e.Key == 0 {
			return fmt.Errorf("a record of kind %q has no key", e.Kind)
		}
		if e.After == nil {
			continue
		}
		if _, err := build.Assemble([]build.Record{{Kind: e.Kind, Key: e.Key, Data: e.After}}); err != nil {
			return err
		}
	}
	return nil
}

// record carries c out, enters it in the journal and gives the state afterwards.
func record(tx *bolt.Tx, c build.Change, made bool) (state, error) {
	st, err := stateOf(tx)
	if err == nil {
		err = dropUndone(tx)
	}
	if err == nil {
		st, err = carryOut(tx, st, c.Edits)
	}
	if err != nil {
		return st, err
	}
	st.Changes++
	if err := putJSON(tx, editsBucket, keyOf(st.Changes), c.Edits); err != nil {
		return st, err
	}
	if err := putEntry(tx, st.Changes, entry{At: c.At, What: c.What, Made: made}); err != nil {
		return st, err
	}
	return st, putState(tx, st)
}

// carryOut makes the edits, in order, and counts the revision up. The state that it
// gives is not yet written.
func carryOut(tx *bolt.Tx, st state, edits []build.Edit) (state, error) {
	for _, e := range edits {
		if err := carryOutOne(tx, &st, e); err != nil {
			return st, err
		}
	}
	st.Rev++
	return st, nil
}

func carryOutOne(tx *bolt.Tx, st *state, e build.Edit) error {
	bucket, key := string(e.Kind), keyOf(uint64(e.Key))
	have, crc, err := get(tx, bucket, key)
	if err != nil {
		return err
	}
	if !same(e.Kind, have, e.Before) {
		return fmt.Errorf("%s: %w", recordName(bucket, key), build.ErrStale)
	}
	if have != nil {
		st.remove(crc)
	}
	if e.After == nil {
		return tx.Bucket([]byte(bucket)).Delete(key)
	}
	crc, err = put(tx, bucket, key, e.After)
	st.add(crc)
	return err
}
