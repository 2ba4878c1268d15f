package store

import (
	"bytes"
	"cmp"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

// Verify checks the file: its pages, every record, every reference within the build, and
// that the journal leads from an empty build to this one. The problems have the kinds
// pages, record, build and journal. The error says that it could not be checked: as of
// Open.
func (f *File) Verify(ctx context.Context) ([]build.Problem, error) {
	v := verification{path: f.path, records: map[place]json.RawMessage{}}
	f.seen.Store(nil) // look at every page, whatever we knew
	err := f.with(ctx, reading, v.lookAtMeta)
	if err == nil {
		err = f.view(ctx, ourSchema, func(tx *bolt.Tx) error { return v.read(ctx, tx) })
	}
	if errors.Is(err, build.ErrDamaged) {
		v.add("pages", f.path, err.Error())
		err = nil
	} else if err == nil && v.whole {
		v.think()
	}
	if err != nil {
		f.seen.Store(nil)
		return nil, err
	}
	return v.problems, nil
}

// place says where a record is kept.
type place struct {
	kind build.Kind
	key  build.Key
}

// verification is what one check has found: what is in the file, and what is wrong.
type verification struct {
	path     string
	state    state
	records  map[place]json.RawMessage
	entries  []entry
	edits    [][]build.Edit
	whole    bool // all of it could be read
	problems []build.Problem
}

func (v *verification) add(kind, ref, text string) {
	hint := "restore a backup, or import the last export into a new file"
	if kind == "build" {
		hint = "put it right, or undo the change that made it"
	}
	v.problems = append(v.problems, build.Problem{Kind: kind, Ref: ref, Text: text, Hint: hint})
}

// lookAtMeta looks whether both meta pages are good.
func (v *verification) lookAtMeta(h *handle) error {
	_, both, err := newestMeta(h.file, int64(h.db.Info().PageSize))
	if err == nil && !both {
		v.add("pages", v.path, errHalf.Error())
	}
	return err
}

// read takes the whole file in.
func (v *verification) read(ctx context.Context, tx *bolt.Tx) error {
	before := len(v.problems)
	defer func() { v.whole = len(v.problems) == before }()
	// The pages were looked through before: what follows ends, and soon.
	for err := range tx.Check() {
		v.add("pages", v.path, err.Error())
	}
	if len(v.problems) > before {
		return nil
	}
	var err error
	if v.state, err = stateOf(tx); err != nil {
		v.add("record", "meta", err.Error())
	}
	var seen state
	for _, kind := range build.Kinds() {
		v.readAll(tx, string(kind), func(key uint64, data []byte, crc uint32) {
			seen.add(crc)
			v.records[place{kind, build.Key(key)}] = bytes.Clone(data)
		})
	}
	if err := v.state.compare(seen); err != nil && len(v.problems) == before {
		v.add("record", v.path, err.Error())
	}
	v.readJournal(tx)
	return ctx.Err()
}

// readAll goes over a bucket past records that are broken, and says which.
func (v *verification) readAll(tx *bolt.Tx, bucket string, fn func(key uint64, data []byte, crc uint32)) {
	b, err := bucketOf(tx, bucket)
	if err != nil {
		v.add("record", bucket, err.Error())
		return
	}
	_ = b.ForEach(func(key, value []byte) error { // the error is always nil
		data, crc, err := unseal(bucket, key, value)
		if err == nil && len(key) != 8 {
			err = broken(bucket, key, "has a strange key")
		}
		if err != nil {
			v.add("record", recordName(bucket, key), err.Error())
			return nil
		}
		fn(binary.BigEndian.Uint64(key), data, crc)
		return nil
	})
}

// readJournal takes the journal in, and checks that no change is missing.
func (v *verification) readJournal(tx *bolt.Tx) {
	v.readAll(tx, journalBucket, func(seq uint64, data []byte, _ uint32) {
		var e entry
		if err := decode(journalBucket, keyOf(seq), data, &e); err != nil {
			v.add("journal", recordName(journalBucket, keyOf(seq)), err.Error())
		}
		v.entries = append(v.entries, e)
		v.inTurn(journalBucket, seq, len(v.entries))
	})
	v.readAll(tx, editsBucket, func(seq uint64, data []byte, _ uint32) {
		var es []build.Edit
		if err := decode(editsBucket, keyOf(seq), data, &es); err != nil {
			v.add("journal", recordName(editsBucket, keyOf(seq)), err.Error())
		}
		v.edits = append(v.edits, es)
		v.inTurn(editsBucket, seq, len(v.edits))
	})
	if n := len(v.entries); uint64(n) != v.state.Changes || n != len(v.edits) {
		v.add("journal", v.path, fmt.Sprintf("of %d changes it has %d, and what %d of them did",
			v.state.Changes, n, len(v.edits)))
	}
}

func (v *verification) inTurn(bucket string, seq uint64, want int) {
	if seq != uint64(want) {
		v.add("journal", recordName(bucket, keyOf(seq)), fmt.Sprintf("record %d is missing before it", want))
	}
}

// think checks what was read, with the file closed again.
func (v *verification) think() {
	b, err := build.Assemble(v.list())
	if err != nil {
		v.add("build", v.path, err.Error())
	}
	for _, fault := range b.Check() {
		v.add("build", fault.Path, fault.Text)
	}
	v.replay()
}

// list gives the records in the order of their places.
func (v *verification) list() []build.Record {
	var rs []build.Record
	for at, data := range v.records {
		rs = append(rs, build.Record{Kind: at.kind, Key: at.key, Data: data})
	}
	slices.SortFunc(rs, func(a, b build.Record) int { return comparePlaces(place{a.Kind, a.Key}, place{b.Kind, b.Key}) })
	return rs
}

// replay carries out the journal from an empty build on, and compares.
func (v *verification) replay() {
	now := map[place]json.RawMessage{}
	for i, e := range v.entries {
		if e.Undone {
			continue
		}
		if err := follow(now, v.edits[i]); err != nil {
			v.add("journal", recordName(journalBucket, keyOf(uint64(i+1))), err.Error())
			return
		}
	}
	all := maps.Clone(now)
	maps.Copy(all, v.records)
	for _, at := range slices.SortedFunc(maps.Keys(all), comparePlaces) {
		if !same(at.kind, now[at], v.records[at]) {
			v.add("journal", recordName(string(at.kind), keyOf(uint64(at.key))),
				"it is not what the journal leads to")
		}
	}
}

// follow carries out edits on records.
func follow(now map[place]json.RawMessage, edits []build.Edit) error {
	for _, e := range edits {
		at := place{e.Kind, e.Key}
		if !same(e.Kind, now[at], e.Before) {
			return fmt.Errorf("it does not follow from the changes before, at %s",
				recordName(string(e.Kind), keyOf(uint64(e.Key))))
		}
		if e.After == nil {
			delete(now, at)
		} else {
			now[at] = e.After
		}
	}
	return nil
}

func comparePlaces(a, b place) int {
	kinds := build.Kinds()
	return cmp.Or(cmp.Compare(slices.Index(kinds, a.kind), slices.Index(kinds, b.kind)), cmp.Compare(a.key, b.key))
}
