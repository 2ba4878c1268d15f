package record

import (
	"fmt"
	"slices"
	"strings"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tui/widget"
)

// sheet is the form of a kind of record.
type sheet[T any] struct {
	fresh T              // a new record
	title func(T) string // of one that is there
	slots []slot[T]
	// final sets right what hangs together and says what does not fit; nil: nothing does.
	final func(t *T, f widget.Form) error
	live  func(f widget.Form, isNew bool) widget.Form
}

// slot is a field of a record: how it is asked for, shown as text, and read back.
type slot[T any] struct {
	field widget.Field
	get   func(*T) string
	set   func(*T, string) error // the text may be empty
}

// fields gives the form's fields for a record. The id of one that is there is fixed.
func (s sheet[T]) fields(old T, has bool) []widget.Field {
	var out []widget.Field
	for _, sl := range s.slots {
		f, t := sl.field, old
		f.Value = sl.get(&t)
		f.Required = f.Required && (!has || f.Value != "") // a file may leave out more than we ask for
		own := f.Value
		f.Check = func(text string) error {
			if has && f.Name == "id" && text == own {
				return nil // it is taken by the record itself
			}
			t := old
			return sl.set(&t, text)
		}
		out = append(out, f)
	}
	return out
}

// row gives the record as f has it. Only fields whose text is another than it began with
// are read: what a form cannot say exactly stays as it was.
func (s sheet[T]) row(old T, began, f widget.Form) (row any, apart bool, err error) {
	t := old
	changed := false
	for _, sl := range s.slots {
		text := f.Value(sl.field.Name)
		if text == began.Value(sl.field.Name) {
			continue
		}
		changed = true
		if err := sl.set(&t, strings.TrimSpace(text)); err != nil {
			return t, false, fmt.Errorf("%s: %w", sl.field.Label, err)
		}
	}
	if changed && s.final != nil {
		if err := s.final(&t, f); err != nil {
			return t, true, err
		}
	}
	return t, false, nil
}

// copied gives a record like old under an id that is free.
func (s sheet[T]) copied(old T) T {
	for _, sl := range s.slots {
		if sl.field.Name == "id" {
			taken := func(name string) bool {
				t := old
				return sl.set(&t, name) != nil
			}
			_ = sl.set(&old, id.ProposeFree(sl.get(&old), taken))
		}
	}
	return old
}

// ask makes a text field; the constructors of slots say what else it is.
func ask(name, label, hint string) widget.Field {
	return widget.Field{Name: name, Label: label, Hint: hint}
}

// askDay makes a text field for a day, or a minute of one.
func askDay(name, label, hint string) widget.Field {
	return widget.Field{Name: name, Label: label, Hint: hint, IsDay: true}
}

func must[T any](s slot[T]) slot[T] {
	s.field.Required = true
	return s
}

// typed is a slot for anything that is written as one line of text.
func typed[T, V any](f widget.Field, at func(*T) *V, show func(V) string, read func(string) (V, error)) slot[T] {
	return slot[T]{
		field: f,
		get:   func(t *T) string { return show(*at(t)) },
		set: func(t *T, text string) error {
			v, err := read(strings.TrimSpace(text))
			if err == nil {
				*at(t) = v
			}
			return err
		},
	}
}

func text[T any, S ~string](f widget.Field, at func(*T) *S) slot[T] {
	return typed(f, at, func(s S) string { return string(s) }, func(s string) (S, error) { return S(s), nil })
}

// text that must be in some form where it is given.
func checked[T any](f widget.Field, at func(*T) *string, check func(string) error) slot[T] {
	return typed(f, at, func(s string) string { return s }, func(s string) (string, error) {
		if s == "" {
			return "", nil
		}
		return s, check(s)
	})
}

// amount is a number that goes without saying where it is 0.
func amount[T any](f widget.Field, at func(*T) *float64, read func(string) (float64, error)) slot[T] {
	return typed(f, at, func(v float64) string {
		if v == 0 {
			return ""
		}
		return number(v)
	}, func(s string) (float64, error) {
		if s == "" {
			return 0, nil
		}
		return read(s)
	})
}

// perhaps is a value that may be missing, which is another thing than its zero.
func perhaps[T, V any](f widget.Field, at func(*T) **V, show func(V) string, read func(string) (V, error)) slot[T] {
	return typed(f, at, func(v *V) string {
		if v == nil {
			return ""
		}
		return show(*v)
	}, func(s string) (*V, error) {
		if s == "" {
			return nil, nil
		}
		v, err := read(s)
		return &v, err
	})
}

// count is a whole number of things, at least 1.
func count[T any, N ~int](f widget.Field, at func(*T) *N) slot[T] {
	f.Required = true
	return typed(f, at, func(n N) string { return fmt.Sprint(int(n)) }, func(s string) (N, error) {
		n, err := readCount(s)
		return N(n), err
	})
}

func yes[T any](f widget.Field, at func(*T) *bool) slot[T] {
	f.Asks = widget.YesNo
	return typed(f, at, yesNo, func(s string) (bool, error) { return s == "yes", nil })
}

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

func choose[T any, S ~string](f widget.Field, words []S, at func(*T) *S) slot[T] {
	f.Asks = widget.Choose
	for _, w := range words {
		f.Words = append(f.Words, string(w))
	}
	return text(f, at)
}

// pick is the id of one record, or none.
func pick[T any, S ~string](f widget.Field, from []widget.Choice, at func(*T) *S) slot[T] {
	f.Asks, f.From = widget.Pick, from
	return text(f, at)
}

// picks are the ids of some records.
func picks[T any, S ~string](f widget.Field, from []widget.Choice, at func(*T) *[]S) slot[T] {
	f.Asks, f.From = widget.PickSeveral, from
	return typed(f, at, joinIDs[S], func(s string) ([]S, error) { return splitIDs[S](s), nil })
}

func joinIDs[S ~string](ids []S) string {
	texts := make([]string, len(ids))
	for i, s := range ids {
		texts[i] = string(s)
	}
	return strings.Join(texts, " ")
}

func splitIDs[S ~string](s string) []S {
	var ids []S
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' }) {
		ids = append(ids, S(w))
	}
	return ids
}

// lines is a list with one line of text for each of its rows. A line that is left as it was keeps
// its row, so that a row need not be said completely by its line.
func lines[T, R any](f widget.Field, at func(*T) *[]R, show func(R) string, read func(string) (R, error)) slot[T] {
	f.Asks = widget.Lines
	return slot[T]{
		field: f,
		get: func(t *T) string {
			var out []string
			for _, r := range *at(t) {
				out = append(out, oneLine(show(r)))
			}
			return strings.Join(out, "\n")
		},
		set: func(t *T, text string) error {
			rows, err := readLines(text, *at(t), show, read)
			if err == nil {
				*at(t) = rows
			}
			return err
		},
	}
}

func readLines[R any](text string, old []R, show func(R) string, read func(string) (R, error)) ([]R, error) {
	old = slices.Clone(old)
	var rows []R
	for i, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		kept := slices.IndexFunc(old, func(r R) bool { return strings.TrimSpace(oneLine(show(r))) == strings.TrimSpace(line) })
		if kept >= 0 {
			rows, old = append(rows, old[kept]), slices.Delete(old, kept, kept+1)
			continue
		}
		r, err := read(strings.TrimSpace(line))
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		rows = append(rows, r)
	}
	return rows, nil
}

func oneLine(s string) string {
	return strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ").Replace(s)
}
