package store

import (
	"encoding/binary"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/testkit"
)

// rootBranch gives where the newest root of a file lies, and the root itself; it must be a
// branch.
func rootBranch(t *testing.T, file *os.File) (at int64, root page) {
	t.Helper()
	m, err := metaAt(file, 0)
	if err == nil {
		m, _, err = newestMeta(file, int64(m.PageSize))
	}
	if err != nil {
		t.Fatal(err)
	}
	at = int64(m.Root) * int64(m.PageSize)
	data := make([]byte, m.PageSize)
	if _, err := file.ReadAt(data, at); err != nil {
		t.Fatal(err)
	}
	if root = pageOf(m.Root, data); root.flags != branchPage {
		t.Fatalf("the root, page %d, is no branch: the build is too small for this test", m.Root)
	}
	return at, root
}

// TestBranchKeyThatIsNoLongerTheFirst: a branch whose key is less than the first key of the page
// below reads as before, but with the next change bbolt would use a page twice.
func TestBranchKeyThatIsNoLongerTheFirst(t *testing.T) {
	path := unsound(t, testkit.Workshop())
	for range 12 {
		if err := addEntry(&File{path: path}, "a word"); err != nil {
			t.Fatal(err)
		}
	}
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	at, root := rootBranch(t, file)
	for i := range root.count {
		_, end, _ := root.bounds(i)
		key := int64(end) - 1
		less := []byte{root.data[key] - 1}
		if _, err := file.WriteAt(less, at+key); err != nil {
			t.Fatal(err)
		}
		f := &File{path: path}
		if problems, err := f.Verify(ctx); err == nil && len(problems) == 0 {
			t.Errorf("key %d of the root made less, and nobody notices", i)
		}
		if err := addEntry(f, "one more"); err == nil {
			t.Errorf("key %d of the root made less, and the file was written to", i)
		}
		if _, err := file.WriteAt(root.data[key:key+1], at+key); err != nil {
			t.Fatal(err)
		}
	}
	mustBeSound(t, &File{path: path})
}

// TestBranchKeysAreFirstKeys holds lookThrough against bbolt itself: whatever bbolt writes, branches
// several pages deep, emptied and filled again, is found good.
func TestBranchKeysAreFirstKeys(t *testing.T) {
	db, err := bolt.Open(filepath.Join(t.TempDir(), "raw.db"), 0o600, &bolt.Options{NoSync: true, PageSize: 1024})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	file, err := os.Open(db.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rnd := rand.New(rand.NewPCG(7, 9))
	for round := range 300 {
		most, removed := uint64(1+rnd.IntN(2000)), rnd.IntN(100)
		err := db.Update(func(tx *bolt.Tx) error { return shuffle(tx, rnd, most, removed) })
		if err != nil {
			t.Fatal(err)
		}
		m, both, err := newestMeta(file, 1024)
		if err == nil {
			err = lookThrough(file, m)
		}
		if err != nil || !both {
			t.Fatalf("after %d changes: %v, both meta pages %v", round+1, err, both)
		}
	}
}

// shuffle puts and removes some keys below most in one of three buckets.
func shuffle(tx *bolt.Tx, rnd *rand.Rand, most uint64, removed int) error {
	b, err := tx.CreateBucketIfNotExists([]byte{byte('a' + rnd.IntN(3))})
	if err != nil {
		return err
	}
	for range 1 + rnd.IntN(150) {
		key := binary.BigEndian.AppendUint64(nil, rnd.Uint64N(most))
		if rnd.IntN(100) < removed {
			err = b.Delete(key)
		} else {
			err = b.Put(key, make([]byte, rnd.IntN(300)))
		}
		if err != nil {
			return err
		}
	}
	return nil
}
