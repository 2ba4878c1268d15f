package store

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	bolt "go.etcd.io/bbolt"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/testkit"
)

// wornFile makes a file with a history: entries, some undone, some done again.
func wornFile(t testing.TB, b build.Build) string {
	t.Helper()
	path := unsound(t, b)
	f := &File{path: path}
	for i := range 12 {
		if err := addEntry(f, fmt.Sprintf("entry %d", i)); err != nil {
			t.Fatal(err)
		}
		if i%3 == 0 {
			if _, err := f.Undo(ctx); err != nil {
				t.Fatal(err)
			}
		}
	}
	mustBeSound(t, f)
	return path
}

// stride gives the usual step of a test that tries many places of a file, and 1 where
// VANLOG_THOROUGH is set: then it tries them all, for some minutes.
func stride(usual int) int {
	if os.Getenv("VANLOG_THOROUGH") != "" {
		return 1
	}
	return usual
}

// whole is all that a file says, to compare.
type whole struct {
	records []string
	history []string
}

func wholeOf(f *File) (w whole, err error) {
	b, _, err := f.Load(ctx)
	if err != nil {
		return w, err
	}
	h, err := f.History(ctx, 0)
	return whole{texts(b.Records()), briefs(h)}, err
}

func (w whole) equal(o whole) bool { return fmt.Sprint(w) == fmt.Sprint(o) }

// tryDamaged reads a damaged file in every way. It reports whether the damage was
// noticed; it fails where the file says something else without a word.
func tryDamaged(t *testing.T, what, path string, want whole) (noticed bool) {
	t.Helper()
	f := &File{path: path}
	got, loadErr := wholeOf(f)
	if loadErr != nil && !errors.Is(loadErr, build.ErrDamaged) && !errors.Is(loadErr, build.ErrNewer) {
		t.Errorf("%s: Load = %v, want ErrDamaged", what, loadErr)
	}
	problems, err := f.Verify(ctx)
	if err != nil && !errors.Is(err, build.ErrDamaged) && !errors.Is(err, build.ErrNewer) {
		t.Errorf("%s: Verify = %v, want ErrDamaged", what, err)
	}
	noticed = loadErr != nil || err != nil || len(problems) > 0
	if loadErr == nil && !got.equal(want) && !noticed {
		t.Errorf("%s: the file says something else, and nobody notices", what)
	}
	return noticed
}

func TestTruncatedFiles(t *testing.T) {
	path := wornFile(t, testkit.Workshop())
	good := readFile(t, path)
	want, err := wholeOf(&File{path: path})
	if err != nil {
		t.Fatal(err)
	}
	broken := filepath.Join(t.TempDir(), "short.van")
	noticed, tried := 0, 0
	for n := len(good) - 1; n >= 0; n -= stride(1531) {
		writeFile(t, broken, good[:n])
		if tryDamaged(t, fmt.Sprintf("cut to %d of %d bytes", n, len(good)), broken, want) {
			noticed++
		}
		mustKeep(t, broken, want, fmt.Sprintf("cut to %d bytes", n))
		tried++
	}
	t.Logf("%d of %d cuts noticed, the others were of pages not in use", noticed, tried)
	if noticed < tried/2 {
		t.Errorf("only %d of %d cuts noticed", noticed, tried)
	}
}

// Every byte of every record that is in use: a flip must be noticed.
func TestFlippedBytesInRecords(t *testing.T) {
	path := wornFile(t, testkit.Workshop())
	good := readFile(t, path)
	want, err := wholeOf(&File{path: path})
	if err != nil {
		t.Fatal(err)
	}
	stride := stride(37)
	broken, tried, first := filepath.Join(t.TempDir(), "flipped.van"), 0, 0
	for _, value := range values(t, path) {
		places := occurrences(good, value)
		for at := first; at < len(value); at += stride {
			bad := bytes.Clone(good)
			for _, p := range places {
				bad[p+at] ^= 1 << (tried % 8)
			}
			writeFile(t, broken, bad)
			if !tryDamaged(t, fmt.Sprintf("byte %d of %.40q", at, value), broken, want) {
				t.Errorf("byte %d of %.40q flipped, and nobody notices", at, value)
			}
			tried++
		}
		first = (first + len(value)) % stride // so that strides begin everywhere
	}
	t.Logf("%d flips", tried)
}

// values gives all values of all buckets.
func values(t *testing.T, path string) (out [][]byte) {
	t.Helper()
	rawUpdate(t, path, func(tx *bolt.Tx) error {
		return tx.ForEach(func(_ []byte, b *bolt.Bucket) error {
			return b.ForEach(func(_, value []byte) error {
				out = append(out, bytes.Clone(value))
				return nil
			})
		})
	})
	return out
}

// occurrences gives all places of a value: pages no longer in use keep older copies.
func occurrences(data, value []byte) (at []int) {
	for from := 0; ; {
		i := bytes.Index(data[from:], value)
		if i < 0 {
			return at
		}
		at = append(at, from+i)
		from += i + 1
	}
}

// Any byte of the file, many at a time: whatever happens, it is noticed or it does not
// matter; nothing hangs, nothing dies.
func TestFlippedBytesAnywhere(t *testing.T) {
	path := wornFile(t, testkit.Workshop())
	good := readFile(t, path)
	want, err := wholeOf(&File{path: path})
	if err != nil {
		t.Fatal(err)
	}
	broken := filepath.Join(t.TempDir(), "flipped.van")
	random := rand.New(rand.NewPCG(1, 2))
	noticed, tried := 0, 4000/stride(25)
	for range tried {
		bad := bytes.Clone(good)
		for range 1 + random.IntN(20) {
			bad[random.IntN(len(bad))] ^= 1 << random.IntN(8)
		}
		writeFile(t, broken, bad)
		if tryDamaged(t, "flipped at random", broken, want) {
			noticed++
		}
	}
	t.Logf("%d of %d noticed, the others were of bytes not in use", noticed, tried)
}

// The heads and the tables of pages: where bbolt goes astray.
func TestFlippedBytesInPageHeads(t *testing.T) {
	path := wornFile(t, testkit.Workshop())
	good := readFile(t, path)
	want, err := wholeOf(&File{path: path})
	if err != nil {
		t.Fatal(err)
	}
	broken := filepath.Join(t.TempDir(), "flipped.van")
	size := os.Getpagesize()
	for from := 0; from < len(good); from += size {
		for at := from / size % stride(9); at < 80; at += stride(9) {
			bad := bytes.Clone(good)
			bad[from+at] ^= 1 << (at % 8)
			writeFile(t, broken, bad)
			what := fmt.Sprintf("byte %d of page %d", at, from/size)
			tryDamaged(t, what, broken, want)
			mustKeep(t, broken, want, what)
		}
	}
}

// mustKeep writes to a damaged file: if it lets that happen, it must still have the
// history that it had, and one change more; or say that it is damaged.
func mustKeep(t *testing.T, path string, want whole, what string) {
	t.Helper()
	f := &File{path: path}
	if addEntry(f, "into a damaged file") != nil {
		return
	}
	got, err := wholeOf(f)
	problems, verr := f.Verify(ctx)
	if err != nil || verr != nil || len(problems) > 0 {
		return
	}
	if len(got.history) != len(want.history)+1 || len(got.records) != len(want.records)+1 {
		t.Errorf("%s, then written to: %d changes, %d records; want one more than %d, %d", what,
			len(got.history), len(got.records), len(want.history), len(want.records))
	}
}

// A page that leads back to itself sends bbolt in circles for ever.
func TestPagesInACircle(t *testing.T) {
	f := made(t, testkit.Workshop())
	for i := range 300 { // enough for the daybook to have a branch page
		if err := addEntry(f, fmt.Sprintf("a longer note, so that the pages fill up: %d", i)); err != nil {
			t.Fatal(err)
		}
	}
	good := readFile(t, f.Path())
	size, n := os.Getpagesize(), 0
	broken := filepath.Join(t.TempDir(), "circle.van")
	for from := 0; from < len(good); from += size {
		p := pageOf(order.Uint64(good[from:]), good[from:from+size])
		if p.flags != branchPage {
			continue
		}
		bad := bytes.Clone(good)
		order.PutUint64(bad[from+pageHead+8:], p.id)
		writeFile(t, broken, bad)
		before, _ := wholeOf(f)
		if tryDamaged(t, "a circle", broken, before) {
			n++
		}
	}
	if n == 0 {
		t.Error("no circle was noticed")
	}
}

// Law: what bbolt itself finds in order, we find in order (lookThrough refuses no good file).
func TestLookThroughPassesGoodFiles(t *testing.T) {
	f := made(t, testkit.Workshop())
	for i := range 200 {
		f.seen.Store(nil) // look at all pages again
		if err := addEntry(f, fmt.Sprint("entry ", i)); err != nil {
			t.Fatal(err)
		}
		if i%7 == 6 {
			f.seen.Store(nil)
			if _, err := f.Undo(ctx); err != nil {
				t.Fatal(err)
			}
		}
	}
}
