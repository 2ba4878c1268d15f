package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"

	"example.com/vanlog/internal/build"
)

// bbolt follows the page numbers that it reads wherever they lead: in circles, off the
// end of the file, or into pages that it believes to be free and writes over. Only its
// two meta pages have a checksum. lookThrough goes over all pages first, in a way that
// ends whatever they hold: it takes every page at most once.
//
// The forms of pages are those of bbolt (internal/common/page.go, meta.go, bucket.go), in
// the byte order of the machine.

var order = binary.NativeEndian

// The flags of pages and of the elements of a leaf.
const (
	branchPage    = 0x01
	leafPage      = 0x02
	freelistPage  = 0x10
	bucketElement = 0x01
)

const (
	pageHead    = 16 // id, flags, count, overflow
	elementSize = 16
	bucketHead  = 16 // root, sequence
	pageIDSize  = 8
)

// meta is a meta page: where everything begins.
type meta struct {
	Magic, Version, PageSize, Flags      uint32
	Root, Sequence, Freelist, High, Txid uint64 // High: the first page that is not in use
	Checksum                             uint64
}

// metaAt reads the meta page at an offset; an error where it is none, or half written.
func metaAt(r io.ReaderAt, offset int64) (meta, error) {
	var m meta
	raw := make([]byte, binary.Size(m))
	if _, err := r.ReadAt(raw, offset+pageHead); err != nil {
		return m, err
	}
	if _, err := binary.Decode(raw, order, &m); err != nil {
		return m, err
	}
	check := fnv.New64a()
	_, _ = check.Write(raw[:len(raw)-8])
	if m.Magic != 0xED0CDAED || m.Checksum != check.Sum64() {
		return m, errors.New("no meta page")
	}
	return m, nil
}

// newestMeta gives the one of the two meta pages that counts, and whether both are good.
// Where one is not, bbolt goes by the other: the file is then as it was before the last
// change.
func newestMeta(r io.ReaderAt, pageSize int64) (m meta, both bool, err error) {
	m, err = metaAt(r, 0)
	other, otherErr := metaAt(r, pageSize)
	switch {
	case err != nil && otherErr != nil:
		return m, false, fmt.Errorf("neither meta page is good: %w", build.ErrDamaged)
	case err != nil || (otherErr == nil && other.Txid > m.Txid):
		m = other
	}
	return m, err == nil && otherErr == nil, nil
}

// survey is one look through the pages of a file.
type survey struct {
	r     io.ReaderAt
	meta  meta
	taken []bool // pages that were come across
}

// lookThrough checks the pages from a meta page on: that each is what it says it is and
// lies within the file, that none is used twice or both used and free, that none is lost,
// and that keys are in order. The error wraps build.ErrDamaged.
func lookThrough(r io.ReaderAt, m meta) error {
	if m.High < 4 || m.High > 1<<40 || m.PageSize < 512 {
		return fmt.Errorf("its meta page is of no use: %w", build.ErrDamaged)
	}
	last := make([]byte, 1)
	if _, err := r.ReadAt(last, int64(m.High)*int64(m.PageSize)-1); err != nil {
		return fmt.Errorf("the end of the file is missing: %w", build.ErrDamaged)
	}
	s := &survey{r: r, meta: m, taken: make([]bool, m.High)}
	s.taken[0], s.taken[1] = true, true
	err := s.free()
	if err == nil {
		err = s.tree(m.Root, nil, nil)
	}
	for id, taken := range s.taken {
		if err == nil && !taken {
			err = fmt.Errorf("page %d is lost", id)
		}
	}
	if err != nil {
		return fmt.Errorf("%w: %w", err, build.ErrDamaged)
	}
	return nil
}

// take marks pages as come across, once.
func (s *survey) take(id, n uint64) error {
	if id >= s.meta.High || n > s.meta.High-id {
		return fmt.Errorf("page %d lies outside the file", id)
	}
	for i := id; i < id+n; i++ {
		if s.taken[i] {
			return fmt.Errorf("page %d is used twice", i)
		}
		s.taken[i] = true
	}
	return nil
}

// page is a page with the pages that it flows over into.
type page struct {
	id    uint64
	flags uint16
	count int
	data  []byte
}

// read reads a page and takes it.
func (s *survey) read(id uint64) (page, error) {
	if id >= s.meta.High {
		return page{}, fmt.Errorf("page %d lies outside the file", id)
	}
	size := uint64(s.meta.PageSize)
	data := make([]byte, size)
	if err := s.readAt(data, id); err != nil {
		return page{}, err
	}
	more := uint64(order.Uint32(data[12:]))
	if err := s.take(id, more+1); err != nil {
		return page{}, err
	}
	if more > 0 {
		data = append(data, make([]byte, more*size)...)
		if err := s.readAt(data[size:], id+1); err != nil {
			return page{}, err
		}
	}
	if got := order.Uint64(data); got != id {
		return page{}, fmt.Errorf("page %d says that it is page %d", id, got)
	}
	return pageOf(id, data), nil
}

func (s *survey) readAt(into []byte, id uint64) error {
	if _, err := s.r.ReadAt(into, int64(id)*int64(s.meta.PageSize)); err != nil {
		return fmt.Errorf("page %d: %w", id, err)
	}
	return nil
}

func pageOf(id uint64, data []byte) page {
	return page{id: id, flags: order.Uint16(data[8:]), count: int(order.Uint16(data[10:])), data: data}
}

// free takes the list of free pages and all that it names.
func (s *survey) free() error {
	p, err := s.read(s.meta.Freelist)
	if err != nil {
		return err
	}
	count, ids := uint64(p.count), p.data[pageHead:]
	if p.flags == freelistPage && count == 0xFFFF { // too many to count there
		count, ids = order.Uint64(ids), ids[pageIDSize:]
	}
	if p.flags != freelistPage || count > uint64(len(ids)/pageIDSize) {
		return fmt.Errorf("page %d is no list of free pages", p.id)
	}
	for i := range count {
		if err := s.take(order.Uint64(ids[i*pageIDSize:]), 1); err != nil {
			return err
		}
	}
	return nil
}

// tree goes through the tree below a page, whose first key must be low, as the page above
// has it, and all keys less than high (nil: no limit). With another first key bbolt would
// read on as before, but lose its way with the next change.
func (s *survey) tree(id uint64, low, high []byte) error {
	p, err := s.read(id)
	if err != nil {
		return err
	}
	switch p.flags {
	case branchPage:
		return s.branch(p, low, high)
	case leafPage:
		return s.leaf(p, low, high)
	}
	return fmt.Errorf("page %d is of no kind that belongs here", id)
}

func (s *survey) branch(p page, low, high []byte) error {
	keys, err := p.keys(low, high)
	if err == nil && len(keys) == 0 {
		err = fmt.Errorf("page %d leads nowhere", p.id)
	}
	if err != nil {
		return err
	}
	for i := range keys {
		end := high
		if i+1 < len(keys) {
			end = keys[i+1]
		}
		child := order.Uint64(p.element(i)[8:])
		if err := s.tree(child, keys[i], end); err != nil {
			return err
		}
	}
	return nil
}

func (s *survey) leaf(p page, low, high []byte) error {
	keys, err := p.keys(low, high)
	if err != nil {
		return err
	}
	for i := range keys {
		e := p.element(i)
		if order.Uint32(e) != bucketElement {
			continue
		}
		if err := s.bucket(p, p.value(i)); err != nil {
			return err
		}
	}
	return nil
}

// bucket goes through a bucket: a tree of its own or, for a small one, a leaf within the
// value of its element.
func (s *survey) bucket(p page, value []byte) error {
	if len(value) < bucketHead {
		return fmt.Errorf("page %d holds half a bucket", p.id)
	}
	if root := order.Uint64(value); root != 0 {
		return s.tree(root, nil, nil)
	}
	inner := value[bucketHead:]
	if len(inner) < pageHead || order.Uint16(inner[8:]) != leafPage {
		return fmt.Errorf("page %d holds half a bucket", p.id)
	}
	return s.leaf(pageOf(p.id, inner), nil, nil)
}

// element gives what a page says of its i-th element. Of a leaf: flags, where the key
// is (from the element on), lengths of key and value. Of a branch: where the key is, its
// length, the page below.
func (p page) element(i int) []byte { return p.data[pageHead+i*elementSize:] }

// bounds gives where the key and the value of an element begin and end in data.
func (p page) bounds(i int) (key, value, end uint64) {
	e, at := p.element(i), uint64(pageHead+i*elementSize)
	if p.flags == branchPage {
		key = at + uint64(order.Uint32(e))
		value = key + uint64(order.Uint32(e[4:]))
		return key, value, value
	}
	key = at + uint64(order.Uint32(e[4:]))
	value = key + uint64(order.Uint32(e[8:]))
	return key, value, value + uint64(order.Uint32(e[12:]))
}

func (p page) value(i int) []byte {
	_, from, to := p.bounds(i)
	return p.data[from:to]
}

// keys gives the keys of a page, which must rise, from low itself up to but not including
// high.
func (p page) keys(low, high []byte) ([][]byte, error) {
	if pageHead+p.count*elementSize > len(p.data) {
		return nil, fmt.Errorf("page %d has too many elements", p.id)
	}
	keys := make([][]byte, p.count)
	for i := range keys {
		from, to, end := p.bounds(i)
		if end > uint64(len(p.data)) {
			return nil, fmt.Errorf("page %d ends within element %d", p.id, i)
		}
		keys[i] = p.data[from:to]
		if i > 0 && bytes.Compare(keys[i-1], keys[i]) >= 0 || i == 0 && low != nil && !bytes.Equal(low, keys[i]) ||
			high != nil && bytes.Compare(keys[i], high) >= 0 {
			return nil, fmt.Errorf("page %d is out of order at element %d", p.id, i)
		}
	}
	return keys, nil
}
