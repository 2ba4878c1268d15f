package exchange

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.com/vanlog/internal/id"
	"example.com/vanlog/internal/tasks"
	"example.com/vanlog/internal/units"
)

// column is a field of a T in a table. Set says why a cell cannot be.
type column[T any] struct {
	name  string
	path  string // of the field in a record of the build file
	raw   bool   // free text: spaces and "-" mean themselves
	short bool   // is read for several columns, but not written
	get   func(*T) string
	set   func(*T, cell) (why string)
}

// at finds a field of a T; where it is in a part that T has not got, it is made or nil.
type at[T, V any] func(t *T, make bool) *V

// here is the way to a field that is always there.
func here[T, V any](field func(*T) *V) at[T, V] { return func(t *T, _ bool) *V { return field(t) } }

// columnOf makes a column from how its value is written and read.
func columnOf[T, V any](name string, field at[T, V], print func(V) string, parse func(cell) (V, string)) column[T] {
	return column[T]{
		name: name, path: name,
		get: func(t *T) string {
			if v := field(t, false); v != nil {
				return print(*v)
			}
			return ""
		},
		set: func(t *T, c cell) string {
			v, why := parse(c)
			if why == "" {
				*field(t, true) = v
			}
			return why
		},
	}
}

// under gives the column of a field that lies deeper in its record.
func (c column[T]) under(path string) column[T] {
	c.path = path
	return c
}

func textColumn[T any, S ~string](name string, field at[T, S]) column[T] {
	c := columnOf(name, field, func(v S) string { return string(v) }, func(c cell) (S, string) {
		return S(c.text), textFlaw(c.text, false)
	})
	c.raw = true
	return c
}

func nameColumn[T any, S ~string](name string, field at[T, S]) column[T] {
	return columnOf(name, field, func(v S) string { return string(v) }, func(c cell) (S, string) {
		if c.text == nothing {
			return "", ""
		}
		return S(c.text), textFlaw(c.text, false)
	})
}

func namesColumn[T any, S ~string](name string, field at[T, []S]) column[T] {
	return columnOf(name, field, func(v []S) string {
		out := make([]string, len(v))
		for i, s := range v {
			out[i] = string(s)
		}
		return strings.Join(out, " ")
	}, func(c cell) (out []S, why string) {
		for _, w := range c.words() {
			out = append(out, S(w))
		}
		return out, ""
	})
}

func numberColumn[T any, N ~float64](name string, field at[T, N]) column[T] {
	return columnOf(name, field, func(v N) string { return written(float64(v)) }, func(c cell) (N, string) {
		v, why := c.number()
		return N(v), why
	})
}

// orNoneColumn is a number that may be missing.
func orNoneColumn[T any](name string, field at[T, *float64]) column[T] {
	return columnOf(name, field, func(v *float64) string {
		if v == nil {
			return ""
		}
		return written(*v)
	}, func(c cell) (*float64, string) {
		if c.text == nothing {
			return nil, ""
		}
		v, why := c.number()
		return &v, why
	})
}

func wholeColumn[T any, N ~int](name string, field at[T, N]) column[T] {
	return columnOf(name, field, func(v N) string { return strconv.Itoa(int(v)) }, func(c cell) (N, string) {
		n, why := c.whole()
		return N(n), why
	})
}

func yesColumn[T any](name string, field at[T, bool]) column[T] {
	return columnOf(name, field, func(v bool) string {
		if v {
			return "yes"
		}
		return "no"
	}, cell.yes)
}

func whenColumn[T any](name string, field at[T, *units.When]) column[T] {
	return columnOf(name, field, func(v *units.When) string {
		if v == nil {
			return ""
		}
		return v.String()
	}, func(c cell) (*units.When, string) {
		if c.text == nothing {
			return nil, ""
		}
		w, err := units.ParseWhen(c.text)
		if err != nil {
			return nil, err.Error()
		}
		return &w, ""
	})
}

// usesColumn is written "builder=2 inside": no number means one, "-" uses nothing.
func usesColumn(name string, field at[tasks.Task, tasks.Uses]) column[tasks.Task] {
	return columnOf(name, field, func(u tasks.Uses) string {
		var out []string
		for _, r := range slices.Sorted(maps.Keys(u)) {
			if u[r] == 1 {
				out = append(out, string(r))
			} else {
				out = append(out, fmt.Sprintf("%s=%d", r, u[r]))
			}
		}
		return cmp.Or(strings.Join(out, " "), nothing)
	}, parseUses)
}

func parseUses(c cell) (tasks.Uses, string) {
	u := tasks.Uses{}
	for _, w := range c.words() {
		name, count, counted := strings.Cut(w, "=")
		n, why := 1, ""
		if counted {
			n, why = cell{text: count}.whole()
		}
		if _, twice := u[id.Resource(name)]; twice {
			why = "names " + strconv.Quote(name) + " twice"
		}
		if why != "" {
			return nil, why
		}
		u[id.Resource(name)] = n
	}
	return u, ""
}
