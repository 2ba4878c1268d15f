package store

import (
	"encoding/json"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
)

// state is what the file says of itself as a whole.
type state struct {
	Rev     build.Rev `json:"rev"`
	Changes uint64    `json:"changes"` // in the journal, undone or not; the last has this number
	Records int       `json:"records"` // of the build
	Sum     uint32    `json:"sum"`     // exclusive or of their CRCs
}

// add takes a record in, or one out again with remove.
func (s *state) add(crc uint32) { s.Records, s.Sum = s.Records+1, s.Sum^crc }

func (s *state) remove(crc uint32) { s.Records, s.Sum = s.Records-1, s.Sum^crc }

// compare says whether the records seen are all that there should be.
func (s state) compare(seen state) error {
	switch {
	case s.Records != seen.Records:
		return fmt.Errorf("it has %d records, but %d were written: %w", seen.Records, s.Records, build.ErrDamaged)
	case s.Sum != seen.Sum:
		return fmt.Errorf("its records do not belong together: %w", build.ErrDamaged)
	}
	return nil
}

func stateOf(tx *bolt.Tx) (st state, err error) {
	data, err := need(tx, metaBucket, []byte("state"))
	if err == nil {
		err = decode(metaBucket, []byte("state"), data, &st)
	}
	return st, err
}

func putState(tx *bolt.Tx, st state) error { return putJSON(tx, metaBucket, []byte("state"), st) }

func putJSON(tx *bolt.Tx, bucket string, key []byte, v any) error {
	data, err := json.Marshal(v)
	if err == nil {
		_, err = put(tx, bucket, key, data)
	}
	return err
}

func decode(bucket string, key, data []byte, v any) error {
	if err := json.Unmarshal(data, v); err != nil {
		return broken(bucket, key, err.Error())
	}
	return nil
}
