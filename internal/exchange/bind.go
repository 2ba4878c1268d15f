package exchange

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/vanlog/internal/build"
	"example.com/vanlog/internal/calendar"
)

// binder puts the values of a file into the types of a build and gathers what does not fit.
type binder struct {
	data   []byte
	shapes map[reflect.Type]shape
	faults []found
	holes  bool // a record that others name, or its id, is missing: they would seem at fault
}

// nobodyNames are the fields of a build file that hold no record which others name.
var nobodyNames = []string{"format", "version", "name", "units", "now", "vehicle", "edges", "cuts", "days"}

func newBinder(data []byte) *binder {
	return &binder{data: data, shapes: map[reflect.Type]shape{}}
}

func (b *binder) fault(p *path, at uint32, format string, args ...any) {
	if p.depth() <= 2 || p.depth() == 3 && p.name == "id" {
		b.holes = b.holes || !slices.Contains(nobodyNames, p.root())
	}
	b.aside(p, at, format, args...)
}

// aside is a fault that leaves no hole, wherever it is.
func (b *binder) aside(p *path, at uint32, format string, args ...any) {
	b.faults = append(b.faults, found{build.Fault{Path: p.String(), Text: fmt.Sprintf(format, args...)}, at})
}

// mismatch says that a value is not of the kind that is wanted.
func (b *binder) mismatch(p *path, n node, want string) {
	b.fault(p, n.from, "want %s, have %s", want, b.shown(n))
}

// shown gives a value as it stands in the file, or what it is where that is long.
func (b *binder) shown(n node) string {
	raw := b.data[n.from:n.to]
	if n.kind == list || n.kind == object || len(raw) > 60 || !utf8.Valid(raw) {
		return n.kind.String()
	}
	return string(raw)
}

// value puts n into v. Types that unmarshal themselves decide for themselves.
func (b *binder) value(p *path, n node, v reflect.Value) {
	switch own := v.Addr().Interface().(type) {
	case *calendar.Week:
		b.week(p, n, own)
	case json.Unmarshaler:
		if err := own.UnmarshalJSON(b.data[n.from:n.to]); err != nil {
			b.fault(p, n.from, "%v, have %s", err, b.shown(n))
		}
	case encoding.TextUnmarshaler:
		b.unmarshalText(p, n, own)
	default:
		b.plain(p, n, v)
	}
}

// plain puts n into a value of one of the kinds that a build is made of.
func (b *binder) plain(p *path, n node, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		b.value(p, n, v.Elem())
	case reflect.Struct:
		b.structure(p, n, v)
	case reflect.Slice:
		b.slice(p, n, v)
	case reflect.Array:
		b.array(p, n, v)
	case reflect.Map:
		b.mapping(p, n, v)
	case reflect.String:
		b.str(p, n, v)
	case reflect.Bool:
		b.yesNo(p, n, v)
	case reflect.Int:
		b.whole(p, n, v)
	case reflect.Float64:
		b.decimal(p, n, v)
	default:
		panic("no way to read a " + v.Type().String())
	}
}

func (b *binder) unmarshalText(p *path, n node, own encoding.TextUnmarshaler) {
	if n.kind != text {
		b.mismatch(p, n, "text in quotes")
		return
	}
	if err := own.UnmarshalText([]byte(n.text)); err != nil {
		b.fault(p, n.from, "%v", err)
	}
}

func (b *binder) slice(p *path, n node, v reflect.Value) {
	if n.kind != list {
		b.mismatch(p, n, "a list")
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.kids), len(n.kids)))
	b.elements(p, n, v)
}

func (b *binder) array(p *path, n node, v reflect.Value) {
	want := fmt.Sprintf("%d numbers", v.Len())
	switch {
	case n.kind != list:
		b.mismatch(p, n, "a list of "+want)
	case len(n.kids) != v.Len():
		b.fault(p, n.from, "want %s, have %d", want, len(n.kids))
	default:
		b.elements(p, n, v)
	}
}

func (b *binder) elements(p *path, n node, v reflect.Value) {
	for i, e := range n.kids {
		if e.kind == null {
			b.fault(p.index(i), e.from, "null, want a value")
			continue
		}
		b.value(p.index(i), e, v.Index(i))
	}
}

func (b *binder) mapping(p *path, n node, v reflect.Value) {
	if n.kind != object {
		b.mismatch(p, n, "an object")
		return
	}
	t := v.Type()
	v.Set(reflect.MakeMapWithSize(t, len(n.kids)))
	for _, f := range n.kids {
		at, name := p.field(f.name), reflect.ValueOf(f.name).Convert(t.Key())
		if v.MapIndex(name).IsValid() {
			b.fault(at, f.at, "given twice")
			continue
		}
		entry := reflect.New(t.Elem()).Elem()
		if f.kind == null {
			b.fault(at, f.from, "null, want a value")
		} else {
			b.value(at, f, entry)
		}
		v.SetMapIndex(name, entry)
	}
}

func (b *binder) str(p *path, n node, v reflect.Value) {
	if n.kind != text {
		b.mismatch(p, n, "text in quotes")
		return
	}
	wrong := n.flaw.String()
	if n.flaw == sound {
		wrong = textFlaw(n.text, p.name == "note" || p.name == "why")
	}
	if wrong != "" {
		b.fault(p, n.from, "%s", wrong)
		return
	}
	v.SetString(n.text)
}

// textFlaw says which character a text must not have. Only notes may have lines and tabs.
func textFlaw(s string, lines bool) string {
	for _, r := range s {
		if unicode.IsControl(r) && !(lines && (r == '\n' || r == '\t')) {
			return fmt.Sprintf("has the control character %q", r)
		}
	}
	return ""
}

func (b *binder) yesNo(p *path, n node, v reflect.Value) {
	if n.kind != boolean {
		b.mismatch(p, n, "true or false")
		return
	}
	v.SetBool(n.text == "true")
}

// mostWhole is the largest whole number that other programs read as it is (2^53, RFC 8259 section 6).
const mostWhole = 1 << 53

func (b *binder) whole(p *path, n node, v reflect.Value) {
	f, err := strconv.ParseFloat(n.text, 64)
	switch {
	case n.kind != number || err == nil && f != math.Trunc(f):
		b.mismatch(p, n, "a whole number")
	case err != nil || math.Abs(f) > mostWhole:
		b.fault(p, n.from, "%s is too large a number", b.shown(n))
	default:
		v.SetInt(int64(f))
	}
}

func (b *binder) decimal(p *path, n node, v reflect.Value) {
	f, err := strconv.ParseFloat(n.text, 64)
	switch {
	case n.kind != number:
		b.mismatch(p, n, "a number")
	case err != nil:
		b.fault(p, n.from, "%s is too large a number", b.shown(n))
	default:
		v.SetFloat(f)
	}
}

// week reads the hours of each weekday.
func (b *binder) week(p *path, n node, w *calendar.Week) {
	if n.kind != object {
		b.mismatch(p, n, `an object such as {"mon": ["08:00-12:00"]}`)
		return
	}
	seen := map[string]bool{}
	for _, f := range n.kids {
		day := weekday(f.name)
		switch {
		case day < 0:
			b.fault(p.field(f.name), f.at, "no weekday, want one of %s", strings.Join(calendar.DayNames[:], ", "))
		case seen[f.name]:
			b.fault(p.field(f.name), f.at, "given twice")
		case f.kind != null:
			b.value(p.field(f.name), f, reflect.ValueOf(&w[day]).Elem())
		}
		seen[f.name] = true
	}
}

func weekday(name string) int {
	for d, known := range calendar.DayNames {
		if known == name {
			return d
		}
	}
	return -1
}
