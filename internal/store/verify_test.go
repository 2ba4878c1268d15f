package store

import (
	"fmt"
	"testing"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
)

// Each of these is written with good checksums, behind our back: only a look at the
// whole finds it.
func TestVerifyFinds(t *testing.T) {
	for _, tt := range []struct {
		name string
		harm func(tx *bolt.Tx) error
		want string // kind and reference of the first problem
	}{
		{"a record that is gone", func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("edge")).Delete(keyOf(2))
		}, "record test.van"},
		{"a record that is not a record", func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("edge")).Put(keyOf(2), []byte("??????"))
		}, "record record edge 2"},
		{"a record in another's place", func(tx *bolt.Tx) error {
			b := tx.Bucket([]byte("edge"))
			return b.Put(keyOf(2), append([]byte(nil), b.Get(keyOf(1))...))
		}, "record record edge 2"},
		{"a strange key", func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("edge")).Put([]byte("x"), seal("edge", []byte("x"), []byte("{}")))
		}, `record record edge "x"`},
		{"a bucket that is gone", func(tx *bolt.Tx) error {
			return tx.DeleteBucket([]byte("stock"))
		}, "record stock"},
		{"a change that is gone", func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("journal")).Delete(keyOf(3))
		}, "journal record journal 4"},
		{"edits that are gone", func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("edits")).Delete(keyOf(13))
		}, "journal test.van"},
		{"a change said to be undone", func(tx *bolt.Tx) error {
			return putEntry(tx, 13, entry{What: "entry 11", Undone: true})
		}, "journal record day 10"},
		{"a record nobody entered", swapEntry, "journal record day 10"},
		{"a reference to nothing", func(tx *bolt.Tx) error {
			return smuggle(tx, build.Edit{Kind: build.EdgeKind, Key: 9, After: []byte(`{"before":"glue-floor","after":"paint"}`)})
		}, "build edges[4].after"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := wornFile(t, testkit.Workshop())
			rawUpdate(t, path, tt.harm)
			problems, err := (&File{path: path}).Verify(ctx)
			if err != nil || len(problems) == 0 {
				t.Fatalf("Verify = %v, %v", problems, err)
			}
			got := problems[0].Kind + " " + problems[0].Ref
			if problems[0].Ref == path {
				got = problems[0].Kind + " test.van"
			}
			if got != tt.want {
				t.Errorf("found %q (%s), want %q", got, problems[0].Text, tt.want)
			}
			if problems[0].Hint == "" {
				t.Error("no hint")
			}
		})
	}
}

// swapEntry changes a record and what is known of all records, but no journal.
func swapEntry(tx *bolt.Tx) error {
	st, err := stateOf(tx)
	if err != nil {
		return err
	}
	before, _, err := get(tx, "day", keyOf(10))
	if err != nil || before == nil {
		return fmt.Errorf("no day 10: %v", err)
	}
	e := build.Edit{Kind: build.DayKind, Key: 10, Before: append([]byte(nil), before...),
		After: []byte(`{"at":"2026-03-02T09:00","task":"run-cable","minutes":599}`)}
	if st, err = carryOut(tx, st, []build.Edit{e}); err != nil {
		return err
	}
	return putState(tx, st)
}

// smuggle carries an edit out, journal and all, that Apply would have refused.
func smuggle(tx *bolt.Tx, e build.Edit) error {
	_, err := record(tx, build.Change{What: "smuggle", Edits: []build.Edit{e}}, false)
	return err
}
