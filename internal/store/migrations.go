package store

import (
	"context"
	"encoding/binary"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

// migration brings a file from the schema just before to a newer one.
type migration struct {
	to  uint32
	run func(*bolt.Tx) error
}

// migrations are all there ever were, oldest first. testdata has a file of the schema
// before each (see TestEveryMigrationHasAnOldFile). Schema 0 is a file without anything.
var migrations = []migration{
	{1, createBuckets},
	{2, addSnags},
}

// latest is the schema that this program writes.
func latest() uint32 { return migrations[len(migrations)-1].to }

// createBuckets makes the first layout, in a file that has none.
func createBuckets(tx *bolt.Tx) error {
	for _, name := range bucketNames() {
		if _, err := tx.CreateBucket([]byte(name)); err != nil {
			return err
		}
	}
	return putState(tx, state{})
}

// addSnags makes the bucket of the snags; a file that was made just now has it.
func addSnags(tx *bolt.Tx) error {
	_, err := tx.CreateBucketIfNotExists([]byte(build.SnagKind))
	return err
}

// schemaOf gives the schema of a file, 0 where it is empty. Where it holds something but
// no schema, it is somebody else's file, or what is left of ours.
func schemaOf(tx *bolt.Tx) (uint32, error) {
	if name, _ := tx.Cursor().First(); name == nil {
		return 0, nil
	}
	data, err := need(tx, metaBucket, []byte("schema"))
	if err == nil && len(data) != 4 {
		err = broken(metaBucket, []byte("schema"), "is no number")
	}
	if err != nil {
		return 0, err
	}
	return binary.BigEndian.Uint32(data), nil
}

func putSchema(tx *bolt.Tx, schema uint32) error {
	_, err := put(tx, metaBucket, []byte("schema"), binary.BigEndian.AppendUint32(nil, schema))
	return err
}

// migrate runs the migrations of list that a file has not seen yet.
func migrate(tx *bolt.Tx, list []migration) error {
	have, err := schemaOf(tx)
	if err != nil {
		return err
	}
	for _, m := range list {
		if m.to <= have {
			continue
		}
		if err := m.run(tx); err != nil {
			return fmt.Errorf("from schema %d to %d: %w", m.to-1, m.to, err)
		}
		if err := putSchema(tx, m.to); err != nil {
			return err
		}
	}
	return nil
}

// migrate brings the file up to date, after keeping a copy of it as it was.
func (f *File) migrate(ctx context.Context, have uint32) error {
	if have > 0 {
		if err := f.copyTo(ctx, fmt.Sprintf("%s.bak-v%d", f.path, have)); err != nil {
			return err
		}
	}
	return f.update(ctx, anySchema, func(tx *bolt.Tx) error { return migrate(tx, migrations) })
}

// anySchema lets every file pass.
func anySchema(*bolt.Tx) error { return nil }

// ourSchema lets files pass that this program can read as they are.
func ourSchema(tx *bolt.Tx) error {
	have, err := schemaOf(tx)
	switch {
	case err != nil:
		return err
	case have > latest():
		return newer("it", have)
	case have < latest():
		return fmt.Errorf("an older file, with schema %d, has taken its place: open it again", have)
	}
	return nil
}

func newer(what string, have uint32) error {
	return fmt.Errorf("%s has schema %d, this vanlog knows %d: %w", what, have, latest(), build.ErrNewer)
}
