package build

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"example.com/vanlog/internal/access"
	"example.com/vanlog/internal/calendar"
	"example.com/vanlog/internal/cutlist"
	"example.com/vanlog/internal/daybook"
	"example.com/vanlog/internal/deps"
	"example.com/vanlog/internal/parts"
	"example.com/vanlog/internal/tasks"
)

// Encode writes a record as it is stored: the JSON of the build file in one line.
func Encode(row any) (json.RawMessage, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(row); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(out.Bytes(), []byte("\n")), nil
}

// mustEncode is Encode for rows of a checked build, whose numbers are all finite.
func mustEncode(row any) json.RawMessage {
	data, err := Encode(row)
	if err != nil {
		panic(fmt.Sprintf("record %T cannot be written: %v", row, err))
	}
	return data
}

// decode reads what Encode wrote, with what a file may leave out filled in.
func decode[T any](data json.RawMessage) (row T, err error) {
	if err = json.Unmarshal(data, &row); err != nil {
		return row, err
	}
	if d, ok := any(&row).(interface{ SetDefaults() }); ok {
		d.SetDefaults()
	}
	return row, nil
}

// rows is a list of a build, whatever its type of record.
type rows interface {
	records(kind Kind) []Record
	data(k Key) json.RawMessage // nil: no such record
	patch(edits []Edit) error   // in order
	push(k Key, data json.RawMessage) error
	last() Key
	holds(row any) bool // row is of the list's type
}

// rowsOf gives the list of b that holds records of a kind.
func (b *Build) rowsOf(kind Kind) (rows, error) {
	switch kind {
	case HeadKind:
		return &single[Head]{get: b.head, set: b.setHead}, nil
	case ClockKind:
		return &single[daybook.Clock]{get: func() *daybook.Clock { return b.Clock }, set: b.setClock}, nil
	case ResourceKind:
		return (*listRows[calendar.Resource])(&b.Resources), nil
	case PlaceKind:
		return (*listRows[access.Place])(&b.Places), nil
	case ItemKind:
		return (*listRows[access.Item])(&b.Items), nil
	case PartKind:
		return (*listRows[parts.Part])(&b.Parts), nil
	case TaskKind:
		return (*listRows[tasks.Task])(&b.Tasks), nil
	case EdgeKind:
		return (*listRows[deps.Edge])(&b.Edges), nil
	case OptionKind:
		return (*listRows[Option])(&b.Options), nil
	case StockKind:
		return (*listRows[cutlist.Stock])(&b.Stocks), nil
	case CutKind:
		return (*listRows[cutlist.Cut])(&b.Cuts), nil
	case DayKind:
		return (*listRows[daybook.Entry])(&b.Days), nil
	case SnagKind:
		return (*listRows[daybook.Snag])(&b.Snags), nil
	}
	return nil, fmt.Errorf("no kind of record %q", kind)
}

// head gives the head, nil where it says nothing.
func (b *Build) head() *Head {
	if b.Head == (Head{}) {
		return nil
	}
	return &b.Head
}

func (b *Build) setHead(h *Head) {
	b.Head = Head{}
	if h != nil {
		b.Head = *h
	}
}

func (b *Build) setClock(c *daybook.Clock) { b.Clock = c }

// listRows is a List seen through rows. It never writes to the slices it was given:
// another Build may share them.
type listRows[T any] List[T]

func (l *listRows[T]) records(kind Kind) []Record {
	out := make([]Record, len(l.Rows))
	for i, row := range l.Rows {
		out[i] = Record{Kind: kind, Key: l.Keys[i], Data: mustEncode(row)}
	}
	return out
}

func (l *listRows[T]) data(k Key) json.RawMessage {
	if i := slices.Index(l.Keys, k); i >= 0 {
		return mustEncode(l.Rows[i])
	}
	return nil
}

// push puts a record at the end; its key must be above all others.
func (l *listRows[T]) push(k Key, data json.RawMessage) error {
	row, err := decode[T](data)
	if err == nil {
		l.Keys, l.Rows = append(l.Keys, k), append(l.Rows, row)
	}
	return err
}

func (l *listRows[T]) patch(edits []Edit) error {
	now := make(map[Key]json.RawMessage, len(edits))
	for _, e := range edits {
		now[e.Key] = nil
	}
	for i, k := range l.Keys {
		if _, touched := now[k]; touched {
			now[k] = mustEncode(l.Rows[i])
		}
	}
	if err := follow(edits, now); err != nil {
		return err
	}
	return l.rebuild(now)
}

// follow carries out edits on the records they touch.
func follow(edits []Edit, now map[Key]json.RawMessage) error {
	for _, e := range edits {
		if !sameData(now[e.Key], e.Before) {
			return fmt.Errorf("%s %d: %w", e.Kind, e.Key, ErrStale)
		}
		now[e.Key] = e.After
	}
	return nil
}

// rebuild makes the list anew with the records of now in it, nil ones gone.
func (l *listRows[T]) rebuild(now map[Key]json.RawMessage) error {
	var next listRows[T]
	for i, k := range l.Keys {
		data, touched := now[k]
		delete(now, k)
		switch {
		case !touched:
			next.Keys, next.Rows = append(next.Keys, k), append(next.Rows, l.Rows[i])
		case data != nil:
			if err := next.push(k, data); err != nil {
				return err
			}
		}
	}
	for _, k := range slices.Sorted(maps.Keys(now)) {
		if now[k] == nil {
			continue
		}
		if err := next.push(k, now[k]); err != nil {
			return err
		}
	}
	*l = listRows[T](sorted(List[T](next), func(x, y T) int { return 0 }))
	return nil
}

// sorted orders a list by a comparison of its rows, and by key where they are equal.
func sorted[T any](l List[T], compare func(x, y T) int) List[T] {
	order := make([]int, len(l.Rows))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(compare(l.Rows[i], l.Rows[j]), cmp.Compare(l.Keys[i], l.Keys[j]))
	})
	out := List[T]{Keys: make([]Key, len(order)), Rows: make([]T, len(order))}
	for at, i := range order {
		out.Keys[at], out.Rows[at] = l.Keys[i], l.Rows[i]
	}
	return out
}

func (l *listRows[T]) last() Key {
	var last Key
	for _, k := range l.Keys {
		last = max(last, k)
	}
	return last
}

func (l *listRows[T]) holds(row any) bool { _, ok := row.(T); return ok }

// single is a kind of which a build has one record or none, with key 1.
type single[T any] struct {
	get func() *T
	set func(*T)
}

func (s *single[T]) records(kind Kind) []Record {
	if row := s.get(); row != nil {
		return []Record{{Kind: kind, Key: 1, Data: mustEncode(*row)}}
	}
	return nil
}

func (s *single[T]) data(k Key) json.RawMessage {
	if row := s.get(); row != nil && k == 1 {
		return mustEncode(*row)
	}
	return nil
}

func (s *single[T]) patch(edits []Edit) error {
	now := map[Key]json.RawMessage{1: s.data(1)}
	if err := follow(edits, now); err != nil {
		return err
	}
	if now[1] == nil {
		s.set(nil)
		return nil
	}
	return s.push(1, now[1])
}

func (s *single[T]) push(_ Key, data json.RawMessage) error {
	row, err := decode[T](data)
	if err == nil {
		s.set(&row)
	}
	return err
}

func (s *single[T]) last() Key { return 0 }

func (s *single[T]) holds(row any) bool { _, ok := row.(T); return ok }
