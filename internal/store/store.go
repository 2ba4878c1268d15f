// Package store keeps one build in one bbolt file.
//
//	meta
//	  schema               : record  layout version, 4 bytes, see migrations.go
//	  state                : record  revision, number of changes, number and sum of the records below
//	build/1, clock/1       : record  build.Head and daybook.Clock, if there are any
//	resource/<key>         : record  calendar.Resource
//	place/<key>            : record  access.Place, and so on: a bucket for each of build.Kinds
//	…
//	journal/<seq>          : record  when and what a change was, undone or not
//	edits/<seq>            : record  what it did, before and after; never written twice
//
// Keys are 8 bytes, big-endian. A record is one byte for its format, 4 bytes CRC-32C
// (big-endian) of its bucket, its key and its data, and the data, JSON as in the build
// file. The sum in meta is the exclusive or of the CRCs of all records of the build, so
// that a record that goes missing is missed. A change of this layout needs a migration.
//
// The rules of the package:
//   - The file is open only inside a method, and locked while it is. No transaction, and
//     no byte of one, outlives its method.
//   - What a person does is one transaction: records, journal and state together.
//   - bbolt trusts what it reads. So we look at its pages first (pages.go), turn its
//     panics and the faults of a short file into build.ErrDamaged (handle.go), and check
//     every record that we read (record.go).
package store

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"sync"
	"sync/atomic"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/units"
)

// File is a build on disk. It holds nothing open between calls. It is safe for use by
// several goroutines, and others, here and in other processes, may use the same file:
// they wait for each other.
type File struct {
	path string
	mu   sync.Mutex            // one open file at a time
	seen atomic.Pointer[stamp] // the file as we last knew it
}

// Open gives the build in an existing file, after bringing an older layout up to date; a
// copy of the file as it was is kept beside it. The error wraps build.ErrAbsent,
// build.ErrNewer, build.ErrDamaged, build.ErrBusy or, where it has to be written,
// build.ErrReadOnly.
func Open(path string) (*File, error) {
	f := &File{path: path}
	ctx := context.Background()
	var have uint32
	err := f.view(ctx, anySchema, func(tx *bolt.Tx) (err error) {
		have, err = schemaOf(tx)
		return err
	})
	if err == nil && have > latest() {
		err = newer(path, have)
	}
	if err == nil && have < latest() {
		err = f.migrate(ctx, have)
	}
	if err != nil {
		return nil, err
	}
	return f, nil
}

// Create makes the file with b in it as its first change, which is never undone. It
// never writes over a file: the error wraps build.ErrExists where there is one,
// build.ErrReadOnly where none can be made; it is a build.Faults where b is at fault.
func Create(path string, b build.Build, what string, at units.Instant) (*File, error) {
	c := build.Change{At: at, What: what}
	for _, r := range b.Records() {
		c.Edits = append(c.Edits, build.Edit{Kind: r.Kind, Key: r.Key, After: r.Data})
	}
	if _, err := (build.Build{}).Apply(c); err != nil {
		return nil, err
	}
	f := &File{path: path}
	err := f.create(func(tx *bolt.Tx) error {
		if err := migrate(tx, migrations); err != nil {
			return err
		}
		_, err := record(tx, c, true)
		return err
	})
	if err != nil {
		return nil, err
	}
	return f, nil
}

// Path gives the name of the file.
func (f *File) Path() string { return f.path }

// Rev gives the revision of the file. Where nothing was written since it was last read,
// that takes no lock.
func (f *File) Rev(ctx context.Context) (build.Rev, error) {
	if s := f.seen.Load(); s != nil && s.stillAt(f.path) {
		return s.rev, nil
	}
	var st state
	err := f.view(ctx, ourSchema, func(tx *bolt.Tx) (err error) {
		st, err = stateOf(tx)
		return err
	})
	return st.Rev, err
}

// Load reads the build, and checks every record of it.
func (f *File) Load(ctx context.Context) (build.Build, build.Rev, error) {
	var st state
	var rs []build.Record
	err := f.view(ctx, ourSchema, func(tx *bolt.Tx) (err error) {
		if st, err = stateOf(tx); err == nil {
			rs, err = allRecords(tx, st)
		}
		return err
	})
	if err != nil {
		return build.Build{}, 0, err
	}
	b, err := build.Assemble(rs)
	if err != nil {
		return build.Build{}, 0, fmt.Errorf("%s: %w: %w", f.path, build.ErrDamaged, err)
	}
	return b, st.Rev, nil
}

// allRecords gives the records of a build, and an error for the first that is not what
// was written.
func allRecords(tx *bolt.Tx, st state) ([]build.Record, error) {
	rs := make([]build.Record, 0, st.Records)
	var seen state
	for _, kind := range build.Kinds() {
		err := eachRecord(tx, string(kind), func(key uint64, data []byte, crc uint32) error {
			rs = append(rs, build.Record{Kind: kind, Key: build.Key(key), Data: bytes.Clone(data)})
			seen.add(crc)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return rs, st.compare(seen)
}

// same compares two records of a kind: as they would be written today, so that spaces,
// and fields that an older vanlog did not know, mean nothing.
func same(kind build.Kind, a, b json.RawMessage) bool {
	return bytes.Equal(a, b) || bytes.Equal(canonical(kind, a), canonical(kind, b))
}

func canonical(kind build.Kind, data json.RawMessage) json.RawMessage {
	if data == nil {
		return nil
	}
	b, err := build.Assemble([]build.Record{{Kind: kind, Key: 1, Data: data}})
	if err != nil {
		return data
	}
	for _, r := range b.Records() {
		return r.Data
	}
	return nil // a head that says nothing
}
