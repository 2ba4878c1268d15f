package store

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

// The buckets that hold no records of the build; those are named like their kinds.
const (
	metaBucket    = "meta"
	journalBucket = "journal"
	editsBucket   = "edits"
)

// bucketNames gives the names of all buckets.
func bucketNames() []string {
	names := []string{metaBucket, journalBucket, editsBucket}
	for _, kind := range build.Kinds() {
		names = append(names, string(kind))
	}
	return names
}

const (
	format     = 1 // of a record
	headLength = 5 // of a record: format and sum
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// keyOf gives the key of a record: big-endian, so that bytes sort like numbers.
func keyOf(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// sum takes the bucket and the key in as well, so that records cannot change places.
func sum(bucket string, key, data []byte) uint32 {
	c := crc32.Checksum([]byte(bucket), castagnoli)
	c = crc32.Update(c, castagnoli, key)
	return crc32.Update(c, castagnoli, data)
}

// seal makes a record of data.
func seal(bucket string, key, data []byte) []byte {
	out := append(make([]byte, 0, headLength+len(data)), format)
	out = binary.BigEndian.AppendUint32(out, sum(bucket, key, data))
	return append(out, data...)
}

// unseal gives the data of a record and its sum. The data is only good as long as the
// transaction.
func unseal(bucket string, key, value []byte) ([]byte, uint32, error) {
	if len(value) < headLength || value[0] != format {
		return nil, 0, broken(bucket, key, "is no record")
	}
	data, crc := value[headLength:], binary.BigEndian.Uint32(value[1:])
	if sum(bucket, key, data) != crc {
		return nil, 0, broken(bucket, key, "is not what was written")
	}
	return data, crc, nil
}

// broken says what is wrong with a record.
func broken(bucket string, key []byte, what string) error {
	return fmt.Errorf("%s: %s: %w", recordName(bucket, key), what, build.ErrDamaged)
}

func recordName(bucket string, key []byte) string {
	if len(key) == 8 {
		return fmt.Sprintf("record %s %d", bucket, binary.BigEndian.Uint64(key))
	}
	return fmt.Sprintf("record %s %.24q", bucket, key)
}

// bucketOf gives a bucket, all of which every file has.
func bucketOf(tx *bolt.Tx, name string) (*bolt.Bucket, error) {
	b := tx.Bucket([]byte(name))
	if b == nil {
		return nil, fmt.Errorf("the records %q are gone: %w", name, build.ErrDamaged)
	}
	return b, nil
}

// get gives the data of a record, nil where there is none, and its sum.
func get(tx *bolt.Tx, bucket string, key []byte) ([]byte, uint32, error) {
	b, err := bucketOf(tx, bucket)
	if err != nil {
		return nil, 0, err
	}
	value := b.Get(key)
	if value == nil {
		return nil, 0, nil
	}
	return unseal(bucket, key, value)
}

// need is get where there must be a record.
func need(tx *bolt.Tx, bucket string, key []byte) ([]byte, error) {
	data, _, err := get(tx, bucket, key)
	if err == nil && data == nil {
		err = broken(bucket, key, "is gone")
	}
	return data, err
}

// put writes a record and gives its sum.
func put(tx *bolt.Tx, bucket string, key, data []byte) (uint32, error) {
	b, err := bucketOf(tx, bucket)
	if err != nil {
		return 0, err
	}
	return sum(bucket, key, data), b.Put(key, seal(bucket, key, data))
}

// eachRecord calls fn with every record of a bucket in the order of the keys, up to the
// first error.
func eachRecord(tx *bolt.Tx, bucket string, fn func(key uint64, data []byte, crc uint32) error) error {
	b, err := bucketOf(tx, bucket)
	if err != nil {
		return err
	}
	return b.ForEach(func(key, value []byte) error {
		data, crc, err := unseal(bucket, key, value)
		if err == nil && len(key) != 8 {
			err = broken(bucket, key, "has a strange key")
		}
		if err != nil {
			return err
		}
		return fn(binary.BigEndian.Uint64(key), data, crc)
	})
}
