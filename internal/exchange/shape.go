package exchange

import (
	"reflect"
	"strings"
)

// shape is what a struct looks like in a file.
type shape struct {
	fields []shapeField // in the order of the file
	byName map[string]int
}

type shapeField struct {
	name     string
	index    []int
	required bool
}

// shape gives the shape of a struct by its json tags. What a file may not leave out is
// what is always written: the fields whose tag says neither omitempty nor omitzero.
func (b *binder) shape(t reflect.Type) shape {
	if s, ok := b.shapes[t]; ok {
		return s
	}
	s := shape{byName: map[string]int{}}
	for _, f := range reflect.VisibleFields(t) {
		name, options, tagged := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous || name == "-" || name == "" {
			continue
		}
		s.byName[name] = len(s.fields)
		s.fields = append(s.fields, shapeField{name, f.Index, !tagged || !strings.Contains(options, "omit")})
	}
	b.shapes[t] = s
	return s
}

func (s shape) names() []string {
	out := make([]string, len(s.fields))
	for i, f := range s.fields {
		out[i] = f.name
	}
	return out
}

// structure reads an object: defaults first, then what it says.
func (b *binder) structure(p *path, n node, v reflect.Value) {
	if n.kind != object {
		b.mismatch(p, n, "an object")
		return
	}
	if d, ok := v.Addr().Interface().(interface{ SetDefaults() }); ok {
		d.SetDefaults()
	}
	s := b.shape(v.Type())
	seen := make([]bool, len(s.fields))
	for _, f := range n.kids {
		i, known := s.byName[f.name]
		switch {
		case !known && f.kind != list: // one that is none of the build file's lists
			b.aside(p.field(f.name), f.at, "unknown field, %s", instead(f.name, s.names()))
		case !known:
			b.fault(p.field(f.name), f.at, "unknown field, %s", instead(f.name, s.names()))
		case seen[i]:
			b.fault(p.field(f.name), f.at, "given twice")
		default:
			seen[i] = true
			b.structField(p.field(f.name), f, v, s.fields[i])
		}
	}
	b.missing(p, n, s)
}

func (b *binder) structField(p *path, n node, v reflect.Value, f shapeField) {
	if n.kind == null {
		return
	}
	into := v.FieldByIndex(f.index)
	b.value(p, n, into)
	if into.Kind() == reflect.Slice && into.Len() == 0 && !f.required {
		into.SetZero() // an empty list is as good as none
	}
}

// missing finds the fields that an object must have.
func (b *binder) missing(p *path, n node, s shape) {
	for _, f := range s.fields {
		if value, ok := n.field(f.name); f.required && (!ok || value.kind == null) {
			b.fault(p.field(f.name), n.from, "missing")
		}
	}
}
