// Package sums puts the sums at the bench (package reckon) to a person: what each asks for, in
// words, and its answer in lines, with formula, source and caution. Commands and screens show
// the same.
//
// It works out nothing itself but reading what was typed.
package sums

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/vanlog/internal/reckon"
	"example.com/vanlog/internal/units"
)

// Sum is a sum that a person can ask for.
type Sum struct {
	Name   string // in commands
	About  string
	Fields []Field
	work   func(asked) (Answer, error)
}

// Field is something that a sum asks for.
type Field struct {
	Name    string
	Label   string
	Hint    string
	Default string
	Words   []string // that it may be; nil: any text
	Needed  bool
}

// Answer is what a sum gives.
type Answer struct {
	Lines []string    `json:"lines"` // the first is the answer
	Note  reckon.Note `json:"-"`
}

// Of gives the answer for what was typed, by the names of the fields; a missing one is its
// default. The error says which is wrong, and what would be right.
func (s Sum) Of(typed map[string]string) (Answer, error) {
	a := asked{text: map[string]string{}, label: map[string]string{}}
	for _, f := range s.Fields {
		text := strings.TrimSpace(typed[f.Name])
		if text == "" {
			text = f.Default
		}
		if text == "" && f.Needed {
			return Answer{}, fmt.Errorf("%s is missing: %s", strings.ToLower(f.Label), f.Hint)
		}
		a.text[f.Name], a.label[f.Name] = text, strings.ToLower(f.Label)
	}
	return s.work(a)
}

// asked is what was typed.
type asked struct{ text, label map[string]string }

// quantity reads a field as a quantity; none where it is empty.
func (a asked) quantity(name string) (units.Quantity, error) {
	if a.text[name] == "" {
		return units.Quantity{}, nil
	}
	q, err := units.ParseQuantity(a.text[name])
	if err != nil {
		return q, fmt.Errorf("%s: %w", a.label[name], err)
	}
	return q, nil
}

// quantities reads several fields.
func (a asked) quantities(names ...string) ([]units.Quantity, error) {
	var out []units.Quantity
	for _, name := range names {
		q, err := a.quantity(name)
		if err != nil {
			return nil, err
		}
		out = append(out, q)
	}
	return out, nil
}

// number reads a field as a plain number.
func (a asked) number(name string) (float64, error) {
	v, err := strconv.ParseFloat(a.text[name], 64)
	if err != nil {
		return 0, fmt.Errorf("%s: %q is no number", a.label[name], a.text[name])
	}
	return v, nil
}

// All gives the sums in the order in which they are offered.
func All() []Sum {
	return []Sum{length(), torque(), class88(), lugs(), crowfoot(), wire(), drop(), gauge(), recess(), bead(), cures(), pieces(), expansion(), rules()}
}

// Find gives a sum by its name; false where there is none.
func Find(name string) (Sum, bool) {
	for _, s := range All() {
		if s.Name == name {
			return s, true
		}
	}
	return Sum{}, false
}

// valued makes an answer of a value, with so many places, also in other units.
func valued(v reckon.Value, err error, what string, places int, also ...string) (Answer, error) {
	if err != nil {
		return Answer{}, err
	}
	out := Answer{Lines: []string{what + " " + v.Show(places)}, Note: v.Note}
	q, err := units.ParseQuantity(strconv.FormatFloat(v.Number, 'f', -1, 64) + " " + v.Unit)
	if err != nil {
		return out, nil
	}
	for _, unit := range also {
		if other, err := q.To(unit, places); err == nil {
			out.Lines = append(out.Lines, "that is "+other.String())
		}
	}
	return out, nil
}
